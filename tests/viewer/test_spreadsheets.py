"""Lists for a spreadsheet: no text that a builder wrote can become a formula, and numbers stay numbers."""

from __future__ import annotations

import csv
import io

import pytest

from soleplate.viewer.lists.spreadsheets import running_marks_csv
from tests.buildings import building, layout_of


def first_cell(name: str) -> str:
    """Of the running marks of a wall that is called so, as any reader of RFC 4180 finds it."""
    layout = layout_of(building())
    wall = layout.walls[0].model_copy(update={"name": name})
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


@pytest.mark.parametrize("text", ["-5", "-5.25", "front", "1+1", "a=b", "'front", " front", "12"])
def test_what_is_none_stays_as_it_is(text: str) -> None:
    assert first_cell(text) == text


@pytest.mark.parametrize("text", ["-5-5", "-5.", "-.5", "-5 ", "--5", "-1e5", "-5.2.5"])
def test_what_only_begins_as_a_number_is_a_text(text: str) -> None:
    assert first_cell(text) == f"'{text}"
