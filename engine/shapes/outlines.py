"""Plane geometry of the wall's face: outlines, sloped lines, clipping, and the ends of a piece.

Points are (x, z) in mm, x to the right and z up. An outline is a simple polygon, counter-clockwise,
its first point not repeated. Nothing here knows of timber.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

from soleplate.engine.shapes.tolerances import STRAIGHT, TOUCH

Point = tuple[float, float]
"""(x, z) on the wall's face, mm."""
Outline = tuple[Point, ...]
"""Its corners, counter-clockwise."""


def rectangle(left: float, right: float, bottom: float, top: float) -> Outline:
    """An upright rectangle, from its bottom left corner."""
    return ((left, bottom), (right, bottom), (right, top), (left, top))


def pairs(outline: Sequence[Point]) -> Iterator[tuple[Point, Point]]:
    """Every edge of an outline, the closing one included."""
    return zip(outline, (*outline[1:], *outline[:1]), strict=True)


def span_at(outline: Sequence[Point], x: float) -> tuple[float, float]:
    """The lowest and the highest point of an outline above `x`, mm; `x` must lie between its sides."""
    heights = [
        z0 + (x - x0) / (x1 - x0) * (z1 - z0)
        for (x0, z0), (x1, z1) in pairs(outline)
        if min(x0, x1) <= x <= max(x0, x1) and x0 != x1
    ]
    return min(heights), max(heights)


def area(outline: Sequence[Point]) -> float:
    """Area in mm2, positive for a counter-clockwise outline."""
    doubled = 0.0
    for (x0, z0), (x1, z1) in pairs(outline):
        doubled += x0 * z1 - x1 * z0
    return doubled / 2


def bounds(outline: Sequence[Point]) -> tuple[float, float, float, float]:
    """Left, right, bottom and top."""
    xs, zs = zip(*outline, strict=True)
    return min(xs), max(xs), min(zs), max(zs)


def sides_of_box(outline: Sequence[Point]) -> tuple[float, float, float, float] | None:
    """Left, right, bottom and top of an upright rectangle, given from its bottom left corner; or `None`."""
    if len(outline) != 4:
        return None
    (left, bottom), (right, low), (far, top), (near, high) = outline
    is_box = left == near < right == far and bottom == low < top == high
    return (left, right, bottom, top) if is_box else None


def clip(outline: Sequence[Point], start: Point, end: Point) -> Outline:
    """The part of an outline on the left of the line from `start` to `end` (Sutherland and Hodgman 1974).

    A convex outline stays convex; of one that is not, the parts stay joined along the line. Points that
    fall together are merged. Returns `()` where nothing is left.
    """
    run, rise = end[0] - start[0], end[1] - start[1]
    size = math.hypot(run, rise)

    def side(point: Point) -> float:
        return (run * (point[1] - start[1]) - rise * (point[0] - start[0])) / size

    kept: list[Point] = []
    for one, other in pairs(outline):
        here, there = side(one), side(other)
        if here >= 0:
            kept.append(one)
        if (here > 0 > there) or (here < 0 < there):
            share = here / (here - there)
            kept.append((one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])))
    return tidy(kept)


def left_parts(outline: Sequence[Point], start: Point, end: Point) -> list[Outline]:
    """The parts of an outline on the left of the line from `start` to `end`, each an outline of its own.

    As `clip`, but parts that lie apart are told apart. Corners within `STRAIGHT` of the line count as on it.
    """
    run, rise = end[0] - start[0], end[1] - start[1]
    size = math.hypot(run, rise)
    sides = [(run * (z - start[1]) - rise * (x - start[0])) / size for x, z in outline]
    if min(sides) >= -STRAIGHT:
        return [tuple(outline)]
    count = len(outline)
    firsts = [i for i in range(count) if sides[i] > STRAIGHT and sides[i - 1] <= STRAIGHT]
    if not firsts:
        return []

    def crossing_at(inside: int, outside: int) -> Point:
        here, there = sides[inside], min(sides[outside], 0.0)
        share = here / (here - there)
        (x0, z0), (x1, z1) = outline[inside], outline[outside]
        return x0 + share * (x1 - x0), z0 + share * (z1 - z0)

    chains: list[list[Point]] = []
    for first in firsts:
        chain, index = [crossing_at(first, first - 1)], first
        while sides[index] > STRAIGHT:
            chain.append(outline[index])
            index = (index + 1) % count
        chain.append(crossing_at(index - 1, index))
        chains.append(chain)

    def along(point: Point) -> float:
        return run * (point[0] - start[0]) + rise * (point[1] - start[1])

    # Along the line the outline is left and entered by turns: each end goes on to the next start.
    ends = sorted(range(len(chains)), key=lambda index: along(chains[index][-1]))
    starts = sorted(range(len(chains)), key=lambda index: along(chains[index][0]))
    following = dict(zip(ends, starts, strict=True))
    parts: list[Outline] = []
    while following:
        index = next(iter(following))
        loop: list[Point] = []
        while index in following:
            loop += chains[index]
            index = following.pop(index)
        parts.append(tidy(loop))
    return [part for part in parts if part]


