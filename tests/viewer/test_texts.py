"""Another language is one more set of texts: no name that is shown stands anywhere else."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from typing import Any

import pytest

from soleplate.engine.layout import Layout
from soleplate.engine.shapes import ROLES
from soleplate.viewer.drawings.tones import TONES
from soleplate.viewer.page.page import Served, page_html, served_page_html
from soleplate.viewer.page.view import PageView
from soleplate.viewer.paper.options import SheetOptions
from soleplate.viewer.sheets.book import job_book
from soleplate.viewer.words.texts import ENGLISH
from tests.buildings import registry
from tests.viewer.sheets.books import NAMES, OTHERS, example

LOUD = replace(
    ENGLISH,
    role_names={name: said.upper() for name, said in ENGLISH.role_names.items()},
    opening_kinds={name: said.upper() for name, said in ENGLISH.opening_kinds.items()},
    export_names={name: said.upper() for name, said in ENGLISH.export_names.items()},
    schema={"Every sheet in one PDF: plan and cautions, walls, lists, saw plan, templates.": "ALL OF IT"},
)

EXAMPLES = sorted((*NAMES, *OTHERS))


def rows_of(value: Any) -> list[list[Any]]:
    """The rows of all tables of a job book, wherever they are in it."""
    if isinstance(value, dict):
        own = value["rows"] if value.get("kind") == "table" else []
        return [row for row in own if isinstance(row, list)] + rows_of(list(value.values()))
    return [row for each in value for row in rows_of(each)] if isinstance(value, list) else []


def names_of(layout: Layout) -> set[str]:
    """The roles and plates of a layout."""
    return {piece.role for wall in layout.walls for piece in wall.pieces} | {
        plate for wall in layout.walls for plate in wall.marks
    }


@pytest.mark.parametrize("name", EXAMPLES)
def test_roles_and_kinds_of_openings_are_called_as_the_texts_say(name: str) -> None:
    layout = example(name)
    page = page_html(layout, LOUD)
    own = "|".join(sorted(names_of(layout)))
    assert not re.findall(rf"<title>[^<]*, (?:{own}),", page)
    assert not re.findall(rf"<caption>(?:{own}),", page)
    cells = re.findall(r'<td[^>]* data-field="role"[^>]*>([^<]*)</td>', page)
    assert cells == [row.role.upper() for row in layout.cutting_list]
    kinds = {opening.kind for wall in layout.walls for opening in wall.openings}
    for kind in kinds:
        assert f": {kind.upper()}, " in page
        assert f">{kind}</td>" not in page


def test_a_job_book_calls_them_so_too() -> None:
    layout = example("bare_honey_house")
    book = job_book(layout, SheetOptions(), LOUD)
    cells = {cell for row in rows_of(book["sheets"]) for cell in row if isinstance(cell, str)}
    roles = {row.role for row in layout.cutting_list}
    assert {role.upper() for role in roles} <= cells
    assert not roles & cells
    told = json.dumps(book)
    assert "Running marks on the SOLE PLATE" in told
    assert "doors (DOOR)" in told


def test_exports_are_called_as_the_texts_say() -> None:
    sentence = "Every sheet in one PDF: plan and cautions, walls, lists, saw plan, templates."
    served = Served("", exports={"job-book": sentence, "own-list": "Of a plugin."})
    page = served_page_html(None, served, PageView(texts=LOUD))
    assert ">JOB BOOK</button> <span>ALL OF IT</span>" in page
    assert ">own list</button> <span>Of a plugin.</span>" in page


def test_all_that_ships_has_a_name() -> None:
    assert {*ROLES, *TONES} <= set(ENGLISH.role_names)
    for name in EXAMPLES:
        assert names_of(example(name)) <= set(ENGLISH.role_names)
    assert {exporter.name for _, exporter in registry().exporters} == set(ENGLISH.export_names)
