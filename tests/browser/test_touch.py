"""By hand on a phone: the drawing is there at once, two fingers bring it nearer, no press is lost."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import PATIENCE, Watched
from tests.browser.test_editing import ready

WIDE, HIGH = 390, 844


@pytest.fixture
def phone(browser: Browser) -> Iterator[Watched]:
    context = browser.new_context(viewport={"width": WIDE, "height": HIGH}, has_touch=True, is_mobile=True)
    context.set_default_timeout(PATIENCE)
    yield Watched(context.new_page())
    context.close()


def test_a_touched_piece_stays_in_sight_beside_its_card(phone: Watched, honey_house_address: str) -> None:
    page = ready(phone.open(honey_house_address))
    piece = page.locator(".piece[data-role='sole plate']").first
    piece.tap()
    card = page.locator("#cut-card")
    expect(card).to_be_visible()
    page.wait_for_function(
        """() => document.querySelector(".piece[data-role='sole plate']").getBoundingClientRect().bottom
            <= document.getElementById("cut-card").getBoundingClientRect().top"""
    )
    assert phone.complaints == []


def pinch(page: Page, middle: tuple[float, float], start: float, end: float) -> None:
    """Two fingers level with each other, moved from `start` to `end` px apart in even steps."""
    session = page.context.new_cdp_session(page)

    def touch(kind: str, apart: float | None) -> None:
        x, y = middle
        places = [] if apart is None else [(x - apart / 2, y), (x + apart / 2, y)]
        points = [{"x": px, "y": py, "id": index} for index, (px, py) in enumerate(places)]
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    touch("touchStart", start)
    for step in range(1, 9):
        touch("touchMove", start + (end - start) * step / 8)
    touch("touchEnd", None)


def test_two_fingers_bring_the_drawing_nearer_and_back(phone: Watched, honey_house_address: str) -> None:
    page = ready(phone.open(honey_house_address))
    board = page.locator(".board")
    box = board.bounding_box()
    assert box is not None
    middle = box["x"] + box["width"] / 2, box["y"] + 150.0

    def near() -> float:
        return float(board.get_attribute("data-near") or "nan")

    def under() -> float:
        """The place along the drawing between the fingers, as a share of its width."""
        share: float = page.evaluate(
            """(x) => { const box = document.querySelector(".elevation").getBoundingClientRect();
            return (x - box.left) / box.width; }""",
            middle[0],
        )
        return share

    assert near() == 1.0
    place = under()
    pinch(page, middle, 60.0, 180.0)
    page.wait_for_function("Number(document.querySelector('.board').dataset.near) > 2.9")
    assert near() == pytest.approx(3.0, abs=0.05)
    assert under() == pytest.approx(place, abs=0.005)
    # The page itself stays as large as it is: only the drawing grows.
    assert page.evaluate("visualViewport.scale") == 1
    pinch(page, middle, 180.0, 60.0)
    page.wait_for_function("Number(document.querySelector('.board').dataset.near) < 1.1")
    assert phone.complaints == []


def test_a_press_is_not_lost_when_the_drawing_follows_under_it(
    watched: Watched, honey_house_address: str
) -> None:
    page = ready(watched.open(honey_house_address))
    box = page.locator(".plan a[data-wall='wall-right'] .touch").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.evaluate("drawing.draw()")
    page.mouse.up()
    expect(page.locator("#walls .wall")).to_have_attribute("data-name", "right")
    expect(page.locator(".plan a[aria-current]")).to_have_attribute("data-wall", "wall-right")
    assert watched.complaints == []
