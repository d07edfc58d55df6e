"""Figures in sentences: in the building's own unit, without exponents, bounds where they hold."""

from __future__ import annotations

import copy
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soleplate.engine import lay_out
from soleplate.engine.building_file import (
    BuildingError,
    Count,
    Fault,
    Listed,
    Mm,
    MmList,
    Reach,
    Said,
    Sides,
    UnbuildableError,
    at_least,
    at_most,
    parse_length,
    said,
    telling,
)
from soleplate.engine.buying import KINDS, with_saw_plan
from tests.buildings import honey_house, layout_of, registry


@pytest.mark.parametrize(
    ("told", "mm", "inches"),
    [
        (said("at {a}", a=Mm(2083)), "at 2083 mm", "at 6 ft 10 in"),
        (said("at {a}", a=Mm(1943.1, ".1f")), "at 1943.1 mm", "at 6 ft 4 1/2 in"),
        (said("{a}", a=Mm(1943.16, ".0f")), "1943 mm", "6 ft 4 1/2 in"),
        (said("{a}", a=Mm(12.5, "tape")), "13 mm", "1/2 in"),
        (said("accepted is {a}", a=Reach(50, 60_000)), "accepted is 50 to 60000 mm",
         "accepted is 2 in to 196 ft 10 3/16 in"),
        (said("at least {a}", a=at_least(100)), "at least 100 mm", "at least 3 15/16 in"),
        (said("up to {a}", a=at_most(305)), "up to 305 mm", "up to 1 ft"),
        (said("at {a}", a=MmList((254, 508, 762))), "at 254, 508, 762 mm", "at 10 in, 1 ft 8 in, 2 ft 6 in"),
        (said("{a} and {b}", a=Mm(254, bare=True), b=Mm(508)), "254 and 508 mm", "10 in and 1 ft 8 in"),
        (said("of {a} {b}", a=Sides((45, 145)), b="larch"), "of 45 x 145 larch",
         "of 1 3/4 in x 5 11/16 in larch"),
        (said("{a}; accepted", a=Mm(3.048e6)), "3.048e+06 mm; accepted", "10000 ft; accepted"),
        (said("{a}", a=Count(1, "bay is", "bays are")), "1 bay is", "1 bay is"),
        (said("{a}", a=Count(3, "bay is", "bays are")), "3 bays are", "3 bays are"),
        (said("{a} of {b:.1f} kg", a="wall {x}", b=25.04), "wall {x} of 25.0 kg", "wall {x} of 25.0 kg"),
        (said("{a}: 600 mm", a="bench 600 mm"), "bench 600 mm: 600 mm", "bench 600 mm: 600 mm"),
        (said("a text such as '600 mm' {here}"), "a text such as '600 mm' {here}",
         "a text such as '600 mm' {here}"),
        (said("it is {a}", a=said("{b} long", b=Mm(254))).after("door {x}: "), "door {x}: it is 254 mm long",
         "door {x}: it is 10 in long"),
    ],
)  # fmt: skip
def test_a_sentence_is_told_in_either_unit(told: Said, mm: str, inches: str) -> None:
    assert told.told("mm") == mm.replace("3.048e+06", "3048000")
    assert told.told("in") == inches


def test_no_figure_is_endless() -> None:
    assert said("{a}; accepted", a=Mm(1e300)).told("mm") == "over 1000000000 mm; accepted"
    assert said("{a}; accepted", a=Mm(1e300)).told("in").startswith("over 3280839 ft")


@given(st.floats(1.0, 90_000.0), st.floats(1.0, 9_000.0))
def test_bounds_that_are_told_are_accepted(least: float, more: float) -> None:
    """Whoever types the bound as it is told is within it."""
    low, high = Reach(least, least + more + 2.0).told("in").split(" to ")
    assert parse_length(low) >= least - 1e-6
    assert parse_length(high) <= least + more + 2.0 + 1e-6
    assert parse_length(at_least(least).told("in")) >= least - 1e-6
    assert parse_length(at_most(least).told("in")) <= least + 1e-6


def test_faults_keep_their_kind_and_place() -> None:
    with pytest.raises(UnbuildableError) as told_of, telling("in"):
        raise UnbuildableError([Fault("/roof", said("{a}", a=Mm(254))), Fault("/frame", "no length")])
    assert [fault.message for fault in told_of.value.faults] == ["10 in", "no length"]
    assert [fault.pointer for fault in told_of.value.faults] == ["/roof", "/frame"]


