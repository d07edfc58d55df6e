"""What covers a slope: how its sheets and strips lie, and the plan of it on the page, in files, on paper."""

from __future__ import annotations

import itertools
import re
from typing import Any

import pytest

from soleplate.api.written import folder_files
from soleplate.engine.layout import CoveringOut, Layout, SlopeOut
from soleplate.viewer.drawings import covering_svg
from soleplate.viewer.lists import covering_said
from soleplate.viewer.page import page_html
from soleplate.viewer.words import ENGLISH, wall_id
from tests.buildings import layout_of, registry
from tests.roofs import frame_with, mono, slope_of
from tests.viewer.sheets.books import pages_of
from tests.viewer.sheets.reading_pdf import boxes

SHEET: dict[str, Any] = {"kind": "sheet", "width": 1060, "cover": 1000}
ROLL: dict[str, Any] = {"kind": "roll", "width": 1000, "lap": 75}
BATTENS: dict[str, Any] = {"section": [25, 50], "largest_gauge": 350}
WINDOW: dict[str, Any] = {"name": "light", "at": {"centre": 1500}, "up": 900, "width": 550, "height": 700}
ALONG, UP = 5040.0, 3358.398
"""The honey house's deck: over barge boards and fascias (tests/reference/test_roofs.py)."""
BELOW = -(300 + 20) / 0.9945218954
"""Of its lower edge, down the slope at 6 degrees from over the wall's outer face."""


def covered(**changes: Any) -> tuple[Layout, SlopeOut, CoveringOut]:
    layout = layout_of(mono(frame_with(**changes)))
    slope = slope_of(layout)
    assert slope.covering is not None
    return layout, slope, slope.covering


@pytest.mark.parametrize("start", ["left", "right"])
def test_sheets_lie_from_the_corner_at_which_they_begin(start: str) -> None:
    _, _, covering = covered(covering=SHEET | {"start": start})
    # 4 sheets add 1000 each, so that the fifth covers the last 1040 of 5040.
    lefts = [number * 1000.0 - 270 for number in range(5)]
    rights = [*(left + 1060 for left in lefts[:4]), ALONG - 270]
    if start == "right":
        lefts, rights = [4500 - x for x in rights], [4500 - x for x in lefts]
    assert [part.left for part in covering.parts] == pytest.approx(lefts, abs=0.001)
    assert [part.right for part in covering.parts] == pytest.approx(rights, abs=0.001)
    assert [part.cut_to for part in covering.parts] == [None] * 4 + [1040.0]
    assert covering.lap == 60.0


def test_strips_lie_from_the_eaves_up() -> None:
    _, _, covering = covered(covering=ROLL)
    bottoms = [BELOW + number * 925 for number in range(4)]
    assert [part.bottom for part in covering.parts] == pytest.approx(bottoms, abs=0.001)
    assert covering.parts[-1].cut_to == pytest.approx(UP - 3 * 925, abs=0.001)
    for one, other in itertools.pairwise(covering.parts):
        assert one.top - other.bottom == pytest.approx(75, abs=0.001)


@pytest.mark.parametrize("kind", [SHEET, ROLL], ids=["sheet", "roll"])
def test_an_overhang_is_past_the_lower_edge_alone(kind: dict[str, Any]) -> None:
    _, slope, plain = covered(covering=kind)
    _, _, over = covered(covering=kind | {"overhang": 50})
    assert over.parts[0].bottom == pytest.approx(plain.parts[0].bottom - 50, abs=0.001)
    assert over.parts[-1].top == plain.parts[-1].top == pytest.approx(BELOW + UP, abs=0.001)
    said = covering_said(slope, "mm", ENGLISH)
    assert "Its lower edge is flush with that of what it lies on." in said
    longer = 50 if kind is SHEET else 0
    assert over.piece_length == pytest.approx(plain.piece_length + longer, abs=0.002)


def test_battens_are_told_from_the_lower_edge() -> None:
    _, slope, covering = covered(covering=SHEET | {"overhang": 50}, battens=BATTENS)
    assert covering.first_batten == pytest.approx(BELOW + 25, abs=0.001)
    said = covering_said(slope, "mm", ENGLISH)
    assert (
        "Battens in 11 rows: the middle of the lowest 75 mm up from the covering's lower edge, the others"
        " 331 mm from centre to centre."
    ) in said


def test_the_plan_is_on_the_page_and_among_the_files() -> None:
    layout, slope, covering = covered(covering=SHEET, openings=[WINDOW], battens=BATTENS)
    drawing = covering_svg(layout, slope)
    texts = re.findall(r"<text[^>]*>([^<]*)</text>", drawing)
    for number in range(1, 5):
        assert f"{number}" in texts
    assert "5: cut to 1040" in texts
    assert {"0", "1000", "2000", "3000", "4000", "5040", "start"} <= set(texts)
    assert len(re.findall(r'fill-opacity="0.55"', drawing)) == len(covering.parts)
    page = page_html(layout)
    (section,) = re.findall(rf'<section id="{wall_id(slope.name)}".*?</section>', page, re.DOTALL)
    assert "Covering of roof back" in section
    assert 'class="covering"' in section
    assert folder_files(layout, registry())["covering-roof-back.svg"] == drawing.encode()


def test_no_figure_stands_on_a_window() -> None:
    layout, slope, _ = covered(covering=SHEET, openings=[WINDOW | {"at": {"left": 900}, "width": 1000}])
    drawing = covering_svg(layout, slope)
    for x, y, text in re.findall(r'<text x="([^"]+)" y="([^"]+)"[^>]*>([^<]*)</text>', drawing):
        inside = 900 < float(x) < 1900 and -1600 < float(y) < -900
        assert not inside, text


def test_a_sheet_of_the_book_tells_it() -> None:
    layout, _, _ = covered(covering=SHEET, openings=[WINDOW], battens=BATTENS)
    (page,) = [page for page in pages_of(layout) if "Covering of roof back" in page.text]
    assert "5: cut to 1040" in page.text
    for x0, x1, y0, y1 in boxes(page):
        assert 20.0 < x0 < x1 < page.width - 10.0
        assert 10.0 < y0 < y1 < page.height - 10.0


def test_nothing_is_told_of_a_roof_that_is_not_covered() -> None:
    layout = layout_of(mono(frame_with(covering=None)))
    slope = slope_of(layout)
    assert covering_said(slope, "mm", ENGLISH) == []
    assert "Covering of" not in page_html(layout)
    with pytest.raises(ValueError, match="has no covering"):
        covering_svg(layout, slope)
