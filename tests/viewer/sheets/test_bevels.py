"""Which templates there are, and their shapes."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soleplate.viewer.sheets.bevels import bevels
from soleplate.viewer.sheets.book import book_sheets
from soleplate.viewer.sheets.templates import template_pictures
from soleplate.viewer.words.texts import ENGLISH
from tests.buildings import building, layout_of
from tests.viewer.sheets.books import EXAMPLES, NAMES, example


@settings(deadline=None, max_examples=40)
@given(st.floats(2.0, 40.0))
def test_a_lean_to_has_one_bevel_of_its_pitch(pitch: float) -> None:
    """Studs and raked plates are cut at the pitch off square (the worked example: long less short point)."""
    layout = layout_of(
        building(roof={"form": "mono-pitch", "high_side": "front", "low_height": 1960, "pitch": pitch})
    )
    (bevel,) = bevels(layout)
    assert bevel.angles == (pytest.approx(pitch, abs=0.005),)
    assert (bevel.breadth, bevel.depth) == (45.0, 70.0)
    assert bevel.line[0] == (0.0, 0.0)
    assert bevel.line[1] == (45.0, pytest.approx(45.0 * math.tan(math.radians(pitch)), abs=0.02))


@pytest.mark.parametrize("name", NAMES)
def test_every_bevelled_piece_has_a_template_and_no_other(name: str) -> None:
    layout = example(name)
    served = {mark for bevel in bevels(layout) for mark in bevel.marks}
    bevelled = {
        piece.mark
        for wall in layout.walls
        for piece in wall.pieces
        if piece.is_frame and any(end.cut in ("bevel", "double bevel") for end in piece.ends)
    }
    boards = {piece.mark for wall in layout.walls for piece in wall.pieces if piece.face == "outside"}
    assert served - boards == bevelled


def test_a_template_too_large_for_the_paper_is_told() -> None:
    found = bevels(example("bare_honey_house"))
    pictures, too_large = template_pictures(found, (60.0, 130.0), "mm", ENGLISH)
    assert pictures == []
    assert too_large == list(found)


@pytest.mark.parametrize("name", sorted(path.stem for path in EXAMPLES.glob("*.json")))
def test_each_bevel_has_one_template_on_one_sheet_or_the_other_way_up(name: str) -> None:
    """No two templates are of one bevel on one section, a notch or none; only edge boards are too large."""
    layout = example(name)
    found = bevels(layout)
    kinds = [(each.line, each.breadth, each.depth) for each in found]
    assert len(set(kinds)) == len(kinds)
    assert all(len(each.line) == len(each.angles) + 1 for each in found)
    sheets = {sheet.id: sheet for sheet in book_sheets(layout, "A4", ENGLISH)}
    rest = (
        [item for block in sheets["templates-rest"].blocks for item in block.get("items", ())]
        if ("templates-rest" in sheets)
        else []
    )
    too_large = [each.name for each in found if each.breadth > 150.0 and each.angles == (30.0,)]
    assert [re.findall(r"T[0-9]+", item)[0] for item in rest] == too_large
    drawn = " ".join(
        block["alt"]
        for key, sheet in sheets.items()
        if key.startswith("templates-")
        for block in sheet.blocks
        if block["kind"] == "picture"
    )
    assert {*re.findall(r"T[0-9]+", drawn), *too_large} == {each.name for each in found}


def test_a_template_too_deep_for_a_lying_sheet_stands_on_an_upright_one() -> None:
    """150 mm at 30 degrees falls 86.6 mm."""
    sheets = book_sheets(example("drying_shed"), "A4", ENGLISH)
    deep = next(
        each for each in bevels(example("drying_shed")) if (each.angles, each.breadth) == ((30.0,), 150.0)
    )
    (sheet,) = [
        sheet
        for sheet in sheets
        if sheet.id.startswith("templates-")
        and any(f"{deep.name}," in f"{block.get('alt')}," for block in sheet.blocks)
    ]
    assert not sheet.landscape
    assert sheet.scale == "1:1"


def test_the_edges_of_a_template_are_named_by_the_cut_s_points() -> None:
    (sheet,), _ = template_pictures(bevels(example("bare_honey_house")), (261.0, 128.0), "mm", ENGLISH)
    assert sheet.svg.count("long point<") == sheet.svg.count("short point<") == 1
