"""Crown, bow and datum are told once for each wall, floor and slope, by what it is."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from soleplate.engine.layout import Layout
from soleplate.viewer.drawings import drawn_parts, told_of
from soleplate.viewer.sheets.book import book_sheets
from soleplate.viewer.sheets.crowns import crowns
from soleplate.viewer.words import ENGLISH
from tests.buildings import building, layout_of
from tests.floors import FLOOR
from tests.roofs import mono


def told(layout: Layout, part: str) -> list[str]:
    """The sentences for a part, its heading left out."""
    (wall,) = (each for each in drawn_parts(layout) if each.name == part)
    _, sentences = crowns(wall, layout, told_of(wall, ENGLISH))
    return list(sentences["items"])


WHOLE = mono() | {"floor": FLOOR, "outline": {"length": 4500, "width": 2700, "through": "front-back"}}


def test_every_part_has_it_once_with_its_basis() -> None:
    """Four walls, a floor and a slope."""
    layout = layout_of(WHOLE)
    heads = Counter(
        block["text"]
        for sheet in book_sheets(layout, "A4", ENGLISH)
        for block in sheet.blocks
        if block["kind"] == "head"
    )
    assert heads[ENGLISH.sheets.crowns] == len(drawn_parts(layout)) == 6
    for part in drawn_parts(layout):
        assert told(layout, part.name)[-1] == "Basis: common practice, no source"


LINED = {"rule": "sheets", "width": 1200, "height": 2400, "thickness": 12, "material": "OSB"}


@pytest.mark.parametrize(
    ("defaults", "face"),
    [({}, "outer"), ({"lining": LINED}, "inner"), ({"cladding": LINED}, "outer")],
)
def test_crowns_point_outwards_unless_sheets_line_the_wall(defaults: dict[str, Any], face: str) -> None:
    crown, _, datum, *_ = told(layout_of(building(defaults=defaults)), "front")
    assert f"all arrows point to the {face} face" in crown
    assert datum.startswith("The outer face is the datum")


def test_floors_and_slopes_say_crown_up() -> None:
    layout = layout_of(WHOLE)
    for part, piece in ((*layout.floors, "joist"), (*layout.roofs, "rafter")):
        crown, *_ = told(layout, part.name)
        assert crown.startswith(f"Sight along each {piece} ")
        assert "all arrows point up" in crown


def test_crooked_lengths_are_told_of_where_pieces_may_come_from_them() -> None:
    noggins = {"studs": {"rule": "equal-bays"}, "noggins": {"rule": "straight", "rows": 1}}
    assert ENGLISH.sheets.crooked in told(layout_of(building(defaults=noggins)), "front")
    bare = building(roof={"form": "level", "height": 2300})
    assert ENGLISH.sheets.crooked not in told(layout_of(bare), "front")


def test_a_partition_names_the_wall_that_its_datum_looks_at() -> None:
    partition = {"name": "inner", "runs": "front-back", "at": 1500}
    layout = layout_of(building(outline={"length": 4500, "width": 2700, "partitions": [partition]}))
    (wall,) = (wall for wall in layout.walls if wall.faces is not None)
    assert wall.faces is not None
    crown, _, datum, *_ = told(layout, "inner")
    assert f"point to the side of wall {wall.faces[0]}" in crown
    assert datum.startswith(f"The face towards wall {wall.faces[0]} is the datum")
