"""Outlines have corners and nothing else, and the ends of boards are read off them as they are sawn."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.layout import Layout, Piece, WallOut
from soleplate.engine.shapes import UPRIGHT as STANDING
from soleplate.engine.shapes import End, Member, Outline, Section, shape
from soleplate.engine.shapes.outlines import tidy
from tests.buildings import HONEY_HOUSE, building, layout_of
from tests.engine.cladding.walls import UPRIGHT, clad_buildings

EXAMPLES = sorted(HONEY_HOUSE.parent.glob("*.json"))
ROUND = 0.0015
"""mm; outlines are put out at 0.001, each of the three corners compared."""


def flat_corners(outline: Outline) -> list[tuple[float, float]]:
    """Corners that lie on the line between those beside them."""
    before, after = (*outline[-1:], *outline[:-1]), (*outline[1:], *outline[:1])
    return [
        (x, z)
        for (x0, z0), (x, z), (x1, z1) in zip(before, outline, after, strict=True)
        if abs((x1 - x0) * (z - z0) - (z1 - z0) * (x - x0)) <= ROUND * math.hypot(x1 - x0, z1 - z0)
    ]


def assert_corners_alone(layout: Layout) -> None:
    for wall in layout.walls:
        for piece in wall.pieces:
            for outline in (piece.outline, *(piece.seen or ())):
                assert not flat_corners(outline), (wall.name, piece.mark)


def upright_boards(wall: WallOut) -> list[Piece]:
    return [piece for piece in wall.pieces if piece.role == "board" and piece.course is None]


def assert_one_cut_under_one_slope(layout: Layout) -> None:
    """Boards that stand reach the roof by one cut across, off square by the roof's pitch; feet are square."""
    for wall in layout.walls:
        (x0, z0), *_, (x1, z1) = wall.top_line
        if len(wall.top_line) != 2:
            continue
        slope = math.degrees(math.atan2(abs(z1 - z0), x1 - x0))
        for piece in upright_boards(wall):
            foot, head = piece.ends
            assert foot.cut == "square", piece.mark
            assert head.cut in ("square", "bevel"), piece.mark
            if head.cut == "bevel":
                assert head.angle == pytest.approx(slope, abs=0.01), piece.mark
                assert head.long_point == ("right" if z1 > z0 else "left")


@pytest.mark.parametrize("path", EXAMPLES, ids=[path.stem for path in EXAMPLES])
def test_outlines_of_the_examples(path: Path) -> None:
    layout = layout_of(json.loads(path.read_text()))
    assert_corners_alone(layout)
    if path.stem in ("hen_house", "drying_shed"):
        assert_one_cut_under_one_slope(layout)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(clad_buildings())
def test_outlines_of_any_building(value: dict[str, Any]) -> None:
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    assert_corners_alone(layout)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(UPRIGHT), st.floats(1.0, 40.0), st.integers(300, 900), st.integers(200, 1200))
def test_upright_boards_under_one_slope_have_one_bevel(
    rule: dict[str, Any], pitch: float, width: int, left: int
) -> None:
    value = building(roof={"form": "mono-pitch", "high_side": "front", "low_height": 1960, "pitch": pitch})
    value["defaults"]["cladding"] = rule
    opening = {
        "name": "window", "kind": "window", "width": width, "height": 600, "sill": 900, "at": {"left": left},
    }  # fmt: skip
    value["walls"] = {"right": {"openings": [opening]}}
    layout = layout_of(value)
    assert_one_cut_under_one_slope(layout)
    assert_corners_alone(layout)


def test_a_corner_rounded_to_a_millionth_is_none() -> None:
    third = round(100.0 / 3, 6)
    assert tidy([(0, 0), (300, 0), (300, 100), (100, third), (0, 0)]) == ((0, 0), (300, 0), (300, 100))
    # Two points that are near each other at a corner are one corner, not none.
    assert len(tidy([(0, 0), (300, 0), (300, 99.999999), (299.999998, 100), (0, 100)])) == 4


@pytest.mark.parametrize("at_foot", [True, False])
def test_a_notch_in_a_corner_changes_no_end(at_foot: bool) -> None:
    """An upright board under a roof of 3 in 4, 100 wide, with 30 x 50 cut out of a corner."""
    if at_foot:
        outline: Outline = ((0, 0), (70, 0), (70, 50), (100, 50), (100, 1000), (0, 925))
        length = 1000.0
    else:
        outline = ((0, 0), (100, 0), (100, 950), (70, 950), (70, 977.5), (0, 925))
        length = 977.5
    read = shape(Member("board", Section(20.0, 100.0), outline, (0.0, 20.0), STANDING))
    slope = math.degrees(math.atan2(75, 100))
    assert read.length == length
    assert read.ends[0] == End("square")
    assert read.ends[1] == End("bevel", (pytest.approx(slope),), "right")
