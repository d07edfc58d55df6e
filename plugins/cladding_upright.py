"""Upright cladding: boards on boards, and boards with cover strips, on level battens."""

from __future__ import annotations

import math
from abc import abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Annotated, Any, ClassVar, Final, Literal, Self

from pydantic import model_validator

from soleplate.engine.rules import (
    PRACTICE,
    AnyLength,
    Battens,
    CannotFrame,
    Clad,
    CladdingRule,
    CladdingThickness,
    CladdingWidth,
    Course,
    Limits,
    Mm,
    Section,
    Span,
    Strip,
    Surface,
    Units,
    at_least,
    hookimpl,
    raking_batten,
    unbuildable,
    upright_battens,
)

MOST_BOARDS: Final = 1_000
CLEAR_OF_EDGE: Final = 10.0
"""mm from the edge of the board behind to the nail of the one over it (common practice, no source)."""

LEAST_GAP: Final = 20.0
"""mm between outer boards; a narrower one leaves no room for a fixing in the board behind."""

NOTHING: Final = 1e-6


class Upright(CladdingRule):
    """Base of upright boards on level battens; see its rules."""

    thickness: CladdingThickness = 25.0
    """Of the boards."""
    width: CladdingWidth = 145.0
    """Of the boards."""
    weather_lap: ClassVar[tuple[float, str] | None] = (20.0, f"{PRACTICE} (20 to 25 mm)")

    least_lap: Annotated[AnyLength, Limits(5.0, 200.0)] = 25.0
    """Of one board over the edge of another, at the least: 20 to 25 mm (common practice, no source)."""
    drop: Annotated[AnyLength, Limits(0.0, 500.0)] = 20.0
    """How far the boards reach below the underside of the sole plate."""
    battens: Battens = Battens(section=Section(50.0, 50.0))
    """Level battens that the boards are fixed to: twice as thick as a board and more (TDCA drawing 2a)."""
    batten_centres: Annotated[AnyLength, Limits(300.0, 2_000.0)] = 600.0
    """From one level batten to the next, at the most: 600 mm (TDCA)."""
    counter_battens: Battens | None = None
    """Upright battens on the studs, behind the level ones, that let air and water pass."""

    @property
    def cavity(self) -> float:
        """Level battens, and what stands behind them, mm."""
        behind = self.counter_battens.section[0] if self.counter_battens else 0.0
        return self.battens.section[0] + behind

    def lay(self, face: Surface, courses: Sequence[Course]) -> Clad:
        """Return boards side by side, and the battens behind; see `CladdingRule`.

        Raises:
            CannotFrame: the boards are too many.
        """
        del courses
        if face.length / self.width > MOST_BOARDS:
            raise CannotFrame(f"over {MOST_BOARDS} boards on one wall; accepted are up to that")
        battens = [*self._counter_battens(face), *self._level_battens(face)]
        return Clad(tuple(self.boards(face)), tuple(battens))

    @abstractmethod
    def boards(self, face: Surface) -> Iterator[Strip]:
        """The boards and cover strips of a face."""

    def strip(
        self,
        face: Surface,
        whole: tuple[float, float],
        seen: tuple[float, float],
        section: Section,
        out: float,
    ) -> Strip:
        """An upright board from `whole[0]` to `whole[1]` along the wall, its back `out` mm off the frame."""
        bottom, top = -face.dropped(self.drop), face.highest
        return Strip(
            "board",
            section,
            self.material,
            whole=Span(*whole, bottom, top),
            seen=Span(*seen, bottom, top),
            depth=(-out - section.breadth, -out),
            upright=True,
            on_battens=True,
        )

    def _counter_battens(self, face: Surface) -> Iterator[Strip]:
        if self.counter_battens is not None:
            yield from upright_battens(face, self.counter_battens, -face.dropped(self.drop))

    def _level_battens(self, face: Surface) -> Iterator[Strip]:
        """Rows at even distances from the sole plate to the top, one at each sill and head, one up slopes."""
        thickness, width = self.battens.section
        out = self.cavity - thickness
        last = face.top.lowest(face.left, face.right) - self.over_plate - width
        rows = math.ceil(last / self.batten_centres - NOTHING) if last > width else 0
        step = last / rows if rows else self.batten_centres
        bottoms = [step * row for row in range(rows + 1)]
        while bottoms[-1] + step < face.highest - width:
            bottoms.append(bottoms[-1] + step)
        spans = [Span(*face.behind, bottom, bottom + width) for bottom in bottoms]
        for hole in face.holes:
            first, last = face.behind
            left = max((stud.centre for stud in face.supports if stud.centre < hole.left), default=first)
            right = min((stud.centre for stud in face.supports if stud.centre > hole.right), default=last)
            ends = max(left, first), min(right, last)
            for bottom, beyond in ((hole.bottom - width, -width), (hole.top, width)):
                span = Span(*ends, bottom, bottom + width)
                if (
                    math.isfinite(bottom)
                    and bottom > -face.dropped(self.drop)
                    and not _serves(spans, span, beyond)
                ):
                    spans = [*(part for other in spans for part in _clear_of(other, span)), span]
        spans.sort(key=lambda span: (span.bottom, span.left))
        depth = (-out - thickness, -out)
        on_battens = self.counter_battens is not None
        under, raking = raking_batten(
            face, self.battens, depth, self.over_plate, row=len(spans) + 1, on_battens=on_battens
        )
        for row, span in enumerate(spans, 1):
            yield Strip(
                "batten",
                Section(thickness, width),
                self.battens.material,
                whole=span,
                seen=span,
                depth=depth,
                course=row,
                on_battens=on_battens,
                under=under,
            )
        yield from raking


