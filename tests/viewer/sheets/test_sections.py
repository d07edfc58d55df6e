"""Sections at 1:20: what is cut, the heights, what is clear within, and how it stands on the sheet."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest

from soleplate.engine.layout import Layout
from soleplate.engine.shapes import area, bounds
from soleplate.viewer.drawings import CutThrough, SectionDrawing, cuts_through
from soleplate.viewer.paper import Page, PaperName
from soleplate.viewer.sheets.book import book_sheets
from soleplate.viewer.words import ENGLISH
from tests.buildings import building, honey_house, layout_of
from tests.floors import floor_with, on_floor
from tests.roofs import DUO, SHEETS, duo, frame_with, mono
from tests.viewer.sheets.books import pages_of
from tests.viewer.sheets.reading_pdf import boxes
from tests.viewer.sheets.test_job_book import covered

TIES = {"height": 2050, "section": [45, 95]}
WHOLE: dict[str, Any] = {
    "fascia": {"section": [20, 150]}, "barge": {"section": [20, 150]}, "deck": SHEETS, "ties": TIES,
}  # fmt: skip
TAN = math.tan(math.radians(6))
SIDE = 480620.701
"""mm2 of the side of the honey house's rafters (R1, tests/reference/test_roofs.py); outlines are rounded."""
BEAM = {"rule": "beam", "section": [70, 195]}


@pytest.fixture(scope="module")
def honey() -> Layout:
    return layout_of(mono(floor=floor_with()))


@pytest.fixture(scope="module")
def tied() -> Layout:
    return layout_of(duo(frame_with(DUO, **WHOLE), floor=floor_with(runs="left-right")))


def across(layout: Layout) -> CutThrough:
    (found,) = [each for each in cuts_through(layout) if each.kind == "across"]
    return found


def told(layout: Layout, through: CutThrough) -> set[str]:
    made = SectionDrawing(through, layout, 70.0, ENGLISH)
    marks = [mark for at_left in (True, False) for mark in made.heights(at_left=at_left)]
    return {made.height_text(mark) for mark in marks}


def test_the_rafter_is_cut_along_with_its_birdsmouths(honey: Layout) -> None:
    (rafter,) = [shown for shown in across(honey).cut if shown.piece.role == "rafter"]
    assert area(rafter.outline) == pytest.approx(SIDE, rel=2e-6)
    assert len(rafter.outline) > 4


def test_what_runs_square_to_the_section_is_cut_by_its_own_section(honey: Layout) -> None:
    cut = across(honey).cut
    sections = {
        "head plate": 45 * 70, "sole plate": 45 * 70, "rim joist": 45 * 145, "bearer": 95 * 95,
        "fascia": 20 * 170,
    }  # fmt: skip
    for role, sides in sections.items():
        areas = [area(shown.outline) for shown in cut if shown.piece.role == role]
        assert len(areas) == {"bearer": 3}.get(role, 2)
        assert areas == pytest.approx([sides] * len(areas), abs=0.01)


def test_no_two_cut_faces_overlap(honey: Layout, tied: Layout) -> None:
    from shapely.geometry import Polygon

    for layout in (honey, tied):
        for through in cuts_through(layout):
            faces = [Polygon(shown.outline) for shown in through.cut]
            assert len(faces) > 10
            for index, one in enumerate(faces):
                assert all(one.intersection(other).area < 0.1 for other in faces[:index])


def test_the_section_is_clear_of_openings(honey: Layout) -> None:
    """The doors are at 1500 to 3000 of the front, the panes of the back at 1020 to 3480."""
    assert not 1020 < across(honey).at < 3480
    (along,) = [each for each in cuts_through(honey) if each.kind == "along"]
    # the window of the right wall, 900 wide about 1280 from its left end, which is at the front corner's 70
    assert not 900 < along.at < 1800


def test_heights_of_a_mono_pitch_building(honey: Layout) -> None:
    """Plates at 1960 and 1960 + 2630 tan 6; fascia tops of 2064.808 and 2413.754 (R1), 170 deep."""
    high = 1960 + (2700 - 70) * TAN
    assert told(honey, across(honey)) >= {
        "plate 1960", f"plate {high:.0f}", "fascia top 2065", "fascia top 2414", "fascia foot 1895",
        "fascia foot 2244", "floor 0", "pads −258",
    }  # fmt: skip


def test_heights_of_a_duo_pitch_building(tied: Layout) -> None:
    """The ridge board's top is at 3148.978 (R4)."""
    assert told(tied, across(tied)) >= {"plate 2000", "ridge 3149", "under tie 2050", "floor 0", "pads −258"}


def test_what_is_clear_within_and_over_the_birdsmouths(honey: Layout) -> None:
    text = "\n".join(page.text for page in pages_of(honey) if "Section across" in page.text)
    # Under the rafter at the inner faces of both walls, 70 within the outer ones: 7.357 under the line.
    low, high = (1960 - 70 * TAN + r * TAN for r in (70, 2630))
    assert f"{low:.0f} clear" in text
    assert f"{high:.0f} clear" in text
    assert text.count("HAP 138, seat 70 mm") == 2