def test_what_a_builder_wrote_is_never_rewritten() -> None:
    """Names that look like lengths, in a building of inches."""
    door = DOOR | {"name": "bench 600 mm", "width": 60}
    value = in_inches(
        frame={"section": ["45 mm", "70 mm"], "material": "larch 45 x 70 mm"},
        walls={"front": {"openings": [door]}},
    )
    said = [finding.message for finding in layout_of(value).findings]
    assert any("larch 45 x 70 mm is of unknown density" in message for message in said)
    with pytest.raises(BuildingError) as raised:
        layout_of(value | {"walls": {"front": {"openings": [door, door | {"at": {"left": 20}}]}}})
    assert "'bench 600 mm'" in raised.value.faults[0].message


def test_another_language_is_another_set_of_sentences() -> None:
    value = in_inches(defaults={"studs": {"rule": "equal-bays", "largest_bay": 30}})
    building = registry().read_building(value)
    (kind,) = [kind for _, kind in registry().finding_kinds if kind.code == "wide-bay"]
    layout = lay_out(building, registry(), sentences={kind.sentence: "{spacing} ist zu weit"})
    told = [finding.message for finding in layout.findings if finding.code == "wide-bay"]
    assert told
    assert all(message.endswith(" in ist zu weit") for message in told)


def test_sentences_among_figures_are_translated_too() -> None:
    pair = Listed((said("{width} wide", width=Mm(300.0)), said("as it is")))
    fault = Fault("/walls", said("{what}: {other}", what=pair, other=said("no door")), "mm")
    german = {"{width} wide": "{width} breit", "no door": "keine Tür", "{what}: {other}": "{other}; {what}"}
    assert fault.message == "300 mm wide, as it is: no door"
    assert fault.told(german) == "keine Tür; 300 mm breit, as it is"


def test_findings_of_the_saw_plan_are_told_in_it_too() -> None:
    stock = {"stock": [{"section": ["33 mm", "60 mm"], "lengths": [{"length": "2.4 m"}]}]}
    building = registry().read_building(in_inches(stock=stock))
    (unused,) = [kind.sentence for kind in KINDS if kind.code == "unused-stock"]
    german = {unused: "nichts ist aus {called}"}
    layout = with_saw_plan(lay_out(building, registry()), building, german)
    told = [finding.message for finding in layout.findings if finding.code == "unused-stock"]
    assert told == ["nichts ist aus 1 5/16 in x 2 3/8 in"]


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


@pytest.mark.parametrize(
    ("rule", "member"),
    [
        ({"rule": "rebated", "width": "145.5 mm", "cover": "150 mm"}, "cover"),
        ({"rule": "rebated", "cover": "130 mm", "least_drop": "90 mm", "most_drop": "72.5 mm"}, "least_drop"),
        ({"rule": "rebated", "width": "143 mm", "gap": "2 mm", "cover": "50 mm"}, "cover"),
        ({"rule": "lapped", "thickness": "23 mm", "thin_edge": "24 mm"}, "thin_edge"),
        ({"rule": "lapped", "width": "143 mm", "exposure": "60 mm"}, "exposure"),
        ({"rule": "lapped", "width": "145 mm", "exposure": "140 mm"}, "exposure"),
        ({"rule": "lapped", "lengths": ["1001 mm"], "least_board": "1.5 m"}, "least_board"),
    ],
)
def test_the_bound_of_a_member_is_accepted_as_it_is_told(rule: dict[str, Any], member: str) -> None:
    """Of a rule in a building of inches, where a bound is a fraction of a sixteenth off."""
    with pytest.raises(BuildingError) as raised:
        registry().read_building(in_inches(defaults={"cladding": rule}))
    (fault,) = raised.value.faults
    (told,) = re.findall(r"(?:\d+ ft )?\d[\d/ ]* in", fault.message.split("accepted is")[1])
    registry().read_building(in_inches(defaults={"cladding": rule | {member: told}}))


def test_the_room_on_a_wall_is_told_as_it_is() -> None:
    """A wall of 3 m is 118 and a ninth of an inch long: nothing over 9 ft 10 1/16 in fits on it."""
    outline = {"length": "3000 mm", "width": "2700 mm", "through": "front-back"}
    door = DOOR | {"at": {"left": 170}}
    with pytest.raises(BuildingError) as raised:
        layout_of(in_inches(outline=outline, walls={"front": {"openings": [door]}}))
    assert raised.value.faults[0].message.endswith("; accepted is 0 in to 9 ft 10 1/16 in")


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
