"""What is left of a strip of a wall once openings and the slope of the roof are cut out of it.

A strip is a rectangle, upright or level. `u` runs along it and `v` across, in mm: a level board has
(u, v) = (x, z), an upright one (z, x). So both are worked on in the same way.

What is left is held as cells, trapezoids between two values of u. Outlines, spans and cuts across are read
off them exactly.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from typing import Final, NamedTuple

from soleplate.engine.shapes.outlines import Outline, Point, area, rectangle, tidy
from soleplate.engine.shapes.tolerances import TOUCH
from soleplate.engine.shapes.top_lines import TopLine

DIGITS: Final = 6
"""Coordinates are rounded to a millionth of a mm, so that those meant to be equal compare as equal."""

FINE: Final = 1e-5
"""mm. Anything narrower is taken as nothing."""


class Box(NamedTuple):
    """A rectangle along a strip: from `u0` to `u1` along it, from `v0` to `v1` across."""

    u0: float
    u1: float
    v0: float
    v1: float

    def meets(self, other: Box) -> bool:
        """Whether both share more than an edge."""
        return (
            min(self.u1, other.u1) - max(self.u0, other.u0) > FINE
            and min(self.v1, other.v1) - max(self.v0, other.v0) > FINE
        )


class Line(NamedTuple):
    """A limit of v: `at + slope * u`."""

    at: float
    slope: float

    def v(self, u: float) -> float:
        """The limit at u."""
        return self.at + self.slope * u


class RoofLimits(NamedTuple):
    """What the roof leaves: v over `lows` and under `highs`, u up to `most`."""

    lows: tuple[Line, ...] = ()
    highs: tuple[Line, ...] = ()
    most: float = float("inf")


class Cell(NamedTuple):
    """A trapezoid from `u0` to `u1`; `low` and `high` are its v at either."""

    u0: float
    u1: float
    low: tuple[float, float]
    high: tuple[float, float]

    def at(self, u: float) -> tuple[float, float]:
        """The lowest and the highest v at u."""
        share = (u - self.u0) / (self.u1 - self.u0)
        return (
            self.low[0] + share * (self.low[1] - self.low[0]),
            self.high[0] + share * (self.high[1] - self.high[0]),
        )


Region = tuple[Cell, ...]
"""Cells that hang together, in the order of u."""


def roof_limits(top: TopLine, *, upright: bool) -> RoofLimits:
    """The roof's limits of level or upright strips; `top` must have no valley.

    Raises:
        ValueError: it has one.
    """
    slopes = [(z1 - z0) / (x1 - x0) for (x0, z0), (x1, z1) in top.segments()]
    if any(after > before + 1e-9 for before, after in itertools.pairwise(slopes)):
        raise ValueError("the top of the wall has a valley")

    # Without a valley, what lies under the top lies under each of its segments' lines.
    starts = [start for start, _ in top.segments()]
    lines = [Line(z0 - slope * x0, slope) for slope, (x0, z0) in zip(slopes, starts, strict=True)]
    if not upright:
        return RoofLimits(highs=tuple(lines))

    # For an upright strip u is the height: z = at + slope x turns into x = (z - at) / slope. A slope that
    # rises limits the strip at its left, one that falls at its right, and a level one limits its length.
    turned = [Line(-at / slope, 1.0 / slope) for at, slope in lines if abs(slope) > 1e-9]
    return RoofLimits(
        lows=tuple(line for line in turned if line.slope > 0),
        highs=tuple(line for line in turned if line.slope < 0),
        most=min((at for at, slope in lines if abs(slope) <= 1e-9), default=float("inf")),
    )


def remains(strip: Box, seen: Box, holes: Sequence[Box], roof: RoofLimits) -> list[Region]:
    """What is left of a strip, in parts that hang together and have no hole inside.

    Where an opening leaves nothing of what is `seen` of the strip, nothing stays of what is hidden either.
    A part with an opening wholly inside it is cut across at the middle of that opening.
    """
    strip = strip._replace(u1=min(strip.u1, roof.most))
    if strip.u1 - strip.u0 <= FINE:
        return []

    # Most strips meet neither an opening nor the roof, and stay whole.
    holes = [hole for hole in holes if hole.meets(strip)]
    lows = [line for line in roof.lows if max(line.v(strip.u0), line.v(strip.u1)) > strip.v0 + FINE]
    highs = [line for line in roof.highs if min(line.v(strip.u0), line.v(strip.u1)) < strip.v1 - FINE]
    if not holes and not lows and not highs:
        cell = Cell(strip.u0, strip.u1, (strip.v0, strip.v0), (strip.v1, strip.v1))
        return [(_rounded(cell),)]

    # The strip's own edges are limits like those of the roof.
    lows.append(Line(strip.v0, 0.0))
    highs.append(Line(strip.v1, 0.0))

    # Between two breaks nothing changes: the same limits hold, beside the same openings. Which ones, is told
    # at the middle.
    levels = {seen.v0, seen.v1, *(v for hole in holes for v in (hole.v0, hole.v1))}
    cells: list[Cell] = []
    for u0, u1 in itertools.pairwise(_breaks(strip, holes, [*lows, *highs], levels)):
        middle = (u0 + u1) / 2
        here = [hole for hole in holes if hole.u0 < middle < hole.u1]
        low = max(lows, key=lambda line: line.v(middle))
        high = min(highs, key=lambda line: line.v(middle))

        for below, above in _free(low, high, middle, here):
            cell = Cell(u0, u1, (below.v(u0), below.v(u1)), (above.v(u0), above.v(u1)))
            if not (here and _is_hidden(cell, seen)):
                cells.append(_rounded(cell))

    return [part for whole in connected(cells) for part in _without_holes(whole)]


def _breaks(strip: Box, holes: Sequence[Box], lines: Sequence[Line], levels: Iterable[float]) -> list[float]:
    """The values of u where the limits of a strip or the openings in it change: rising, with its ends."""
    # Openings begin and end, and limits cross each other, or the edges of openings and of what is seen.
    all_lines = [*lines, *(Line(level, 0.0) for level in levels)]
    found = {strip.u0, strip.u1, *(u for hole in holes for u in (hole.u0, hole.u1))}
    for one, other in itertools.combinations(all_lines, 2):
        if abs(one.slope - other.slope) > 1e-12:
            found.add((other.at - one.at) / (one.slope - other.slope))

    # Of breaks as good as in one place the first is kept, but the strip's end stays where it is.
    inside = sorted(u for u in found if strip.u0 <= u <= strip.u1)
    kept = inside[:1]
    for u in inside[1:]:
        if u - kept[-1] > FINE:
            kept.append(u)
    kept[-1] = strip.u1
    return kept


def _free(low: Line, high: Line, middle: float, holes: Sequence[Box]) -> Iterator[tuple[Line, Line]]:
    """The spans between two limits that no opening takes, by rising v: the lines below and above each."""
    # From below: free up to the next opening, and then from its upper edge on.
    for hole in sorted(holes, key=lambda hole: hole.v0):
        below = min(Line(hole.v0, 0.0), high, key=lambda line: line.v(middle))
        if below.v(middle) - low.v(middle) > FINE:
            yield low, below
        low = max(Line(hole.v1, 0.0), low, key=lambda line: line.v(middle))
    if high.v(middle) - low.v(middle) > FINE:
        yield low, high


def _is_hidden(cell: Cell, seen: Box) -> bool:
    """Whether nothing of a cell is seen."""
    low, high = cell.at((cell.u0 + cell.u1) / 2)
    return min(high, seen.v1) - max(low, seen.v0) <= FINE


def _rounded(cell: Cell) -> Cell:
    return Cell(
        round(cell.u0, DIGITS),
        round(cell.u1, DIGITS),
        (round(cell.low[0], DIGITS), round(cell.low[1], DIGITS)),
        (round(cell.high[0], DIGITS), round(cell.high[1], DIGITS)),
    )


def connected(cells: Sequence[Cell]) -> list[Region]:
    """The cells in parts that hang together by more than a point."""
    if len(cells) == 1:
        return [tuple(cells)]

    # Each cell joins all groups that it touches into one.
    groups: list[list[Cell]] = []
    for cell in cells:
        joined = [group for group in groups if any(_touch(other, cell) for other in group)]
        groups = [group for group in groups if group not in joined]
        groups.append([*itertools.chain.from_iterable(joined), cell])
    return sorted(tuple(sorted(group)) for group in groups)


def _touch(one: Cell, other: Cell) -> bool:
    """Whether the second begins where the first ends, and they share more than a point there."""
    return one.u1 == other.u0 and min(one.high[1], other.high[0]) - max(one.low[1], other.low[0]) > TOUCH


def cut_across(part: Region, place: float) -> list[Region]:
    """A part cut across at `place`: what lies before it, then what lies behind."""
    place = round(place, DIGITS)
    before = [
        cell if cell.u1 <= place else _stretch(cell, cell.u0, place) for cell in part if cell.u0 < place
    ]
    behind = [
        cell if cell.u0 >= place else _stretch(cell, place, cell.u1) for cell in part if cell.u1 > place
    ]
    return [*connected(before), *connected(behind)]


def _stretch(cell: Cell, u0: float, u1: float) -> Cell:
    """What lies of a cell between two values of u."""
    if (u0, u1) == (cell.u0, cell.u1):
        return cell
    (low0, high0), (low1, high1) = cell.at(u0), cell.at(u1)
    return _rounded(Cell(u0, u1, (low0, low1), (high0, high1)))


def seen_of(part: Region, seen: Box) -> list[Region]:
    """What is seen of a part."""
    clipped = [
        Cell(
            cell.u0,
            cell.u1,
            (max(cell.low[0], seen.v0), max(cell.low[1], seen.v0)),
            (min(cell.high[0], seen.v1), min(cell.high[1], seen.v1)),
        )
        for cell in part
        if not _is_hidden(cell, seen)
    ]
    return connected([_rounded(cell) for cell in clipped])


def _without_holes(part: Region) -> list[Region]:
    """A part with openings wholly inside cut across at the middle of each; others as they are."""
    if _is_chain(part):
        return [part]
    inner = [loop for loop in _loops(part) if area(loop) < 0]
    if not inner:
        return [part]

    # The first is cut through; what lies on either side may have others.
    middles = [(min(u for u, _ in loop) + max(u for u, _ in loop)) / 2 for loop in inner]
    return [piece for half in cut_across(part, min(middles)) for piece in _without_holes(half)]


def _is_chain(part: Region) -> bool:
    """Whether its cells follow each other one by one."""
    return all(one.u1 == other.u0 for one, other in itertools.pairwise(part))


def outline_of(part: Region, *, upright: bool) -> Outline:
    """The outline of a part in (x, z), counter-clockwise."""
    if len(part) == 1 and part[0].low[0] == part[0].low[1] and part[0].high[0] == part[0].high[1]:
        u0, u1, (v0, _), (v1, _) = part[0]
        return rectangle(v0, v1, u0, u1) if upright else rectangle(u0, u1, v0, v1)

    # Along the lower edges and back along the upper ones; where cells lie side by side, by walking round.
    if _is_chain(part):
        low = [point for cell in part for point in ((cell.u0, cell.low[0]), (cell.u1, cell.low[1]))]
        high = [point for cell in part for point in ((cell.u0, cell.high[0]), (cell.u1, cell.high[1]))]
        loop: Sequence[Point] = tidy([*low, *reversed(high)])
    else:
        loop = max(_loops(part), key=area)

    # Exchanging the axes mirrors the loop, so that it must be walked the other way.
    return tuple((v, u) for u, v in reversed(loop)) if upright else tuple(loop)


def _loops(part: Region) -> list[Outline]:
    """The outer edge of a part, counter-clockwise, and the edges of holes in it, clockwise."""
    # Every edge with the part at its left hand, by its start: lower ones go forwards, upper ones back.
    ahead: dict[Point, list[Point]] = {}
    for cell in part:
        ahead.setdefault((cell.u0, cell.low[0]), []).append((cell.u1, cell.low[1]))
        ahead.setdefault((cell.u1, cell.high[1]), []).append((cell.u0, cell.high[0]))

    # Across the part, where cells begin and end: an edge is where the part lies on one side and not on the
    # other. Between two neighbouring corners each side is either all part or none of it.
    for u in sorted({edge for cell in part for edge in (cell.u0, cell.u1)}):
        before = [(cell.low[1], cell.high[1]) for cell in part if cell.u1 == u]
        behind = [(cell.low[0], cell.high[0]) for cell in part if cell.u0 == u]
        for v0, v1 in itertools.pairwise(sorted({v for span in (*before, *behind) for v in span})):
            middle = (v0 + v1) / 2
            ends = any(low < middle < high for low, high in before)
            starts = any(low < middle < high for low, high in behind)
            if ends and not starts:
                ahead.setdefault((u, v0), []).append((u, v1))
            elif starts and not ends:
                ahead.setdefault((u, v1), []).append((u, v0))

    # Walk from edge to edge, using each up, until the walk is back at its start or can go no further.
    found: list[Outline] = []
    while ahead:
        start = point = min(ahead)
        loop: list[Point] = []
        while True:
            loop.append(point)
            following = ahead[point].pop(0)
            if not ahead[point]:
                del ahead[point]
            point = following
            if point == start or point not in ahead:
                break
        found.append(tidy(loop))
    return [loop for loop in found if loop]


def reach(part: Region) -> tuple[float, float]:
    """Where a part starts and ends."""
    return part[0].u0, max(cell.u1 for cell in part)


def span_across(part: Region, u: float) -> tuple[float, float] | None:
    """The widest span across a part at u; `None` beyond its ends."""
    spans = [cell.at(u) for cell in part if cell.u0 <= u <= cell.u1]
    return max(spans, key=lambda span: span[1] - span[0]) if spans else None
