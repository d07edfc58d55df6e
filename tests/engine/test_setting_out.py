"""Walls in plan, measured walls, partitions, and plates longer than any length on sale."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, unary_union

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.layout import Layout, Piece, WallOut
from tests.buildings import building, honey_house, layout_of, registry, single_wall, wall_of

PLANS: dict[str, list[list[int]]] = {
    "rectangle": [[0, 0], [4500, 0], [4500, 2700], [0, 2700]],
    "L": [[0, 0], [5000, 0], [5000, 3600], [2600, 3600], [2600, 2400], [0, 2400]],
    "L the other way round": [[0, 0], [0, 2400], [2600, 2400], [2600, 3600], [5000, 3600], [5000, 0]],
    "U": [[0, 0], [6000, 0], [6000, 4000], [4000, 4000], [4000, 2000], [2000, 2000], [2000, 4000], [0, 4000]],
}


def in_plan(wall: WallOut, left: float, right: float, depth: tuple[float, float]) -> Polygon:
    """A stretch of a wall as it lies in plan, mm."""
    x, y = wall.plan.start
    angle = math.radians(wall.plan.direction)
    run, inwards = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    near, far = depth
    return Polygon(
        [
            (x + a * run[0] + b * inwards[0], y + a * run[1] + b * inwards[1])
            for a, b in ((left, near), (right, near), (right, far), (left, far))
        ]
    )


def footprint(wall: WallOut) -> Polygon:
    """The wall's frame in plan, mm."""
    return in_plan(wall, 0.0, wall.length, (0.0, wall.plan.depth))


def seen_from_above(wall: WallOut, piece: Piece) -> Polygon:
    xs = [x for x, _ in piece.outline]
    return in_plan(wall, min(xs), max(xs), piece.depth)


@pytest.mark.parametrize("through", ["front-back", "left-right", "pinwheel"])
@pytest.mark.parametrize("corners", PLANS.values(), ids=PLANS)
def test_walls_fill_the_ring_of_the_plan_once(corners: list[list[int]], through: str) -> None:
    layout = layout_of(
        building(outline={"corners": corners, "through": through}, roof={"form": "level", "height": 2300})
    )
    plan = Polygon(corners)
    ring = plan.difference(plan.buffer(-70, join_style="mitre"))
    walls = [footprint(wall) for wall in layout.walls]
    assert unary_union(walls).symmetric_difference(ring).area < 1.0
    assert sum(wall.area for wall in walls) == pytest.approx(ring.area, abs=1.0)


@pytest.mark.parametrize("through", ["front-back", "left-right", "pinwheel"])
@pytest.mark.parametrize("corners", PLANS.values(), ids=PLANS)
def test_double_plates_fill_the_ring_in_both_layers_and_lap_at_every_corner(
    corners: list[list[int]], through: str
) -> None:
    """IRC R602.3.2, as restated by others: double top plates overlap at corners."""
    outline = {"corners": corners, "through": through}
    double = {"studs": {"rule": "equal-bays"}, "top_plates": {"rule": "double"}}
    layout = layout_of(building(outline=outline, roof={"form": "level", "height": 2300}, defaults=double))
    plan = Polygon(corners)
    ring = plan.difference(plan.buffer(-70, join_style="mitre"))
    walls: list[dict[str, Polygon]] = []
    for bottom in (2210.0, 2255.0):
        plates = [
            (wall, piece)
            for wall in layout.walls
            for piece in wall.pieces
            if piece.role == "head plate" and min(z for _, z in piece.outline) == bottom
        ]
        laid = [seen_from_above(wall, piece) for wall, piece in plates]
        assert unary_union(laid).symmetric_difference(ring).area < 1.0
        assert sum(plate.area for plate in laid) == pytest.approx(ring.area, abs=1.0)
        walls.append(
            {
                wall.name: unary_union(
                    [plate for (other, _), plate in zip(plates, laid, strict=True) if other == wall]
                )
                for wall, _ in plates
            }
        )
    lower, upper = walls
    for one, after in zip(layout.walls, (*layout.walls[1:], layout.walls[0]), strict=True):
        laps = [
            upper[over.name].intersection(lower[under.name]).area
            for over, under in ((one, after), (after, one))
        ]
        assert sorted(laps) == pytest.approx([0.0, 70.0 * 70.0], abs=1.0), (one.name, after.name)


NEIGHBOURS = {
    "as high": ({}, True),
    "of other breadth": ({"frame": {"section": [47, 70]}}, False),
    "plated otherwise": ({"top_plates": {"rule": "double", "joints_apart": 600}}, False),
}


