"""The sheet of a door's leaves: seen from behind, with sizes, marks and the heights of ledges."""

from __future__ import annotations

from typing import Any

from soleplate.viewer.sheets.blocks import SheetOf
from soleplate.viewer.sheets.leaves import leaf_sheets
from soleplate.viewer.words import ENGLISH
from tests.buildings import building, layout_of

DOORS: dict[str, Any] = {
    "name": "doors", "kind": "door", "width": 1500, "height": 1850, "at": {"centre": 2250},
    "finish": {"rule": "lined", "leaf": {"tongue": 8}},
}  # fmt: skip


def sheets(*openings: dict[str, Any]) -> list[SheetOf]:
    layout = layout_of(building(walls={"front": {"openings": list(openings)}}))
    return leaf_sheets(layout, "A4", ENGLISH)


def test_each_leaf_is_told_with_its_size_and_pieces() -> None:
    """1500 less two linings of 20 and three gaps of 3 are two of 725.5; 1850 less 20, 3 and 8 is 1819."""
    (sheet,) = sheets(DOORS)
    assert sheet.title == "doors, front"
    picture, table = sheet.blocks
    told = [row for row in table["rows"] if isinstance(row, str)]
    assert [text.replace("\u200b", "") for text in told] == [
        "726 × 1819, hung on the left as seen from outside",
        "726 × 1819, hung on the right as seen from outside",
    ]
    assert "726 mm" in picture["svg"]
    # An end is 150 or a sixth of the leaf from its ledge: 150; the head is as high as the leaf.
    assert all(f">{height}<" in picture["svg"] for height in ("150", "1819"))


def test_the_leaf_on_the_left_is_drawn_on_the_right() -> None:
    (sheet,) = sheets(DOORS)
    layout = layout_of(building(walls={"front": {"openings": [DOORS]}}))
    finish = layout.walls[0].openings[0].finish
    assert finish is not None
    first, last = finish.leaves[0].pieces[0], finish.leaves[1].pieces[0]
    svg = sheet.blocks[0]["svg"]
    places = {
        mark: float(svg.split(f">{mark}<")[0].rsplit(' x="', 1)[1].split('"')[0]) for mark in (first, last)
    }
    assert places[first] > places[last]


def test_without_leaves_there_is_no_sheet() -> None:
    assert sheets(DOORS | {"finish": {"rule": "lined"}}) == []
