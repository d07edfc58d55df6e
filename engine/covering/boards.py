"""Strips become boards: cut round openings and under the roof, and jointed in their length."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.building_file import LengthYield
from soleplate.engine.rules import Span, Strip, Support, Surface
from soleplate.engine.shapes import (
    ALONG,
    FINE,
    TOUCH,
    UPRIGHT,
    Box,
    Cell,
    Member,
    Outline,
    Point,
    Region,
    Role,
    cut_across,
    is_convex,
    is_seen,
    outline_of,
    reach,
    remains,
    roof_limits,
    seen_of,
    span_across,
)

BUTTED_EVERY: Final = 50.0
"""mm. Battens that are butted anywhere are so at multiples of this, for ease of marking."""


BUTTS: Final = 20
"""Places that the planner chooses each joint of such a batten from, about, where there are so many."""

SAME_SLOPE: Final = 1e-6
"""Degrees."""


@dataclass(frozen=True, slots=True)
class Length:
    """A strip's stretch between openings and edges, before it is jointed."""

    surface: Surface
    strip: Strip
    part: Region
    supports: tuple[Support, ...]

    @property
    def role(self) -> Role:
        """What it is."""
        return self.surface.roles[self.strip.role]

    @property
    def lies_along(self) -> bool:
        """Whether it is an upright batten or corner board: something lies behind all of it, to butt it on."""
        return self.strip.upright and not self.role.covers

    @property
    def ends(self) -> tuple[float, float]:
        """Where it starts and ends along the strip, mm; of a raking one, along its slope."""
        start, end = reach(self.part)
        return start * self.stretch, end * self.stretch

    @property
    def stretch(self) -> float:
        """How long a raking strip is for each mm of the wall; else 1."""
        return _stretch(self.part) if self.strip.raking else 1.0

    def places(self, longest: LengthYield, *, fewest: bool = True) -> tuple[float, ...]:
        """Where it can be jointed, mm along the strip; `longest` is what the longest to be had yields.

        That is on the centres of supports; a batten along a stud is butted anywhere. With the `fewest` joints
        what one length covers has none; nor has what stands or rakes: water runs into the end grain of
        upright boards.
        """
        start, end = self.ends
        stays_whole = fewest or self.strip.upright or self.strip.raking
        if stays_whole and end - start <= longest.alone:
            return ()
        if self.lies_along:
            return tuple(start + place for place in _butts(end - start, longest.together))
        first, last = reach(self.part)
        crossed = [support for support in self.supports if support.far > first and support.near < last]
        # What is left on either side of a joint has another support: a board that a slope cuts ends on none.
        return tuple(
            support.centre * self.stretch
            for support in crossed[1:-1]
            if first + 1.0 < support.centre < last - 1.0 and self._bears(support)
        )

    def _bears(self, support: Support) -> bool:
        """Whether a support lies behind the whole of what is seen of the strip there."""
        if self.strip.raking:
            return True
        seen = _box(self.strip.seen, upright=self.strip.upright)
        span = span_across(self.part, support.centre)
        if span is None:
            return False
        low, high = max(span[0], seen.v0), min(span[1], seen.v1)
        return high - low > TOUCH and support.start <= low + TOUCH and support.end >= high - TOUCH


def _butts(length: float, longest: float) -> list[float]:
    """Where a batten that is longer than the longest to be had may be butted, mm from its start.

    The fewest pieces there can be have each joint in a stretch of its own: the shorter it is, the closer are
    the places in it. Elsewhere, for one piece more, wide steps will do: each place takes time for every
    batten of a high wall.
    """
    pieces = math.ceil(length / longest)
    spare = pieces * longest - length
    # To the nearest, or a margin of a few mm would bring many more places.
    wide = BUTTED_EVERY * round(longest / BUTTS / BUTTED_EVERY)
    places = set(_multiples(wide, 0.0, length))
    for joint in range(1, pieces):
        # However coarse, a step must leave an even share of what is spare to each piece.
        places.update(_multiples(spare / max(BUTTS, pieces), joint * longest - spare, joint * longest))
    return sorted(place for place in places if 0.0 < place < length)


def _multiples(step: float, first: float, last: float) -> Iterator[float]:
    """Places from `first` to `last`, about `step` apart, all of them multiples of `BUTTED_EVERY`."""
    every = BUTTED_EVERY * max(1, math.floor(step / BUTTED_EVERY))
    numbers = range(math.ceil((first - FINE) / every), math.floor((last + FINE) / every) + 1)
    return (every * number for number in numbers)


@dataclass(frozen=True, slots=True)
class Board:
    """A board, batten or sheet, true to shape.

    `seen` are the outlines of what is seen of it, `fixed_at` the places (x, z) of its fixings, mm.
    """

    strip: Strip
    member: Member
    part: Region
    seen: tuple[Outline, ...]
    role: Role
    fixed_at: tuple[Point, ...] = ()

    @property
    def course(self) -> int | None:
        """The course of a level board."""
        is_level_board = self.role.covers and not (self.role.sheet or self.strip.upright)
        return self.strip.course if is_level_board else None

    @property
    def length(self) -> float:
        """Of the blank, over the long points, mm; of a raking one, along its slope."""
        start, end = reach(self.part)
        return (end - start) * (_stretch(self.part) if self.strip.raking else 1.0)

    @property
    def is_sloped(self) -> bool:
        """Whether the roof cuts it."""
        return any(side[0] != side[1] for cell in self.part for side in (cell.low, cell.high))

    @property
    def is_notched(self) -> bool:
        """Whether an opening is cut out of its side."""
        return not is_convex(self.member.outline)

    @property
    def rip(self) -> float | None:
        """Its width at the widest, mm, where that is less than it is bought with.

        It is ripped where its course is, or where an opening or the roof leaves no more of it.
        """
        if self.strip.raking:
            return None
        across = max(v for cell in self.part for v in cell.high) - min(
            v for cell in self.part for v in cell.low
        )
        return across if self.strip.is_wider_than(across) else None


