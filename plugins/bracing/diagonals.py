"""The geometry of a brace: a straight band across a wall's face, rising at an angle from level."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from soleplate.engine.rules import TOUCH, Outline, Point, Wall, bounds, clip, is_convex, pairs

Rises = Literal["left", "right"]


@dataclass(frozen=True, slots=True)
class Diagonal:
    """A band `breadth` mm across, its centre line through a point, `angle` degrees from level."""

    through: Point
    angle: float
    rises: Rises
    breadth: float

    @property
    def grain(self) -> float:
        """Its direction in degrees from level, below 0 where it rises to the left."""
        return self.angle if self.rises == "right" else -self.angle

    def band(self, outline: Outline) -> Outline:
        """What it covers of an outline; `()` where nothing."""
        (x, z), (along, up), half = self.through, self._way, self.breadth / 2
        low = (x + up * half, z - along * half)
        high = (x - up * half, z + along * half)
        kept = clip(outline, low, (low[0] + along, low[1] + up))
        return clip(kept, high, (high[0] - along, high[1] - up)) if kept else ()

    def centre_line(self, outline: Outline) -> tuple[Point, Point] | None:
        """Where its centre line enters and leaves an outline: its foot and its head."""
        (x, z), (along, up) = self.through, self._way
        places: list[float] = []
        for (x0, z0), (x1, z1) in pairs(outline):
            side0, side1 = (along * (b - z) - up * (a - x) for a, b in ((x0, z0), (x1, z1)))
            if (side0 > 0.0) != (side1 > 0.0):
                share = side0 / (side0 - side1)
                a, b = x0 + share * (x1 - x0), z0 + share * (z1 - z0)
                places.append(along * (a - x) + up * (b - z))
        if not places:
            return None
        ends = [(x + along * at, z + up * at) for at in (min(places), max(places))]
        foot, head = sorted(ends, key=lambda point: point[1])
        return foot, head

    def length(self, outline: Outline) -> float:
        """Of a piece of it over the long points, mm."""
        along, up = self._way
        places = [along * x + up * z for x, z in outline]
        return max(places) - min(places)

    @property
    def _way(self) -> Point:
        """The unit vector along it that goes to the right."""
        slope = math.radians(self.grain)
        return math.cos(slope), math.sin(slope)


def from_corner(corner: Point, angle: float, rises: Rises, breadth: float) -> Diagonal:
    """The band whose upper edge starts in a corner, so that none of it reaches beyond."""
    slope, half = math.radians(angle), breadth / 2
    way = 1.0 if rises == "right" else -1.0
    through = corner[0] + way * half * math.sin(slope), corner[1] - half * math.cos(slope)
    return Diagonal(through, angle, rises, breadth)


def corner_to_corner(foot: Point, head: Point, breadth: float) -> Diagonal | None:
    """The band whose upper edge starts in `foot` and whose lower edge ends in `head`; `None` if too near.

    Its edges are `breadth` apart, so that it is steeper than the line from corner to corner.
    """
    across, up = abs(head[0] - foot[0]), head[1] - foot[1]
    far = math.hypot(across, up)
    if far <= breadth or up <= 0.0:
        return None
    angle = math.degrees(math.atan2(up, across) + math.asin(breadth / far))
    return from_corner(foot, angle, "right" if head[0] > foot[0] else "left", breadth)


def whole_band(wall: Wall, diagonal: Diagonal) -> Outline | None:
    """A band from the underside of the sole plate to the top of the wall; `None` where it has no room.

    It has none where an end of the wall would cut it.
    """
    band = diagonal.band(wall.outline)
    if not band or not is_convex(band):
        return None
    for end in (0.0, wall.length):
        if sum(abs(x - end) < TOUCH for x, _ in band) > 1:
            return None
    left, right, bottom, _ = bounds(band)
    ends = diagonal.centre_line(wall.outline)
    inside = left >= -TOUCH and right <= wall.length + TOUCH and bottom < TOUCH
    return band if ends is not None and inside and all(0.0 < x < wall.length for x, _ in ends) else None