def _serves(spans: Sequence[Span], wanted: Span, beyond: float) -> bool:
    """Whether a batten lies where one is wanted at the edge of an opening, or just `beyond` it."""
    return any(
        other.left <= wanted.left + NOTHING
        and other.right >= wanted.right - NOTHING
        and -NOTHING <= (other.bottom - wanted.bottom) * math.copysign(1.0, beyond) <= abs(beyond)
        for other in spans
    )


def _clear_of(batten: Span, other: Span) -> list[Span]:
    """What is left of a batten where another one takes its place."""
    if batten.bottom >= other.top - NOTHING or batten.top <= other.bottom + NOTHING:
        return [batten]
    if batten.left >= other.right - NOTHING or batten.right <= other.left + NOTHING:
        return [batten]
    parts = [batten._replace(right=other.left), batten._replace(left=other.right)]
    return [part for part in parts if part.right - part.left > LEAST_GAP]


class BoardOnBoard(Upright):
    """Upright boards in two layers: the outer ones cover the gaps between the inner ones.

    Boards of full width are spaced evenly, an outer one at either end. An inner board has one fixing in its
    middle; an outer one two, clear of the inner boards' edges, so that each can move.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "board-on-board", "width": 145, "thickness": 25},
        {
            "rule": "board-on-board",
            "width": 120,
            "least_lap": 20,
            "counter_battens": {"section": [16, 50]},
        },
    )

    rule: Literal["board-on-board"] = "board-on-board"

    @model_validator(mode="after")
    def _check(self) -> Self:
        room = self.width - 2 * self.least_lap
        if room < LEAST_GAP:
            raise unbuildable(
                "least_lap leaves {room} between boards; accepted is {least} and more",
                room=Mm(room),
                least=at_least(LEAST_GAP),
            )
        return self

    @property
    def build_out(self) -> float:
        """Battens and two boards, mm."""
        return self.cavity + 2 * self.thickness

    def spacing(self, length: float) -> tuple[int, float, float]:
        """How many outer boards a length takes, their width, and the gap between them, mm.

        Where boards of full width leave no gap worth the name, all outer boards are ripped alike.
        """
        if length <= self.width:
            return 1, length, 0.0
        widest = self.width - 2 * self.least_lap
        count = max(2, math.ceil((length + widest) / (self.width + widest) - NOTHING))
        gap = (length - count * self.width) / (count - 1)
        if gap < min(LEAST_GAP, widest) - NOTHING:
            gap = widest
        return count, (length - (count - 1) * gap) / count, gap

    def boards(self, face: Surface) -> Iterator[Strip]:
        """Inner boards, then outer ones, left to right."""
        section = Section(self.thickness, self.width)
        count, width, gap = self.spacing(face.length)
        lap = (self.width - gap) / 2
        starts = [face.left + index * (width + gap) for index in range(count)]
        for start in starts[:-1]:
            seen = (start + width, start + width + gap)
            ends = (max(seen[0] - lap, face.left), min(seen[1] + lap, face.right))
            inner = self.strip(face, ends, seen, section, self.cavity)
            yield replace(inner, nails=(sum(seen) / 2,))
        clear = lap + CLEAR_OF_EDGE
        for start in starts:
            ends = (start, start + width)
            outer = self.strip(face, ends, ends, section, self.cavity + self.thickness)
            places = {start + clear, start + width - clear} if 2 * clear < width else {start + width / 2}
            yield replace(outer, nails=tuple(sorted(places)))


class BoardAndBatten(Upright):
    """Upright boards side by side, with a cover strip over each gap.

    Boards have even gaps, no wider than the strips cover; where boards of full width don't fit, both end
    boards are ripped alike. A cover strip has one fixing in its middle, which goes through the gap.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "board-and-batten", "width": 195, "cover_width": 70},
        {"rule": "board-and-batten", "width": 145, "cover_width": 65, "gap": 12, "least_lap": 20},
    )

    begun_sizes: ClassVar[Mapping[Units, Mapping[str, Any]]] = {
        "mm": {"width": 145, "thickness": 25, "cover_width": 70},
        "in": {
            "width": "5 1/2 in", "thickness": "1 in", "cover_width": "2 1/2 in",
        },
    }  # fmt: skip
    """Boards no broader than stay flat."""

    rule: Literal["board-and-batten"] = "board-and-batten"
    gap: Annotated[AnyLength, Limits(0.0, 100.0)] = 10.0
    """Between boards, at the least, for them to move."""
    cover_width: CladdingWidth = 70.0
    """Of the strips over the gaps."""
    cover_thickness: CladdingThickness = 25.0
    """Of the strips over the gaps."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        widest = self.cover_width - 2 * self.least_lap
        if widest < self.gap:
            raise unbuildable(
                "cover_width is {cover_width}; accepted is {least} and more: the gap and twice the least lap",
                cover_width=Mm(self.cover_width),
                least=at_least(self.gap + 2 * self.least_lap),
            )
        least = self.cover_width + 2 * LEAST_GAP
        if self.width < least:
            raise unbuildable(
                "width is {width}; accepted is {least} and more, so that boards show",
                width=Mm(self.width),
                least=at_least(least),
            )
        return self

    @property
    def swelling_gap(self) -> float | None:
        """The least gap between boards, mm."""
        return self.gap

    @property
    def build_out(self) -> float:
        """Battens, a board and a strip, mm."""
        return self.cavity + self.thickness + self.cover_thickness

    def edges(self, length: float) -> tuple[float, list[tuple[float, float]]]:
        """The gap, and where boards start and end along a length, mm."""
        if length <= self.width:
            return 0.0, [(0.0, length)]
        widest = self.cover_width - 2 * self.least_lap
        count = max(2, math.ceil((length + widest) / (self.width + widest) - NOTHING))
        gap = (length - count * self.width) / (count - 1)
        rip = 0.0
        if gap < self.gap:
            gap = self.gap
            rip = (count * self.width + (count - 1) * gap - length) / 2
        starts = [index * (self.width + gap) - rip for index in range(count)]
        return gap, [(max(start, 0.0), min(start + self.width, length)) for start in starts]

    def boards(self, face: Surface) -> Iterator[Strip]:
        """Boards, then the strips over them, left to right."""
        section = Section(self.thickness, self.width)
        cover = Section(self.cover_thickness, self.cover_width)
        gap, edges = self.edges(face.length)
        half = self.cover_width / 2
        middles = [face.left + end + gap / 2 for _, end in edges[:-1]]
        for index, (start, end) in enumerate(edges):
            left, right = face.left + start, face.left + end
            seen = (
                left if index == 0 else middles[index - 1] + half,
                right if index == len(edges) - 1 else middles[index] - half,
            )
            yield self.strip(face, (left, right), seen, section, self.cavity)
        for middle in middles:
            ends = (middle - half, middle + half)
            strip = self.strip(face, ends, ends, cover, self.cavity + self.thickness)
            yield replace(strip, nails=(middle,))


@hookimpl
def register_rules() -> list[type[CladdingRule]]:
    """Offer the rules of this module."""
    return [BoardOnBoard, BoardAndBatten]
