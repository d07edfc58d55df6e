"""Which templates there are, and their shapes."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soleplate.viewer.sheets.bevels import bevels
from soleplate.viewer.sheets.templates import template_pictures
from soleplate.viewer.texts import ENGLISH
from tests.buildings import building, layout_of
from tests.viewer.sheets.books import NAMES, example


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
    found = bevels(example("honey_house"))
    pictures, too_large = template_pictures(found, (60.0, 130.0), "mm", ENGLISH)
    assert pictures == []
    assert too_large == list(found)


def test_the_edges_of_a_template_are_named_by_the_cut_s_points() -> None:
    (sheet,), _ = template_pictures(bevels(example("honey_house")), (261.0, 128.0), "mm", ENGLISH)
    assert sheet.svg.count("long point<") == sheet.svg.count("short point<") == 1
