"""How a wall's drawing stands on its board at first: whole wherever it can be read so."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from soleplate.viewer.drawings.elevation import LEAST_PIXELS
from tests.browser.conftest import Watched
from tests.browser.test_editing import ready
from tests.buildings import HONEY_HOUSE
from tests.serving import serving

BEYOND = "(board) => [board.scrollWidth - board.clientWidth, board.scrollHeight - board.clientHeight]"

COVERED = """(board) => board.querySelector(".elevation").getBoundingClientRect().bottom
    - board.querySelector(".tape-strip").getBoundingClientRect().top"""

LETTERING = """(board) => {
    const drawing = board.querySelector(".elevation");
    return drawing.getBoundingClientRect().width / Number(drawing.getAttribute("width"));
}"""


@pytest.mark.parametrize("name", ["hen_house", "reading_room", "honey_house"])
def test_each_wall_is_whole_on_a_desk_and_its_tape_covers_nothing(watched: Watched, name: str) -> None:
    watched.page.set_viewport_size({"width": 1440, "height": 900})
    with serving(HONEY_HOUSE.with_name(f"{name}.json")) as server:
        page = ready(watched.open(server.address))
        links = page.locator(".plan a[data-wall]")
        assert links.count() >= 3
        for link in links.all():
            link.click()
            expect(link).to_have_attribute("aria-current", "true")
            expect(page.locator(f".wall#{link.get_attribute('data-wall')}")).to_be_visible()
            board = page.locator(".wall div.board")
            assert board.evaluate(BEYOND) == [0, 0]
            assert board.evaluate(COVERED) < 1
            assert board.evaluate(LETTERING) * LEAST_PIXELS > 9
        page.locator("[data-do=fit]").click()
        assert page.locator(".wall div.board").evaluate(BEYOND) == [0, 0]
    assert watched.complaints == []


def test_what_could_not_be_read_whole_is_shown_at_a_size_to_read(
    watched: Watched, honey_house_address: str
) -> None:
    watched.page.set_viewport_size({"width": 390, "height": 844})
    page = ready(watched.open(honey_house_address))
    board = page.locator(".wall div.board")
    assert board.evaluate(BEYOND)[0] > 0
    assert board.evaluate(LETTERING) == pytest.approx(1, abs=0.01)
