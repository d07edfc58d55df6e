"""The tape under a wall on paper: running marks beside their lines, none struck through."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soleplate.viewer.lists.cutting import cutting_rows
from soleplate.viewer.paper.sizes import FIGURE_WIDTH, paper_for
from soleplate.viewer.sheets.book import book_sheets
from soleplate.viewer.sheets.elevation import elevation
from soleplate.viewer.sheets.hung_tape import MOST_ROWS, hung
from soleplate.viewer.words.texts import ENGLISH
from tests.viewer.sheets.books import EXAMPLES, example

SVG = "{http://www.w3.org/2000/svg}"
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.json"))
CLEAR = 2.0


@settings(deadline=None, max_examples=200)
@given(
    st.lists(st.tuples(st.floats(0.0, 400.0), st.floats(5.0, 60.0)), max_size=14, unique_by=lambda x: x[0]),
    st.floats(-60.0, 0.0),
)
def test_no_line_runs_through_a_text_and_texts_stand_apart(
    marks: list[tuple[float, float]], least: float
) -> None:
    places = sorted(marks)
    found = hung(places, least, 420.0, CLEAR)
    if found is None:
        return
    assert [text.at for text in found] == [at for at, _ in places]
    for text, (at, width) in zip(found, places, strict=True):
        assert text.right - text.left == pytest.approx(width)
        # Beside its own line, and on the left wherever it has room there.
        assert text.right == pytest.approx(at - CLEAR) or text.left == pytest.approx(at + CLEAR)
        assert least - 1e-9 <= text.left
        assert text.right <= 420.0
        assert 0 <= text.row < MOST_ROWS
    for one, other in itertools.permutations(found, 2):
        if one.row == other.row:
            assert one.right + CLEAR <= other.left + 1e-9 or other.right + CLEAR <= one.left + 1e-9
        if other.row <= one.row:
            # The line of `one` comes down past the row of `other`.
            assert not other.left <= one.at <= other.right


def test_the_first_mark_stands_right_of_its_line_where_there_is_no_room_left_of_it() -> None:
    assert hung([(0.0, 20.0), (100.0, 30.0)], -5.0, 200.0, CLEAR) is not None
    first, second = hung([(0.0, 20.0), (100.0, 30.0)], -5.0, 200.0, CLEAR) or []
    assert (first.left, first.row) == (CLEAR, 0)
    assert (second.right, second.row) == (100.0 - CLEAR, 0)
    # Two close together: the line of the first comes down past the second's text on its left.
    first, second = hung([(0.0, 20.0), (9.0, 20.0)], -5.0, 200.0, CLEAR) or []
    assert (first.row, second.row) == (1, 0)
    # Where a later line would strike it in any row, they are not hung.
    assert hung([(0.0, 20.0), (15.0, 8.0)], -5.0, 200.0, CLEAR) is None


def texts_of(root: ElementTree.Element) -> Iterator[tuple[float, float, float, float, str]]:
    """Left, right, top and bottom of the texts of a drawing that are not turned."""

    def walk(node: ElementTree.Element, anchor: str) -> Iterator[tuple[float, float, float, float, str]]:
        anchor = node.get("text-anchor", anchor)
        if node.tag == f"{SVG}text" and "transform" not in node.attrib:
            size, x, y = (float(node.get(name, "")) for name in ("font-size", "x", "y"))
            wide = len(node.text or "") * FIGURE_WIDTH * size
            left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[anchor] * wide
            yield left, left + wide, y - 0.73 * size, y, node.text or ""
        for child in node:
            yield from walk(child, anchor)

    yield from walk(root, "start")


@pytest.mark.parametrize("name", NAMES)
def test_nothing_crosses_a_match_line_or_the_line_of_a_mark(name: str) -> None:
    layout = example(name)
    rows = cutting_rows(layout)
    for wall in layout.walls:
        for part, picture in elevation(wall, layout, rows, paper_for(layout.units), ENGLISH).parts:
            root = ElementTree.fromstring(picture.svg)
            upright = [line for line in root.iter(f"{SVG}line") if line.get("x1") == line.get("x2")]
            texts = list(texts_of(root))
            chains = [line for line in upright if len((line.get("stroke-dasharray") or "").split()) == 6]
            assert len(chains) == (part.number > 1) + (part.number < part.count)
            below = [line for line in upright if float(line.get("y1", "")) > 0]
            for line in (*chains, *below):
                x, y0, y1 = (float(line.get(key, "")) for key in ("x1", "y1", "y2"))
                for left, right, top, bottom, text in texts:
                    struck = left < x < right and min(y0, y1) < bottom and max(y0, y1) > top
                    assert not struck, (wall.name, part.number, text)


@pytest.mark.parametrize("name", NAMES)
def test_a_part_s_sheet_says_which_stretch_it_shows(name: str) -> None:
    layout = example(name)
    for sheet in book_sheets(layout, paper_for(layout.units), ENGLISH):
        # Parts of a section meet at match lines, and its own figures tell where they are.
        if sheet.id.startswith("section-"):
            continue
        assert bool(re.search(r", part \d of \d$", sheet.title)) == ("Here: " in sheet.sub)
