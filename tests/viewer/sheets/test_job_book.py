"""The job book, measured on its PDF."""

from __future__ import annotations

import io
import itertools
import re
from collections import Counter

import pdfplumber
import pytest
from pdfminer.pdftypes import resolve1

from soleplate.engine.building_file import format_figure
from soleplate.engine.layout import FindingOut, Level
from soleplate.viewer.lists.cutting import cutting_rows
from soleplate.viewer.paper.options import SheetOptions
from soleplate.viewer.paper.sizes import CAPITALS, LEAST_LETTERING, SCALES, PaperName
from soleplate.viewer.sheets.book import book_sheets, identification, job_book
from soleplate.viewer.sheets.elevation import elevation
from soleplate.viewer.sheets.typeset import pdf, svgs
from soleplate.viewer.words.texts import ENGLISH
from tests.buildings import building, layout_of
from tests.viewer.sample import HOSTILE, hostile_building, one_piece
from tests.viewer.sheets.books import NAMES, example, example_pages, pages_of
from tests.viewer.sheets.reading_pdf import Page, boxes

PAPERS: tuple[PaperName, ...] = ("A4", "Letter")
SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
"""mm (ISO 216; ASME Y14.1)."""

BOOKS = [(name, paper) for name in NAMES for paper in PAPERS]


def words(page: Page) -> str:
    """The page's text with every run of white space as one space, and words that may be broken whole."""
    return re.sub(r"\s+", " ", page.text.replace("\u200b", ""))


@pytest.mark.parametrize(("name", "paper"), BOOKS)
def test_every_page_is_the_paper_asked_for(name: str, paper: PaperName) -> None:
    for page in example_pages(name, paper):
        short, long = sorted((page.width, page.height))
        assert (short, long) == pytest.approx(SIZES[paper], abs=0.01)


def test_paper_goes_by_the_units_unless_asked_for() -> None:
    assert sorted(
        (example_pages("bare_honey_house")[0].width, example_pages("bare_honey_house")[0].height)
    ) == (pytest.approx(SIZES["A4"], abs=0.01))
    studio = example_pages("studio_in_inches")[0]
    assert sorted((studio.width, studio.height)) == pytest.approx(SIZES["Letter"], abs=0.01)


def test_page_count() -> None:
    """Cover, elevation, cuts, cutting list, buying list."""
    assert len(pages_of(one_piece("shed"))) == 5


@pytest.mark.parametrize(("name", "paper"), BOOKS)
def test_the_cover_tells_where_each_sheet_is(name: str, paper: PaperName) -> None:
    pages, layout = example_pages(name, paper), example(name)
    cover = words(pages[0])
    for title in (*(wall.name for wall in layout.walls), "Cutting list", "Buying list"):
        block = re.compile(rf"{re.escape(f'{layout.name} · {title}')}(, part \d of \d)? Document")
        there = [number for number, page in enumerate(pages, 1) if block.search(words(page))]
        assert there == list(range(there[0], there[-1] + 1))
        first, last = there[0], there[-1]
        told = f"{first}–{last}" if last > first + 1 else ", ".join(map(str, there))
        assert re.search(rf"{re.escape(title)} {told} (1:|–)", cover)


@pytest.mark.parametrize(("name", "paper"), BOOKS)
def test_every_page_says_what_it_is_about(name: str, paper: PaperName) -> None:
    layout, pages = example(name), example_pages(name, paper)
    titles = [sheet.title for sheet in book_sheets(layout, paper, ENGLISH)]
    told = []
    for page in pages:
        (size,) = {run.size for run in page.runs if run.y < 21.0 and run.size > 6.0}
        assert size == pytest.approx(6.4)
        flows = any(f"{title}, continued" in words(page) for title in titles)
        assert flows or any(title in words(page) for title in titles)
        told.append(flows)
    assert told.count(False) == len(titles)


def test_rows_stand_closer_where_that_saves_a_sheet() -> None:
    """The hen house's right wall has its cuts on one sheet; the reading room's list takes more either way."""
    pages = example_pages("hen_house")
    assert not any("right, continued" in words(page) for page in pages)
    (cuts,) = [page for page in pages if "To cut for right" in words(page)]
    cutting = next(page for page in example_pages("reading_room") if "Cutting list, continued" in words(page))
    assert least_pitch(cuts) < 5.0 < least_pitch(cutting)


def least_pitch(page: Page) -> float:
    """Between the rules under a table's rows that are nearest to each other, mm."""
    rules = sorted({round(line.y0, 2) for line in page.lines if line.is_level and line.length > 5.0})
    return min(below - above for above, below in itertools.pairwise(rules) if below - above > 3.0)


