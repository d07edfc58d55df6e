"""Lengths in sentences: in the building's own unit, in plain figures, bounds where they hold."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from soleplate.engine.building_file import BuildingError, Fault, UnbuildableError, parse_length, telling, told
from tests.buildings import honey_house, layout_of, registry


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("at 2083 mm, over the plate, 1943.1 mm", "at 6 ft 10 in, over the plate, 6 ft 4 1/2 in"),
        ("accepted is 50 to 60000 mm", "accepted is 2 in to 196 ft 10 3/16 in"),
        ("accepted is at least 100 mm", "accepted is at least 3 15/16 in"),
        ("accepted is up to 305 mm", "accepted is up to 1 ft"),
        ("at 254, 508 and 762 mm", "at 10 in, 1 ft 8 in and 2 ft 6 in"),
        ("a text such as '600 mm'", "a text such as '600 mm'"),
        ("a piece of 45 x 145 mm", "a piece of 1 3/4 in x 5 11/16 in"),
        ("3.048e+06 mm; accepted", "10000 ft; accepted"),
        ("640 kg/m3 and 25 kg", "640 kg/m3 and 25 kg"),
        ("room_45 mm2", "room_45 mm2"),
    ],
)  # fmt: skip
def test_a_building_in_inches_is_told_feet_and_inches(text: str, inches: str) -> None:
    assert told(text, "in") == inches
    assert told(text, "mm") == text.replace("3.048e+06", "3048000")


def test_no_figure_is_endless() -> None:
    assert told("1e+300 mm; accepted", "mm") == "over 1000000000 mm; accepted"
    assert told("1e+300 mm; accepted", "in").startswith("over 3280839 ft")


def test_bounds_that_are_told_are_accepted() -> None:
    """Whoever types the bound as it is told is within it."""
    for bound in (50.0, 100.0, 300.0, 3.0, 60_000.0):
        low, high = told(f"{bound:g} to {2 * bound:g} mm", "in").split(" to ")
        assert parse_length(low) >= bound
        assert parse_length(high) <= 2 * bound


def test_faults_keep_their_kind_and_place() -> None:
    with pytest.raises(UnbuildableError) as told_of, telling("in"):
        raise UnbuildableError([Fault("/roof", "254 mm"), Fault("/frame", "no length")])
    assert told_of.value.faults == (Fault("/roof", "10 in"), Fault("/frame", "no length"))


def in_inches(**changes: Any) -> dict[str, Any]:
    value = copy.deepcopy(honey_house())
    value["units"] = "in"
    value["frame"]["section"] = ["45 mm", "70 mm"]
    value["outline"] = {"length": "4500 mm", "width": "2700 mm", "through": "front-back"}
    value["roof"]["low_height"] = "1960 mm"
    value["defaults"] = {}
    value["walls"] = {}
    return value | changes


DOOR = {"name": "door", "kind": "door", "width": 30, "height": 60, "at": {"left": 10}}


@pytest.mark.parametrize(
    "changes",
    [
        {"outline": {"length": 120_000, "width": 100}},
        {"outline": {"length": 1, "width": 100}},
        {"roof": {"form": "mono-pitch", "high_side": "front", "low_height": 80, "high_height": 79}},
        {"walls": {"front": {"openings": [DOOR | {"height": 90}]}}},
        {"walls": {"front": {"openings": [DOOR | {"at": {"left": 170}}]}}},
    ],
)
def test_faults_of_a_building_in_inches_name_no_mm(changes: dict[str, Any]) -> None:
    with pytest.raises(BuildingError) as raised:
        layout_of(in_inches(**changes))
    said = " ".join(fault.message for fault in raised.value.faults)
    assert " in" in said or " ft" in said
    assert " mm" not in said
    assert "e+" not in said


def test_findings_of_a_building_in_inches_name_no_mm() -> None:
    found = layout_of(in_inches(defaults={"studs": {"rule": "equal-bays", "largest_bay": 30}})).findings
    assert any(finding.code == "wide-bay" for finding in found)
    assert not [finding.message for finding in found if " mm" in finding.message]


def changed(path: str, value: Any) -> dict[str, Any]:
    file = honey_house()
    inner: Any = file
    *steps, last = path.split("/")
    for step in steps:
        inner = inner[int(step) if step.isdecimal() else step]
    inner[last] = value
    return file


WALL = {"name": "a", "length": 900}


@pytest.mark.parametrize(
    ("path", "value", "said"),
    [
        ("name", "x" * 61, "accepted is a text of at most 60 characters"),
        ("name", "", "accepted is a text of at least 1 character"),
        ("name", 3, "accepted is a text"),
        ("roof/pitch", 91, "accepted is at most 90"),
        ("roof/pitch", 0, "accepted is over 0"),
        ("roof/pitch", "steep", "accepted is a number"),
        ("site", {"people": 0}, "accepted is at least 1"),
        ("site", {"people": 1.5}, "accepted is a whole number"),
        ("site", {"people": "two"}, "accepted is a whole number"),
        ("outline", {"walls": [WALL | {"carries_roof": 1}]}, "accepted is true or false"),
        ("units", "ft", "accepted is 'mm' or 'in'"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_in_our_words(path: str, value: Any, said: str) -> None:
    with pytest.raises(BuildingError) as raised:
        registry().read_building(changed(path, value))
    assert [fault.message for fault in raised.value.faults] == [said]
