"""A floor on drawings, the page, paper and in lists: told like a wall that lies, by words of its own."""

from __future__ import annotations

import csv
import dataclasses
import io
import re

import pytest

from soleplate.api.written import folder_files
from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import Layout
from soleplate.viewer.drawings import elevation_svg
from soleplate.viewer.lists.spreadsheets import buying_list_csv, running_marks_csv
from soleplate.viewer.page.page import page_html
from soleplate.viewer.words.floors import FloorSheetTexts, FloorTexts
from soleplate.viewer.words.sheets import SheetTexts
from soleplate.viewer.words.texts import ENGLISH, Texts
from tests.buildings import registry
from tests.floors import HATCH, floor_of, floor_with, honey_house_on
from tests.viewer.sheets.books import pages_of
from tests.viewer.sheets.reading_pdf import Page, boxes
from tests.viewer.sheets.test_job_book import covered

WALLS_ALONE = ("sole plate", "stud", "from outside", "from inside", "storey rod")


@pytest.fixture(scope="module", params=["front-back", "left-right"])
def layout(request: pytest.FixtureRequest) -> Layout:
    hatch = HATCH | {"at": {"left": 3000}}
    return honey_house_on(floor_with(runs=request.param, openings=[hatch]))


@pytest.fixture(scope="module")
def pages(layout: Layout) -> list[Page]:
    return pages_of(layout)


def texts_of(drawing: str) -> list[str]:
    return re.findall(r"<text[^>]*>([^<]*)</text>", drawing)


def test_every_piece_of_the_frame_is_drawn_once_and_marked(layout: Layout) -> None:
    drawing = elevation_svg(layout, "floor")
    marks = [piece.mark for piece in floor_of(layout).pieces if piece.is_frame]
    assert sorted(re.findall(r'data-mark="(FL\d+)"', drawing)) == sorted(marks)
    assert set(marks) <= set(texts_of(drawing))
    front = {"front-back": "below", "left-right": "on the left"}[floor_of(layout).runs]
    assert f"floor: seen from above, the front {front}" in texts_of(drawing)


def test_its_tape_has_the_marks_of_the_lower_rim(layout: Layout) -> None:
    (first, *_) = floor_of(layout).marks.values()
    drawing = elevation_svg(layout, "floor")
    for mark in first:
        assert f"{mark.mark}  {mark.display}" in drawing


def test_its_deck_is_drawn_as_a_walls_cladding_is(layout: Layout) -> None:
    drawing = elevation_svg(layout, "floor", layers=("frame", "cladding"))
    sheets = {piece.mark for piece in floor_of(layout).pieces if piece.role == "sheet"}
    assert sheets <= set(re.findall(r'data-mark="(FL\d+)"', drawing))


def test_words_of_walls_alone_are_not_said_of_it(layout: Layout) -> None:
    drawing = elevation_svg(layout, "floor")
    body = " ".join(text for text in texts_of(drawing) if text not in layout.cautions)
    page = page_html(layout)
    (section,) = re.findall(r'<section id="wall-floor".*?</section>', page, re.DOTALL)
    told = re.sub(r"<text[^>]*>[^<]*</text>", "", section).replace("single-studs", "")
    for said in (body, told):
        assert not [word for word in WALLS_ALONE if word in said]


def test_the_page_leads_to_it_and_tells_its_pads(layout: Layout) -> None:
    page = page_html(layout)
    assert 'data-wall="wall-floor"' in page
    (section,) = re.findall(r'<section id="wall-floor".*?</section>', page, re.DOTALL)
    assert "Each 300 mm square. The frame is square when both its diagonals are 5248 mm." in section
    cells = re.findall(r"<(?:td|th)[^>]*>([^<]*)</", section)
    floor = floor_of(layout)
    assert len(floor.pads) >= 6
    assert {format_length(x, "mm") for x, _ in floor.pads} <= set(cells)


def test_a_hatch_is_drawn_along_by_the_member_that_lies_along_the_drawing() -> None:
    hatch = HATCH | {"at": {"left": 3000}}
    for runs, along in (("front-back", "at"), ("left-right", "from_front")):
        page = page_html(honey_house_on(floor_with(runs=runs, openings=[hatch])))
        (section,) = re.findall(r'<section id="wall-floor"[^>]*>', page)
        assert 'data-openings="floor/openings"' in section
        assert f'data-along="{along}"' in section


def test_its_sheets(layout: Layout, pages: list[Page]) -> None:
    told = [page.text for page in pages]
    assert [text for text in told if "Floor plan" in text]
    assert [text for text in told if "Deck plan" in text]
    (pads,) = [text for text in told if "Centres of the pads" in text]
    figures = set(re.findall(r"\d+", pads))
    for x, y in floor_of(layout).pads:
        assert {format_figure(x, "mm"), format_figure(y, "mm")} <= figures
    assert "5248" in figures


def test_no_text_of_its_plans_stands_over_another(pages: list[Page]) -> None:
    told = [page for page in pages if re.search("(Floor|Deck) plan|Centres of the pads", page.text)]
    assert len(told) > 2
    for page in told:
        assert covered(list(boxes(page))) == []


def test_lists_for_spreadsheets(layout: Layout) -> None:
    marks = list(csv.reader(io.StringIO(running_marks_csv(layout).decode("utf-8-sig"))))
    floor = floor_of(layout)
    assert {row[1] for row in marks if row[0] == "floor"} == set(floor.marks)
    bought = list(csv.reader(io.StringIO(buying_list_csv(layout).decode("utf-8-sig"))))
    assert {len(row) for row in bought} == {len(bought[0])}
    assert [row[:2] for row in bought if row[0] == "pad"] == [["pad", f"{len(floor.pads)}"]]
    (insulation,) = [row for row in layout.goods if row.kind == "insulation"]
    assert [row[2] for row in bought if row[0] == "insulation"] == [f"{insulation.to_buy:.1f} m²"]


def test_it_is_among_the_files(layout: Layout) -> None:
    files = folder_files(layout, registry())
    assert b"seen from above" in files["wall-5-floor.svg"]
    assert b"seen from below" in files["inside-5-floor.svg"]


@pytest.mark.parametrize(("own", "usual"), [(FloorTexts, Texts), (FloorSheetTexts, SheetTexts)])
def test_each_text_of_a_floor_stands_in_for_one_of_a_wall(own: type, usual: type) -> None:
    names = {field.name for field in dataclasses.fields(own)} - {"fronts"}
    assert names <= {field.name for field in dataclasses.fields(usual)}
    told = ENGLISH.told_of_floor("front-back")
    places = re.compile(r"\{(\w+)\}")
    for name in names:
        before = getattr(ENGLISH if usual is Texts else ENGLISH.sheets, name)
        after = getattr(told if usual is Texts else told.sheets, name)
        assert after != before
        if isinstance(after, str):
            assert set(places.findall(after)) <= set(places.findall(before))
