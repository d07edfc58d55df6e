"""The buildings that are measured. They stay as they are while the examples grow, so that figures compare."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, Final

from tests.buildings import building

FOUR_WALLS: Final = Path(__file__).with_name("four_walls.json")
REBATED: Final = {"rule": "rebated", "cover": 130, "lengths": [3000, 3600, 4200]}


def four_walls(cladding: dict[str, Any] | None = None) -> dict[str, Any]:
    """A small rectangular building with a door and two windows, clad or not."""
    value: dict[str, Any] = json.loads(FOUR_WALLS.read_text())
    return _clad(value, cladding)


def walls(count: int, cladding: dict[str, Any] | None = None) -> dict[str, Any]:
    """So many single walls, each 4.5 m long with a window."""
    window = {"name": "w", "kind": "window", "width": 900, "height": 700, "sill": 950, "at": {"centre": 2250}}
    names = [f"wall {number}" for number in range(count)]
    value = building(
        outline={"walls": [{"name": name, "length": 4500} for name in names]},
        roof={"form": "level", "height": 2400},
        walls={name: {"openings": [window]} for name in names},
        defaults={
            "studs": {"rule": "equal-bays", "largest_bay": 600},
            "noggins": {"rule": "staggered", "rows": 2},
        },
    )
    return _clad(value, cladding)


def _clad(value: dict[str, Any], cladding: dict[str, Any] | None) -> dict[str, Any]:
    return value | {"defaults": value["defaults"] | ({"cladding": cladding} if cladding else {})}
