"""By hand on a phone: the drawing is there at once, two fingers bring it nearer, no press is lost."""

from __future__ import annotations

import json
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import PATIENCE, Watched
from tests.browser.test_editing import ready
from tests.buildings import building
from tests.serving import serving

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


Place = tuple[float, float]


class Fingers:
    """On the page's screen, level with each other and a distance in px from a middle."""

    def __init__(self, page: Page, middle: Place) -> None:
        self._session = page.context.new_cdp_session(page)
        self._middle = middle

    def _send(self, kind: str, *places: Place) -> None:
        points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(places)]
        self._session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def _both(self, apart: float) -> tuple[Place, Place]:
        x, y = self._middle
        return (x - apart / 2, y), (x + apart / 2, y)

    def down(self, apart: float) -> None:
        self._send("touchStart", *self._both(apart))

    def slide(self, start: float, end: float) -> None:
        """In even steps."""
        for step in range(1, 9):
            self._send("touchMove", *self._both(start + (end - start) * step / 8))

    def up(self) -> None:
        self._send("touchEnd")

    def pinch(self, start: float, end: float) -> None:
        self.down(start)
        self.slide(start, end)
        self.up()

    def down_one_after_the_other(self, apart: float, panned: float) -> None:
        """The first moves `panned` px along, up to its place, before the other comes down."""
        first, second = self._both(apart)
        for step in range(5):
            place = first[0] - panned * (1 - step / 4), first[1]
            self._send("touchMove" if step else "touchStart", place)
        self._send("touchStart", first, second)


NEAR = "Number(document.querySelector('.board').dataset.near)"


def under(page: Page, x: float) -> float:
    """What of the drawing is under `x` px, as a share of its width."""
    share: float = page.evaluate(
        """(x) => { const box = document.querySelector(".elevation").getBoundingClientRect();
        return (x - box.left) / box.width; }""",
        x,
    )
    return share


def middle_of(page: Page) -> Place:
    """Of the board's width; within every drawing's height."""
    box = page.locator(".board").bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + 150.0


def test_two_fingers_bring_the_drawing_nearer_and_back(phone: Watched, honey_house_address: str) -> None:
    page = ready(phone.open(honey_house_address))
    middle = middle_of(page)
    fingers = Fingers(page, middle)
    assert page.evaluate(NEAR) == 1.0
    place = under(page, middle[0])
    fingers.pinch(60.0, 180.0)
    page.wait_for_function(f"() => {NEAR} > 2.9")
    assert page.evaluate(NEAR) == pytest.approx(3.0, abs=0.05)
    assert under(page, middle[0]) == pytest.approx(place, abs=0.005)
    # The page itself stays as large as it is: only the drawing grows.
    assert page.evaluate("visualViewport.scale") == 1
    fingers.pinch(180.0, 60.0)
    page.wait_for_function(f"() => {NEAR} < 1.1")
    assert phone.complaints == []


def test_two_fingers_are_followed_while_the_drawing_is_made_afresh(
    phone: Watched, honey_house_address: str
) -> None:
    page = ready(phone.open(honey_house_address))
    fingers = Fingers(page, middle_of(page))
    fingers.pinch(60.0, 180.0)
    page.wait_for_function(f"() => {NEAR} > 2.9")
    fingers.down(180.0)
    fingers.slide(180.0, 120.0)
    page.evaluate("touched = document.querySelector('.elevation'); drawing.draw()")
    page.wait_for_function("() => !touched.isConnected")
    fingers.slide(120.0, 60.0)
    page.wait_for_function(f"() => {NEAR} < 1.1")
    fingers.up()
    fingers.pinch(60.0, 120.0)
    page.wait_for_function(f"() => {NEAR} > 1.9")
    assert phone.complaints == []


def test_a_second_finger_that_joins_one_that_pans_is_followed(
    phone: Watched, honey_house_address: str
) -> None:
    page = ready(phone.open(honey_house_address))
    middle = middle_of(page)
    fingers = Fingers(page, middle)
    fingers.pinch(60.0, 180.0)
    page.wait_for_function(f"() => {NEAR} > 2.9")
    fingers.down_one_after_the_other(180.0, panned=40.0)
    place = under(page, middle[0])
    fingers.slide(180.0, 90.0)
    page.wait_for_function(f"() => {NEAR} < 1.6")
    assert under(page, middle[0]) == pytest.approx(place, abs=0.01)
    fingers.up()
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


@pytest.mark.parametrize(("width", "height"), [(390, 844), (1280, 900)])
@pytest.mark.parametrize("wall", ["front", "long", "tall"])
def test_fit_shows_the_whole_drawing_and_keeps_to_it(
    watched: Watched, walls_address: str, wall: str, width: int, height: int
) -> None:
    watched.page.set_viewport_size({"width": width, "height": height})
    page = ready(watched.open(f"{walls_address}?wall={wall}"))
    page.locator("[data-do=nearer]").click()
    page.locator("[data-do=fit]").click()
    assert page.evaluate(CUT_OFF) == [0, 0]
    page.set_viewport_size({"width": 700, "height": 500})
    page.wait_for_function(f"() => String({CUT_OFF}) === '0,0'")
    page.evaluate("touched = document.querySelector('.elevation'); drawing.draw()")
    page.wait_for_function("() => !touched.isConnected")
    assert page.evaluate(CUT_OFF) == [0, 0]
    assert watched.complaints == []


CUT_OFF = """(() => { const board = document.querySelector(".board");
    return [board.scrollWidth - board.clientWidth, board.scrollHeight - board.clientHeight]; })()"""
"""What of the board is out of sight, px."""


@pytest.fixture(scope="module")
def walls_address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    walls = [{"name": "front", "length": 4500}, {"name": "long", "length": 24_000}]
    value = building(
        outline={"walls": [*walls, {"name": "tall", "length": 1200}]}, roof={"form": "level", "height": 3600}
    )
    file = tmp_path_factory.mktemp("walls") / "walls.json"
    file.write_text(json.dumps(value))
    with serving(file) as server:
        yield server.address


def test_a_finger_pans_from_an_opening_and_takes_it_along_once_it_rests(
    phone: Watched, honey_house_address: str
) -> None:
    page = ready(phone.open(honey_house_address))
    page.evaluate("document.querySelector('.board').scrollIntoView({ block: 'center' })")
    hole = page.locator(".hole")
    finger = page.context.new_cdp_session(page)

    def send(kind: str, *places: Place) -> None:
        points = [{"x": x, "y": y, "id": 0} for x, y in places]
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def down() -> Place:
        box = hole.locator(".opening").bounding_box()
        assert box is not None
        place = box["x"] + 50, box["y"] + box["height"] / 2
        assert place[0] < WIDE - 20
        send("touchStart", place)
        return place

    def slide(start: Place) -> None:
        for step in range(1, 9):
            send("touchMove", (start[0] - 5 * step, start[1]))
        send("touchEnd")

    before = page.evaluate("JSON.stringify(building.file)")
    slide(down())
    page.wait_for_function("() => document.querySelector('.board').scrollLeft > 10")
    assert page.evaluate("JSON.stringify(building.file)") == before
    start = down()
    expect(page.locator(".hole.held")).to_have_count(1)
    slide(start)
    expect(hole).not_to_have_attribute("data-left", "1500")
    expect(page.locator(".hole.held")).to_have_count(0)
    page.wait_for_function(
        "() => { const left = Number(document.querySelector('.hole').dataset.left);"
        " return 90 <= left && left < 1450; }"
    )
    page.wait_for_function("() => building.canUndo")
    assert phone.complaints == []
