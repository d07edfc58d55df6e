"""Layers of the drawing: each follows its box, with a script and without; nothing is left of what hides."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import PATIENCE, Watched
from tests.browser.test_editing import ready
from tests.buildings import HONEY_HOUSE
from tests.serving import serving


@pytest.fixture(scope="module")
def reading_room() -> Iterator[str]:
    with serving(HONEY_HOUSE.with_name("reading_room.json")) as server:
        yield server.address


@pytest.fixture(scope="module")
def apple_store() -> Iterator[str]:
    with serving(HONEY_HOUSE.with_name("apple_store.json")) as server:
        yield server.address


def boxes(page: Page) -> list[str]:
    """The layers whose boxes stand there."""
    shown = page.locator("input[name=layer]:visible")
    found: list[str] = shown.evaluate_all("(all) => all.map((box) => box.value)")
    return found


def show(page: Page, *layers: str) -> None:
    assert set(layers) <= set(boxes(page))
    for box in page.locator("input[name=layer]:visible").all():
        box.set_checked((box.get_attribute("value") or "") in layers)


def seen(page: Page, within: str) -> set[str]:
    """The texts, or else the classes, of what can be seen of the drawing."""
    found: list[str] = page.evaluate(
        """(within) => Array.from(document.querySelectorAll(`.elevation ${within}`))
            .filter((part) => part.getClientRects().length > 0)
            .map((part) => part.dataset.mark ?? part.textContent)""",
        within,
    )
    return set(found)


MARKS = ".marks > text"


@pytest.mark.parametrize("has_script", [True, False])
def test_what_is_told_goes_with_what_it_tells_of(
    browser: Browser, reading_room: str, has_script: bool
) -> None:
    context = browser.new_context(java_script_enabled=True)
    context.set_default_timeout(PATIENCE)
    page = context.new_page()
    if not has_script:
        page.route("**/*.js", lambda route: route.abort())
    page.goto(f"{reading_room}?wall=south")
    if has_script:
        ready(page)
    frame, boards, sheets = (
        set(
            page.locator(f".elevation {pieces}").evaluate_all(
                "(all) => all.map((piece) => piece.dataset.mark)"
            )
        )
        for pieces in (".frame .piece", ".cladding.top .piece", ".lining .piece")
    )
    show(page, "frame", "openings", "marks", "findings")
    assert seen(page, ".piece") == frame
    assert seen(page, MARKS) & frame
    assert not seen(page, MARKS) & (boards | sheets)
    show(page, "frame", "marks", "cladding", "findings")
    assert boards < seen(page, ".piece")
    assert seen(page, MARKS) & boards
    assert not seen(page, MARKS) & frame
    assert not seen(page, ".of-frame *")
    show(page, "frame", "marks", "lining")
    assert not seen(page, MARKS) & sheets
    assert seen(page, MARKS) & frame
    show(page, "marks", "lining", "findings")
    assert seen(page, ".piece") == sheets
    assert seen(page, MARKS) == sheets
    show(page, "marks", "behind", "frame")
    behind = seen(page, ".piece") - frame
    assert behind
    assert not behind & boards
    assert not seen(page, ".fixings path")
    show(page, "cladding", "fixings")
    assert seen(page, ".fixings path") == {""}
    assert not seen(page, MARKS)
    context.close()


@pytest.mark.parametrize("has_script", [True, False])
def test_a_box_stands_where_its_layer_is_drawn(
    browser: Browser, honey_house_address: str, reading_room: str, has_script: bool
) -> None:
    context = browser.new_context(java_script_enabled=has_script)
    context.set_default_timeout(PATIENCE)
    page = context.new_page()
    page.goto(honey_house_address)
    frame = ["frame", "openings", "marks", "dimensions"]
    assert boxes(page) == [*frame, "fixings", "findings"], "noggins are fixed, and nothing lies on the frame"
    page.goto(f"{reading_room}?wall=south")
    assert boxes(page) == [*frame, "behind", "cladding", "lining", "fixings", "findings"]
    context.close()


def test_a_box_comes_with_what_is_drawn_and_goes_with_it(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    box = page.locator("input[name=layer][value=cladding]")
    expect(box).to_be_hidden()
    rule = page.locator("[id='entry/defaults/cladding']")
    page.locator("#entries summary", has_text="Rules for every wall").click()
    rule.select_option("lapped")
    expect(box).to_be_visible()
    expect(box).not_to_be_checked()
    box.check()
    expect(page.locator(".elevation .cladding .piece").first).to_be_visible()
    rule.select_option("")
    expect(box).to_be_hidden()
    expect(page.locator(".elevation .frame .piece").first).to_be_visible()
    assert watched.complaints == []


def test_the_way_by_keyboard_leads_over_what_is_seen(watched: Watched, reading_room: str) -> None:
    page = ready(watched.open(f"{reading_room}?wall=south"))
    for layers in (("frame", "marks"), ("cladding",), ("lining",)):
        show(page, *layers)
        (stop,) = page.locator(".elevation .piece[tabindex='0']").all()
        assert stop.is_visible()
        stop.focus()
        for key in ("ArrowRight", "ArrowUp", "End", "Home"):
            page.keyboard.press(key)
            assert page.evaluate("document.activeElement.getClientRects().length")
    assert watched.complaints == []


def test_flags_come_with_their_boards(watched: Watched, apple_store: str) -> None:
    page = ready(watched.open(f"{apple_store}?wall=right"))
    show(page, "frame", "findings")
    expect(page.locator(".flag:visible")).to_have_count(0)
    show(page, "frame", "findings", "cladding")
    expect(page.locator(".flag:visible")).not_to_have_count(0)
    page.locator(".flag:visible").first.click()
    assert page.evaluate("document.activeElement.matches('.findings li')")
    assert watched.complaints == []


def test_lists_of_boards_fit_a_phone(watched: Watched) -> None:
    watched.page.set_viewport_size({"width": 390, "height": 844})
    with serving(HONEY_HOUSE.with_name("drying_shed.json")) as server:
        page = watched.open(f"{server.address}?wall=right")
        tables = page.locator(".tier")
        assert tables.count() == 4
        edges = tables.evaluate_all("(all) => all.map((table) => table.getBoundingClientRect().right)")
        assert max(edges) <= 390
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert watched.complaints == []
