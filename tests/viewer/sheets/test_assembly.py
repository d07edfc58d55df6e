"""What a wall's sheet says for putting it together."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from soleplate.engine.building_file import format_figure
from soleplate.viewer.paper.options import SheetOptions
from soleplate.viewer.sheets.assembly import diagonals, plan_diagonal
from soleplate.viewer.sheets.book import job_book
from soleplate.viewer.words.texts import ENGLISH
from tests.viewer.sheets.books import EXAMPLES, example, example_pages
from tests.viewer.sheets.test_job_book import words

NAMES = sorted(path.stem for path in EXAMPLES.glob("*.json"))


@pytest.mark.parametrize("name", NAMES)
def test_diagonals_are_those_between_the_frame_s_corners(name: str) -> None:
    for wall in example(name).walls:
        corners = [point for piece in wall.pieces if piece.is_frame for point in piece.outline]
        right = max(x for x, _ in corners)
        highest = [max(z for x, z in corners if abs(x - end) < 0.5) for end in (0.0, right)]
        rising, falling = math.hypot(right, highest[1]), math.hypot(right, highest[0])
        told = diagonals(wall.length, wall.top_line[0][1], wall.top_line[-1][1])
        assert told == pytest.approx((rising, falling), abs=0.6)


def test_the_plan_s_diagonal() -> None:
    # 4500 x 2700 over the frames' outer faces, and 16 ft x 12 ft: 20 ft (Pythagoras).
    assert plan_diagonal(example("bare_honey_house")) == pytest.approx(math.hypot(4500, 2700))
    assert plan_diagonal(example("studio_in_inches")) == pytest.approx(20 * 304.8)
    assert plan_diagonal(example("partition")) is None
    assert plan_diagonal(example("l_shaped_workshop")) is None


def test_a_wall_s_sheets_tell_how_to_put_it_together() -> None:
    texts = [words(page) for page in example_pages("bare_honey_house")]
    assert "Diagonals, outside 5248 mm" in texts[0]
    told = " ".join(texts)
    # sqrt(4500^2 + 2236.4^2), and the two of a raked wall 2560 long, 1967.4 and 2236.4 high.
    assert ENGLISH.sheets.square.format(rising="5025 mm") in told
    assert "3229 mm from the lower left corner to the upper right, and 3399 mm" in told
    assert "1–6 425 mm" in told
    noggin = next(piece for piece in example("bare_honey_house").walls[0].pieces if piece.mark == "F17")
    assert f"F17 F21 F25 {format_figure(min(z for _, z in noggin.outline), 'mm')}" in told


def test_what_stops_the_work_stands_on_the_cover_before_all_else() -> None:
    layout = example("bare_honey_house")
    grave = replace(layout.findings[0], level="stop", part="right", message="the lintel is too short")
    book = job_book(layout.model_copy(update={"findings": (*layout.findings, grave)}), SheetOptions())
    notices = [block for block in book["sheets"][0]["blocks"] if block["kind"] == "notice"]
    assert notices[0]["level"] == ENGLISH.levels["stop"]
    assert notices[0]["text"].startswith("right: the lintel is too short")
    kinds = [block.get("text") for block in book["sheets"][0]["blocks"]]
    assert (
        kinds.index(ENGLISH.sheets.look)
        < kinds.index(ENGLISH.cautions)
        < kinds.index(ENGLISH.sheets.contents)
    )
