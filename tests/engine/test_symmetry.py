"""A mirrored building gives the mirrored layout, and inches give the same layout as millimetres."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.laying_out import layout_json
from soleplate.engine.layout import WallOut
from tests.buildings import HONEY_HOUSE, building, honey_house, layout_of, wall_of

SWAP = {"left": "right", "right": "left"}
FRAMINGS = [{"rule": "trimmed"}, {"rule": "single-studs"}, {"rule": "panes", "panes": 2}]
DUO = {"form": "duo-pitch", "low_height": 2000, "pitch": 20, "ridge_offset": 150}
SAME = {"front": "front", "back": "back"} | SWAP


@st.composite
def openings(draw: st.DrawFn) -> list[dict[str, Any]]:
    side = draw(st.sampled_from(["left", "right", "centre"]))
    place = draw(st.integers(300, 1200)) if side != "centre" else draw(st.integers(900, 1300))
    framing = draw(
        st.sampled_from([{"rule": "trimmed"}, {"rule": "single-studs"}, {"rule": "panes", "panes": 2}])
    )
    size = {"width": draw(st.integers(400, 800)), "height": 500, "sill": 900}
    return [{"name": "w", "kind": "window", "at": {side: place}, "framing": framing} | size]


claddings = st.sampled_from(
    [
        {},
        {"rule": "rebated", "cover": 130},
        {"rule": "lapped", "battens": {"section": [25, 40]}},
        {"rule": "board-on-board", "runs_past": "walls-between"},
        {"rule": "board-and-batten", "runs_past": "corner-boards"},
        {"rule": "sheets", "from": "left"},
    ]
).map(lambda rule: {"cladding": {**rule, "lengths": [6000], "least_board": 3000}} if rule else {})
"""Boards as long as any wall, and none short enough for a joint, whose place need not be mirrored."""


@st.composite
def symmetric_buildings(draw: st.DrawFn) -> dict[str, Any]:
    """Buildings up to 5 m a side, so that the walls are of one stock length."""
    studs = draw(
        st.one_of(
            st.builds(lambda bay: {"rule": "equal-bays", "largest_bay": bay}, st.integers(300, 800)),
            st.builds(
                lambda centres, start: {"rule": "fixed-centres", "centres": centres, "from": start},
                st.sampled_from([400, 600]),
                st.sampled_from(["left", "right", "middle"]),
            ),
        )
    )
    roof = draw(
        st.sampled_from(
            [
                {"form": "mono-pitch", "high_side": "left", "low_height": 2000, "pitch": 8},
                {"form": "mono-pitch", "high_side": "front", "low_height": 2000, "pitch": 8},
                {
                    "form": "duo-pitch",
                    "ridge": "front-back",
                    "low_height": 2000,
                    "pitch": 20,
                    "ridge_offset": 150,
                },
                {
                    "form": "duo-pitch",
                    "ridge": "left-right",
                    "low_height": 2000,
                    "pitch": 20,
                    "ridge_offset": 150,
                },
            ]
        )
    )
    return building(
        outline={
            "length": draw(st.integers(2400, 5000)),
            "width": draw(st.integers(2400, 5000)),
            "through": draw(st.sampled_from(["front-back", "left-right"])),
        },
        roof=roof,
        defaults={
            "studs": studs,
            "top_plates": {"rule": draw(st.sampled_from(["single", "double"]))},
            "corners": {"rule": draw(st.sampled_from(["plain", "three-stud", "boxed"]))},
            "noggins": draw(
                st.sampled_from([{"rule": "straight", "rows": 2}, {"rule": "staggered", "start": "left"}])
            ),
            **draw(claddings),
        },
        walls={draw(st.sampled_from(list(SAME))): {"openings": draw(openings())}},
    )


def mirrored(value: dict[str, Any]) -> dict[str, Any]:
    """The same building as seen in a mirror that stands along its middle, front to back."""
    result = copy.deepcopy(value)
    roof, defaults = result["roof"], result["defaults"]
    if "high_side" in roof:
        roof["high_side"] = SAME[roof["high_side"]]
    if roof.get("ridge") == "front-back":
        roof["ridge_offset"] = -roof["ridge_offset"]
    studs, noggins = defaults["studs"], defaults["noggins"]
    if studs.get("from") in SWAP:
        studs["from"] = SWAP[studs["from"]]
    if "start" in noggins:
        noggins["start"] = SWAP[noggins["start"]]
    if "from" in defaults.get("cladding", {}):
        defaults["cladding"]["from"] = SWAP[defaults["cladding"]["from"]]
    lengths = {wall.name: wall.length for wall in layout_of(value).walls}
    walls: dict[str, Any] = {}
    for name, block in result["walls"].items():
        for opening in block["openings"]:
            ((side, place),) = opening["at"].items()
            opening["at"] = {SWAP[side]: place} if side in SWAP else {"centre": lengths[name] - place}
        walls[SAME[name]] = block
    return result | {"walls": walls}


def places(wall: WallOut, *, flipped: bool) -> list[Any]:
    """Every piece's role, depth and outline, on a grid of a tenth of a millimetre, in a fixed order."""

    def across(x: float) -> float:
        return wall.length - x if flipped else x

    return sorted(
        (piece.role, piece.depth, sorted((round(across(x) * 10), round(z * 10)) for x, z in piece.outline))
        for piece in wall.pieces
    )