def test_the_saw_plan_tells_every_cut() -> None:
    layout = example("l_shaped_workshop")
    assert layout.saw_plan is not None
    pages = [words(page) for page in example_pages("l_shaped_workshop", "A4")]
    text = " ".join(page for page in pages if "Saw plan, cut by cut" in page)
    told = set(re.findall(r"[A-Z]+[0-9]+", text))
    for length in layout.saw_plan.lengths:
        assert f"{length.stock_length:.0f} mm" in text
        assert {cut.mark for cut in length.cuts} <= told


@pytest.mark.parametrize(("name", "paper"), BOOKS)
def test_sheets_are_numbered_and_bear_the_title_block(name: str, paper: PaperName) -> None:
    pages, layout = example_pages(name, paper), example(name)
    for number, page in enumerate(pages, 1):
        text = words(page)
        assert f"{number} / {len(pages)}" in text
        for field in (
            "Legal owner", "Title", "Document type", "Created by", "Approved by", "Identification", "Rev.",
            "Date of issue", "Scale", "Sheet",
        ):  # fmt: skip
            assert field in text
        assert layout.name in text
        assert identification(layout) in text
        assert "local codes, and a licensed professional where one is needed, decide" in text
        assert "Saw, lifting, height" in text


@pytest.mark.parametrize("name", NAMES)
def test_the_cover_says_all_cautions(name: str) -> None:
    cover = words(example_pages(name, "A4")[0])
    for caution in example(name).cautions:
        assert caution in cover


@pytest.mark.parametrize(("name", "paper"), BOOKS)
def test_capitals_are_at_least_as_high_as_the_standard_asks(name: str, paper: PaperName) -> None:
    for page in example_pages(name, paper):
        assert page.runs
        for run in page.runs:
            assert run.size * capitals_of(run.font) >= LEAST_LETTERING


def capitals_of(font: str) -> float:
    """The height of a capital letter, of a text size of 1."""
    return next(share for name, share in CAPITALS.items() if name.replace(" ", "") in font)


@pytest.mark.parametrize(("name", "paper"), BOOKS)
def test_fonts_are_those_within_the_typesetter(name: str, paper: PaperName) -> None:
    for page in example_pages(name, paper):
        for font in page.fonts:
            assert re.fullmatch(r"[A-Z]{6}\+(DejaVuSansMono|LibertinusSerif)(-[A-Za-z-]+)?", font)


@pytest.mark.parametrize(("name", "paper"), BOOKS)
def test_texts_stay_within_the_frame_and_apart(name: str, paper: PaperName) -> None:
    for number, page in enumerate(example_pages(name, paper), 1):
        placed = list(boxes(page))
        for left, right, top, bottom in placed:
            assert left >= 20.0
            assert right <= page.width - 10.0
            assert top >= 10.0
            assert bottom <= page.height - 10.0
        assert covered(placed) == [], f"page {number}"


def covered(placed: list[tuple[float, float, float, float]]) -> list[tuple[float, float]]:
    """Where two texts share more than a hair's breadth, mm."""
    found = []
    for index, (left, right, top, bottom) in enumerate(placed):
        for left2, right2, top2, bottom2 in placed[:index]:
            wide, tall = min(right, right2) - max(left, left2), min(bottom, bottom2) - max(top, top2)
            if wide > 0.35 and tall > 0.35:
                found.append((max(left, left2), max(top, top2)))
    return found


def test_texts_over_each_other_would_be_found() -> None:
    assert covered([(0.0, 10.0, 0.0, 3.0), (9.0, 12.0, 2.0, 5.0)]) == [(9.0, 2.0)]


@pytest.mark.parametrize(("name", "paper"), BOOKS)
def test_lines_stay_on_the_paper(name: str, paper: PaperName) -> None:
    for page in example_pages(name, paper):
        for line in page.lines:
            assert min(line.x0, line.x1) >= -0.01
            assert max(line.x0, line.x1) <= page.width + 0.01
            assert min(line.y0, line.y1) >= -0.01
            assert max(line.y0, line.y1) <= page.height + 0.01


@pytest.mark.parametrize(("name", "paper"), BOOKS)
def test_every_mark_and_length_is_told(name: str, paper: PaperName) -> None:
    layout = example(name)
    text = " ".join(words(page) for page in example_pages(name, paper))
    told = set(re.findall(r"[A-Z]+[0-9]+", text))
    for wall in layout.walls:
        assert {piece.mark for piece in wall.pieces} <= told
        for length in wall.plate_lengths:
            for mark in length.marks:
                assert f"{mark.mark} {format_figure(mark.at, layout.units)}" in text.replace("  ", " ")
    for row in layout.cutting_list:
        assert row.display in text


