"""Lapped cladding: boards that each lap over the one below, by as much as suits the height."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal, NamedTuple, Self

from pydantic import model_validator

from soleplate.engine.rules import (
    NARROWEST_RIP,
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
    at_least,
    at_most,
    framing_battens,
    hookimpl,
    level_strips,
    level_tops,
    narrow_at_openings,
    unbuildable,
)

MOST_COURSES: Final = 400

MOST_LEVELS: Final = 8
"""Sills and heads that are looked at, those of the widest openings first."""

USUAL_LAP: Final = 50.8
"""mm. A board is usually set to show 2 in less than its nominal width (NAVEDTRA 14044, chapter 4: 4 in of a 6
in board, 6 of 8, 8 of 10 and 10 of 12)."""

OVER_LAP: Final = 10.0
"""mm from the top of the board below to the nail, which must not go through both (common practice)."""

STARTER_ON_FRAME: Final = 25.0
"""mm that the strip behind the first course reaches over the frame's lower edge, for its nails.

Common practice, no source."""

NOTHING: Final = 1e-6


class Zones(NamedTuple):
    """A choice: the heights between which exposures are even, and the number of courses in each zone."""

    levels: tuple[float, ...]
    counts: tuple[int, ...]

    @property
    def exposures(self) -> tuple[float, ...]:
        """What is seen of a board in each zone, mm."""
        heights = [top - bottom for bottom, top in itertools.pairwise(self.levels)]
        return tuple(height / count for height, count in zip(heights, self.counts, strict=True))

    @property
    def spread(self) -> float:
        """From the least exposure to the greatest, mm."""
        return max(self.exposures) - min(self.exposures)


class Lapped(CladdingRule):
    """Level boards, featheredged or bevelled, that lap; what is seen of them is adjusted to the heights.

    The wall is divided into zones: from the start to a sill, from a sill to a head, from a head to the top.
    Each zone gets the whole number of courses whose exposure is nearest the usual one, so that board edges
    meet sills and heads (NAVEDTRA 14044, chapter 4). As many edges of openings are met, the widest first, as
    can be with exposures that differ by no more than `most_difference`; at the others the boards are notched.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "lapped", "width": 150, "thickness": 25},
        {"rule": "lapped", "width": 175, "exposure": 135, "least_lap": 30, "battens": {"section": [25, 50]}},
    )

    weather_lap: ClassVar[tuple[float, str] | None] = (
        25.0,
        "TRADA, as restated by suppliers (25 mm for feather edge)",
    )

    rule: Literal["lapped"] = "lapped"
    thickness: CladdingThickness = 25.0
    """Of the boards, at the thick edge."""
    thin_edge: CladdingThickness = 8.0
    """Of the boards, at the thin edge, which the board above laps over."""
    width: CladdingWidth = 150.0
    """Of the boards."""
    least_lap: Annotated[AnyLength, Limits(5.0, 500.0)] = 25.0
    """Of one board over another, at the least: 25 mm (TRADA, as restated), or 1 in (NAVEDTRA 14044)."""
    exposure: CladdingWidth | None = None
    """What is usually seen of a board; else 50.8 mm less than its width."""
    greatest_exposure: CladdingWidth | None = None
    """What may be seen of a board, at the most; else the width less the least lap."""
    most_difference: Annotated[AnyLength, Limits(0.0, 200.0)] = 13.0
    """Between exposures in different zones; where they would differ more, boards are notched instead."""
    drop: Annotated[AnyLength, Limits(0.0, 500.0)] = 20.0
    """How far the first course reaches below the underside of the sole plate."""
    narrowest_rip: Annotated[AnyLength, Limits(0.0, 500.0)] | None = None
    """What is seen of a last course ripped under a level top, and of what an opening leaves of a course, at
    the least; less is reported. Up to the greatest exposure; else 40 mm, or half the usual exposure where
    that is less."""
    battens: Battens | None = None
    """Battens on the studs, behind the boards; none without it."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if self.thin_edge > self.thickness:
            raise unbuildable(
                "thin_edge is {thin_edge}; accepted is up to {thickness}",
                thin_edge=Mm(self.thin_edge),
                thickness=at_most(self.thickness),
            )
        room = self.width - self.least_lap
        if room < self.width / 2:
            raise unbuildable(
                "least_lap leaves {room} of a board to be seen; accepted is {half} and more, half the width",
                room=Mm(room),
                half=at_least(self.width / 2),
            )
        for name, value in (("exposure", self.exposure), ("greatest_exposure", self.greatest_exposure)):
            if value is not None and value > room + NOTHING:
                raise unbuildable(
                    "{name} is {asked}; accepted is up to {room}, the width less the least lap",
                    name=name,
                    asked=Mm(value),
                    room=at_most(room),
                )
        for name, value in (("exposure", self.exposure), ("greatest_exposure", self.greatest_exposure)):
            if value is not None and value < self.width / 2:
                raise unbuildable(
                    "{name} is {asked}; accepted is {half} and more, half the width, since a board"
                    " laps over the one below and no other",
                    name=name,
                    asked=Mm(value),
                    half=at_least(self.width / 2),
                )
        for name, value in (("exposure", self.exposure), ("narrowest_rip", self.narrowest_rip)):
            if value is not None and value > self.most + NOTHING:
                raise unbuildable(
                    "{name} is {asked}; accepted is up to the greatest exposure, {most}",
                    name=name,
                    asked=Mm(value),
                    most=at_most(self.most),
                )
        return self

    @property
    def usual(self) -> float:
        """The exposure aimed at, mm."""
        return min(self.exposure or max(self.width - USUAL_LAP, self.width / 2), self.most)

    @property
    def most(self) -> float:
        """The greatest exposure, mm."""
        return self.greatest_exposure or self.width - self.least_lap

    @property
    def least_rip(self) -> float:
        """What is seen of a course at the least, if it can be, mm."""
        return min(NARROWEST_RIP, self.usual / 2) if self.narrowest_rip is None else self.narrowest_rip

    @property
    def cavity(self) -> float:
        """The battens' thickness, mm."""
        return self.battens.section[0] if self.battens else 0.0

    @property
    def build_out(self) -> float:
        """Battens, and a board's thick edge over the thin one of the board below, mm."""
        return self.cavity + self.thickness + self.thin_edge

    def choose_courses(self, faces: Sequence[Surface]) -> Sequence[Course]:
        """Return the courses of the chosen zones, carried on at the last exposure; see `CladdingRule`.

        Raises:
            CannotFrame: they would be too many.
        """
        highest = max(face.highest for face in faces)
        tops = level_tops(faces)
        end = tops[-1] if tops else highest
        drop = max(face.dropped(self.drop) for face in faces)
        if (highest + drop) / self.usual > MOST_COURSES:
            raise CannotFrame(f"over {MOST_COURSES} courses; accepted are up to that: use wider boards")
        points = [face.highest for face in faces if face.level_top is None]
        zones = self.choose_zones(-drop, end, opening_widths(faces), tops, points)
        edges = [zones.levels[0]]
        for (bottom, top), count in zip(itertools.pairwise(zones.levels), zones.counts, strict=True):
            edges += [bottom + (top - bottom) * step / count for step in range(1, count + 1)]
        while edges[-1] < highest - NOTHING:
            edges.append(edges[-1] + zones.exposures[-1])
        return [
            Course(number, bottom, top, bottom + self.width)
            for number, (bottom, top) in enumerate(itertools.pairwise(edges), 1)
        ]

    def choose_zones(
        self,
        start: float,
        end: float,
        edges: Mapping[float, float],
        tops: Sequence[float] = (),
        points: Sequence[float] = (),
    ) -> Zones:
        """The zones from `start` to `end` that meet the most of the edges of openings.

        Every set of edges is tried, each zone with the whole numbers of courses on both sides of the usual
        exposure. Of those whose exposures differ little enough, the set that meets the greatest width of
        openings is chosen; then that with the fewest narrow rips under `tops`, and at `points`; then the most
        even one.

        Args:
            start: the lowest edge of the first course, mm.
            end: where the last whole course ends, mm.
            edges: the heights of sills and heads, each with the width of the openings that have it, mm.
            tops: heights of level tops, mm.
            points: the highest points of slopes, mm.
        """
        widest = sorted(edges, key=lambda level: (-edges[level], level))[:MOST_LEVELS]
        levels = sorted(level for level in widest if start + NOTHING < level < end - NOTHING)
        best: tuple[tuple[float, ...], Zones] | None = None
        for size in range(len(levels), -1, -1):
            for met in itertools.combinations(levels, size):
                zones = self._even((start, *met, end))
                if zones is None or (met and zones.spread > self.most_difference + NOTHING):
                    continue
                key = (
                    -sum(edges[level] for level in met),
                    float(self._narrow_rips(zones, tops)),
                    float(self._narrow_rips(zones, points)),
                    round(zones.spread, 6),
                    max(abs(exposure - self.usual) for exposure in zones.exposures),
                )
                if best is None or key < best[0]:
                    best = (key, zones)
        if best is None:
            count = max(1, math.ceil((end - start) / self.most - NOTHING))
            return Zones((start, end), (count,))
        return best[1]

    def _even(self, levels: tuple[float, ...]) -> Zones | None:
        """The most even exposures of these zones; `None` where one cannot be within the greatest exposure."""
        choices: list[list[tuple[float, int]]] = []
        for bottom, top in itertools.pairwise(levels):
            height = top - bottom
            near = {
                max(1, math.floor(height / self.usual + NOTHING)),
                math.ceil(height / self.usual - NOTHING),
            }
            fitting = [
                (height / count, count)
                for count in near
                if count and self.width / 2 - NOTHING <= height / count <= self.most + NOTHING
            ]
            if not fitting:
                return None
            choices.append(sorted(fitting))
        best: tuple[tuple[float, float], Zones] | None = None
        for ceiling in sorted({exposure for zone in choices for exposure, _ in zone}):
            picked = [max((c for c in zone if c[0] <= ceiling + NOTHING), default=None) for zone in choices]
            counts = tuple(choice[1] for choice in picked if choice is not None)
            if len(counts) < len(choices):
                continue
            zones = Zones(levels, counts)
            key = (round(zones.spread, 6), max(abs(e - self.usual) for e in zones.exposures))
            if best is None or key < best[0]:
                best = (key, zones)
        return best[1] if best else None

    def _narrow_rips(self, zones: Zones, tops: Sequence[float]) -> int:
        return sum(NOTHING < self._seen_last(zones, top) < self.least_rip - NOTHING for top in tops)

    @staticmethod
    def _seen_last(zones: Zones, top: float) -> float:
        """What is seen of the course that a top cuts, mm; 0 where a course ends there."""
        for (bottom, end), exposure in zip(itertools.pairwise(zones.levels), zones.exposures, strict=True):
            # Over the last zone its courses go on.
            if bottom <= top and (top <= end + NOTHING or end == zones.levels[-1]):
                rest = (top - bottom) % exposure
                return rest if NOTHING < rest < exposure - NOTHING else 0.0
        return 0.0

    def lay(self, face: Surface, courses: Sequence[Course]) -> Clad:
        """Return a strip for each course, and battens where they are wanted; see `CladdingRule`."""
        section = Section(self.thickness, self.width)
        depth = (-self.build_out, -self.cavity - self.thin_edge)
        laps = {course.number: below.board_top - below.top for below, course in itertools.pairwise(courses)}
        boards = tuple(
            level_strips(
                face,
                courses,
                section,
                self.material,
                depth,
                on_battens=self.battens is not None,
                nails=lambda course: (course.bottom + laps.get(course.number, self.least_lap) + OVER_LAP,),
                solid=(self.thickness + self.thin_edge) / (2 * self.thickness),
            )
        )
        battens = (
            framing_battens(face, self.battens, courses[0].bottom, self.over_plate) if self.battens else ()
        )
        return Clad(
            boards,
            (*battens, self._starter(face, courses[0].bottom)),
            tuple(narrow_at_openings(face, courses, self.least_rip)),
        )

    def _starter(self, face: Surface, bottom: float) -> Strip:
        """The strip behind the lower edge of the first course, so that it leans as those over it do.

        It is as thick as the thin edge that the others lean on, and reaches far enough over the lower edge of
        the frame to be nailed there.
        """
        height = max(self.least_lap, STARTER_ON_FRAME - bottom)
        whole = Span(face.left, face.right, bottom, bottom + height)
        return Strip(
            "starter strip",
            Section(self.thin_edge, height),
            self.material,
            whole=whole,
            seen=whole,
            depth=(-self.cavity - self.thin_edge, -self.cavity),
            on_battens=self.battens is not None,
            nails=(max(bottom + height / 2, STARTER_ON_FRAME / 2),),
        )


def opening_widths(faces: Sequence[Surface]) -> dict[float, float]:
    """The heights of sills and heads, clearance included, each with the width of openings that have it."""
    widths: dict[float, float] = {}
    for face in faces:
        for hole in face.holes:
            for level in (hole.bottom, hole.top):
                if math.isfinite(level):
                    widths[round(level, 6)] = widths.get(round(level, 6), 0.0) + hole.right - hole.left
    return widths


@hookimpl
def register_rules() -> list[type[CladdingRule]]:
    """Offer the rules of this module."""
    return [Lapped]
