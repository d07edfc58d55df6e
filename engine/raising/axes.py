"""A wall's own axes in the world."""

from __future__ import annotations

from dataclasses import dataclass

from soleplate.engine.layout import WallOut
from soleplate.engine.shapes import Outline, Point, Prism, Volume, placed, rectangle


@dataclass(frozen=True, slots=True)
class Axes:
    """Where a wall's outer face starts in plan, and the unit vector along it."""

    origin: Point
    run: Point

    @classmethod
    def of(cls, wall: WallOut) -> Axes:
        """Those of a wall, as it is seen from outside."""
        right = wall.views["face"].right
        return cls(wall.plan.start, (right[0], right[1]))

    def point(self, s: float, t: float) -> Point:
        """The place in the world of `s` mm along the wall and `t` in from its outer face."""
        (x, y), (rx, ry) = self.origin, self.run
        return (x + s * rx - t * ry, y + s * ry + t * rx)

    def local(self, point: Point) -> Point:
        """A place in the world in these axes."""
        dx, dy = point[0] - self.origin[0], point[1] - self.origin[1]
        return (dx * self.run[0] + dy * self.run[1], dy * self.run[0] - dx * self.run[1])

    def place(self, volume: Volume) -> Volume:
        """A volume of these axes in the world."""
        return placed(volume, self.origin, self.run)

    def over(self, left: float, right: float, outer: float, inner: float) -> Outline:
        """A rectangle of these axes in the world."""
        return tuple(self.point(s, t) for s, t in rectangle(left, right, outer, inner))

    def prism(self, prism: Prism) -> Prism:
        """A prism of these axes in the world."""
        return Prism(tuple(self.point(s, t) for s, t in prism.outline), prism.bottom, prism.top)
