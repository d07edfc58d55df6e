"""Linings cover the inside of each wall, from corner to corner, and stay clear of all else."""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest
from hypothesis import HealthCheck, given, reject, settings
from shapely import Polygon, box, unary_union

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.layout import Piece, WallOut
from tests.buildings import building, honey_house, layout_of, wall_of
from tests.engine.cladding.test_coverage import CORNERS
from tests.engine.cladding.walls import LEVEL, assert_covered
from tests.engine.test_invariants import buildings

BOARDS: dict[str, Any] = {"rule": "tongue-and-groove", "width": 125, "cover": 110, "thickness": 15, "gap": 2}
SHEETS: dict[str, Any] = {"rule": "sheets", "width": 1220, "height": 2440, "thickness": 12}
RECTANGLE: dict[str, Any] = {"length": 4500, "width": 2700}


def lining(wall: WallOut) -> list[Piece]:
    return [piece for piece in wall.pieces if piece.face == "inside"]


def reach(wall: WallOut) -> tuple[float, float]:
    xs = [x for piece in lining(wall) for x, _ in piece.outline]
    return min(xs), max(xs)


def in_plan(wall: WallOut, x0: float, x1: float, y0: float, y1: float) -> Polygon:
    turn = {0.0: (1, 0), 90.0: (0, 1), 180.0: (-1, 0), 270.0: (0, -1)}[wall.plan.direction]
    (a, b), (c, d) = (
        (
            wall.plan.start[0] + x * turn[0] - y * turn[1],
            wall.plan.start[1] + x * turn[1] + y * turn[0],
        )
        for x, y in ((x0, y0), (x1, y1))
    )
    return box(min(a, c), min(b, d), max(a, c), max(b, d))


def test_it_lies_on_the_inner_face_between_the_corners() -> None:
    """By hand: 70 mm walls and 12 mm sheets, half the 3 mm gap off at either end."""
    value = building()
    value["defaults"]["lining"] = {**SHEETS, "gap": 3}
    layout = layout_of(value)
    assert {piece.depth for wall in layout.walls for piece in lining(wall)} == {(70.0, 82.0)}
    assert reach(wall_of(layout, "front")) == (83.5, 4416.5)
    assert reach(wall_of(layout, "left")) == (1.5, 2558.5)
    assert wall_of(layout, "front").rules["lining"] == "sheets"
    assert wall_of(layout, "front").cladding is None


@pytest.mark.parametrize("through", ["front-back", "left-right", "pinwheel"])
@pytest.mark.parametrize("outline", [RECTANGLE, CORNERS], ids=["rectangle", "L"])
def test_it_closes_every_corner(outline: dict[str, Any], through: str) -> None:
    """In plan, frames and linings fill the outline but for the room within, without overlap."""
    value = building(outline={**outline, "through": through}, roof={"form": "level", "height": 2300})
    value["defaults"]["lining"] = BOARDS
    layout = layout_of(value)
    frames = [in_plan(wall, 0.0, wall.length, 0.0, 70.0) for wall in layout.walls]
    linings = [in_plan(wall, *reach(wall), 70.0, 85.0) for wall in layout.walls]
    corners = outline.get("corners") or [[0, 0], [4500, 0], [4500, 2700], [0, 2700]]
    room = Polygon(corners).buffer(-85.0, join_style="mitre")
    filled = unary_union([*frames, *linings])
    assert sum(each.area for each in linings) - unary_union(linings).area < 1.0
    assert unary_union(frames).intersection(unary_union(linings)).area < 1.0
    assert filled.symmetric_difference(Polygon(corners).difference(room)).area < 1.0


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(buildings())
def test_boards_cover_the_inside_less_openings_once(value: dict[str, Any]) -> None:
    value["defaults"]["lining"] = BOARDS
    value["outline"].pop("partitions", None)
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    assert_covered(layout, BOARDS, "inside")


def test_nothing_lies_where_a_partition_stands() -> None:
    outline = {**RECTANGLE, "partitions": [{"name": "inner", "runs": "front-back", "at": 2000}]}
    value = building(outline=outline, roof={"form": "level", "height": 2300})
    value["defaults"]["lining"] = BOARDS
    layout = layout_of(value)
    front, inner = wall_of(layout, "front"), wall_of(layout, "inner")
    union = unary_union([Polygon(piece.outline) for piece in lining(front)])
    x = inner.plan.start[0]
    left, right = min(x, x - inner.plan.depth), max(x, x + inner.plan.depth)
    stands = in_plan(inner, 0.0, inner.length, 0.0, inner.plan.depth).bounds
    assert left <= stands[0] <= stands[2] <= right
    assert union.intersection(box(stands[0], 0.0, stands[2], 2300.0)).area < 1.0
    assert union.bounds[0] < stands[0] - 500.0
    assert union.bounds[2] > stands[2] + 500.0


def parted(**blocks: Any) -> dict[str, Any]:
    outline = {**RECTANGLE, "partitions": [{"name": "inner", "runs": "front-back", "at": 2000}]}
    return building(outline=outline, roof={"form": "level", "height": 2300}, walls=blocks)


