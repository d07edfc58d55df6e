"""Cladding covers each face less its openings exactly once, with shapely as the judge."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import HealthCheck, given, reject, settings
from shapely import Polygon, box, unary_union

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.laying_out import layout_json
from soleplate.engine.layout import Layout
from tests.buildings import building, honey_house, layout_of
from tests.engine.cladding.walls import LEVEL, UPRIGHT, assert_covered, clad_buildings
from tests.stacks import opening, stacked_wall

REBATED = LEVEL[0]
CORNERS = {"corners": [[0, 0], [5000, 0], [5000, 4000], [2400, 4000], [2400, 2200], [0, 2200]]}


@pytest.mark.parametrize("rule", [*LEVEL, *UPRIGHT], ids=lambda rule: str(rule["rule"]))
@pytest.mark.parametrize("past", ["through-walls", "walls-between", "corner-boards"])
def test_the_honey_house_is_covered(rule: dict[str, Any], past: str) -> None:
    value = honey_house()
    value["defaults"]["cladding"] = {**rule, "runs_past": past}
    assert_covered(layout_of(value), rule)


ABOVE = (
    opening("door", 1700, 900, 0, 1900),
    opening("as wide", 1700, 900, 2150, 2350),
    opening("wider", 1900, 1300, 2600, 2900),
)


@pytest.mark.parametrize("rule", [*LEVEL, *UPRIGHT], ids=lambda rule: str(rule["rule"]))
@pytest.mark.parametrize("heights", [(3200.0, 3200.0), (3100.0, 3500.0)])
def test_openings_above_each_other_are_left_free_and_all_between_them_is_covered(
    rule: dict[str, Any], heights: tuple[float, float]
) -> None:
    assert_covered(layout_of(stacked_wall(*ABOVE, heights=heights, cladding=rule)), rule)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(clad_buildings())
def test_any_building_is_clad_the_same_every_time(value: dict[str, Any]) -> None:
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    assert layout_json(layout) == layout_json(layout_of(value))


def footprint(layout: Layout, name: str) -> tuple[Polygon, Polygon]:
    """In plan: a wall's frame, and its cladding."""
    wall = next(wall for wall in layout.walls if wall.name == name)
    clad = [piece for piece in wall.pieces if piece.face == "outside"]
    left = min(x for piece in clad for x, _ in piece.outline)
    right = max(x for piece in clad for x, _ in piece.outline)
    assert wall.cladding is not None
    turn = {0.0: (1, 0), 90.0: (0, 1), 180.0: (-1, 0), 270.0: (0, -1)}[wall.plan.direction]

    def place(x: float, y: float) -> tuple[float, float]:
        return (
            wall.plan.start[0] + x * turn[0] - y * turn[1],
            wall.plan.start[1] + x * turn[1] + y * turn[0],
        )

    def rectangle(x0: float, x1: float, y0: float, y1: float) -> Polygon:
        (a, b), (c, d) = place(x0, y0), place(x1, y1)
        return box(min(a, c), min(b, d), max(a, c), max(b, d))

    return (
        rectangle(0.0, wall.length, 0.0, wall.plan.depth),
        rectangle(left, right, -wall.cladding.build_out, 0.0),
    )


@pytest.mark.parametrize("past", ["through-walls", "walls-between"])
@pytest.mark.parametrize("through", ["front-back", "left-right", "pinwheel"])
@pytest.mark.parametrize("outline", [{"length": 4500, "width": 2700}, CORNERS], ids=["rectangle", "L"])
def test_boards_close_every_corner(outline: dict[str, Any], through: str, past: str) -> None:
    """In plan, boards and frames fill the outline grown by what the cladding stands off, without overlap."""
    value = building(outline={**outline, "through": through}, roof={"form": "level", "height": 2300})
    value["defaults"]["cladding"] = {**REBATED, "runs_past": past, "battens": {"section": [25, 50]}}
    layout = layout_of(value)
    prints = [footprint(layout, wall.name) for wall in layout.walls]
    frames = unary_union([frame for frame, _ in prints])
    cladding = [boards for _, boards in prints]
    assert frames.intersection(unary_union(cladding)).area < 1.0
    assert sum(boards.area for boards in cladding) - unary_union(cladding).area < 1.0
    corners = outline.get("corners") or [[0, 0], [4500, 0], [4500, 2700], [0, 2700]]
    grown = Polygon(corners).buffer(50.0, join_style="mitre")
    filled = unary_union([frames, *cladding])
    assert Polygon(filled.exterior).symmetric_difference(grown).area < 1.0


def test_marks_of_the_frame_do_not_depend_on_cladding() -> None:
    value = honey_house()
    value["defaults"].pop("cladding", None)
    bare = layout_of(value)
    value["defaults"]["cladding"] = REBATED
    for one, other in zip(bare.walls, layout_of(value).walls, strict=True):
        frame = [piece for piece in other.pieces if piece.is_frame]
        assert tuple(frame) == one.pieces
        assert other.pieces[: len(frame)] == one.pieces
        assert len(frame) < len(other.pieces)


def test_partitions_are_not_clad_by_default() -> None:
    outline = {"length": 4500, "width": 2700}
    outline["partitions"] = [{"name": "inside", "runs": "front-back", "at": 2000}]  # type: ignore[assignment]
    value = building(outline=outline, roof={"form": "level", "height": 2300})
    value["defaults"]["cladding"] = REBATED
    assert layout_of(value).walls[-1].cladding is None
    value["walls"] = {"inside": {"cladding": REBATED}}
    assert layout_of(value).walls[-1].cladding is not None


def test_a_walls_own_cladding_wins() -> None:
    value = honey_house()
    value["defaults"]["cladding"] = REBATED
    value["walls"]["left"] = {"cladding": UPRIGHT[0]}
    layout = layout_of(value)
    assert [wall.rules["cladding"] for wall in layout.walls] == ["rebated"] * 3 + ["board-on-board"]
    assert all("left" not in course.walls for course in layout.storey_rod)
