"""Head and raked plates, against the worked example and plain trigonometry."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import Polygon

from soleplate.engine.rules import CannotFrame, EndJoin
from soleplate.engine.shapes import Member, TopLine, shape
from soleplate.plugins.top_plates import DoublePlate, SinglePlate
from tests.plugins.walls import NO_JOIN, assert_clear, box, line, wall

FREE_ENDS = (NO_JOIN, NO_JOIN)
BUTTS = EndJoin(runs_through=False, lap=0.0, neighbour_depth=70.0)
RISE = 2560.0 * math.tan(math.radians(6.0))


def lengths(member: Member) -> tuple[float, float]:
    found = shape(member)
    return round(found.length, 3), round(found.short_length, 3)


def thickness(member: Member) -> float:
    """Square to the plate: area over the length of its long edges."""
    slope = math.radians(member.grain)
    left, right, upper_right, upper_left = member.outline
    along = (right[0] - left[0] + upper_right[0] - upper_left[0]) / 2 / math.cos(slope)
    return float(Polygon(member.outline).area) / along


def test_a_level_head_plate() -> None:
    plates = SinglePlate().lay_plates(wall(4500.0, 1960.0), FREE_ENDS)
    (plate,) = plates.members
    assert (plate.role, plate.grain, box(plate)) == ("head plate", 0.0, (0.0, 4500.0, 1915.0, 1960.0))
    assert plates.underside.at(1000.0) == 1915.0
    assert plates.top is None


def test_the_worked_examples_raked_plate() -> None:
    plates = SinglePlate().lay_plates(wall(2560.0, 1960.0, 1960.0 + RISE), FREE_ENDS)
    (plate,) = plates.members
    assert plate.role == "raked plate"
    assert plate.grain == pytest.approx(6.0)
    assert lengths(plate) == (2578.831, 2574.101)
    assert thickness(plate) == pytest.approx(45.0)
    assert plates.underside.at(0.0) == pytest.approx(1960.0 - 45.0 / math.cos(math.radians(6.0)))


@pytest.mark.parametrize("heights", [(1960.0, 1960.0 + RISE), (1960.0 + RISE, 1960.0)])
def test_square_ends_shorten_the_plate(heights: tuple[float, float]) -> None:
    plates = SinglePlate(ends="square").lay_plates(wall(2560.0, *heights), FREE_ENDS)
    (plate,) = plates.members
    pitch = math.radians(6.0)
    long_edge = (2560.0 - 45.0 * math.sin(pitch)) / math.cos(pitch)
    assert lengths(plate) == (round(long_edge, 3), round(long_edge, 3))
    assert [end.cut for end in shape(plate).ends] == ["square", "square"]
    assert (round(plate.left, 6), round(plate.right, 6)) == (0.0, 2560.0)


@pytest.mark.parametrize("ends", ["plumb", "square"])
def test_two_slopes_meet_plumb_in_the_ridge(ends: str) -> None:
    gable = wall(3000.0, 2000.0, 2750.0, 2000.0)
    rule = SinglePlate.model_validate({"ends": ends})
    left, right = rule.lay_plates(gable, FREE_ENDS).members
    assert left.right == right.left == 1500.0
    assert left.grain == -right.grain == pytest.approx(math.degrees(math.atan(0.5)))
    assert left.top == right.top == 2750.0
    assert_clear((left, right))


def test_doubled_plates_lie_on_each_other() -> None:
    gable = wall(3000.0, 2000.0, 2750.0, 2000.0)
    plates = DoublePlate().lay_plates(gable, FREE_ENDS)
    plumb = 45.0 / math.cos(math.atan(0.5))
    assert [member.layer for member in plates.members] == [0, 0, 1, 1]
    assert plates.underside.at(0.0) == pytest.approx(2000.0 - 2 * plumb)
    assert plates.members[0].top == pytest.approx(2750.0 - plumb)
    assert plates.members[2].top == 2750.0
    assert plates.joints_apart == 1200.0
    assert_clear(plates.members)


def test_upper_plates_lap_at_the_corner() -> None:
    through = EndJoin(runs_through=True, lap=89.0, neighbour_depth=89.0)
    butts = EndJoin(runs_through=False, lap=89.0, neighbour_depth=89.0)
    long = DoublePlate().lay_plates(wall(3000.0, 2400.0, section=(38.0, 89.0)), (through, through))
    short = DoublePlate().lay_plates(wall(2000.0, 2400.0, section=(38.0, 89.0)), (butts, butts))
    assert [box(m) for m in long.members] == [
        (0.0, 3000.0, 2324.0, 2362.0),
        (89.0, 2911.0, 2362.0, 2400.0),
    ]
    assert [box(m) for m in short.members] == [
        (0.0, 2000.0, 2324.0, 2362.0),
        (-89.0, 2089.0, 2362.0, 2400.0),
    ]
    assert long.beyond == (0.0, 0.0)
    assert short.beyond == (89.0, 89.0)


def test_a_wall_too_short_for_its_laps_is_refused() -> None:
    through = EndJoin(runs_through=True, lap=89.0, neighbour_depth=89.0)
    with pytest.raises(CannotFrame, match="accepted is a longer wall"):
        DoublePlate().lay_plates(wall(200.0, 2400.0), (through, through))


def test_plates_over_the_walls_run_to_the_neighbours_outer_faces() -> None:
    sloped = wall(2560.0, 1960.0, 1960.0 + RISE)
    plates = SinglePlate(over_walls=True).lay_plates(sloped, (BUTTS, BUTTS))
    (plate,) = plates.members
    plumb = 45.0 / math.cos(math.radians(6.0))
    assert (round(plate.left, 6), round(plate.right, 6)) == (-70.0, 2630.0)
    assert plates.beyond == (70.0, 70.0)
    assert plates.underside == sloped.top
    assert plates.top is not None
    assert plates.top.at(0.0) == pytest.approx(1960.0 + plumb)
    assert thickness(plate) == pytest.approx(45.0)


def test_a_wall_that_runs_through_is_at_the_outer_face_already() -> None:
    through = EndJoin(runs_through=True, lap=0.0, neighbour_depth=70.0)
    sloped = wall(2560.0, 1960.0, 1960.0 + RISE)
    assert SinglePlate(over_walls=True).lay_plates(sloped, (through, BUTTS)).beyond == (0.0, 70.0)


def test_level_plates_lie_under_the_top_whatever_over_walls_says() -> None:
    level = wall(2560.0, 1960.0)
    assert SinglePlate(over_walls=True).lay_plates(level, (BUTTS, BUTTS)) == SinglePlate().lay_plates(
        level, (BUTTS, BUTTS)
    )


def test_what_top_plates_cannot_do() -> None:
    with pytest.raises(CannotFrame, match="one steepness"):
        SinglePlate().lay_plates(wall(3000.0, 2000.0, 2750.0, 2500.0), FREE_ENDS)
    with pytest.raises(CannotFrame, match="up to 30 degrees"):
        SinglePlate(ends="square").lay_plates(wall(1000.0, 1000.0, 2000.0), FREE_ENDS)
    bent = TopLine(((0.0, 2000.0), (2992.0, 2748.0), (3000.0, 2746.0)))
    with pytest.raises(CannotFrame, match=r"bends 8 mm from an end of the wall.* accepted is 45 mm and more"):
        SinglePlate().lay_plates(replace(wall(3000.0), top=bent), FREE_ENDS)
    with pytest.raises(CannotFrame, match="into the sole plate"):
        DoublePlate().lay_plates(wall(1000.0, 120.0), FREE_ENDS)


@given(
    length=st.floats(300.0, 10_000.0),
    low=st.floats(500.0, 2500.0),
    pitch=st.floats(-29.0, 29.0),
    ends=st.sampled_from(["plumb", "square"]),
    rule=st.sampled_from([SinglePlate, DoublePlate]),
)
def test_plates_stay_within_the_wall_and_keep_their_thickness(
    length: float, low: float, pitch: float, ends: str, rule: type[SinglePlate | DoublePlate]
) -> None:
    assume(abs(pitch) > 0.01)
    rise = length * math.tan(math.radians(pitch))
    high = (low, low + rise) if rise > 0 else (low - rise, low)
    sloped = wall(length, *high)
    plates = rule.model_validate({"ends": ends}).lay_plates(sloped, FREE_ENDS)
    top = TopLine(line(length, *high).points)
    for plate in plates.members:
        assert thickness(plate) == pytest.approx(45.0)
        assert all(-1e-6 <= x <= length + 1e-6 for x, _ in plate.outline)
        assert all(z <= top.at(x) + 1e-6 for x, z in plate.outline)
        assert all(z >= plates.underside.at(x) - 1e-6 for x, z in plate.outline)
    assert_clear(plates.members)