@pytest.mark.parametrize("side", ["front", "right", "back", "left"])
def test_whichever_side_is_high_the_section_is_the_same(side: str) -> None:
    outline = {"length": 4500, "width": 2700, "through": "front-back"}
    if side in ("left", "right"):
        outline = {"length": 2700, "width": 4500, "through": "left-right"}
    value = honey_house() | {"walls": {}, "outline": outline}
    value["roof"] = value["roof"] | {"high_side": side, "frame": frame_with()}
    layout = layout_of(value)
    through = across(layout)
    assert told(layout, through) >= {"plate 1960", "plate 2236", "fascia top 2065", "fascia top 2414"}
    rafters = [shown for shown in through.cut if shown.piece.role == "rafter"]
    assert [area(each.outline) for each in rafters] == pytest.approx([SIDE], rel=2e-6)


def test_a_tie_is_seen_beyond_and_a_post_too(tied: Layout) -> None:
    assert "tie" in {shown.piece.role for shown in across(tied).beyond}
    beam = layout_of(duo(frame_with(DUO, **WHOLE, ridge=BEAM)))
    assert {"ridge beam", "rafter"} <= {shown.piece.role for shown in across(beam).cut}


def test_what_is_beyond_is_behind_the_plane(honey: Layout, tied: Layout) -> None:
    for layout in (honey, tied):
        for through in cuts_through(layout):
            cut = {shown.piece.mark for shown in through.cut} - {
                shown.piece.mark for shown in through.cut if shown.piece.role == "raked plate"
            }
            assert through.beyond
            assert cut.isdisjoint(shown.piece.mark for shown in through.beyond)


@pytest.mark.parametrize("name", ["mono", "duo", "beam", "floor alone", "inches"])
def test_texts_stay_within_the_frame_and_apart(name: str, honey: Layout, tied: Layout) -> None:
    layout = {
        "mono": lambda: honey,
        "duo": lambda: tied,
        "beam": lambda: layout_of(duo(frame_with(DUO, **WHOLE, ridge=BEAM))),
        "floor alone": lambda: layout_of(on_floor()),
        "inches": lambda: honey.model_copy(update={"units": "in"}),
    }[name]()
    pages = [page for page in pages_of(layout) if "Section a" in page.text]
    assert pages
    for page in pages:
        placed = list(boxes(page))
        assert covered(placed) == []
        assert min(left for left, _, _, _ in placed) >= 20.0
        assert max(right for _, right, _, _ in placed) <= page.width - 10.0
        assert max(bottom for _, _, _, bottom in placed) <= page.height - 10.0


def test_it_stands_on_the_sheet_at_its_scale(honey: Layout) -> None:
    """The lines of what is clear run from the floor to the rafter's underside at 1:20."""
    pages = [page for page in pages_of(honey) if re.search("Section across, part", page.text)]
    assert len(pages) == 2
    for page, clear in zip(pages, (1960 - 70 * TAN + 2630 * TAN, 1960), strict=True):
        assert "1:20" in page.text
        lengths = [line.length for line in page.lines if line.is_upright]
        assert any(abs(length - clear / 20) < 0.05 for length in lengths), clear


def test_a_building_that_fits_is_whole_on_one_sheet() -> None:
    value = on_floor(outline={"length": 2000, "width": 1500}, roof={"form": "level", "height": 2000})
    sheets = book_sheets(layout_of(value), "A4", ENGLISH)
    drawn = [sheet for sheet in sheets if sheet.id.startswith("section-across")]
    assert (drawn[0].id, drawn[0].title, drawn[0].scale) == ("section-across-1", "Section across", "1:20")


def test_heights_and_cuts_reach_as_far_as_the_pieces_do(tied: Layout) -> None:
    made = SectionDrawing(across(tied), tied, 70.0, ENGLISH)
    left, right, low, high = made.extent
    lefts, rights, *_ = zip(*(bounds(shown.outline) for shown in made.through.cut), strict=True)
    assert (left, right) == (min(lefts), max(rights))
    # fascias stand 250 + 20 out of walls 3000 apart over their outer faces
    assert made.stops() in ([-270.0, 0.0, 3000.0, 3270.0], [-3270.0, -3000.0, 0.0, 270.0])
    assert low == pytest.approx(-258.0)
    assert high > 3149


def test_a_building_without_floor_and_roof_has_none() -> None:
    assert cuts_through(layout_of(building())) == []


@pytest.mark.parametrize(
    "value",
    [
        duo(frame_with(DUO, verge={"rule": "flush"}), ridge="front-back"),
        mono(frame_with(spacing={"rule": "over-studs"}, fascia=None, barge=None, deck=None, covering=None)),
        mono(walls={}, outline={"length": 14000, "width": 9000}),
        mono(
            walls={},
            outline={
                "length": 4500, "width": 2700, "through": "front-back",
                "partitions": [{"name": "inner", "runs": "left-right", "at": 1350}],
            },
        ),
    ],
    ids=["flush verges", "no deck", "large", "partition"],
)  # fmt: skip
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_section_fits_its_sheets(value: dict[str, Any], paper: PaperName) -> None:
    sheets = [s for s in book_sheets(layout_of(value), paper, ENGLISH) if s.id.startswith("section-")]
    assert {"section-across-1", "section-along-1"} <= {sheet.id for sheet in sheets}
    width, height = Page(paper, landscape=False).room
    for sheet in sheets:
        for block in sheet.blocks:
            if block["kind"] == "picture":
                assert block["width"] <= width
                assert block["height"] <= height