def tidy(points: Sequence[Point]) -> Outline:
    """An outline without doubled points and without points on a straight edge; `()` if it has no area."""
    corners: list[Point] = []
    for point in points:
        while len(corners) > 1 and is_on_line(corners[-1], corners[-2], point):
            corners.pop()
        if not corners or math.dist(point, corners[-1]) > 1e-6:
            corners.append(point)
    while len(corners) > 2 and is_on_line(corners[-1], corners[-2], corners[0]):
        corners.pop()
    while len(corners) > 2 and is_on_line(corners[0], corners[-1], corners[1]):
        del corners[0]
    return tuple(corners) if len(corners) > 2 and abs(area(corners)) > 1e-9 else ()


def is_on_line(point: Point, start: Point, end: Point) -> bool:
    """Whether a point lies as near as `STRAIGHT` to the line through two others."""
    return abs(_turn(start, point, end)) <= STRAIGHT * math.dist(start, end)


def _turn(before: Point, here: Point, after: Point) -> float:
    return (here[0] - before[0]) * (after[1] - here[1]) - (here[1] - before[1]) * (after[0] - here[0])


def is_convex(outline: Sequence[Point]) -> bool:
    """Whether a counter-clockwise outline has no inward corner."""
    before = (*outline[-1:], *outline[:-1])
    after = (*outline[1:], *outline[:1])
    return all(_turn(a, b, c) >= -1e-6 for a, b, c in zip(before, outline, after, strict=True))


def contains(outline: Sequence[Point], point: Point) -> bool:
    """Whether a point lies inside (by crossings of a ray; a point on an edge may count either way)."""
    x, z = point
    inside = False
    for (x0, z0), (x1, z1) in pairs(outline):
        if (z0 > z) != (z1 > z) and x < x0 + (z - z0) / (z1 - z0) * (x1 - x0):
            inside = not inside
    return inside


def from_edge(outline: Sequence[Point], point: Point) -> float:
    """The distance of a point from the nearest edge of an outline, mm."""
    x, z = point
    box = sides_of_box(outline)
    if box is not None:
        left, right, bottom, top = box
        if left <= x <= right and bottom <= z <= top:
            return min(x - left, right - x, z - bottom, top - z)
    least = math.inf
    for (x0, z0), (x1, z1) in pairs(outline):
        # This is asked of every fixing and edge. So it is written out: `min` and `max` take twice the time.
        dx, dz = x1 - x0, z1 - z0
        along = ((x - x0) * dx + (z - z0) * dz) / (dx * dx + dz * dz)
        if along < 0.0:
            along = 0.0
        elif along > 1.0:
            along = 1.0
        distance = math.hypot(x - x0 - along * dx, z - z0 - along * dz)
        if distance < least:
            least = distance
    return least


def narrowest(outline: Sequence[Point]) -> float:
    """The least width of an outline, across its legs beside notches too, level or plumb, mm.

    It is measured halfway between corners that follow each other in height, and in place: exact where edges
    are level or plumb.
    """
    least = math.inf
    for turned in (outline, [(z, x) for x, z in outline]):
        places = sorted({place for place, _ in turned})
        for before, after in itertools.pairwise(places):
            middle = (before + after) / 2
            crossed = sorted(
                v0 + (middle - u0) * (v1 - v0) / (u1 - u0)
                for (u0, v0), (u1, v1) in pairs(turned)
                if min(u0, u1) < middle < max(u0, u1)
            )
            spans = zip(crossed[::2], crossed[1::2], strict=True)
            least = min([least, *(high - low for low, high in spans)])
    return least


def is_sliver(outline: Outline) -> bool:
    """Whether a convex outline is nowhere thicker than `TOUCH`: it holds a triangle on its longest side."""
    return area(outline) <= TOUCH / 2 * max(math.dist(*side) for side in pairs(outline))


def overlap(one: Outline, other: Outline) -> bool:
    """Whether two outlines share more than a sliver thinner than `TOUCH`."""
    left, right, bottom, top = bounds(one)
    left2, right2, bottom2, top2 = bounds(other)
    if min(right, right2) - max(left, left2) <= TOUCH or min(top, top2) - max(bottom, bottom2) <= TOUCH:
        return False
    return interlock(one, other)


