"""A rule given as null is none, whatever `defaults` say; it is written so, and read so again."""

from __future__ import annotations

import json
from typing import Any

import pytest

from soleplate.api.work.boards import file_of
from soleplate.engine import lay_out
from soleplate.engine.laying_out import layout_json
from tests.buildings import building, layout_of, registry

DEFAULTS: dict[str, Any] = {
    "studs": {"rule": "equal-bays", "number": 1},
    "noggins": {"rule": "straight", "rows": 1},
    "cladding": {"rule": "lapped"},
    "lining": {"rule": "lapped"},
    "top_plates": {"rule": "double"},
}


def rules(own: dict[str, Any]) -> dict[str, str]:
    """Of a wall that says so much itself."""
    return dict(layout_of(building(defaults=DEFAULTS, walls={"left": own})).walls[3].rules)


@pytest.mark.parametrize("member", ["noggins", "cladding", "lining"])
def test_null_is_none(member: str) -> None:
    assert member in rules({})
    without = rules({member: None})
    assert without == {name: rule for name, rule in rules({}).items() if name != member}


def test_no_piece_is_left_of_what_is_null() -> None:
    layout = layout_of(building(defaults=DEFAULTS, walls={"left": {"noggins": None, "cladding": None}}))
    right, left = (
        {piece.role for piece in wall.pieces if piece.face != "inside"} for wall in layout.walls[1::2]
    )
    assert {"noggin", "board"} <= right
    assert not {"noggin", "board"} & left


@pytest.mark.parametrize("member", ["studs", "top_plates"])
def test_where_one_is_needed_the_usual_stands_in(member: str) -> None:
    usual = dict(layout_of(building()).walls[3].rules)
    assert rules({member: None})[member] == usual[member]


def test_adjustments_may_be_null() -> None:
    assert rules({"adjustments": None}) == rules({})


def test_null_among_the_defaults_is_as_if_nothing_were_there() -> None:
    nulls = dict.fromkeys(DEFAULTS)
    assert layout_of(building(defaults=nulls)).walls == layout_of(building(defaults={})).walls


def test_it_is_told_in_the_layout_and_laid_out_again_the_same() -> None:
    value = building(defaults=DEFAULTS, walls={"left": {"cladding": None, "noggins": None}, "back": {}})
    layout = lay_out(registry().read_building(value), registry())
    told = json.loads(layout_json(layout))["building"]
    assert told["walls"]["left"] == {"openings": [], "noggins": None, "cladding": None}
    assert told["walls"]["back"] == {"openings": []}
    assert layout_json(lay_out(registry().read_building(told), registry())) == layout_json(layout)


def test_it_is_said_in_the_schema() -> None:
    block = registry().building_schema()["$defs"]["WallBlock"]
    assert "given as null is none" in block["description"]


def test_a_wall_on_its_own_tells_no_nulls_that_were_not_given() -> None:
    request = {"name": "a", "frame": {"section": [45, 70]}, "length": 2400, "height": 2100, "noggins": None}
    asked = registry().read_wall(request)
    told = asked.model_dump(mode="json", exclude_none=True)["walls"]
    assert told == {"a": {"openings": [], "noggins": None}}


def test_the_page_keeps_what_was_said() -> None:
    """It works on the file as it was given."""
    value = building(walls={"left": {"cladding": None}})
    assert file_of(registry().read_building(value))["walls"] == {"left": {"cladding": None}}