def alike(one: list[Any], other: list[Any]) -> bool:
    """The same pieces, each coordinate within a step of the grid."""
    left = list(other)
    for role, depth, outline in one:
        match = next(
            (
                twin
                for twin in left
                if twin[:2] == (role, depth)
                and len(twin[2]) == len(outline)
                and all(any(abs(x - p) <= 1 and abs(z - q) <= 1 for p, q in twin[2]) for x, z in outline)
            ),
            None,
        )
        if match is None:
            return False
        left.remove(match)
    return not left


@settings(max_examples=60, deadline=None)
@given(symmetric_buildings())
def test_a_mirrored_building_is_laid_out_mirrored(value: dict[str, Any]) -> None:
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    other = layout_of(mirrored(value))
    for name, counterpart in SAME.items():
        here = places(wall_of(layout, name), flipped=False)
        there = places(wall_of(other, counterpart), flipped=True)
        assert alike(here, there), name


def in_inches(value: Any, key: str = "") -> Any:
    """A building file with its bare lengths in inches."""
    if isinstance(value, dict):
        return {name: in_inches(member, name) for name, member in value.items()} | (
            {"units": "in"} if "format" in value else {}
        )
    if isinstance(value, list):
        return [in_inches(member, key) for member in value]
    if isinstance(value, int | float) and not isinstance(value, bool) and key not in COUNTS:
        return value / 25.4
    return value


COUNTS = {"pitch", "panes", "rows", "plies", "people", "density", "gang"}


@settings(max_examples=20, deadline=None)
@given(st.one_of(symmetric_buildings(), st.builds(honey_house)))
def test_inches_and_millimetres_agree(value: dict[str, Any]) -> None:
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    for one, other in zip(layout.walls, layout_of(in_inches(value)).walls, strict=True):
        assert [(p.mark, p.role) for p in one.pieces] == [(p.mark, p.role) for p in other.pieces]
        for piece, twin in zip(one.pieces, other.pieces, strict=True):
            assert abs(piece.length - twin.length) < 0.0021


@pytest.mark.parametrize("name", ["honey_house", "studio_in_inches", "l_shaped_workshop", "partition"])
def test_the_building_that_a_layout_repeats_is_laid_out_alike(name: str) -> None:
    value = json.loads((HONEY_HOUSE.parent / f"{name}.json").read_text())
    layout = layout_of(value)
    assert layout_json(layout_of(layout.building)) == layout_json(layout)
    assert layout.building["frame"]["section"] == value["frame"]["section"]