def test_a_partition_is_lined_on_both_faces_between_the_linings_of_its_hosts() -> None:
    """By hand: 2700 less two walls of 70 is 2560, less 15 mm boards at either end 2530."""
    value = parted()
    value["defaults"] |= {"lining": BOARDS, "cladding": LEVEL[0]}
    layout = layout_of(value)
    inner = wall_of(layout, "inner")
    assert {piece.depth for piece in inner.pieces if not piece.is_frame} == {(-15.0, 0.0), (70.0, 85.0)}
    assert {p.length for p in inner.pieces if not p.is_frame} == {2530.0}
    assert reach(inner) == (15.0, 2545.0)
    assert "inner" not in layout.storey_rod[0].walls
    assert layout.lining_rod[0].walls == ("front", "right", "back", "left", "inner")


def test_a_partition_has_its_own_way_on_either_face() -> None:
    value = parted(inner={"cladding": {"rule": "bare"}, "lining": SHEETS})
    value["defaults"]["lining"] = BOARDS
    inner = wall_of(layout_of(value), "inner")
    assert {piece.depth for piece in inner.pieces if not piece.is_frame} == {(70.0, 82.0)}
    assert inner.cladding is None
    assert inner.rules["cladding"] == "bare"


@pytest.mark.parametrize("past", ["through-walls", "corner-boards"])
def test_a_wall_is_left_bare_where_its_neighbours_are_clad(past: str) -> None:
    """By hand: the boards of the walls between run on to the bare wall, and end where its frame does."""
    value = building(walls={"front": {"cladding": {"rule": "bare"}}})
    value["defaults"]["cladding"] = {"rule": "rebated", "cover": 130, "runs_past": past}
    layout = layout_of(value)
    assert wall_of(layout, "front").cladding is None
    assert [p for p in wall_of(layout, "front").pieces if not p.is_frame] == []
    assert "front" not in layout.storey_rod[0].walls
    left = [x for p in wall_of(layout, "left").pieces if not p.is_frame for x, _ in p.outline]
    assert max(left) - min(left) == 2700.0


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(buildings())
def test_no_two_pieces_of_different_walls_are_in_the_same_place(value: dict[str, Any]) -> None:
    """Their plans that overlap are at different heights. Frames lap at corners by their plates alone."""
    value["defaults"] |= {"lining": BOARDS, "cladding": LEVEL[0]}
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    reaches = [
        (wall.name, in_plan(wall, min(xs), max(xs), y0, y1))
        for wall in layout.walls
        for y0, y1 in sorted({piece.depth for piece in wall.pieces if not piece.is_frame})
        for xs in ([x for p in wall.pieces if p.face and p.depth == (y0, y1) for x, _ in p.outline],)
    ]
    for (one, plan), (other, beside) in combinations(reaches, 2):
        assert one == other or plan.intersection(beside).area < 1.0, (one, other)


def test_its_marks_come_last_and_change_none() -> None:
    value = honey_house()
    value["defaults"]["cladding"] = LEVEL[0]
    bare = layout_of(value)
    value["defaults"]["lining"] = SHEETS
    for one, other in zip(bare.walls, layout_of(value).walls, strict=True):
        assert other.pieces[: len(one.pieces)] == one.pieces
        assert {piece.face for piece in other.pieces[len(one.pieces) :]} == {"inside"}


def test_joints_outside_and_inside_do_not_keep_each_other_apart() -> None:
    """The same boards on both faces: what may be jointed outside may be so inside."""
    value = building(outline=RECTANGLE, roof={"form": "level", "height": 2300})
    rule = {**BOARDS, "lengths": [3000, 4200]}
    value["defaults"] |= {"cladding": rule, "lining": rule, "corners": {"rule": "three-stud"}}
    layout = layout_of(value)
    assert "joints-near" not in {finding.code for finding in layout.findings}
    assert len([row for row in layout.boards if row.role == "board"]) == 1


@pytest.mark.parametrize(("corners", "told"), [("plain", True), ("three-stud", False), ("boxed", False)])
def test_a_corner_without_timber_behind_the_lining_is_told(corners: str, told: bool) -> None:
    value = building()
    value["defaults"] |= {"lining": SHEETS, "corners": {"rule": corners}}
    found = [finding for finding in layout_of(value).findings if finding.code == "lining-loose"]
    assert {finding.wall for finding in found} == ({"front", "back"} if told else set())


def test_a_lining_is_no_weather_boarding_and_no_bracing() -> None:
    value = building(site={"ground": 10, "room": {"front": 100}})
    value["defaults"]["lining"] = SHEETS
    codes = {finding.code for finding in layout_of(value).findings}
    assert "no-bracing" in codes
    assert not codes & {"cladding-near-ground", "ground-unknown", "no-room-to-clad"}


def test_it_is_not_lifted_with_the_frame() -> None:
    value = building()
    bare = {f.wall: f.value for f in layout_of(value).findings if f.code == "heavy-wall"}
    value["defaults"]["lining"] = SHEETS
    lined = {f.wall: f.value for f in layout_of(value).findings if f.code == "heavy-wall"}
    assert bare == lined


def test_joints_of_a_lining_that_lie_near_are_told() -> None:
    value = building(
        outline={"walls": [{"name": "wall", "length": 4500}]},
        roof={"form": "level", "height": 2000},
        defaults={
            "studs": {"rule": "equal-bays", "largest_bay": 600},
            "lining": {**BOARDS, "joints_apart": 4, "lengths": [1800]},
        },
    )
    (found,) = [finding for finding in layout_of(value).findings if finding.code == "joints-near"]
    assert found.message.startswith("in its lining, ")
    assert found.wall == "wall"
