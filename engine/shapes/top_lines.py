"""Lines with a height above every place: the tops of walls."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from soleplate.engine.shapes.outlines import Outline, Point, clip, rectangle, tidy
from soleplate.engine.shapes.tolerances import TOUCH


@dataclass(frozen=True, slots=True)
class TopLine:
    """A line from left to right with a height above every x: level, one slope, or slopes that meet.

    `points` are (x, z) with x growing; beyond them the outermost slopes run on.
    """

    points: tuple[Point, ...]

    def at(self, x: float) -> float:
        """The height above `x`, mm."""
        (x0, z0), (x1, z1) = self._segment(x)
        return z0 + (x - x0) / (x1 - x0) * (z1 - z0)

    def slope(self, x: float) -> float:
        """The angle above `x` in degrees, positive where the line rises to the right."""
        (x0, z0), (x1, z1) = self._segment(x)
        return math.degrees(math.atan2(z1 - z0, x1 - x0))

    def _segment(self, x: float) -> tuple[Point, Point]:
        for index in range(1, len(self.points) - 1):
            if x < self.points[index][0]:
                return self.points[index - 1], self.points[index]
        return self.points[-2], self.points[-1]

    def between(self, left: float, right: float) -> tuple[Point, ...]:
        """The stretch over `left` to `right`, its inner corners included."""
        inner = tuple(point for point in self.points if left + 1e-9 < point[0] < right - 1e-9)
        return ((left, self.at(left)), *inner, (right, self.at(right)))

    def segments(self) -> list[tuple[Point, Point]]:
        """The straight stretches, left to right."""
        return list(itertools.pairwise(self.points))

    def lowest(self, left: float, right: float) -> float:
        """The least height over `left` to `right`, mm."""
        return min(z for _, z in self.between(left, right))

    def highest(self, left: float, right: float) -> float:
        """The greatest height over `left` to `right`, mm."""
        return max(z for _, z in self.between(left, right))

    def raised(self, height: float) -> TopLine:
        """The same line moved up by `height` mm, measured plumb."""
        return TopLine(tuple((x, z + height) for x, z in self.points))

    @property
    def is_level(self) -> bool:
        """Whether the whole line has one height."""
        heights = [z for _, z in self.points]
        return max(heights) - min(heights) < 1e-6

    @property
    def steepest(self) -> float:
        """The greatest angle off level of any stretch, degrees."""
        return max(abs(math.degrees(math.atan2(z1 - z0, x1 - x0))) for (x0, z0), (x1, z1) in self.segments())


def under(line: TopLine, left: float, right: float, bottom: float) -> Outline:
    """What stands between `left` and `right` from `bottom` up to a line; `()` where there is no room."""
    top = line.between(left, right)
    lowest, highest = min(z for _, z in top), max(z for _, z in top)
    if lowest == highest > bottom + TOUCH:
        return rectangle(left, right, bottom, highest)
    if lowest > bottom:
        return tidy(((left, bottom), (right, bottom), *reversed(top)))
    outline: Outline = rectangle(left, right, bottom, max(bottom, highest) + 1.0)
    for (x0, z0), (x1, z1) in itertools.pairwise(top):
        outline = clip(outline, (x1, z1), (x0, z0)) if outline else ()
    return outline
