"""Where each piece of what lies on a wall goes can be read off its sheets."""

from __future__ import annotations

import re

import pytest

from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import Layout, WallOut
from soleplate.engine.shapes import bounds
from soleplate.viewer.paper.sizes import Page, paper_for
from soleplate.viewer.sheets.blocks import blocks_height
from soleplate.viewer.sheets.book import book_sheets
from soleplate.viewer.sheets.inside import from_inside
from soleplate.viewer.sheets.placing import placing_table, to_place
from soleplate.viewer.words.texts import ENGLISH
from tests.viewer.sheets.books import EXAMPLES, example, example_pages
from tests.viewer.sheets.test_job_book import words

NAMES = sorted(path.stem for path in EXAMPLES.glob("*.json"))


def placed(wall: WallOut, layout: Layout) -> dict[str, tuple[int, str, str]]:
    """By mark: layer, lower edge and left edge as they are told."""
    found: dict[str, tuple[int, str, str]] = {}
    layer = 0
    for first, low, edges in placing_table(wall, layout, ENGLISH)["rows"]:
        if first:
            layer = int(first.split(":")[0])
        for told in edges.split("  "):
            mark, edge = told.split("\N{NO-BREAK SPACE}", 1)
            assert mark not in found
            found[mark] = (layer, low, edge.replace("\N{NO-BREAK SPACE}", " "))
    return found


@pytest.mark.parametrize("name", NAMES)
def test_each_piece_on_a_wall_has_its_place_or_its_course(name: str) -> None:
    layout = example(name)
    for turned in (wall for each in layout.walls for wall in (each, from_inside(each))):
        told = placed(turned, layout)
        clad = {piece.mark: piece for piece in turned.pieces if piece.face == "outside"}
        in_courses = {mark for course in turned.courses for mark in course.boards}
        assert set(told) | in_courses == set(clad)
        assert set(told) == {piece.mark for piece in to_place(turned)}
        for mark, (_, low, edge) in told.items():
            left, _, bottom, _ = bounds(clad[mark].outline)
            assert low == format_length(bottom, layout.units)
            assert edge == format_figure(left, layout.units)
        for one, (layer, _, _) in told.items():
            for other, (further, _, _) in told.items():
                # From the frame outwards: what lies on it ends no further out than what lies over it begins.
                if layer < further:
                    assert clad[one].depth[1] >= clad[other].depth[1]


def test_under_boards_are_told_on_the_sheets() -> None:
    layout = example("hen_house")
    text = " ".join(words(page) for page in example_pages("hen_house")).replace("\N{NO-BREAK SPACE}", " ")
    right = next(wall for wall in layout.walls if wall.name == "right")
    assert any(piece.role == "board" for piece in to_place(right))
    for piece in to_place(right):
        left, _, _, _ = bounds(piece.outline)
        assert re.search(rf"{piece.mark} {re.escape(format_figure(left, 'mm'))}\b", text), piece.mark


@pytest.mark.parametrize("name", NAMES)
def test_what_to_look_at_first_comes_first(name: str) -> None:
    layout = example(name)
    for sheet in book_sheets(layout, paper_for(layout.units), ENGLISH):
        heads = [block["text"] for block in sheet.blocks if block["kind"] == "head"]
        if sheet.id.startswith("wall-") and sheet.id.endswith("-bench"):
            assert ENGLISH.sheets.look not in heads[1:]


@pytest.mark.parametrize("name", NAMES)
def test_what_stands_under_a_drawing_has_room_there(name: str) -> None:
    layout = example(name)
    paper = paper_for(layout.units)
    for sheet in book_sheets(layout, paper, ENGLISH):
        if sheet.blocks[0]["kind"] == "picture" and sheet.id.startswith("wall-"):
            width, height = Page(paper, landscape=sheet.landscape).room
            first, *under = sheet.blocks
            assert first["height"] + blocks_height(under, width) <= height
    pages = example_pages(name)
    drawn = {"Elevation", "Cladding", "Lining"}
    for page in pages:
        kind = re.search(r"Document type (\w+)", words(page).replace("  ", " "))
        assert kind is not None
        if kind.group(1) in drawn:
            assert ", continued" not in words(page)