@pytest.mark.parametrize(("name", "paper"), BOOKS)
def test_walls_are_drawn_at_the_scale_that_the_sheet_tells(name: str, paper: PaperName) -> None:
    layout = example(name)
    pages = example_pages(name, paper)
    for wall in layout.walls:
        drawn = elevation(wall, layout, cutting_rows(layout), paper, ENGLISH)
        assert drawn.scale in SCALES
        told = f"Seen from outside. {wall.display} long, {len(wall.pieces)} pieces"
        block = f"{layout.name} · {wall.name}"
        sheets = [page for page in pages if told in words(page) and block in words(page)]
        for (part, _), page in zip(drawn.parts, sheets, strict=True):
            assert f"1:{drawn.scale}" in page.text
            long = (part.right - part.left) / drawn.scale
            lengths = [line.length for line in page.lines if line.is_level]
            assert any(length == pytest.approx(long, abs=0.01) for length in lengths)


@pytest.mark.parametrize(("name", "paper"), BOOKS)
def test_no_larger_standard_scale_would_fit(name: str, paper: PaperName) -> None:
    layout = example(name)
    for wall in layout.walls:
        drawn = elevation(wall, layout, cutting_rows(layout), paper, ENGLISH)
        larger = max(scale for scale in SCALES if scale < drawn.scale)
        height = max(z for _, z in wall.top_line) / larger
        short, long = SIZES[paper]
        fits_upright = wall.length / larger <= short - 36 - 17 and height <= long - 150
        fits_across = wall.length / larger <= long - 36 - 17 and height <= short - 110
        assert not fits_upright
        assert not fits_across


@pytest.mark.parametrize(
    ("name", "paper"), [(n, p) for n in ("bare_honey_house", "studio_in_inches") for p in PAPERS]
)
def test_the_bars_of_the_templates_are_100_mm(name: str, paper: PaperName) -> None:
    sheets = [page for page in example_pages(name, paper) if "Check both bars first" in words(page)]
    assert sheets
    for page in sheets:
        bars = [line for line in page.lines if line.length == pytest.approx(100.0, abs=0.005)]
        assert sum(line.is_level for line in bars) == 1
        assert sum(line.is_upright for line in bars) == 1
        assert page.text.count("100 mm") >= 3


def test_a_template_is_full_size() -> None:
    """At 6 degrees a face of 45 mm falls 45 tan 6 = 4.730 mm, and the cut is 45 / cos 6 = 45.248 mm long."""
    page = example_pages("bare_honey_house", "A4")[-1]
    slopes = [line for line in page.lines if line.length == pytest.approx(45.248, abs=0.005)]
    assert Counter(round(abs(line.y1 - line.y0), 2) for line in slopes)[4.73] >= 2


def test_a_building_of_square_ends_has_no_templates() -> None:
    assert not any("Bevels" in page.text for page in example_pages("partition", "A4"))


def test_same_layout_same_bytes() -> None:
    book = job_book(example("bare_honey_house"), SheetOptions())
    assert pdf(book) == pdf(job_book(example("bare_honey_house"), SheetOptions()))
    assert svgs(book) == svgs(book)


def test_the_pdf_is_tagged_titled_and_undated() -> None:
    with pdfplumber.open(io.BytesIO(pdf(job_book(example("partition"), SheetOptions())))) as book:
        root = book.doc.catalog
        assert resolve1(root["MarkInfo"])["Marked"]
        assert resolve1(root["Lang"]) == b"en"
        assert book.metadata["Title"] == f"{example('partition').name}: Job book"
        assert "CreationDate" not in book.metadata
        assert b"pdfuaid" in resolve1(root["Metadata"]).get_data()


def test_the_title_block_says_what_it_is_told() -> None:
    pages = pages_of(
        example("partition"), owner="Reed and Daughters", creator="M. Hollow", revision="B", date="2031-04-05"
    )
    for page in pages:
        for said in ("Reed and Daughters", "M. Hollow", "2031-04-05"):
            assert said in words(page)


@pytest.mark.parametrize(
    ("owner", "creator", "revision", "date"),
    [
        (
            "Osier, Sallow and Withy of Lower Mill Yd",
            "Bartholomew Quincy-Hollow of Ash Meadows",
            "rev. 7",
            "23 November 2031",
        ),
        ("W" * 40, "Wm" * 20, "W" * 6, "W" * 16),
    ],
)
def test_the_longest_entries_of_the_title_block_are_whole(
    owner: str, creator: str, revision: str, date: str
) -> None:
    for page in pages_of(example("partition"), owner=owner, creator=creator, revision=revision, date=date):
        told = words(page).replace(" ", "")
        for said in (owner, creator, revision, date):
            assert said.replace(" ", "") in told
        placed = list(boxes(page))
        assert covered(placed) == []
        assert max(right for _, right, _, _ in placed) <= page.width - 10.0
        for run in page.runs:
            assert run.size * capitals_of(run.font) >= LEAST_LETTERING


