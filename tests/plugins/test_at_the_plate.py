"""Openings up to the top plate: the plate is the head, or a lintel is let in under it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
import shapely
from shapely import Polygon

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.rules import CannotFrame
from soleplate.engine.shapes import Section
from soleplate.plugins.openings import Lintel, SingleStuds, Trimmed
from tests.buildings import layout_of
from tests.plugins.walls import assert_clear, box, hole, of_role, plated
from tests.stacks import in_a_hole, not_led_down, opening, stacked_wall

LIGHT = plated(4500.0, 2355.0)
LOADED = replace(LIGHT, carries_roof=True)


def let_in(thickness: float = 45.0, height: float = 145.0, plies: int = 1) -> Trimmed:
    return Trimmed(lintel=Lintel(section=Section(thickness, height), plies=plies, let_in=True))


@pytest.mark.parametrize("top", [2355.0, 2354.6])
def test_a_plate_that_carries_no_roof_is_the_head(top: float) -> None:
    framed = Trimmed().frame_opening(hole(1500, 2400, 0, top, "door"), LIGHT)
    assert [box(m)[:3] for m in of_role(framed.members, "trimmer")] == [(1455, 1500, 45), (2400, 2445, 45)]
    assert len(of_role(framed.members, "king stud")) == 2
    assert {m.role for m in framed.members} == {"trimmer", "king stud"}
    assert (framed.over, framed.top, framed.findings) == (None, None, ())
    single = SingleStuds().frame_opening(hole(1500, 2400, 0, top, "door"), LIGHT)
    assert [box(m) for m in single.members] == [(1455, 1500, 45, 2355), (2400, 2445, 45, 2355)]


@pytest.mark.parametrize(
    ("rule", "top", "said"),
    [
        (Trimmed(), 2330.0, "head 20.0 mm lower, or one up to the plate that has neither"),
        (
            SingleStuds(),
            2330.0,
            "head 20.0 mm lower, or one up to the plate that has neither lintel nor head",
        ),
        (Trimmed(lintel=Lintel(section=Section(45, 145))), 2355.0, "lintel 145.0 mm lower, or one up to the"),
    ],
)
def test_what_is_too_high_for_its_head_is_told_of_the_plate(rule: Any, top: float, said: str) -> None:
    with pytest.raises(CannotFrame, match=said):
        rule.frame_opening(hole(1500, 2400, 0, top, "door"), LIGHT)


@pytest.mark.parametrize(
    ("rule", "said"),
    [
        (Trimmed(), "is an opening 45 mm lower, or the rule trimmed with a lintel that is let_in"),
        (
            SingleStuds(),
            "accepted is an opening 45 mm lower, or the rule trimmed with a lintel that is let_in",
        ),
        (Trimmed(lintel=Lintel(section=Section(45, 145))), "accepted is an opening 145 mm lower"),
    ],
)
def test_a_plate_that_carries_the_roof_is_no_head(rule: Any, said: str) -> None:
    with pytest.raises(CannotFrame, match=said):
        rule.frame_opening(hole(1500, 2400, 0, 2355, "door"), LOADED)


def test_no_hatch_of_a_floor_goes_without_a_trimmer() -> None:
    with pytest.raises(CannotFrame, match=r"head 45.0 mm lower$"):
        SingleStuds().frame_opening(hole(1500, 2400, 900, 2355), replace(LIGHT, lies=True))


def test_under_a_slope_there_is_always_a_head() -> None:
    sloped = plated(4500.0, 2355.0, 2500.0)
    with pytest.raises(CannotFrame, match=r"head .* mm lower$"):
        Trimmed().frame_opening(hole(1500, 2400, 0, 2400, "door"), sloped)


@pytest.mark.parametrize("top", [2355.0, 2300.0, 2210.0])
def test_a_lintel_let_in_lies_right_under_the_plate_and_says_how_deep(top: float) -> None:
    framed = let_in(35.0, 145.0, 2).frame_opening(hole(1500, 2400, 0, top, "door"), LOADED)
    assert [box(m) for m in of_role(framed.members, "lintel")] == [(1455, 2445, 2210, 2355)] * 2
    assert {m.top for m in of_role(framed.members, "trimmer")} == {2210}
    assert {m.top for m in of_role(framed.members, "king stud")} == {2355}
    assert framed.top == 2210
    assert framed.over is None
    assert [(each.code, each.value) for each in framed.findings] == [("lintel-let-in", 145)]
    assert_clear(framed.members)


@pytest.mark.parametrize(
    ("rule", "bottom", "top", "said"),
    [
        (let_in(45, 145, 2), 0, 2355, "90 mm thick cannot be let in, .* 70 mm deep; .* together up to that"),
        (
            let_in(45, 400),
            1950,
            2355,
            "400 mm deep, .* 2355.0 mm, leaves nothing .* up to 365.0 mm deep",
        ),
        (let_in(45, 1000), 1400, 2355, "1000 mm deep, .* leaves nothing of an opening from 1400.0 mm up"),
        (
            let_in(),
            0,
            2100,
            "top at 2100.0 mm is under the lintel .* 2210.0 to 2355.0 mm; .* without let_in",
        ),
    ],
)
def test_a_lintel_that_cannot_be_let_in_says_what_would_do(
    rule: Trimmed, bottom: float, top: float, said: str
) -> None:
    with pytest.raises(CannotFrame, match=said):
        rule.frame_opening(hole(1500, 2400, bottom, top), LOADED)


def test_none_is_let_in_under_a_slope() -> None:
    with pytest.raises(CannotFrame, match="the top plate over it slopes; accepted is one without let_in"):
        let_in().frame_opening(hole(1500, 2400, 0, 2200), plated(4500.0, 2355.0, 2500.0))


def test_the_layout_has_the_hole_that_is_left_and_the_file_as_it_was() -> None:
    framing = {"rule": "trimmed", "lintel": {"section": [45, 145], "let_in": True}}
    value = stacked_wall(
        opening("door", 1800, 900, 0, 2355, framing=framing),
        heights=(2400, 2400),
        carries_roof=True,
        cladding={"rule": "sheets", "thickness": 9, "width": 1200, "height": 2400},
    )
    layout = layout_of(value)
    (wall,) = layout.walls
    (door,) = wall.openings
    assert (door.bottom, door.top) == (0, 2210)
    assert in_a_hole(wall) == []
    assert not_led_down(wall) == []
    (written,) = layout.building["walls"]["wall"]["openings"]
    assert written["height"] == 2355
    assert written["framing"]["lintel"]["let_in"] is True
    sheets = [Polygon(piece.outline) for piece in wall.pieces if piece.role == "sheet"]
    over, free = shapely.box(1360, 2220, 2240, 2350), shapely.box(1360, 100, 2240, 2200)
    assert sum(sheet.intersection(over).area for sheet in sheets) == pytest.approx(over.area, rel=0.02)
    assert sum(sheet.intersection(free).area for sheet in sheets) == 0


def test_a_lintel_says_neither_where_it_does_not_carry_and_is_not_let_in() -> None:
    framing = {"rule": "trimmed", "lintel": {"section": [45, 145]}}
    layout = layout_of(stacked_wall(opening("door", 1800, 900, 0, 1900, framing=framing)))
    (written,) = layout.building["walls"]["wall"]["openings"]
    assert set(written["framing"]["lintel"]) == {"section", "plies", "packer"}


def test_a_window_up_to_the_plate_stands_over_a_door() -> None:
    door, window = opening("door", 1800, 900, 0, 1900), opening("window", 1800, 900, 2100, 3155)
    (wall,) = layout_of(stacked_wall(door, window)).walls
    assert in_a_hole(wall) == []
    assert not_led_down(wall) == []
    tops = [
        max(z for _, z in piece.outline) for piece in wall.pieces if piece.mark in wall.openings[1].pieces
    ]
    assert sorted(set(tops)) == [2100, 3155]
    with pytest.raises(UnbuildableError, match="let_in under the plate"):
        layout_of(stacked_wall(door, window, carries_roof=True))
