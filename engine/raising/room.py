"""What a movement sweeps in plan."""

from __future__ import annotations

from soleplate.engine.raising.question import RaisingWay
from soleplate.engine.shapes import Point, Prism, hull, rounded


def room_of(way: RaisingWay) -> tuple[Point, ...]:
    """The hull of all that a way of raising sweeps, X and Y, mm; nothing of one that sweeps nothing."""
    points = [
        point
        for volume in way.swept
        for point in (volume.outline if isinstance(volume, Prism) else volume.plan)
    ]
    return tuple((rounded(x), rounded(y)) for x, y in hull(points))
