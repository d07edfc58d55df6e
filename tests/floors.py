"""Buildings with floors for tests, and their pieces in the world."""

from __future__ import annotations

from typing import Any

from soleplate.engine.layout import FloorOut, Layout, PartOut, Piece
from soleplate.engine.shapes import Solid, View
from tests.buildings import building, honey_house, layout_of

FLOOR: dict[str, Any] = {
    "rule": "joists",
    "section": [45, 145],
    "material": "C16",
    "runs": "front-back",
    "joists": {"rule": "fixed-centres", "centres": 400},
    "noggins": {"rule": "straight", "behind_sheets": 1220},
    "bearers": {"section": [95, 95], "rows": 3, "pads": {"apart": 1500, "size": 300}},
    "deck": {
        "rule": "sheets", "width": 2440, "height": 1220, "thickness": 18, "gap": 3, "material": "OSB",
        "density": 640,
    },
    "threshold": {"section": [20, 70]},
    "insulation": 100,
}  # fmt: skip

HATCH: dict[str, Any] = {
    "name": "hatch", "at": {"left": 1950}, "from_front": 600, "width": 600, "depth": 600,
}  # fmt: skip


def floor_with(**changes: Any) -> dict[str, Any]:
    """The floor with some members changed; those that are `None` are left out."""
    return {name: value for name, value in (FLOOR | changes).items() if value is not None}


def on_floor(floor: dict[str, Any] | None = None, **changes: Any) -> dict[str, Any]:
    """The plain building on a floor."""
    return building(**changes) | {"floor": floor if floor is not None else floor_with()}


def honey_house_on(floor: dict[str, Any]) -> Layout:
    return layout_of(honey_house() | {"floor": floor})


def floor_of(layout: Layout) -> FloorOut:
    (floor,) = layout.floors
    return floor


def solid_of(piece: Piece, part: PartOut) -> Solid:
    """A piece in the world, by what the layout says of it."""
    name = piece.view or "face"
    view = part.views[name]
    return Solid(piece.outline, piece.depth, View(name, view.origin, view.right, view.up))
