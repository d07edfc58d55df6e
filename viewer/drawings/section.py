"""A section through the building: what is cut, filled; heights at its ends; what is clear within."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

import svg

from soleplate.engine.building_file import Units, format_figure, format_length
from soleplate.engine.layout import FloorOut, Layout, SlopeOut, WallOut
from soleplate.engine.shapes import TOUCH, Outline, Point, bounds, span_at
from soleplate.viewer.drawings.cut_through import CutThrough, ShownPiece
from soleplate.viewer.drawings.lettering import lettering, spread, text_width
from soleplate.viewer.drawings.tones import drawn_as, fill_of
from soleplate.viewer.words import Texts, role_text

Shapes = list[svg.Element]
Rectangle = tuple[float, float, float, float]

SAME_HEIGHT = 0.5
"""mm. Heights that differ by less are told together."""

APART = 1.25
"""Between lines of lettering, in text sizes."""


@dataclass(frozen=True, slots=True)
class HeightMark:
    """A height to be told at an end of a section: which, how high, and from where its line leads, mm."""

    names: tuple[str, ...]
    height: float
    at: float


@dataclass(frozen=True)
class SectionDrawing:
    """A section with the size of its lettering, mm."""

    through: CutThrough
    layout: Layout
    size: float
    texts: Texts

    @property
    def units(self) -> Units:
        """Those of the building."""
        return self.layout.units

    @cached_property
    def extent(self) -> Rectangle:
        """Left, right, bottom and top of all that is cut, and of what is seen of the floor."""
        floors = [shown for shown in self.through.beyond if isinstance(shown.part, FloorOut)]
        boxes = [bounds(shown.outline) for shown in (*self.through.cut, *floors)]
        lefts, rights, bottoms, tops = zip(*boxes, strict=True)
        return min(lefts), max(rights), min(bottoms), max(tops)

    @cached_property
    def _walls(self) -> list[tuple[float, float]]:
        """The outer walls that are cut, from the left: from where to where each reaches."""
        reach: dict[int, list[float]] = {}
        for shown in self.through.cut:
            if isinstance(shown.part, WallOut) and shown.part.faces is None:
                left, right, *_ = bounds(shown.outline)
                reach.setdefault(id(shown.part), []).extend((left, right))
        return sorted((min(ends), max(ends)) for ends in reach.values())

    @property
    def inside(self) -> tuple[float, float]:
        """The inner faces of the outermost walls that are cut."""
        return self._walls[0][1], self._walls[-1][0]

    @property
    def middle(self) -> float:
        """Half-way between them."""
        return sum(self.inside) / 2

    def drawn(self) -> Shapes:
        """What is beyond, what is cut, and the pads."""
        thin = 0.05 * self.size
        shapes: Shapes = [
            svg.Polygon(points=_points(shown.outline), fill="none", stroke="currentColor", stroke_width=thin)
            for shown in self.through.beyond
        ]
        shapes += [
            svg.Polygon(
                points=_points(shown.outline),
                class_=["cut"],
                fill=fill_of(drawn_as(shown.piece)),
                stroke="currentColor",
                stroke_width=1.8 * thin,
            )
            for shown in self.through.cut
        ]
        return shapes + list(self._pads())

    def _pads(self) -> Iterator[svg.Element]:
        """The tops of pads, open below: how deep they go the ground says."""
        for floor in self.layout.floors:
            half, top, deep = (floor.pad_size or 0.0) / 2, -self.extent[2], 1.2 * self.size
            for u in self.through.pads:
                corners = [(u - half, top + deep), (u - half, top), (u + half, top), (u + half, top + deep)]
                yield svg.Polyline(
                    points=[svg.Point(*corner) for corner in corners],
                    fill="none", stroke="currentColor", stroke_width=0.12 * self.size,
                )  # fmt: skip

    def heights(self, *, at_left: bool) -> list[HeightMark]:
        """The heights to tell at one end, from the lowest; those that are one are told together."""
        marks = [mark for mark in self._marks() if (mark.at < self.middle) == at_left]
        found: list[HeightMark] = []
        for mark in sorted(marks, key=lambda mark: mark.height):
            if found and mark.height - found[-1].height < SAME_HEIGHT:
                names = dict.fromkeys((*found[-1].names, *mark.names))
                found[-1] = HeightMark(tuple(names), found[-1].height, found[-1].at)
            else:
                found.append(mark)
        return found

    def _marks(self) -> Iterator[HeightMark]:
        left, right, low, high = self.extent
        floor = next(iter(self.layout.floors), None)
        for edge in (left, right):
            yield HeightMark(("floor" if floor is not None else "sole",), 0.0, edge)
            if floor is not None:
                yield HeightMark(("pads" if floor.pads else "joists",), low, edge)
        across = self.through.kind == "across"
        for shown in (*self.through.cut, *self.through.beyond):
            name = shown.piece.role
            near, far, bottom, top = bounds(shown.outline)
            outer = near if near + far < 2 * self.middle else far
            if name == "fascia" and across:
                yield HeightMark(("fascia",), bottom, outer)
                yield HeightMark(("fascia top",), top, outer)
            elif name in ("head plate", "raked plate") and self._is_uppermost(shown):
                yield HeightMark(("plate",), top, outer)
            elif name == "tie" and across:
                yield HeightMark(("tie",), bottom, left)
            elif name in ("ridge board", "ridge beam") and across:
                yield HeightMark(("ridge",), top, min(near, self.middle - 1.0))
        yield HeightMark(("top",), high, left if self._is_high_at_left(high) else right)

    def _is_uppermost(self, shown: ShownPiece) -> bool:
        """Whether it is the highest of its kind that is cut in its wall; nothing beyond is."""
        alike = [
            other
            for other in self.through.cut
            if other.part is shown.part and other.piece.role == shown.piece.role
        ]
        highest = max(alike, key=lambda other: bounds(other.outline)[3], default=None)
        return highest is shown

    def _is_high_at_left(self, high: float) -> bool:
        places = [u for shown in self.through.cut for u, v in shown.outline if v > high - 0.1]
        return sum(places) / len(places) <= self.middle

    def height_text(self, mark: HeightMark) -> str:
        """A height by its name: `plate 1960`; below the datum with a minus."""
        sign = "−" if mark.height < -0.5 else ""
        names = ", ".join(self.texts.sections.levels[name] for name in mark.names)
        return f"{names} {sign}{format_figure(abs(mark.height), self.units)}"

    def beside(self, *, at_left: bool) -> tuple[Shapes, float]:
        """The heights at one end, and how far out they reach."""
        marks = self.heights(at_left=at_left)
        size, (left, right, low, high) = self.size, self.extent
        way, edge = (-1.0, left) if at_left else (1.0, right)
        places = spread(
            [mark.height for mark in marks], APART * size, min(low, marks[0].height), high + size
        )  # fmt: skip
        turn, end = edge + way * 1.2 * size, edge + way * 2.0 * size
        drawn: Shapes = []
        for mark, place in zip(marks, places, strict=True):
            start = mark.at + way * 0.4 * size
            corners = [(start, mark.height), (turn, mark.height), (end, place)]
            drawn.append(_leader(corners, 0.05 * size))
            text = self.height_text(mark)
            drawn.append(
                lettering(text, end + way * 0.3 * size, -place, size, anchor="end" if at_left else "start")
            )
        wide = max(text_width(self.height_text(mark), size) for mark in marks)
        return drawn, 2.5 * size + wide

    def within(self, *, at_left: bool) -> Shapes:
        """What is clear inside at one end, and what is cut there by its marks."""
        size = self.size
        face, way = (self.inside[0], 1.0) if at_left else (self.inside[1], -1.0)
        drawn: Shapes = []
        x = face + way * 1.2 * size
        if self.through.kind == "across" and (over := self._over(face + way)) is not None:
            drawn += self._clear(x, over, way)
        return drawn + list(self._led(self._labels(at_left=at_left), self._column(at_left=at_left), way))

    def _column(self, *, at_left: bool) -> float:
        """Where the labels of an end begin."""
        return self.inside[0] + 3.4 * self.size if at_left else self.inside[1] - 3.4 * self.size

    def _over(self, *between: float) -> float | None:
        """The underside of the roof, or of what is under it, over a stretch within."""
        start, end = min(between), max(between)
        heights: list[float] = []
        for shown in (*self.through.cut, *self.through.beyond):
            left, right, *_ = bounds(shown.outline)
            if not (isinstance(shown.part, SlopeOut) and shown.piece.is_frame) or shown.piece.role == "post":
                continue
            if left < end + TOUCH and start < right + TOUCH:
                ends = (min(max(each, left), right) for each in (start, end))
                heights += [span_at(shown.outline, u)[0] for u in ends]
        return min(heights, default=None)

    def _clear(self, x: float, over: float, way: float) -> Iterator[svg.Element]:
        size = self.size
        text = self.texts.sections.clear.format(height=format_figure(over, self.units))
        yield _leader([(x, 0.0), (x, over)], 0.06 * size)
        for v in (0.0, over):
            yield _leader(
                [(x - 0.28 * size, v - 0.28 * size), (x + 0.28 * size, v + 0.28 * size)], 0.14 * size
            )
        yield lettering(text, x + way * 0.75 * size, -over / 2, 0.9 * size, turned=True)

    def _labels(self, *, at_left: bool) -> list[tuple[str, Point]]:
        """What is to be told of the pieces at one end, each with the place it leads to, from the lowest."""
        size, said = self.size, self.texts.sections
        face, way = (self.inside[0], 1.0) if at_left else (self.inside[1], -1.0)
        nearest: dict[tuple[object, ...], tuple[float, ShownPiece]] = {}
        for shown in (*self.through.cut, *self.through.beyond):
            left, right, *_ = bounds(shown.outline)
            far = max(left - face, face - right, 0.0)
            if far > abs(self.middle - face):
                continue
            key = (shown.part.name, shown.piece.role, shown.piece.section)
            if key not in nearest or far < nearest[key][0] - 0.1:
                nearest[key] = far, shown
        found: list[tuple[str, Point]] = []
        for _, shown in nearest.values():
            words = {"mark": shown.piece.mark, "role": role_text(shown.piece.role, self.texts)}
            text = said.label.format(**words)
            if shown.piece.role == "rafter" and isinstance(shown.part, SlopeOut):
                text = said.pitched.format(**words, pitch=f"{shown.part.card.pitch:.1f}")
            place = self._inside_of(shown.outline, face + way * 1.2 * size)
            # What lies further in than the labels the table tells alone.
            if (self._column(at_left=at_left) - place[0]) * way > size:
                found.append((text, place))
        if self.through.kind == "across":
            found += self._birdsmouth(at_left=at_left)
        return sorted(found, key=lambda each: each[1][1])

    def _inside_of(self, outline: Outline, wanted: float) -> Point:
        """A place in an outline, of a long one over or under the labels."""
        left, right, low, high = bounds(outline)
        if right - left < 4 * self.size:
            return (left + right) / 2, (low + high) / 2
        u = min(max(wanted, left + self.size / 2), right - self.size / 2)
        return u, sum(span_at(outline, u)) / 2

    def _birdsmouth(self, *, at_left: bool) -> Iterator[tuple[str, Point]]:
        """What is left over a birdsmouth, at the plate that it sits on."""
        plates = [
            shown
            for shown in self.through.cut
            if shown.piece.role == "head plate"
            and self._is_uppermost(shown)
            and (bounds(shown.outline)[0] < self.middle) == at_left
        ]
        cards = [
            shown.part.card
            for shown in self.through.cut
            if shown.piece.role == "rafter"
            and isinstance(shown.part, SlopeOut)
            and any(bounds(shown.outline)[0] < bounds(plate.outline)[1]
                    and bounds(plate.outline)[0] < bounds(shown.outline)[1] for plate in plates)
        ]  # fmt: skip
        for plate, card in zip(plates[:1], cards[:1], strict=False):
            left, right, _, top = bounds(plate.outline)
            text = self.texts.sections.hap.format(
                hap=format_figure(card.hap, self.units), seat=format_length(card.seat, self.units)
            )
            yield text, ((left + right) / 2, top)

    def _led(self, labels: Sequence[tuple[str, Point]], column: float, way: float) -> Iterator[svg.Element]:
        """Labels one above the other in a column, each with a line to its place."""
        size = self.size
        over = self._over(column, column + way * 10 * size)
        most = (over if over is not None else self.extent[3]) - size
        places = spread([point[1] for _, point in labels], APART * size, 0.8 * size, most)
        labels = _uncrossed(labels, column, places)
        for (text, (u, v)), place in zip(labels, places, strict=True):
            yield _leader([(u, v), (column - way * 0.3 * size, place)], 0.04 * size)
            yield svg.Circle(cx=u, cy=-v, r=0.12 * size, fill="currentColor")
            yield lettering(text, column, -place, 0.9 * size, anchor="start" if way > 0 else "end")

    def label_room(self, *, at_left: bool) -> float:
        """How far from its wall's inner face the labels of an end reach, mm."""
        labels = self._labels(at_left=at_left)
        wide = max((text_width(text, 0.9 * self.size) for text, _ in labels), default=0.0)
        return 3.8 * self.size + wide

    def stops(self) -> list[float]:
        """Along the section: what hangs out, and the outer faces of the frame."""
        hanging = [
            end
            for shown in self.through.cut
            if shown.piece.role in ("fascia", "barge board", "rafter", "fly rafter")
            for end in bounds(shown.outline)[:2]
        ]
        frame = [
            end
            for shown in self.through.cut
            if isinstance(shown.part, WallOut | FloorOut)
            and shown.piece.role in ("head plate", "sole plate", "raked plate", "rim joist")
            for end in bounds(shown.outline)[:2]
        ]
        outermost = min([*hanging, *frame]), max([*hanging, *frame])
        ends = sorted({round(each, 1) for each in (*outermost, min(frame), max(frame))})
        return [here for before, here in itertools.pairwise((ends[0] - 10.0, *ends)) if here - before > 0.5]


def _points(outline: Outline) -> list[svg.Point]:
    return [svg.Point(u, -v) for u, v in outline]


def _leader(corners: Sequence[Point], wide: float) -> svg.Polyline:
    return svg.Polyline(points=_points(tuple(corners)), fill="none", stroke="currentColor", stroke_width=wide)


def _uncrossed(
    labels: Sequence[tuple[str, Point]], column: float, places: Sequence[float]
) -> list[tuple[str, Point]]:
    """Labels in such an order that no two changing places would shorten their lines: then none cross."""
    found = list(labels)

    def length(label: int, place: int) -> float:
        return math.dist(found[label][1], (column, places[place]))

    changed = True
    while changed:
        changed = False
        for one, other in itertools.combinations(range(len(found)), 2):
            now = length(one, one) + length(other, other)
            if length(one, other) + length(other, one) < now - TOUCH:
                found[one], found[other] = found[other], found[one]
                changed = True
    return found
