"""From where a building is looked at, and what of it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal, get_args

from soleplate.engine.layout import Layout, plane_of
from soleplate.engine.shapes import Vector, View

PictureLayer = Literal["frame", "covering", "lining", "floor", "roof"]

PICTURE_LAYERS: Final[tuple[PictureLayer, ...]] = get_args(PictureLayer)
"""What a picture shows: of walls the timbers, and what lies on their outer and inner faces; floors, roofs.

What covers a roof is of the layer `covering` too."""

MOST_PICTURED: Final = 2_500
"""Pieces in one picture: each is told apart from every other, and a browser has to draw them all."""

ALONG: Final = 1e-6
"""Cosine under which a plane is looked at along its edge."""


@dataclass(frozen=True, slots=True)
class CutPlane:
    """A plane that cuts: what is beyond it from the viewer is kept, of a level one what is below."""

    across: Literal["left-right", "front-back", "level"]
    """It runs from left to right at a Y, from front to back at an X, or level at a Z."""
    at: float
    """In the world, mm."""


@dataclass(frozen=True, slots=True)
class Look:
    """One look at a building."""

    azimuth: float = 330.0
    """Where the viewer stands: at 0 degrees before the front, at 90 on the right side of it."""
    elevation: float = 30.0
    """How far above level the viewer looks down, degrees; below it where negative."""
    layers: tuple[PictureLayer, ...] = PICTURE_LAYERS
    part: str | None = None
    """The one wall, floor or slope to show, by its name."""
    apart: float = 0.0
    """How far parts are drawn from where they stand, mm: walls outwards, floors down, roofs up."""
    cut: CutPlane | None = None

    @property
    def towards(self) -> Vector:
        """The unit vector to the viewer."""
        turn, rise = math.radians(self.azimuth), math.radians(self.elevation)
        return (
            math.cos(rise) * math.sin(turn),
            -math.cos(rise) * math.cos(turn),
            math.sin(rise),
        )

    @property
    def axes(self) -> tuple[Vector, Vector]:
        """The unit vectors to the right and upwards in the picture."""
        turn, rise = math.radians(self.azimuth), math.radians(self.elevation)
        right = (math.cos(turn), math.sin(turn), 0.0)
        up = (-math.sin(rise) * math.sin(turn), math.sin(rise) * math.cos(turn), math.cos(rise))
        return right, up

    @property
    def plane(self) -> View | None:
        """The plane of the cut, seen from the side that is taken away; `None` without a cut."""
        if self.cut is None:
            return None
        at = self.cut.at
        x, y, _ = self.towards
        match self.cut.across:
            case "left-right":
                # Seen along its edge the side of lower Y is kept.
                way = 1.0 if y < -ALONG else -1.0
                return View("cut", (0.0, at, 0.0), (way, 0.0, 0.0), (0.0, 0.0, 1.0))
            case "front-back":
                way = -1.0 if x < -ALONG else 1.0
                return View("cut", (at, 0.0, 0.0), (0.0, way, 0.0), (0.0, 0.0, 1.0))
            case "level":
                # A plan is of what is below, from wherever it is looked at.
                return View("cut", (0.0, 0.0, at), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))


FOUR_SIDES: Final[dict[str, Look]] = {
    "front": Look(330.0),
    "right": Look(60.0),
    "back": Look(150.0),
    "left": Look(240.0),
}
"""Looks at all four sides, each with a little of the next one, by the side that is seen most of."""


def sections_of(layout: Layout) -> dict[str, Look]:
    """Looks square at planes through a building's middle, by how they run; the level one at half a wall."""
    corners = [
        face.point(u, 0.0, w)
        for wall in layout.walls
        for face in (plane_of(wall),)
        for u in (0.0, wall.length)
        for w in (0.0, wall.plan.depth)
    ]
    xs, ys, _ = zip(*corners, strict=True)
    level = min(z for wall in layout.walls for _, z in wall.top_line) / 2
    return {
        "left-right": Look(0.0, 0.0, cut=CutPlane("left-right", (min(ys) + max(ys)) / 2)),
        "front-back": Look(90.0, 0.0, cut=CutPlane("front-back", (min(xs) + max(xs)) / 2)),
        "level": Look(0.0, 90.0, cut=CutPlane("level", level)),
    }