def interlock(one: Outline, other: Outline) -> bool:
    """The same of two outlines whose bounds are known to overlap."""
    return any(_convex_overlap(part, part2) for part in convex_parts(one) for part2 in convex_parts(other))


def _convex_overlap(one: Outline, other: Outline) -> bool:
    """By separating axes: two convex outlines are apart where some edge's line has them on either side."""
    for first, second in ((one, other), (other, one)):
        for (x0, z0), (x1, z1) in pairs(first):
            size = math.hypot(x1 - x0, z1 - z0)
            across, along = (z1 - z0) / size, (x0 - x1) / size
            edge = across * x0 + along * z0
            if min(across * x + along * z for x, z in second) >= edge - TOUCH:
                return False
    return True


def convex_parts(outline: Outline) -> list[Outline]:
    """A convex outline as it is; another as triangles (by cutting off ears)."""
    if is_convex(outline):
        return [outline]
    rest = list(outline)
    parts: list[Outline] = []
    while len(rest) > 3:
        for index in range(len(rest)):
            ear = (rest[index - 1], rest[index], rest[(index + 1) % len(rest)])
            if _turn(*ear) > 0 and not any(contains(ear, point) for point in rest if point not in ear):
                parts.append(ear)
                del rest[index]
                break
        else:
            break
    parts.append((rest[0], rest[1], rest[2]))
    return parts


def few_convex_parts(outline: Outline) -> list[Outline]:
    """As `convex_parts`, but triangles are joined as long as they stay convex (Hertel and Mehlhorn 1983)."""
    parts = convex_parts(outline)
    edges = [frozenset(edge) for part in parts for edge in pairs(part)] if len(parts) > 1 else []
    for diagonal in dict.fromkeys(edges):
        beside = [part for part in parts if diagonal <= set(part) and _has_edge(part, diagonal)]
        if len(beside) == 2:
            joined = _joined(beside[0], beside[1], diagonal)
            if is_convex(joined):
                parts = [part for part in parts if part not in beside] + [joined]
    return parts


def _has_edge(part: Outline, edge: frozenset[Point]) -> bool:
    return any({one, other} == edge for one, other in pairs(part))


def _joined(one: Outline, other: Outline, edge: frozenset[Point]) -> Outline:
    """Two outlines on either side of an edge as one."""

    def after(part: Outline) -> Outline:
        place = next(i for i in range(len(part)) if {part[i - 1], part[i]} == edge)
        return (*part[place:], *part[:place])

    return (*after(one), *after(other)[1:-1])


def hull(outline: Sequence[Point]) -> Outline:
    """The convex hull, counter-clockwise (Andrew's monotone chain, 1979)."""

    def chain(points: Sequence[Point]) -> list[Point]:
        kept: list[Point] = []
        for point in points:
            while len(kept) > 1 and _is_right_turn(kept[-2], kept[-1], point):
                kept.pop()
            kept.append(point)
        return kept[:-1]

    ordered = sorted(set(outline))
    return tidy(chain(ordered) + chain(ordered[::-1]))


def _is_right_turn(a: Point, b: Point, c: Point) -> bool:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) <= 0


def crossing(outline: Sequence[Point]) -> tuple[int, int] | None:
    """The first two sides of a polygon that meet away from a common corner, by their places; `None` of none.

    A side that turns back on the one before, and one without length, meets its neighbour.
    """
    sides = list(pairs(outline))
    last = len(sides) - 1
    for first, (a, b) in enumerate(sides):
        for second in range(first + 1, len(sides)):
            c, d = sides[second]
            if second == first + 1 or (first == 0 and second == last):
                if _turns_back(*((a, b, d) if second == first + 1 else (c, d, b))):
                    return first, second
            elif _sides_meet(a, b, c, d):
                return first, second
    return None


def _turns_back(before: Point, corner: Point, after: Point) -> bool:
    """Whether a side runs back over the one before, or one of them has no length."""
    if corner in (before, after):
        return True
    along = (corner[0] - before[0]) * (after[0] - corner[0]) + (corner[1] - before[1]) * (
        after[1] - corner[1]
    )
    longer = max(math.dist(before, corner), math.dist(corner, after))
    return along < 0.0 and abs(_turn(before, corner, after)) <= STRAIGHT * longer


def _sides_meet(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether two sides have a point in common."""
    if (
        max(a[0], b[0]) < min(c[0], d[0])
        or max(c[0], d[0]) < min(a[0], b[0])
        or max(a[1], b[1]) < min(c[1], d[1])
        or max(c[1], d[1]) < min(a[1], b[1])
    ):
        return False
    return _turn(a, b, c) * _turn(a, b, d) <= 0.0 and _turn(c, d, a) * _turn(c, d, b) <= 0.0
