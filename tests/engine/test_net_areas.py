"""What lies between timbers and over a wall's inside, as areas; held against shapely."""

from __future__ import annotations

from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from soleplate.engine import UnbuildableError
from soleplate.engine.layout import WallOut
from tests.buildings import building, layout_of, wall_of

WINDOW = {"name": "window", "kind": "window", "width": 900, "height": 700, "sill": 950, "at": {"left": 800},
          "framing": {"rule": "trimmed", "lintel": {"section": [45, 145], "plies": 2}}}  # fmt: skip
DOOR = {"name": "door", "kind": "door", "width": 800, "height": 1800, "at": {"right": 500}}


def insulated(thickness: float = 70, **changes: Any) -> dict[str, Any]:
    value = building(**changes)
    return value | {"defaults": value["defaults"] | {"insulation": thickness}}


def free(wall: WallOut) -> float:
    """By shapely: the face less the union of all timbers and openings, m2."""
    top = [(x, z) for x, z in wall.top_line]
    face = shapely.Polygon([(0, 0), (wall.length, 0), *reversed(top)])
    timbers = [shapely.Polygon(piece.outline) for piece in wall.pieces if piece.is_frame]
    holes = [shapely.box(o.left, o.bottom, o.right, o.top) for o in wall.openings]
    return float(face.difference(shapely.union_all([*timbers, *holes])).area) / 1e6


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from([[45, 70], [38, 89], [47, 145]]),
    st.sampled_from([
        {"form": "level", "height": 2300},
        {"form": "mono-pitch", "high_side": "left", "low_height": 2100, "pitch": 12},
        {"form": "duo-pitch", "ridge": "front-back", "low_height": 2100, "pitch": 35},
    ]),
    st.booleans(),
)  # fmt: skip
def test_insulation_fills_what_timbers_and_openings_leave(
    section: list[int], roof: dict[str, Any], has_noggins: bool
) -> None:
    value = insulated(
        60, frame={"section": section}, roof=roof, walls={"front": {"openings": [WINDOW, DOOR]}}
    )
    if has_noggins:
        value["defaults"]["noggins"] = {"rule": "staggered", "rows": 2}
    for wall in layout_of(value).walls:
        assert wall.insulation_m2 == pytest.approx(free(wall), abs=0.002)


def test_the_vapour_layer_covers_the_face_but_openings() -> None:
    layout = layout_of(insulated(walls={"front": {"openings": [WINDOW, DOOR]}}))
    front = wall_of(layout, "front")
    assert front.vapour_m2 == pytest.approx((4500 * 2236.424 - 900 * 700 - 800 * 1800) / 1e6, abs=0.001)
    assert {row.kind for row in layout.goods} == {"insulation", "vapour control layer"}
    value = insulated()
    value["defaults"]["vapour_layer"] = False
    assert {row.kind for row in layout_of(value).goods} == {"insulation"}


def test_a_wall_has_its_own_say_and_partitions_are_not_filled_unasked() -> None:
    outline = {
        "length": 4500,
        "width": 2700,
        "partitions": [{"name": "inside", "runs": "front-back", "at": 2000}],
    }
    value = insulated(outline=outline, walls={"back": {"insulation": None}, "front": {"insulation": 50}})
    found = {wall.name: wall.insulation for wall in layout_of(value).walls}
    assert found == {"front": 50.0, "right": 70.0, "back": None, "left": 70.0, "inside": None}
    value["walls"]["inside"] = {"insulation": 45}
    assert wall_of(layout_of(value), "inside").insulation == 45.0


@pytest.mark.parametrize(
    ("changes", "pointer"),
    [
        ({"defaults": {"insulation": 90}}, "/defaults/insulation"),
        ({"walls": {"left": {"insulation": 71}}}, "/walls/left/insulation"),
    ],
)
def test_insulation_thicker_than_the_wall_is_refused(changes: dict[str, Any], pointer: str) -> None:
    with pytest.raises(UnbuildableError, match="accepted is at most 70 mm") as raised:
        layout_of(building(**changes))
    assert raised.value.faults[0].pointer == pointer
