"""Panels as they are drawn and listed; a wall in one piece shows nothing of them."""

from __future__ import annotations

import csv
import io
import re
from xml.etree import ElementTree

import pytest

from soleplate.engine.layout import Layout
from soleplate.viewer.drawings import elevation_svg, plan_svg
from soleplate.viewer.drawings.face import Side
from soleplate.viewer.lists import cutting_rows
from soleplate.viewer.lists.spreadsheets import cutting_list_csv, running_marks_csv
from soleplate.viewer.page import page_html
from soleplate.viewer.sheets.assembly import assembly
from soleplate.viewer.sheets.elevation import elevation
from soleplate.viewer.sheets.inside import from_inside
from soleplate.viewer.sheets.lists import cutting_table, rows_of
from soleplate.viewer.sheets.parts import parted
from soleplate.viewer.sheets.wall import marks_head
from soleplate.viewer.words import ENGLISH
from tests.buildings import layout_of
from tests.engine.test_panels import one_wall

SVG = "{http://www.w3.org/2000/svg}"


def two_panels() -> Layout:
    """A wall of 4500 in two panels of 2000 and 2500."""
    value = one_wall(4500, {"at": [2000]}, defaults={"top_plates": {"rule": "double"}})
    value["defaults"]["studs"] = {"rule": "at", "marks": [500, 1000, 1500, 2500, 3000, 3500, 4000]}
    return layout_of(value)


def chain_lines(drawing: str) -> list[tuple[float, float]]:
    """Where the chain lines of a drawing stand, from x to x."""
    lines = ElementTree.fromstring(drawing).iter(f"{SVG}line")
    return [
        (float(line.attrib["x1"]), float(line.attrib["x2"]))
        for line in lines
        if "stroke-dasharray" in line.attrib
    ]


@pytest.mark.parametrize(("side", "x"), [("outside", 2000.0), ("inside", 2500.0)])
def test_a_line_stands_at_the_break_and_a_number_over_each_panel(side: Side, x: float) -> None:
    drawing = elevation_svg(two_panels(), "wall", side=side)
    assert chain_lines(drawing) == [(x, x)]
    names = {
        text.text: float(text.attrib["x"]) for text in ElementTree.fromstring(drawing).iter(f"{SVG}text")
    }
    first, second = names["panel 1"], names["panel 2"]
    assert (first < x < second) if side == "outside" else (second < x < first)
    assert {"2000", "2500", "4500"} <= names.keys()


def test_a_wall_in_one_piece_is_drawn_without_any() -> None:
    layout = layout_of(one_wall(4500, None))
    assert chain_lines(elevation_svg(layout, "wall")) == []
    assert "panel" not in elevation_svg(layout, "wall")
    assert "anel" not in cutting_list_csv(layout).decode()
    assert "panels" not in page_html(layout, files="")


def test_the_plan_has_a_stroke_at_the_break() -> None:
    whole, broken = (
        plan_svg(layout).count("<polyline") for layout in (layout_of(one_wall(4500, None)), two_panels())
    )
    assert broken == whole + 1


def test_the_page_tells_each_panel_and_whose_marks_are_told() -> None:
    page = page_html(two_panels(), files="")
    table = page.split('class="panels"')[1].split("</table>")[0]
    assert re.findall(r">([^<>]+)</(?:th|td)>", table.split("<tbody>")[1])[:3] == ["1", "0 mm", "2000 mm"]
    assert "of panel 2, 2000 mm along, from its own left end" in page


def test_the_cutting_list_names_the_panel_of_each_mark() -> None:
    layout = two_panels()
    head, *rows = csv.reader(io.StringIO(cutting_list_csv(layout).decode("utf-8-sig")))
    assert head[-1] == "panels"
    panel_of = {piece.mark: piece.panel for piece in layout.pieces}
    told = {
        mark: int(number)
        for row in rows
        for number, marks in re.findall(r"wall (\d): ([^;]+)", row[-1])
        for mark in marks.split()
    }
    assert told == {mark: panel for mark, panel in panel_of.items() if panel is not None}
    assert None in panel_of.values()
    wall = layout.walls[0]
    table = cutting_table(rows_of(wall, layout), layout, (), ENGLISH, clamped=False)
    marks = [row[-1] for row in table["rows"] if not isinstance(row, str)]
    assert sorted(re.findall(r"W\d+", " ".join(marks))) == sorted(panel_of)
    assert any(re.search(r"wall 1: W\d+ .*; wall 2: W\d+", cell) for cell in marks)


def test_a_sheet_tells_how_each_panel_is_square() -> None:
    layout = two_panels()
    told = [block["text"] for block in assembly(layout.walls[0], layout, ENGLISH)[0]]
    # The upper plate goes on once both stand: 2000 and 2500 by 2400 - 45 (Pythagoras).
    assert told[0].startswith("Panel 1: ")
    assert told[0].endswith("are 3090 mm.")
    assert told[1].startswith("Panel 2: ")
    assert told[1].endswith("are 3435 mm.")


def test_sheets_are_parted_where_panels_meet() -> None:
    wall = two_panels().walls[0]
    assert [part.left for part in parted(wall, 3000.0)] == [0.0, 2000.0]
    assert [part.left for part in parted(layout_of(one_wall(4500, None)).walls[0], 3000.0)][1] != 2000.0


def test_a_sheet_shows_the_break_as_the_page_does() -> None:
    layout = two_panels()
    wall = layout.walls[0]
    drawn = elevation(wall, layout, cutting_rows(layout), "A4", ENGLISH)
    text = "".join(picture.svg for _, picture in drawn.parts)
    assert "panel 1" in text
    assert "panel 2" in text
    heads = [marks_head(length, ENGLISH) for length in wall.plate_lengths]
    assert "Running marks on sole plate W2 of panel 2, 2000 mm along, from its own left end" in heads


def test_from_inside_panels_lie_the_other_way_round() -> None:
    panels = from_inside(two_panels().walls[0]).panels or ()
    assert [(panel.number, panel.start, panel.length) for panel in panels] == [
        (2, 0.0, 2500.0),
        (1, 2500.0, 2000.0),
    ]


def test_running_marks_of_a_spreadsheet_name_the_panel() -> None:
    layout = two_panels()
    head, *rows = csv.reader(io.StringIO(running_marks_csv(layout).decode("utf-8-sig")))
    assert head[-1] == "panel"
    assert [row[-1] for row in rows] == [
        f"{length.panel or ''}" for length in layout.walls[0].plate_lengths for _ in length.marks
    ]
    assert {row[-1] for row in rows} >= {"1", "2"}
    whole = running_marks_csv(layout_of(one_wall(4500, None)))
    assert "panel" not in whole.decode()


def test_a_piece_on_the_page_says_its_panel() -> None:
    layout = two_panels()
    page = page_html(layout, files="")
    places = dict(re.findall(r'data-mark="([^"]+)"[^>]*data-place="([^"]+)"', page))
    for piece in layout.pieces:
        said = re.search(r", in panel (\d)$", places[piece.mark])
        assert (said and int(said[1])) == piece.panel
