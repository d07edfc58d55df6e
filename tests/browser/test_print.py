"""The page on paper: a sheet for what holds for all, one for each wall, and lists as lists."""

from __future__ import annotations

import io
import unicodedata
from pathlib import Path

import pdfplumber
import pytest
from playwright.sync_api import Page

from tests.browser.conftest import Watched
from tests.browser.test_editing import ready
from tests.buildings import HONEY_HOUSE, honey_house, layout_of
from tests.serving import serving


def printed(page: Page, paper: str = "A4") -> list[str]:
    """The text of each sheet, its ligatures taken apart."""
    with pdfplumber.open(io.BytesIO(page.pdf(format=paper))) as book:
        texts = [sheet.extract_text(use_text_flow=True) for sheet in book.pages]
    return [" ".join(unicodedata.normalize("NFKC", text).split()) for text in texts]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_a_wall_and_the_lists_take_a_few_sheets(
    watched: Watched, honey_house_address: str, paper: str, scheme: str
) -> None:
    watched.page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    page = ready(watched.open(honey_house_address))
    layout = layout_of(honey_house())
    sheets = printed(page, paper)
    assert 3 <= len(sheets) <= 6
    first, second = sheets[:2]
    assert layout.name in first
    assert "Findings" in first
    assert all(caution in first for caution in layout.cautions)
    assert second.startswith("front")
    assert "front: seen from outside" in second
    assert "Running marks" in second + sheets[2]
    whole = " ".join(sheets)
    assert all(row.display in whole for row in layout.cutting_list)
    assert whole.count("Cut to Count Section") >= 2, "the list's head stands on each of its sheets"


def test_each_wall_begins_a_sheet(watched: Watched, honey_house_address: str) -> None:
    sheets = printed(watched.open(f"{honey_house_address}?all=walls"))
    names = [wall.name for wall in layout_of(honey_house()).walls]
    begun = [next((name for name in names if sheet.startswith(name)), None) for sheet in sheets]
    assert [name for name in begun if name] == names
    assert len(sheets) <= 12


def test_a_long_list_of_boards_stays_a_list(watched: Watched) -> None:
    with serving(Path(HONEY_HOUSE.parent, "hen_house.json")) as server:
        sheets = printed(ready(watched.open(server.address)))
        assert len(sheets) <= 10
        assert watched.complaints == []


@pytest.mark.parametrize(
    ("name", "paper"), [("hen_house", "A4"), ("reading_room", "A4"), ("reading_room", "Letter")]
)
def test_no_table_is_parted_from_what_stands_over_it(watched: Watched, name: str, paper: str) -> None:
    with serving(HONEY_HOUSE.with_name(f"{name}.json")) as server:
        page = ready(watched.open(server.address))
        sheets = printed(page, paper)
        over: list[str] = page.evaluate(
            """() => Array.from(
                document.querySelectorAll(".desk :is(h2, h3, caption, thead, p:has(+ table, + .wide))"),
                (part) => (part.matches("thead")
                    ? Array.from(part.querySelectorAll("th"), (cell) => cell.textContent).join(" ")
                    : part.textContent).replace(/\\s+/g, " ").trim())"""
        )
        assert "Running marks" in over
        assert "Near face at Piece" in over
        assert [(text, sheet[-80:]) for sheet in sheets for text in over if sheet.endswith(text)] == []
        (first,) = (sheet for sheet in sheets if "Running marks" in sheet)
        after = first.partition("Running marks")[2]
        marks = page.locator("table.marks tbody tr").evaluate_all(
            "(all) => all.map((row) => Array.from(row.cells, (cell) => cell.textContent).join(' '))"
        )
        assert marks
        assert [mark for mark in marks if mark not in after] == []


def test_a_card_of_the_cutting_list_has_its_ends_beside_their_name(
    watched: Watched, honey_house_address: str
) -> None:
    watched.page.set_viewport_size({"width": 390, "height": 844})
    page = watched.open(honey_house_address)
    row = page.locator("#cutting-list tbody tr", has_text="bevel").first
    drawn = row.locator("[data-drawn=ends]").bounding_box()
    said = row.locator("[data-field=ends]").bounding_box()
    marks = row.locator("td.marks").bounding_box()
    assert drawn
    assert said
    assert marks
    label = 100.0
    assert drawn["x"] > label
    assert said["x"] > label
    assert said["width"] > 150
    assert marks["x"] < label
