"""Lists for a spreadsheet: no text that a builder wrote can become a formula, and numbers stay numbers."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import replace

import pytest

from soleplate.engine.layout import Layout
from soleplate.viewer.lists.buying import to_buy
from soleplate.viewer.lists.spreadsheets import buying_list_csv, cutting_list_csv, running_marks_csv
from soleplate.viewer.words.texts import ENGLISH
from tests.buildings import building, honey_house, layout_of


def first_cell(name: str) -> str:
    """Of the running marks of a wall that is called so, as any reader of RFC 4180 finds it."""
    layout = layout_of(building())
    wall = replace(layout.walls[0], name=name)
    text = running_marks_csv(layout.model_copy(update={"walls": (wall,)})).decode("utf-8-sig")
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert len({len(row) for row in rows}) == 1
    return rows[1][0]


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n"])
@pytest.mark.parametrize("rest", ["1+1", 'HYPERLINK("x","y")', "front", "", "1,5"])
def test_what_would_be_a_formula_is_a_text(start: str, rest: str) -> None:
    """The starts that OWASP names under CSV injection."""
    found = first_cell(start + rest)
    assert found.startswith("'")
    assert found[2:] == rest


@pytest.mark.parametrize(
    "text",
    [
        "-5",
        "-5.25",
        "front",
        "1+1",
        "a=b",
        "'front",
        " front",
        "12",
        "-20 mm",
        "-13/16 in",
        "-1 ft 3 3/4 in",
        "-2 ft",
    ],
)
def test_what_is_none_stays_as_it_is(text: str) -> None:
    assert first_cell(text) == text


@pytest.mark.parametrize(
    "text",
    ["-5-5", "-5.", "-.5", "-5 ", "--5", "-1e5", "-5.2.5", "-20 mm+1", "-1 ft+1", "-", "- in", "-2 ft in"],
)
def test_what_only_begins_as_a_number_is_a_text(text: str) -> None:
    assert first_cell(text) == f"'{text}"


@pytest.mark.parametrize(("write", "name"), [(cutting_list_csv, "cut to"), (buying_list_csv, "length")])
def test_strips_of_sheet_are_told_as_such(write: Callable[[Layout], bytes], name: str) -> None:
    """The honey house packs its lintel by 70 - 45 = 25 mm, over 1500 and two trimmers of 45."""
    text = write(layout_of(honey_house())).decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text, newline="")))
    (strip,) = [row for row in rows if row["grade"] == ENGLISH.strip_of_sheet]
    assert (strip["breadth mm"], strip["depth mm"], strip["material"]) == ("25", "145", "plywood")
    assert strip[name] == "1590 mm"


def test_strips_of_sheet_are_on_the_list_of_what_to_buy() -> None:
    (strip,) = [line for line in to_buy(layout_of(honey_house()), ENGLISH) if "strip" in line.timber]
    assert strip.timber == "25 × 145 mm plywood, strip of sheet"
    assert (strip.lengths, strip.remark) == (
        "run of 1590 mm",
        "sawn from a sheet this thick; longest strip 1590 mm",
    )