@pytest.mark.parametrize(("right", "laps"), NEIGHBOURS.values(), ids=NEIGHBOURS)
def test_upper_plates_lap_on_walls_that_are_plated_alike_alone(right: dict[str, Any], laps: bool) -> None:
    double = {"studs": {"rule": "equal-bays"}, "top_plates": {"rule": "double"}}
    layout = layout_of(
        building(roof={"form": "level", "height": 2300}, defaults=double, walls={"right": right})
    )
    plates = [piece for piece in wall_of(layout, "front").pieces if piece.role == "head plate"]
    rights = sorted(max(x for x, _ in piece.outline) for piece in plates)
    assert rights == ([4430.0, 4500.0] if laps else [4500.0, 4500.0])


@pytest.mark.parametrize("side", ["front", "right"])
def test_upper_plates_do_not_lap_under_a_slope(side: str) -> None:
    """The high wall, the low one and the raked ones between them have no plates on one level."""
    roof = {"form": "mono-pitch", "high_side": side, "low_height": 2000, "pitch": 10}
    double = {"studs": {"rule": "equal-bays"}, "top_plates": {"rule": "double"}}
    for wall in layout_of(building(roof=roof, defaults=double)).walls:
        plates = [piece for piece in wall.pieces if piece.role in ("head plate", "raked plate")]
        assert {min(x for x, _ in piece.outline) for piece in plates} == {0.0}
        assert {max(x for x, _ in piece.outline) for piece in plates} == {wall.length}


def test_a_rectangle_is_the_plan_of_its_corners() -> None:
    roof = {"form": "level", "height": 2300}
    by_sides = layout_of(building(roof=roof))
    named = {"corners": PLANS["rectangle"], "names": ["front", "right", "back", "left"]}
    assert by_sides.walls == layout_of(building(roof=roof, outline=named)).walls


@settings(max_examples=30, deadline=None)
@given(st.sampled_from(["front", "right", "back", "left"]), st.floats(1.0, 40.0))
def test_any_two_of_low_high_and_pitch_agree(side: str, pitch: float) -> None:
    by_pitch = {"form": "mono-pitch", "high_side": side, "low_height": 2000, "pitch": pitch}
    one = layout_of(building(roof=by_pitch))
    high = max(z for wall in one.walls for _, z in wall.top_line if len({p[1] for p in wall.top_line}) == 1)
    by_heights = {"form": "mono-pitch", "high_side": side, "low_height": 2000, "high_height": high}
    for wall, other in zip(one.walls, layout_of(building(roof=by_heights)).walls, strict=True):
        assert [z for _, z in wall.top_line] == pytest.approx([z for _, z in other.top_line], abs=0.002)


def test_a_measured_wall_is_laid_out_afresh_and_says_what_changed() -> None:
    """3506 mm clear with 47 mm studs (common practice, no source) in place of what was drawn."""
    value = building(measured={"back": {"clear_length": 3506, "breadth": 47}})
    value["defaults"]["studs"] = {"rule": "equal-bays", "number": 5}
    layout = layout_of(value)
    back = wall_of(layout, "back")
    assert back.length == 3600.0
    assert [bay.clear for bay in back.bays] == pytest.approx([545.167] * 6, abs=0.001)
    stud = next(change for change in back.changes if change.what == "place")
    assert (stud.before, stud.after) != (None, None)
    assert {change.mark for change in back.changes} <= {piece.mark for piece in back.pieces}
    sole = next(change for change in back.changes if change.what == "length")
    assert (sole.before, sole.after) == (4500.0, 3600.0)
    assert wall_of(layout, "front").changes == ()


def test_pieces_are_compared_by_their_place_and_not_their_number() -> None:
    noggins = {"rule": "straight", "rows": 1}
    studs = {"rule": "equal-bays", "largest_bay": 600}
    value = building(defaults={"studs": studs, "noggins": noggins}, measured={"back": {"length": 4600}})
    found = wall_of(layout_of(value), "back").changes
    assert [change.mark for change in found if change.what == "added"] == ["B7", "B15"]
    assert [change for change in found if change.what == "gone"] == []
    roles = {piece.mark: piece.role for piece in wall_of(layout_of(value), "back").pieces}
    lengths = {(roles[c.mark], c.before, c.after) for c in found if c.what == "length"}
    assert lengths == {
        ("sole plate", 4500.0, 4600.0), ("head plate", 4500.0, 4600.0), ("noggin", 591.429, 524.375),
    }  # fmt: skip


@pytest.mark.parametrize("wall", ["left", "right"])
@pytest.mark.parametrize("length", [2400.0, 2570.0])
def test_a_measured_slope_keeps_its_pitch_and_its_low_end(wall: str, length: float) -> None:
    drawn = wall_of(layout_of(building()), wall)
    found = wall_of(layout_of(building(measured={wall: {"length": length}})), wall)
    low = min(z for _, z in drawn.top_line)
    rise = length * math.tan(math.radians(6))
    assert sorted(z for _, z in found.top_line) == pytest.approx([low, low + rise], abs=0.002)
    (plate,) = [piece for piece in found.pieces if piece.role == "raked plate"]
    assert plate.length == pytest.approx(
        length / math.cos(math.radians(6)) + 45 * math.tan(math.radians(6)), abs=0.002
    )


