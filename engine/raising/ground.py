"""How far the ground lies below the sole plates."""

from __future__ import annotations

from soleplate.engine.building_file import Building
from soleplate.engine.layout import FloorOut, Layout


def with_ground(building: Building, layout: Layout) -> Building:
    """A building whose site tells its ground: where the file does not, a floor's build-up, if it has one."""
    site = building.site
    if site.ground is not None or not layout.floors:
        return building
    ground = max(build_up(floor) for floor in layout.floors)
    return building.model_copy(update={"site": site.model_copy(update={"ground": ground})})


def build_up(floor: FloorOut) -> float:
    """From the underside of a floor's lowest timber up to that of the sole plates, mm."""
    views = floor.views
    # Depths in a plan are downwards from its plane.
    lowest = (views[piece.view or "plan"].origin[2] - max(piece.depth) for piece in floor.pieces)
    return max(-min(lowest), 0.0)