def lengths_of(
    face: Surface, strips: Sequence[Strip], behind: Callable[[Strip], tuple[Support, ...]]
) -> list[Length]:
    """The strips of one face cut round openings and under the roof.

    `behind` tells the supports that a strip crosses.
    """
    holes = {
        upright: tuple(
            _box(Span(hole.left, hole.right, hole.bottom, hole.top), upright=upright) for hole in face.holes
        )
        for upright in (False, True)
    }
    roof = {
        (upright, under): roof_limits(face.top.raised(-under), upright=upright)
        for upright, under in {(strip.upright, strip.under) for strip in strips}
    }
    return [
        Length(face, strip, part, behind(strip))
        for strip in strips
        for part in (
            _raking(strip, face)
            if strip.raking
            else remains(
                _box(strip.whole, upright=strip.upright),
                _box(strip.seen, upright=strip.upright),
                holes[strip.upright],
                roof[strip.upright, strip.under],
            )
        )
        if is_seen(part, _box(strip.seen, upright=strip.upright))
    ]


def _raking(strip: Strip, face: Surface) -> Iterator[Region]:
    """A part for each slope over a raking strip, plumb at its ends, and at what stands up to the top."""
    top = face.top
    standing = sorted((hole.left, hole.right) for hole in face.holes if math.isinf(hole.top))
    line = top.raised(-strip.under).between(strip.whole.left, strip.whole.right)
    # Where the wall ends its top goes on at the same slope.
    bends = (
        here
        for before, here, after in zip(line, line[1:], line[2:], strict=False)
        if abs(top.slope((before[0] + here[0]) / 2) - top.slope((here[0] + after[0]) / 2)) > SAME_SLOPE
    )
    for (x0, z0), (x1, z1) in itertools.pairwise((line[0], *bends, line[-1])):
        if abs(z1 - z0) <= TOUCH:
            continue
        slope = (z1 - z0) / (x1 - x0)
        plumb = strip.section.depth * math.hypot(1.0, slope)
        for left, right in _beside(x0, x1, standing):
            low, high = z0 + (left - x0) * slope, z0 + (right - x0) * slope
            yield (Cell(left, right, (low - plumb, high - plumb), (low, high)),)


def _beside(left: float, right: float, taken: Sequence[tuple[float, float]]) -> Iterator[tuple[float, float]]:
    """What is left of a stretch beside others, from left to right."""
    for start, end in taken:
        if left < end and start < right:
            if start - left > TOUCH:
                yield left, start
            left = max(left, end)
    if right - left > TOUCH:
        yield left, right


def _stretch(part: Region) -> float:
    """The length of a slope for each mm along the wall."""
    cell = part[0]
    return math.hypot(cell.u1 - cell.u0, cell.high[1] - cell.high[0]) / (cell.u1 - cell.u0)


def boards_of(length: Length, joints: Sequence[float]) -> list[Board]:
    """The boards of one length, jointed at these places."""
    whole = [length.part]
    for joint in (place / length.stretch for place in joints):
        whole = [
            piece
            for part in whole
            for piece in (cut_across(part, joint) if _crosses(part, joint) else [part])
        ]
    return [_board(length, part) for part in whole]


def _crosses(part: Region, place: float) -> bool:
    start, end = reach(part)
    return start < place < end


def _board(length: Length, part: Region) -> Board:
    strip, surface = length.strip, length.surface
    seen = seen_of(part, _box(strip.seen, upright=strip.upright))
    member = Member(
        strip.role,
        strip.section,
        outline_of(part, upright=strip.upright),
        strip.depth if surface.facing == "outside" else _turned(strip.depth, surface.depth),
        _grain(strip, part),
        view=surface.view,
    )
    outlines = tuple(outline_of(part, upright=strip.upright) for part in seen)
    return Board(strip, member, part, outlines, length.role)


def _grain(strip: Strip, part: Region) -> float:
    if strip.raking:
        cell = part[0]
        return math.degrees(math.atan2(cell.high[1] - cell.high[0], cell.u1 - cell.u0))
    return UPRIGHT if strip.upright else ALONG


def _turned(depth: tuple[float, float], through: float) -> tuple[float, float]:
    """From the inner face outwards, told from the outer face of a wall `through` mm deep."""
    return through - depth[1], through - depth[0]


def _box(span: Span, *, upright: bool) -> Box:
    """A rectangle of the face along a strip."""
    if upright:
        return Box(span.bottom, span.top, span.left, span.right)
    return Box(span.left, span.right, span.bottom, span.top)


def supports_of(battens: Iterable[Length | Board], *, upright: bool) -> tuple[Support, ...]:
    """The battens that boards cross, but for raking ones; `upright` is the boards' direction."""
    found = []
    for batten in battens:
        if batten.strip.upright == upright or batten.strip.raking:
            continue
        start, end = reach(batten.part)
        low, high = span_across(batten.part, (start + end) / 2) or (0.0, 0.0)
        found.append(Support((low + high) / 2, low, high, start, end))
    return tuple(sorted(found, key=lambda support: (support.centre, support.start)))