def test_a_measured_gable_meets_where_its_slopes_do() -> None:
    roof = {"form": "duo-pitch", "ridge": "front-back", "low_height": 2000, "pitch": 30}
    value = building(outline={"length": 2560, "width": 3000}, roof=roof, measured={"front": {"length": 2562}})
    top = wall_of(layout_of(value), "front").top_line
    ridge = 2000 + 1281 * math.tan(math.radians(30))
    assert [x for x, _ in top] == pytest.approx([0, 1281, 2562])
    assert [z for _, z in top] == pytest.approx([2000, ridge, 2000], abs=0.002)


@pytest.mark.parametrize(
    ("at", "left"), [({"left": 500}, 500.0), ({"right": 500}, 4500.0 - 500 - 930), ({"centre": 2000}, 1535.0)]
)
def test_a_unit_has_its_allowance_on_either_side_over_and_under(at: dict[str, int], left: float) -> None:
    """900 x 1000 with 15 mm at each side, 12 over and 8 under it: a hole of 930 x 1020 from its sill."""
    unit = {"unit": {"width": 900, "height": 1000}, "allowance": {"sides": 15, "head": 12, "sill": 8}}
    window = {"name": "w", "kind": "window", "sill": 850, "at": at} | unit
    (found,) = wall_of(layout_of(building(walls={"back": {"openings": [window]}})), "back").openings
    assert (found.left, found.right) == (left, left + 930.0)
    assert (found.bottom, found.top) == (850.0, 1870.0)


def test_no_two_pieces_have_one_mark_whatever_walls_are_called() -> None:
    names = ["1", "11", "111", "a1", "a", "A", "a 1", "-", "é", "e"]
    walls = [{"name": name, "length": 6000} for name in names]
    studs = {"studs": {"rule": "equal-bays", "largest_bay": 300}}
    layout = layout_of(
        building(outline={"walls": walls}, roof={"form": "level", "height": 2300}, defaults=studs)
    )
    marks = [piece.mark for piece in layout.pieces]
    assert len(layout.walls[0].pieces) > 11
    assert {piece.mark[:2] for piece in layout.walls[0].pieces} == {"1-"}
    assert len(set(marks)) == len(marks)


@pytest.mark.parametrize("offset", [-400, 0, 300])
@pytest.mark.parametrize("ridge", ["left-right", "front-back"])
def test_the_ridge_is_off_the_middle_towards_the_back_or_the_right(ridge: str, offset: int) -> None:
    """Where each wall is highest, told in the world: X to the right, Y to the back."""
    roof = {
        "form": "duo-pitch", "ridge": ridge, "low_height": 2000, "pitch": 30, "ridge_offset": offset,
    }  # fmt: skip
    layout = layout_of(building(roof=roof))
    axis, span = (1, 2700) if ridge == "left-right" else (0, 4500)
    gables = ("left", "right") if ridge == "left-right" else ("front", "back")
    longer = span / 2 + abs(offset)
    for name in gables:
        wall = wall_of(layout, name)
        x, z = max(wall.top_line, key=lambda point: point[1])
        angle = math.radians(wall.plan.direction)
        place = wall.plan.start[axis] + x * (math.sin(angle) if axis else math.cos(angle))
        assert place == pytest.approx(span / 2 + offset, abs=0.002)
        assert z == pytest.approx(2000 + longer * math.tan(math.radians(30)), abs=0.002)
    # Eaves as far from the ridge as they are: the nearer ones are higher.
    eaves = ("front", "back") if ridge == "left-right" else ("left", "right")
    heights = [{z for _, z in wall_of(layout, name).top_line} for name in eaves]
    nearer = 2000 + 2 * abs(offset) * math.tan(math.radians(30))
    expected = [2000, nearer] if offset > 0 else [nearer, 2000]
    assert [max(each) for each in heights] == pytest.approx(expected, abs=0.002)


@pytest.mark.parametrize("offset", [1350, -1350, 1400])
def test_a_ridge_off_the_building_is_refused(offset: int) -> None:
    roof = {"form": "duo-pitch", "ridge": "left-right", "low_height": 2000, "pitch": 30}
    with pytest.raises(UnbuildableError, match=r"/roof.*off the middle of a span of 2700 mm"):
        layout_of(building(roof=roof | {"ridge_offset": offset}))


