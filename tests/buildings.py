"""Building files for tests, and the shortest way from one to its layout."""

from __future__ import annotations

import copy
import json
from functools import lru_cache
from pathlib import Path
from typing import Any

from soleplate.engine.laying_out import lay_out
from soleplate.engine.layout import Layout, WallOut
from soleplate.engine.registry import Registry, load_registry

HONEY_HOUSE = Path(__file__).parent.parent / "examples" / "honey_house.json"

BARE_HONEY_HOUSE = Path(__file__).with_name("honey_house.json")
"""Its frame before it is clad and priced: small, and it stays as it is while the example grows."""

PLAIN: dict[str, Any] = {
    "format": "soleplate.building/1",
    "name": "Plain",
    "frame": {"section": [45, 70], "material": "C16"},
    "outline": {"length": 4500, "width": 2700, "through": "front-back"},
    "roof": {"form": "mono-pitch", "high_side": "front", "low_height": 1960, "pitch": 6},
    "defaults": {"studs": {"rule": "equal-bays", "largest_bay": 600}},
}


@lru_cache(maxsize=1)
def registry() -> Registry:
    """What is installed; frozen, so tests can share it."""
    return load_registry()


def building(**changes: Any) -> dict[str, Any]:
    """The plain building with some members changed."""
    return copy.deepcopy(PLAIN) | changes


def layout_of(value: Any) -> Layout:
    return lay_out(registry().read_building(value), registry())


def wall_of(layout: Layout, name: str) -> WallOut:
    return next(wall for wall in layout.walls if wall.name == name)


def single_wall(
    length: float | str, section: list[float] | list[str], studs: dict[str, Any], **changes: Any
) -> WallOut:
    """One level wall on its own, framed by a stud rule."""
    value = building(
        outline={"walls": [{"name": "partition", "length": length}]},
        roof={"form": "level", "height": "2400 mm"},
        frame={"section": section, "material": "C16"},
        defaults={"studs": studs},
        **changes,
    )
    return layout_of(value).walls[0]


def honey_house() -> dict[str, Any]:
    """The bare one."""
    value: dict[str, Any] = json.loads(BARE_HONEY_HOUSE.read_text())
    return value
