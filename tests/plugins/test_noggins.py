"""Rows of noggins: their heights, and how they are fixed."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from soleplate.engine.rules import CannotFrame, NogginRule, Wall
from soleplate.engine.shapes import EndFixing, level
from soleplate.plugins.noggins import Staggered, Straight
from tests.plugins.walls import hole, plated, studded

THROUGH, SKEWED = EndFixing(2, "through"), EndFixing(2, "skew")
STUDS = (0.0, 600.0, 1200.0, 1800.0, 2355.0)
WALL = studded(plated(2400.0, 2355.0), *STUDS)


def centres(rule: NogginRule, wall: Wall = WALL) -> list[float]:
    return sorted({place.bottom + wall.breadth / 2 for place in rule.place_noggins(wall)})


def test_one_row_lies_half_way_between_the_plates() -> None:
    places = Straight().place_noggins(WALL)
    assert centres(Straight()) == [(45.0 + 2355.0) / 2]
    assert [(place.bay.left, place.bay.right) for place in places] == [
        (45.0, 600.0),
        (645.0, 1200.0),
        (1245.0, 1800.0),
        (1845.0, 2355.0),
    ]


def test_rows_are_even_under_the_lowest_point_of_the_plate() -> None:
    sloped = studded(plated(2400.0, 1845.0, 2100.0), *STUDS)
    assert centres(Straight(rows=2), sloped) == pytest.approx([645.0, 1245.0])


def test_heights_are_centre_lines() -> None:
    assert centres(Straight(heights=(1600.0, 800.0))) == [800.0, 1600.0]


def test_every_joint_of_sheets_has_a_row_behind_it() -> None:
    tall = studded(plated(2400.0, 2655.0), *STUDS)
    assert centres(Straight(behind_sheets=1200.0), tall) == [1200.0, 2400.0]
    assert centres(Straight(behind_sheets=1200.0)) == [1200.0]


def test_in_a_straight_row_the_next_one_is_skewed() -> None:
    fixings = [place.fixings for place in Straight().place_noggins(WALL)]
    assert fixings == [(THROUGH, THROUGH), *[(SKEWED, THROUGH)] * 3]


def test_beyond_an_opening_a_row_starts_afresh() -> None:
    plain = plated(2400.0, 2355.0, holes=(hole(645.0, 1800.0, 0.0, 1900.0, "door"),))
    places = Straight().place_noggins(studded(plain, 0.0, 600.0, 1800.0, 2355.0))
    assert [place.bay.left for place in places] == [45.0, 1845.0]
    assert [place.fixings for place in places] == [(THROUGH, THROUGH)] * 2


def test_staggered_noggins_lie_by_turns_above_and_below() -> None:
    left = Staggered(heights=(1200.0,)).place_noggins(WALL)
    right = Staggered(heights=(1200.0,), start="right").place_noggins(WALL)
    assert [place.bottom for place in left] == [1200.0, 1155.0, 1200.0, 1155.0]
    assert [place.bottom for place in right] == [1155.0, 1200.0, 1155.0, 1200.0]
    assert {place.fixings for place in left} == {(THROUGH, THROUGH)}


def test_a_bay_too_narrow_to_nail_gets_none() -> None:
    wall = studded(plated(2400.0, 2355.0), 0.0, 90.0, 1200.0, 2355.0)
    assert [place.bay.left for place in Straight().place_noggins(wall)] == [135.0, 1245.0]


@pytest.mark.parametrize(("second", "bays"), [(95.0, [45.0, 140.0]), (94.9, [139.9])])
def test_in_a_bay_of_50_mm_a_hammer_has_room(second: float, bays: list[float]) -> None:
    """Common practice, no source."""
    wall = studded(plated(2400.0, 2355.0), 0.0, second, 2355.0)
    assert [place.bay.left for place in Straight().place_noggins(wall)] == bays


def test_a_bay_where_something_lies_level_gets_none() -> None:
    sill = level("sill", WALL.section, (645.0, 1200.0, 1180.0, 1225.0), (0.0, 70.0))
    wall = studded(plated(2400.0, 2355.0), *STUDS, members=(sill,))
    assert [place.bay.left for place in Straight(heights=(1200.0,)).place_noggins(wall)] == [
        45.0,
        1245.0,
        1845.0,
    ]


def test_a_row_over_the_wall_is_given_to_be_reported() -> None:
    places = Straight(heights=(2600.0,)).place_noggins(WALL)
    assert len(places) == 4
    assert {place.bottom for place in places} == {2600.0 - 22.5}


@pytest.mark.parametrize(
    ("rule", "least"),
    [
        (Straight(heights=(1000.0, 1040.0)), "45 mm apart"),
        (Staggered(heights=(1000.0, 1080.0)), "90 mm apart"),
    ],
)
def test_rows_on_each_other_are_refused(rule: NogginRule, least: str) -> None:
    with pytest.raises(CannotFrame, match=least):
        rule.place_noggins(WALL)


def test_a_low_wall_has_no_room_for_many_rows() -> None:
    low = studded(plated(2400.0, 345.0), *STUDS)
    with pytest.raises(CannotFrame, match="rows at least 45 mm apart"):
        Straight(rows=10).place_noggins(low)


def test_only_one_way_of_giving_rows_is_accepted() -> None:
    with pytest.raises(ValidationError, match="one of rows, heights and behind_sheets"):
        Staggered(rows=1, heights=(1200.0,))
