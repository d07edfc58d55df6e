"""Buildings with framed roofs for tests."""

from __future__ import annotations

from typing import Any

from soleplate.engine.layout import Layout, SlopeOut
from tests.buildings import building, honey_house, layout_of

SHEETS: dict[str, Any] = {
    "rule": "sheets",
    "width": 2440,
    "height": 1220,
    "thickness": 18,
    "gap": 3,
    "material": "OSB",
    "density": 640,
}

FRAME: dict[str, Any] = {
    "rule": "rafters",
    "section": [45, 145],
    "material": "C16",
    "spacing": {"rule": "equal-bays", "largest_bay": 600},
    "datum": "walls",
    "seat": None,
    "eaves": {"low": 300, "high": 300},
    "verge": {"rule": "ladder", "overhang": 250, "rungs": 600},
    "fascia": {"section": [20, 170]},
    "barge": {"section": [20, 170]},
    "deck": SHEETS,
    "drip": 0,
    "covering": {"kind": "sheet", "width": 1060, "cover": 1000},
}

SOFFIT: dict[str, Any] = {"rule": "soffit", "section": [12, 150], "material": "larch"}

DUO: dict[str, Any] = {
    "rule": "rafters",
    "section": [45, 120],
    "material": "C16",
    "spacing": {"rule": "equal-bays", "largest_bay": 600},
    "eaves": {"low": 250},
    "verge": {"rule": "ladder", "overhang": 250, "rungs": 600},
    "ridge": {"rule": "board", "section": [32, 175]},
}


def frame_with(base: dict[str, Any] | None = None, **changes: Any) -> dict[str, Any]:
    """A frame with some members changed; those that are `None` are left out."""
    return {name: value for name, value in ((base or FRAME) | changes).items() if value is not None}


def mono(frame: dict[str, Any] | None = None, **changes: Any) -> dict[str, Any]:
    """The honey house under a framed roof."""
    value = honey_house()
    value |= changes
    value["roof"] = value["roof"] | {"frame": frame if frame is not None else frame_with()}
    return value


def duo(frame: dict[str, Any] | None = None, ridge: str = "left-right", **changes: Any) -> dict[str, Any]:
    """4500 by 3000 under two slopes of 35 degrees; the walls are 95 deep."""
    value = building(
        frame={"section": [45, 95], "material": "C16"}, outline={"length": 4500, "width": 3000}, **changes
    )
    roof = {"form": "duo-pitch", "ridge": ridge, "low_height": 2000, "pitch": 35}
    return value | {"roof": roof | {"frame": frame if frame is not None else frame_with(DUO)}}


def slopes_of(value: dict[str, Any]) -> tuple[SlopeOut, ...]:
    return layout_of(value).roofs


def slope_of(layout: Layout) -> SlopeOut:
    (slope,) = layout.roofs
    return slope


__all__ = ["DUO", "FRAME", "SHEETS", "SOFFIT", "duo", "frame_with", "mono", "slope_of", "slopes_of"]