def test_a_wall_far_off_its_drawing_is_told() -> None:
    for length, level in ((4503, "note"), (5000, "warn"), (4500, None)):
        layout = layout_of(building(measured={"back": {"length": length}}))
        found = {finding.level for finding in layout.findings if finding.code == "measured-off"}
        assert found == ({level} if level else set())
    for length in (20, 70_000):
        with pytest.raises(UnbuildableError, match=r"/measured/back.*accepted"):
            layout_of(building(measured={"back": {"length": length}}))


def test_a_wall_measured_as_drawn_has_no_changes() -> None:
    value = honey_house() | {"measured": {"left": {"length": 2560}}}
    assert wall_of(layout_of(value), "left").changes == ()


def test_partitions_stand_between_the_outer_walls_and_get_tees() -> None:
    store = {"name": "store", "runs": "front-back", "at": 1500}
    outline = {"length": 4500, "width": 2700, "partitions": [store]}
    layout = layout_of(building(outline=outline))
    partition = wall_of(layout, "store")
    assert partition.length == 2560.0
    assert partition.plan.start == (1535.0, 70.0)
    tees = {
        wall.name: [min(x for x, _ in piece.outline) for piece in wall.pieces if piece.role == "corner stud"]
        for wall in layout.walls
    }
    assert tees == {"front": [1477.5], "right": [], "back": [2977.5], "left": [], "store": []}
    assert_apart(layout)


def assert_apart(layout: Layout) -> None:
    walls = [footprint(wall) for wall in layout.walls]
    assert sum(wall.area for wall in walls) == pytest.approx(unary_union(walls).area, abs=1.0)


def test_plates_are_jointed_over_studs_and_double_ones_apart() -> None:
    stock = {"stock": [{"section": [45, 70], "lengths": [{"length": 3600}, {"length": 4800}]}]}
    wall = single_wall(8400, [45, 70], {"rule": "equal-bays"}, stock=stock)
    soles = [piece for piece in wall.pieces if piece.role == "sole plate"]
    centres = {
        round(sum(x for x, _ in piece.outline) / 4, 2) for piece in wall.pieces if piece.role == "stud"
    }
    assert len(soles) == 2
    assert max(piece.length for piece in wall.pieces) <= 4800.0
    joint = max(x for x, _ in soles[0].outline)
    assert any(abs(joint - centre) < 0.02 for centre in centres)


def test_joints_of_double_plates_are_apart() -> None:
    value: dict[str, Any] = building(
        outline={"walls": [{"name": "long", "length": 11_000}]},
        roof={"form": "level", "height": 2400},
        defaults={"studs": {"rule": "equal-bays"}, "top_plates": {"rule": "double", "joints_apart": 1200}},
    )
    wall = layout_of(value).walls[0]
    plates = [piece for piece in wall.pieces if piece.role == "head plate"]
    joints: dict[float, list[float]] = {}
    for plate in plates:
        joints.setdefault(plate.outline[0][1], []).append(max(x for x, _ in plate.outline))
    lower, upper = (sorted(ends)[:-1] for _, ends in sorted(joints.items()))
    assert lower
    assert upper
    assert all(abs(a - b) >= 1199.99 for a in lower for b in upper)


def test_a_plate_that_no_stud_can_joint_is_a_stop() -> None:
    stock = {"stock": [{"section": [45, 70], "lengths": [{"length": 400}]}]}
    value = building(
        outline={"walls": [{"name": "wall", "length": 3000}]},
        roof={"form": "level", "height": 2400},
        stock=stock,
    )
    assert {f.code for f in layout_of(value).findings if f.level == "stop"} == {"plate-too-long"}


def test_the_gravest_findings_come_first() -> None:
    value = honey_house()
    value["stock"] = {"stock": [{"section": [45, 70], "material": "C16", "lengths": [{"length": 2000}]}]}
    read = registry().read_building(value)
    levels = [finding.level for finding in with_saw_plan(layout_of(value), read).findings]
    assert levels == sorted(levels, key=["stop", "warn", "note"].index)
    assert set(levels) == {"stop", "warn", "note"}


@pytest.mark.parametrize("from_end", ["left", "right"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_stepping_the_spacer_finds_the_studs_at_fixed_centres_too(from_end: str, units: str) -> None:
    """From where it says, each bay but the last, to the nearest sixteenth of an inch or whole millimetre."""
    studs = {"rule": "fixed-centres", "centres": "400 mm", "from": from_end}
    wall = single_wall("3130 mm", ["45 mm", "70 mm"], studs, units=units)
    (spacer,) = wall.spacers
    breadth = 45.0
    near_faces = [piece.outline[0][0] for piece in wall.pieces if piece.role == "stud"]
    at = spacer.from_
    for _ in range(spacer.bays - 1):
        at += spacer.spacer
        assert min(abs(at - face) for face in near_faces) <= 1.6 * spacer.bays
        at += breadth
    assert spacer.to - at == pytest.approx(spacer.closing_bay)
    assert spacer.closing_bay > 0.0
