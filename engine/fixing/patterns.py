"""Candidates for the places of fixings on a contact, the best first."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from soleplate.engine.fixing.distances import Spaced
from soleplate.engine.rules import FixingWay
from soleplate.engine.shapes import Outline, Point, pairs

Box = tuple[float, float, float, float]
"""Left, right, bottom and top, mm; x runs along the grain of the piece that is gone through."""

Pattern = Iterable[tuple[Point, ...]]
"""Candidates: each some places at once."""

SHIFTS: Final = (0.0, 25.0, -25.0, 50.0, -50.0, 75.0, -75.0)
"""mm by which one of a row may give way along it (common practice, no source)."""

BESIDE_MIDDLE: Final = (0.5, 0.35, 0.65)
"""Shares of a crowded face at which a line of them is tried (common practice, no source)."""

CROWD_SHIFTS: Final = (0.0, 0.4, -0.4)
"""Shares of a step by which a crowded line of them may give way (common practice, no source)."""

LINED: Final = (0.5, 0.6, 0.4, 0.7, 0.3)
"""Shares of the way from the middle to the edge at which the outermost of a line stand (common practice, no
source)."""

FINE: Final = 0.05
"""mm, for rounding."""


def groups(face: Box, area: Box, count: int, least: Spaced) -> Iterator[tuple[Point, ...]]:
    """Ways of setting `count` on a face: across the grain, at its quarter points before anything else.

    Then as wide as they may stand, towards one side, the other, and the middle; where the face is too narrow
    for that, along the grain.
    """
    left, right, bottom, top = area
    middle = min(max((face[0] + face[1]) / 2, left), right)
    places = list(dict.fromkeys((middle, left, right, (left + middle) / 2, (middle + right) / 2)))
    across = list(_across(face[2], face[3], bottom, top, count, least.across))
    for x in places:
        for ys in across:
            yield tuple((x, y) for y in ys)
    step = (right - left) / max(count - 1, 1)
    if count > 1 and step >= least.along - FINE:
        line = min(max((face[2] + face[3]) / 2, bottom), top)
        yield tuple((left + index * step, line) for index in range(count))


def lined(outline: Outline, along: Point, count: int) -> Iterator[tuple[Point, ...]]:
    """Ways of setting `count` on a face that is no rectangle: in line through its middle, along a grain."""
    size = math.hypot(*along)
    if size < FINE:
        return
    du, dv = along[0] / size, along[1] / size
    middle = (sum(u for u, _ in outline) / len(outline), sum(v for _, v in outline) / len(outline))
    ahead = min(reach(outline, middle, (du, dv)), reach(outline, middle, (-du, -dv)))
    for share in LINED:
        places = [2 * index / max(count - 1, 1) - 1 if count > 1 else 0.0 for index in range(count)]
        yield tuple(
            (middle[0] + du * ahead * share * at, middle[1] + dv * ahead * share * at) for at in places
        )


def reach(outline: Outline, start: Point, way: Point) -> float:
    """How far it is from a place within a convex outline until it is left along a unit vector."""
    (x, y), (du, dv) = start, way
    found = math.inf
    for (u0, v0), (u1, v1) in pairs(outline):
        # Anticlockwise: the outside is to the right of each edge.
        out_u, out_v = v1 - v0, u0 - u1
        leaving = du * out_u + dv * out_v
        if leaving > FINE * math.hypot(out_u, out_v):
            found = min(found, ((u0 - x) * out_u + (v0 - y) * out_v) / leaving)
    return max(found, 0.0) if found < math.inf else 0.0


def crowds(face: Box, count: int) -> Iterator[tuple[Point, ...]]:
    """Ways of setting `count` evenly on a face that has no room for their distances.

    Across the grain, in the middle or beside it; then along it, as on the end of a thin lintel. What is in
    the way may be passed by less than half a step.
    """
    left, right, bottom, top = face
    step = 1 / (count + 1)
    for is_along, shift, other in itertools.product((False, True), CROWD_SHIFTS, BESIDE_MIDDLE):
        shares = [step * (index + 1 + shift) for index in range(count)]
        places = [(share, other) if is_along else (other, share) for share in shares]
        yield tuple((left + (right - left) * x, bottom + (top - bottom) * y) for x, y in places)


def _across(
    low: float, high: float, least: float, most: float, count: int, apart: float
) -> Iterator[list[float]]:
    """Where `count` stand across the grain of a face from `low` to `high`."""
    quarters = [low + (high - low) * (2 * index + 1) / (2 * count) for index in range(count)]
    wide = (most - least) / max(count - 1, 1)
    close = [index * apart for index in range(count)]
    middle = (least + most) / 2 - close[-1] / 2
    wanted = [
        quarters,
        [least + index * wide for index in range(count)] if count > 1 else [(least + most) / 2],
        [least + each for each in close],
        [most - each for each in reversed(close)],
        [middle + each for each in close],
    ]
    for ys in wanted:
        is_apart = all(other - one >= apart - FINE for one, other in itertools.pairwise(ys))
        if ys[0] >= least - FINE and ys[-1] <= most + FINE and is_apart:
            yield ys


def rows(face: Box, area: Box, way: FixingWay, least: Spaced) -> Iterator[Pattern]:
    """One pattern for each place along the longer side of a face: there, or a little beside it."""
    is_along = face[1] - face[0] >= face[3] - face[2]
    (start, end, low, high) = area if is_along else (area[2], area[3], area[0], area[1])
    (first, last) = face[:2] if is_along else face[2:]
    ends = _row(first, last, start, end, way)
    lines = [(low + high) / 2] if way.rows == 1 else [low, high]
    if way.rows > 1 and high - low < least.across:
        lines = [(low + high) / 2]
    for at in ends:
        for line in lines:
            beside = [line] if way.rows > 1 else list(dict.fromkeys((line, low, high)))
            found = [
                (at + shift, across)
                for shift in SHIFTS
                for across in beside
                if start - FINE <= at + shift <= end + FINE
            ]
            yield [((along, across) if is_along else (across, along),) for along, across in found]


def _row(first: float, last: float, start: float, end: float, way: FixingWay) -> Sequence[float]:
    """The places along a row: one near each end and evenly between, or the middle alone."""
    low, high = max(first + way.from_ends, start), min(last - way.from_ends, end)
    if high - low < way.from_ends / 2:
        return [min(max((first + last) / 2, start), end)]
    gaps = max(math.ceil((high - low) / (way.centres or high - low) - 1e-6), 1)
    return [low + (high - low) * index / gaps for index in range(gaps + 1)]
