"""Upright prisms and quarter cylinders: what is swept when something is moved, and how near that comes.

Plans are (x, y) in mm, or (s, t) in a wall's own axes, heights z. A `shortfall` is by how much two volumes
are nearer to each other than they may be; it is 0 where they are not, and where they only touch.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from soleplate.engine.shapes.outlines import Outline, Point, bounds, pairs
from soleplate.engine.shapes.tolerances import TOUCH


@dataclass(frozen=True)
class Prism:
    """What stands over a convex outline in plan, anticlockwise, between two heights, mm."""

    outline: Outline
    bottom: float
    top: float

    @cached_property
    def sides(self) -> tuple[tuple[float, float, float], ...]:
        """Of each side the unit normal outwards, and how far along it the side lies."""
        sides: list[tuple[float, float, float]] = []
        for (x0, y0), (x1, y1) in pairs(self.outline):
            size = math.hypot(x1 - x0, y1 - y0)
            across, along = (y1 - y0) / size, (x0 - x1) / size
            sides.append((across, along, across * x0 + along * y0))
        return tuple(sides)

    @cached_property
    def extent(self) -> tuple[float, float, float, float]:
        """Least and greatest x, least and greatest y, mm."""
        return bounds(self.outline)


@dataclass(frozen=True)
class Quarter:
    """What something flat sweeps that is tilted up about a level axis at z = 0: a quarter cylinder.

    The axis runs `length` mm along the unit vector `run` from `start`; the quarter lies on the side of the
    unit vector `into`, square to it, and above.
    """

    start: Point
    run: Point
    into: Point
    length: float
    radius: float

    @cached_property
    def extent(self) -> tuple[float, float, float, float]:
        """Least and greatest x, least and greatest y, mm."""
        return bounds(self.plan)

    @cached_property
    def plan(self) -> Outline:
        """What lies under it, whichever way round."""
        (x, y), (rx, ry), (ix, iy) = self.start, self.run, self.into
        far, out = self.length, self.radius
        return (
            (x, y),
            (x + far * rx, y + far * ry),
            (x + far * rx + out * ix, y + far * ry + out * iy),
            (x + out * ix, y + out * iy),
        )


Volume = Prism | Quarter
"""What is swept, each of them convex."""


def placed(volume: Volume, origin: Point, run: Point) -> Volume:
    """A volume in the world that is told in the axes of a wall from `origin` along the unit vector `run`."""
    (x, y), (rx, ry) = origin, run

    def turned(point: Point) -> Point:
        return (point[0] * rx - point[1] * ry, point[0] * ry + point[1] * rx)

    def moved(point: Point) -> Point:
        along, across = turned(point)
        return (x + along, y + across)

    if isinstance(volume, Prism):
        return Prism(tuple(map(moved, volume.outline)), volume.bottom, volume.top)
    return Quarter(moved(volume.start), turned(volume.run), turned(volume.into), volume.length, volume.radius)


def gap(one: Prism, other: Prism) -> float:
    """The widest gap between two prisms in plan along a normal of a side, mm; under 0 where they overlap."""
    widest = -math.inf
    for first, second in ((one, other), (other, one)):
        for across, along, side in first.sides:
            nearest = min(across * x + along * y for x, y in second.outline) - side
            widest = max(widest, nearest)
    return widest


def shortfall(volume: Volume, prism: Prism, clearance: float) -> float:
    """By how much a volume is nearer to a prism than the clearance, mm; 0 where it is not.

    A prism is measured along the normals of its sides, a quarter cylinder across its axis, exactly. Where
    the clearance is under 0, so much of an overlap is let pass.
    """
    if _apart(volume.extent, prism.extent, clearance):
        return 0.0
    if isinstance(volume, Prism):
        if min(volume.top, prism.top) - max(volume.bottom, prism.bottom) <= TOUCH:
            return 0.0
        short = clearance - gap(volume, prism)
    else:
        short = _of_quarter(volume, prism, clearance)
    return short if short > TOUCH else 0.0


def _apart(
    one: tuple[float, float, float, float], other: tuple[float, float, float, float], clearance: float
) -> bool:
    near = clearance - TOUCH
    return (
        other[0] - one[1] >= near
        or one[0] - other[1] >= near
        or other[2] - one[3] >= near
        or one[2] - other[3] >= near
    )


def _of_quarter(quarter: Quarter, prism: Prism, clearance: float) -> float:
    """The same of a quarter cylinder: the prism's nearest point to the axis, in the strip that is swept."""
    if prism.top <= TOUCH:
        return 0.0
    (x, y), (rx, ry), (ix, iy) = quarter.start, quarter.run, quarter.into
    local = [
        ((px - x) * rx + (py - y) * ry, (px - x) * ix + (py - y) * iy) for px, py in prism.outline
    ]  # fmt: skip
    spread = clearance - TOUCH
    reach = _within_strip(local, -spread, quarter.length + spread)
    if reach is None or reach[1] <= -spread:
        return 0.0
    return quarter.radius + clearance - math.hypot(max(reach[0], 0.0), max(prism.bottom, 0.0))


def _within_strip(points: Sequence[Point], left: float, right: float) -> tuple[float, float] | None:
    """The least and the greatest t of a convex polygon of (s, t) between two places along s, if any."""
    found: list[float] = []
    for (s0, t0), (s1, t1) in pairs(points):
        if left <= s0 <= right:
            found.append(t0)
        low, high = (s0, s1) if s0 < s1 else (s1, s0)
        found += [t0 + (edge - s0) / (s1 - s0) * (t1 - t0) for edge in (left, right) if low < edge < high]
    return (min(found), max(found)) if found else None
