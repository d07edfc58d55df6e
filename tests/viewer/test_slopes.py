"""A slope of a roof on drawings, the page and paper: told like a wall, by words of its own."""

from __future__ import annotations

import csv
import io
import math
import re
from typing import Any

import pytest

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import Layout, SlopeOut, WallOut
from soleplate.viewer.drawings import drawn_parts, elevation_svg, tiers, verges
from soleplate.viewer.lists import cutting_rows, running_marks_csv
from soleplate.viewer.page import page_html
from soleplate.viewer.sheets.book import book_sheets
from soleplate.viewer.sheets.elevation import LETTERING, elevation
from soleplate.viewer.sheets.rafter import lying
from soleplate.viewer.sheets.strings import BESIDE
from soleplate.viewer.words import ENGLISH, wall_id
from tests.buildings import layout_of
from tests.roofs import DUO, SHEETS, duo, frame_with, mono
from tests.viewer.sheets.books import pages_of
from tests.viewer.sheets.reading_pdf import boxes
from tests.viewer.sheets.test_job_book import covered

WINDOW: dict[str, Any] = {"name": "light", "at": {"centre": 1500}, "up": 900, "width": 550, "height": 700}
TIES = {"height": 2000, "section": [45, 95]}


@pytest.fixture(scope="module", params=["mono", "duo", "beam"])
def layout(request: pytest.FixtureRequest) -> Layout:
    if request.param == "mono":
        return layout_of(mono(frame_with(openings=[WINDOW])))
    ridge = {"rule": "beam", "section": [70, 195]} if request.param == "beam" else DUO["ridge"]
    return layout_of(duo(frame_with(DUO, ridge=ridge, ties=TIES, deck=SHEETS)))


def test_every_timber_is_drawn_with_its_mark_seen_square_to_the_slope(layout: Layout) -> None:
    for slope in layout.roofs:
        drawing = elevation_svg(layout, slope.name)
        for piece in slope.pieces:
            if piece.is_frame:
                assert f'data-mark="{piece.mark}"' in drawing
        assert f"{slope.name}: seen square to the slope from above" in drawing


def test_rafters_are_drawn_upright_where_they_stand(layout: Layout) -> None:
    for part in drawn_parts(layout)[len(layout.walls) :]:
        rafters = {piece.mark: piece for piece in part.pieces if piece.role == "rafter"}
        near = next(iter(part.marks.values()))
        assert len(near) > 2
        for mark in near:
            outline = rafters[mark.mark].outline
            assert min(u for u, _ in outline) == pytest.approx(mark.at, abs=0.002)
            assert max(u for u, _ in outline) == pytest.approx(mark.at + 45, abs=0.002)
        lowest = min(
            v for piece in part.pieces if piece.role not in ("tie", "post") for _, v in piece.outline
        )
        assert lowest == pytest.approx(0.0, abs=0.002)


def test_the_deck_lies_on_the_drawing_as_far_up_as_the_rafters_do(layout: Layout) -> None:
    for slope, part in zip(layout.roofs, drawn_parts(layout)[len(layout.walls) :], strict=True):
        across, deck = slope.views["slope"], slope.views["deck"]
        foot = sum((a - b) * c for a, b, c in zip(deck.origin, across.origin, across.up, strict=True))
        drawn = {piece.mark: piece for piece in part.pieces}
        for piece in slope.pieces:
            if piece.face is None:
                continue
            shifts = {
                round(b[1] - a[1] - foot, 2)
                for a, b in zip(piece.outline, drawn[piece.mark].outline, strict=True)
            }
            assert len(shifts) == 1
            assert shifts == {lowered(slope, part)}
            assert {a[0] for a in piece.outline} == {b[0] for b in drawn[piece.mark].outline}


def test_the_page_tells_the_rafter_card(layout: Layout) -> None:
    page = page_html(layout)
    for slope in layout.roofs:
        place = wall_id(slope.name)
        assert f'data-wall="{place}" data-member="roof"' in page
        (section,) = re.findall(rf'<section id="{place}".*?</section>', page, re.DOTALL)
        cells = set(re.findall(r"<t[dh][^>]*>([^<]*)</t[dh]>", section))
        card = slope.card
        assert {format_length(card.blank, "mm"), format_length(card.plumb_cut, "mm")} <= cells
        assert set(card.displays) <= cells


def test_rafters_are_marked_from_the_corner_on_the_page_and_on_paper(layout: Layout) -> None:
    page, sheets = page_html(layout), str(book_sheets(layout, "A4", ENGLISH))
    for slope in layout.roofs:
        for plate in slope.marks:
            assert f"{plate}, from the building&#x27;s corner at its left" in page
            assert f"Running marks on the {plate}, from the building's corner at its left" in sheets


def test_the_book_has_a_plan_for_each_slope_and_a_card_for_each_kind_of_rafter(layout: Layout) -> None:
    sheets = book_sheets(layout, "A4", ENGLISH)
    plans = [sheet.of for sheet in sheets if sheet.document_type == "Roof plan"]
    assert set(plans) == {slope.name for slope in layout.roofs}
    assert [sheet.document_type for sheet in sheets].count("Rafter card") == 1


