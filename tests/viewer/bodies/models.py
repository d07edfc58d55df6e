"""Buildings of every kind that is told as solids, by name."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any, Final

from soleplate.engine.layout import Layout
from tests.buildings import building, honey_house, layout_of
from tests.floors import HATCH, floor_with
from tests.roofs import DUO, duo, frame_with, mono

ROOF_WINDOW: Final = {
    "name": "light", "at": {"left": 1500}, "up": 800, "width": 600, "height": 800,
    "framing": {"rule": "trimmed-joists"},
}  # fmt: skip

IN_PANELS: Final = building(
    defaults={
        "studs": {"rule": "equal-bays", "largest_bay": 600},
        "panels": {"largest_length": 2400},
        "cladding": {"rule": "sheets", "width": 1220, "height": 2440, "thickness": 12, "material": "ply",
                     "density": 600},
    },
    walls={
        "back": {
            "openings": [
                {"name": "pane", "kind": "window", "width": 600, "height": 600, "sill": 900,
                 "at": {"centre": 1000}}
            ]
        }
    },
)  # fmt: skip

EXAMPLES: Final = {
    path.stem: json.loads(path.read_text())
    for path in sorted((Path(__file__).parents[3] / "examples").glob("*.json"))
}

BUILDINGS: Final[dict[str, dict[str, Any]]] = EXAMPLES | {
    "on a floor": honey_house() | {"floor": floor_with(openings=[HATCH])},
    "under a roof": mono(frame_with(openings=[ROOF_WINDOW])),
    "two slopes": duo(frame_with(DUO, ties={"every": 1, "height": 2100, "section": [45, 95]})),
    "in panels": IN_PANELS,
    "braced": building(
        defaults={
            "studs": {"rule": "equal-bays", "largest_bay": 600},
            "noggins": {"rule": "staggered", "rows": 1},
            "bracing": [{"rule": "let-in"}],
        }
    ),
}


@cache
def layout_named(name: str) -> Layout:
    """The layout of one of them."""
    return layout_of(BUILDINGS[name])


def empty() -> Layout:
    """A layout without a piece."""
    return layout_named("partition").model_copy(update={"walls": (), "goods": (), "name": "nothing"})