def findings_of(count: int, level: Level) -> tuple[FindingOut, ...]:
    return tuple(
        FindingOut(
            level=level, code="odd", message=f"oddity {number} asks to be looked at before anything is cut",
            basis="common practice",
        )
        for number in range(count)
    )  # fmt: skip


@pytest.mark.parametrize("level", ["stop", "warn", "note"])
@pytest.mark.parametrize("paper", PAPERS)
def test_many_findings_leave_the_plan_as_large_as_a_few(paper: PaperName, level: Level) -> None:
    layout = example("reading_room")
    few = layout.model_copy(update={"findings": findings_of(3, level)})
    many = layout.model_copy(update={"findings": findings_of(30, level)})
    scales = [book_sheets(each, paper, ENGLISH)[0].scale for each in (few, many)]
    assert scales[0] == scales[1]
    cover, following = (words(page) for page in pages_of(many, paper=paper)[:2])
    told = [[f.message in page for f in many.findings] for page in (cover, following)]
    assert [sum(on) for on in zip(*told, strict=True)] == [1] * 30
    assert told[0] == sorted(told[0], reverse=True)
    assert any(told[0]) or level == "note"
    left = told[1].count(True)
    assert f"Told on the next sheet: {left} × {ENGLISH.levels[level]}." in cover
    assert "Look at this first 2 –" in cover
    for caution in many.cautions:
        assert caution in cover


def test_findings_stand_on_the_cover_where_the_plan_is_as_large() -> None:
    cover = words(example_pages("bare_honey_house", "A4")[0])
    found = [finding for finding in example("bare_honey_house").findings if finding.wall is None]
    assert found
    assert all(finding.message in cover for finding in found)
    assert "next sheet" not in cover


def test_hostile_names_are_text() -> None:
    pages = pages_of(layout_of(hostile_building()))
    assert "<script>alert(1)</script>" in words(pages[0]).replace(" ", "")
    assert "#let" not in pages[0].text


def test_names_in_the_typesetters_own_language_are_text() -> None:
    name = '#panic("x") $x$ *b* `c` @d <e> \\u{41}'
    layout = layout_of(building(name=name))
    assert name in words(pages_of(layout)[0])


@pytest.mark.parametrize("name", [HOSTILE[:60].strip(), "W" * 60, "mill yard " * 5 + "end"])
def test_the_longest_names_overflow_nothing(name: str) -> None:
    opening = {"name": name, "kind": "door", "width": 900, "height": 1900, "at": {"centre": 1600}}
    layout = layout_of(
        building(
            name=name,
            frame={"section": [45, 70], "material": name},
            outline={"walls": [{"name": name, "length": 3200}]},
            roof={"form": "level", "height": 2400},
            walls={name: {"openings": [opening]}},
        )
    )
    for page in pages_of(layout):
        placed = list(boxes(page))
        assert covered(placed) == []
        for left, right, top, bottom in placed:
            assert left >= 20.0
            assert right <= page.width - 10.0
            assert top >= 10.0
            assert bottom <= page.height - 10.0


def test_a_name_that_no_font_has_is_printed_all_the_same() -> None:
    assert pages_of(layout_of(building(name="小屋 \N{HOUSE BUILDING}\u202e")))


def test_a_long_wall_is_parted_at_match_lines() -> None:
    layout = layout_of(
        building(
            outline={"walls": [{"name": "shelter", "length": 30000}]},
            roof={"form": "level", "height": 2400},
            defaults={"studs": {"rule": "equal-bays", "largest_bay": 600}},
        )
    )
    sheets = [sheet for sheet in book_sheets(layout, "A4", ENGLISH) if sheet.document_type == "Elevation"]
    drawn = elevation(layout.walls[0], layout, cutting_rows(layout), "A4", ENGLISH)
    assert drawn.scale == 50
    assert len(sheets) == len(drawn.parts) == 3
    ends = [(part.left, part.right) for part, _ in drawn.parts]
    assert ends[0][0] == 0.0
    assert ends[-1][1] == 30000.0
    assert [right for _, right in ends[:-1]] == [left for left, _ in ends[1:]]
    studs = [(mark.at, mark.at + 45) for mark in layout.walls[0].marks["sole plate"]]
    for _, line in ends[:-1]:
        assert not any(left - 1 < line < right + 1 for left, right in studs)
    pages = [page for page in pages_of(layout, paper="A4") if "match line" in page.text]
    assert [re.findall(r"match line ([A-Z])", page.text) for page in pages] == [["A"], ["A", "B"], ["B"]]
    for page in pages:
        assert covered(list(boxes(page))) == []