def test_the_plates_are_marked_on_the_page_on_paper_and_in_the_spreadsheet(layout: Layout) -> None:
    page = page_html(layout)
    rows = list(csv.DictReader(io.StringIO(running_marks_csv(layout).decode("utf-8-sig"))))
    text = " ".join(sheet.text.replace("\n", " ") for sheet in pages_of(layout))
    for slope in layout.roofs:
        assert len(slope.marks) == (2 if len(layout.roofs) == 1 else 1)
        (section,) = re.findall(rf'<section id="{wall_id(slope.name)}".*?</section>', page, re.DOTALL)
        for plate, marks in slope.marks.items():
            assert f"{plate}, from the building&#x27;s corner at its left" in section.replace("'", "&#x27;")
            assert f"Running marks on the {plate}, from the building's corner at its left" in text
            told = [
                (row["mark"], row["at"]) for row in rows if (row["wall"], row["plate"]) == (slope.name, plate)
            ]
            assert told == [(mark.mark, mark.display) for mark in marks]


def test_plans_of_floor_and_roof_have_no_text_over_another_or_beside_the_sheet(layout: Layout) -> None:
    pages = [page for page in pages_of(layout) if re.search("Roof plan|Deck and battens", page.text)]
    assert len(pages) > len(layout.roofs)
    for page in pages:
        placed = list(boxes(page))
        assert covered(placed) == []
        assert min(left for left, _, _, _ in placed) >= 20.0
        assert max(right for _, right, _, _ in placed) <= page.width - 10.0


def test_a_roof_plan_is_drawn_to_scale_over_its_verges(layout: Layout) -> None:
    """The fascia reaches over both verges: a plan's sheets are as wide as it is, at the scale told."""
    for part in drawn_parts(layout)[len(layout.walls) :]:
        drawn = elevation(part, layout, cutting_rows(layout), "A4", ENGLISH)
        left, right = verges(part)
        # A verge of 250, and a barge board of 20 on the mono-pitch roof.
        assert left == right == pytest.approx(250 + 20 * (len(layout.roofs) == 1))
        wide = part.length + left + right
        beside = 2 * BESIDE * LETTERING * drawn.scale
        shown = sum(picture.width * drawn.scale - beside for _, picture in drawn.parts)
        assert shown == pytest.approx(wide, abs=0.1)


def test_battens_are_told_with_the_deck_that_they_lie_on() -> None:
    value = mono(frame_with(battens={"section": [25, 50], "largest_gauge": 350}))
    part = drawn_parts(layout_of(value))[-1]
    deck, battens = tiers(part, "outside")
    assert (deck.role, deck.number, battens.role, battens.number) == ("sheet", 1, "batten", 2)
    assert len(battens.pieces) == 11
    assert all(piece.role != "batten" for piece in part.pieces if piece.is_frame)


def test_the_card_shows_a_birdsmouth_with_its_figures(layout: Layout) -> None:
    (page,) = [page for page in pages_of(layout) if "Heel, plumb" in page.text]
    card = layout.roofs[0].card
    for told in (f"{card.hap:.0f} plumb", f"seat {card.seat:.0f}", f"heel {card.heel:.0f}", "1:5"):
        assert told in page.text
    assert covered(list(boxes(page))) == []
    # Its faces at 1:5: where the upper edge lies level the seat leans by the pitch.
    seats = [line for line in page.lines if math.isclose(line.length, card.seat / 5, abs_tol=0.01)]
    falls = [abs(line.y1 - line.y0) / line.length for line in seats]
    assert any(math.isclose(fall, math.sin(math.radians(card.pitch)), abs_tol=0.002) for fall in falls)


def test_a_rafter_on_its_card_has_its_upper_edge_level(layout: Layout) -> None:
    slope = layout.roofs[0]
    outline = lying(slope)
    edge = [u for u, v in outline if abs(v) < 0.01]
    assert (min(edge), max(edge)) == pytest.approx((0.0, slope.card.marks[-1]), abs=0.01)
    assert min(v for _, v in outline) == pytest.approx(-slope_depth(layout), abs=0.01)
    assert max(u for u, _ in outline) - min(u for u, _ in outline) == pytest.approx(
        slope.card.blank, abs=0.01
    )


def lowered(slope: SlopeOut, part: WallOut) -> float:
    """How much further down the drawing a place is than the slope's own plane has it, by its top line."""
    return round(part.top_line[0][1] - top_of_rafters(slope), 2)


def top_of_rafters(slope: SlopeOut) -> float:
    """How far up the slope its rafters reach, from over the eaves wall's outer face."""
    low = slope.card.marks[1]
    return slope.card.marks[-1] - low


def slope_depth(layout: Layout) -> float:
    return next(p.section[1] for p in layout.roofs[0].pieces if p.role == "rafter")
