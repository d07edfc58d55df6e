"""Sheets of clad buildings: boards course by course, and the storey rod."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache

import pytest

from soleplate.engine.building_file import format_figure
from soleplate.engine.layout import Layout
from soleplate.viewer.sheets.bevels import bevels
from soleplate.viewer.sheets.book import book_sheets
from soleplate.viewer.sheets.rod import rod_pictures
from soleplate.viewer.sheets.wall import marks_head
from soleplate.viewer.words.texts import ENGLISH
from tests.buildings import honey_house, layout_of
from tests.viewer.sheets.books import example, example_pages, pages_of
from tests.viewer.sheets.reading_pdf import Page, boxes
from tests.viewer.sheets.test_job_book import covered, words

PARAMETERS: dict[str, dict[str, float]] = {
    "lapped": {}, "rebated": {"width": 145, "cover": 130}, "board-and-batten": {},
}  # fmt: skip
RULES = tuple(PARAMETERS)


@lru_cache
def clad(rule: str) -> Layout:
    building = honey_house()
    building["defaults"]["cladding"] = {"rule": rule, **PARAMETERS[rule]}
    return layout_of(building)


@lru_cache
def pages(rule: str) -> list[Page]:
    return pages_of(clad(rule))


@pytest.mark.parametrize("rule", RULES)
def test_texts_stay_within_the_frame_and_apart(rule: str) -> None:
    for page in pages(rule):
        placed = list(boxes(page))
        assert covered(placed) == []
        assert min(left for left, _, _, _ in placed) >= 20.0
        assert max(right for _, right, _, _ in placed) <= page.width - 10.0
        assert max(bottom for _, _, _, bottom in placed) <= page.height - 10.0


@pytest.mark.parametrize("rule", RULES)
def test_every_board_is_told(rule: str) -> None:
    told = set(re.findall(r"[A-Z]+[0-9]+", " ".join(page.text for page in pages(rule))))
    assert {piece.mark for wall in clad(rule).walls for piece in wall.pieces} <= told


@pytest.mark.parametrize("rule", ["lapped", "rebated"])
def test_the_rod_tells_every_course_and_notch(rule: str) -> None:
    layout = clad(rule)
    (page,) = [page for page in pages(rule) if "Mark it on a batten once" in words(page)]
    text = words(page)
    assert layout.storey_rod
    for course in layout.storey_rod:
        assert f"{course.number}: {course.display}, seen {format_figure(course.seen, layout.units)}" in text
        for cut in course.cut_outs:
            assert cut.display in text


def test_the_rod_is_drawn_to_its_scale() -> None:
    layout = clad("rebated")
    _, scale = rod_pictures(layout, (174.0, 220.0), ENGLISH)
    (page,) = [page for page in pages("rebated") if "Mark it on a batten once" in words(page)]
    assert f"1:{scale}" in page.text
    low = min(0.0, *(course.bottom for course in layout.storey_rod))
    tall = (max(course.top for course in layout.storey_rod) - low) / scale
    sides = [line for line in page.lines if line.is_upright and line.length == pytest.approx(tall, abs=0.01)]
    assert len(sides) == 2


def test_upright_boards_have_no_storey_rod() -> None:
    assert not any("Storey rod" in page.text for page in pages("board-and-batten"))


def test_boards_cut_along_a_slope_have_no_template() -> None:
    layout = clad("rebated")
    boards = {piece.mark for wall in layout.walls for piece in wall.pieces if piece.face == "outside"}
    assert boards
    assert not boards & {mark for bevel in bevels(layout) for mark in bevel.marks}


def lined() -> Layout:
    """With courses on both faces."""
    building = honey_house()
    boards = {"rule": "tongue-and-groove", "width": 120, "cover": 108}
    building["defaults"] |= {"cladding": boards, "lining": boards}
    return layout_of(building)


@pytest.mark.parametrize(
    "layout_from", [lined, lambda: example("reading_room")], ids=["lined", "reading_room"]
)
def test_nothing_seen_from_outside_stands_on_a_sheet_seen_from_inside(
    layout_from: Callable[[], Layout],
) -> None:
    layout, said = layout_from(), ENGLISH.sheets
    sheets = book_sheets(layout, "A4", ENGLISH)
    for number, wall in enumerate(layout.walls, 1):
        own = {text.format(wall=wall.name) for text in (said.lining_places_of, said.lining_courses_of)}
        of_wall = [sheet for sheet in sheets if sheet.id.startswith(f"wall-{number}-")]
        assert said.lining in {sheet.document_type for sheet in of_wall}
        heads: list[str] = []
        for sheet in of_wall:
            first = [block["text"] for block in sheet.blocks if block["kind"] == "head"]
            heads += first
            if sheet.document_type == said.lining:
                assert set(first) <= own
                assert [block["kind"] for block in sheet.blocks] == [
                    "picture",
                    *["head", "table"] * len(first),
                ]
        assert own & set(heads)
        assert all("seen from inside" in text for text in own)
        assert len(set(heads)) == len(heads)
        # What has no room elsewhere is told at the bench instead.
        wanted = {said.openings} if wall.openings else set()
        wanted |= {marks_head(length, ENGLISH) for length in wall.plate_lengths if length.marks}
        assert wanted <= set(heads)


def test_a_lining_has_its_sheets_seen_from_inside() -> None:
    layout = example("reading_room")
    sheets = {sheet.id: sheet for sheet in book_sheets(layout, "A4", ENGLISH)}
    for number, wall in enumerate(layout.walls, 1):
        sheet = sheets[f"wall-{number}-lining-1"]
        assert (sheet.document_type, sheet.sub.split(":")[0]) == ("Lining", "Seen from inside")
        assert sheet.title == wall.name
    told = " ".join(words(page) for page in example_pages("reading_room"))
    assert told.count("Seen from inside: right on the elevation") == len(layout.walls)
