"""The cutting list's columns: one table, read by the page, the sheets and the spreadsheet alike."""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest

from soleplate.viewer.lists import cutting
from soleplate.viewer.lists.cutting import COLUMNS, CutColumn, InCsv, OnPage, OnSheet
from soleplate.viewer.lists.spreadsheets import cutting_list_csv
from soleplate.viewer.page.lists import cutting_list
from soleplate.viewer.sheets.lists import cutting_table, rows_of
from soleplate.viewer.words.texts import ENGLISH
from tests.buildings import honey_house, layout_of

ADDED = CutColumn(
    "slope",
    OnPage(50, lambda _: "Slope of it", lambda told: f"page {told.row.display}"),
    OnSheet(50, lambda _: "Slope of it", lambda told: f"sheet {told.row.display}"),
    (InCsv(50, "slope of it", lambda told: f"csv {told.row.display}"),),
)


def test_a_column_more_is_told_everywhere(monkeypatch: pytest.MonkeyPatch) -> None:
    layout = layout_of(honey_house())
    rows = [(row, row.marks) for row in layout.cutting_list]
    shown = [row.display for row in layout.cutting_list]

    def told() -> tuple[str, list[list[str]], dict[str, Any]]:
        text = cutting_list_csv(layout).decode("utf-8-sig")
        sheet = cutting_table(rows, layout, (), ENGLISH, clamped=True)
        return str(cutting_list(layout, ENGLISH)), list(csv.reader(io.StringIO(text))), sheet

    page, table, sheet = told()
    assert "Slope" not in page
    monkeypatch.setattr(cutting, "COLUMNS", (*COLUMNS, ADDED))
    more_page, more_table, more_sheet = told()
    cell = '<td data-field="slope" class="slope" data-label="Slope of it">page '
    assert more_page.count(cell) == len(rows)
    assert [row[:-1] for row in more_table] == table
    assert [row[-1] for row in more_table] == ["slope of it", *(f"csv {each}" for each in shown)]
    assert more_sheet["head"] == [*sheet["head"], "Slope of it"]
    cells = [row[-1] for row in more_sheet["rows"] if not isinstance(row, str)]
    assert cells == [f"sheet {each}" for each in shown]


def test_no_two_columns_have_one_place() -> None:
    for places in (
        [column.page.place for column in COLUMNS if column.page],
        [column.sheet.place for column in COLUMNS if column.sheet],
        [told.place for column in COLUMNS for told in column.csv],
    ):
        assert sorted(places) == list(range(len(places)))


def test_mirror_twins_are_told_everywhere() -> None:
    """The raked plates of the side walls: one row for the building, and none turned of a wall by itself."""
    layout = layout_of(honey_house())
    (row,) = (each for each in layout.cutting_list if each.role == "raked plate")
    assert row.turned is not None
    said = f"cut like the others and turned end for end: {', '.join(row.turned)}"
    assert f'<small data-field="turned">{said}</small>' in str(cutting_list(layout, ENGLISH))
    text = cutting_list_csv(layout).decode("utf-8-sig")
    (told,) = (each for each in csv.DictReader(io.StringIO(text)) if each["role"] == "raked plate")
    assert (told["turned"], told["turned marks"]) == ("end for end", " ".join(row.turned))
    assert said in str(cutting_table([(row, row.marks)], layout, (), ENGLISH, clamped=True))
    for wall in layout.walls:
        own = cutting_table(rows_of(wall, layout), layout, (), ENGLISH, clamped=False)
        assert "turned" not in str(own)
