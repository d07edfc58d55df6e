"""Measuring, beginning and going round by the keyboard alone, in the light and in the dark."""

from __future__ import annotations

from typing import Literal

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Watched
from tests.browser.test_editing import ready
from tests.serving import serving

SCHEMES: list[Literal["light", "dark"]] = ["light", "dark"]


def tab_to(page: Page, selector: str, key: str = "Tab", at_most: int = 120) -> None:
    for _ in range(at_most):
        page.keyboard.press(key)
        if page.evaluate("(selector) => document.activeElement.matches(selector)", selector):
            return
    pytest.fail(f"{selector} cannot be reached by {key}")


@pytest.mark.parametrize("scheme", SCHEMES)
def test_what_was_measured_is_typed_by_keyboard_and_accessible(
    watched: Watched, honey_house_address: str, scheme: Literal["light", "dark"]
) -> None:
    watched.page.emulate_media(color_scheme=scheme)
    page = ready(watched.open(honey_house_address))
    page.locator("#entries summary", has_text="As measured").focus()
    page.keyboard.press("Enter")
    tab_to(page, "[id='entry/measured/front/length']")
    page.keyboard.type("4512")
    page.keyboard.press("Enter")
    expect(page.locator(".wall-head .facts")).to_contain_text("4512 mm long")
    expect(page.locator("[id='entry/measured/front/length']")).to_be_focused()
    expect(page.locator("#lists[aria-busy]")).to_have_count(0)
    assert watched.violations() == []


@pytest.mark.parametrize("scheme", SCHEMES)
def test_a_building_is_begun_by_keyboard(watched: Watched, scheme: Literal["light", "dark"]) -> None:
    watched.page.emulate_media(color_scheme=scheme)
    with serving() as server:
        page = watched.open(server.address)
        assert watched.violations() == []
        tab_to(page, "[name=name]")
        page.keyboard.type("Seed store")
        tab_to(page, "#start .main-button")
        page.keyboard.press("Enter")
        expect(page.locator("#facts h1")).to_have_text("Seed store")
        ready(page)
        tab_to(page, "[data-do=new]")
        page.keyboard.press("Enter")
        expect(page.locator("#start")).to_be_visible()
        expect(page.locator("#start")).to_be_focused()
        assert watched.violations() == []
    assert watched.complaints == []


def test_the_way_round_keeps_the_focus(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    link = page.locator(".plan a[data-wall='wall-right']")
    tab_to(page, ".plan a[data-wall='wall-right']")
    page.keyboard.press("Enter")
    expect(page.locator("#wall-right")).to_be_visible()
    expect(link).to_be_focused()
    expect(page.locator("#lists[aria-busy]")).to_have_count(0)
    expect(link).to_be_focused()


def test_pieces_are_gone_to_from_the_board_itself(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    mark = "document.activeElement.dataset.mark"
    page.locator("#wall-front .board").focus()
    page.keyboard.press("ArrowRight")
    first = page.evaluate(mark)
    # Nothing is drawn over the middle of the piece that one begins at.
    on_top = page.evaluate(
        """() => { const { left, top, width, height } = document.activeElement.getBoundingClientRect();
        return document.elementFromPoint(left + width / 2, top + height / 2).dataset.mark; }"""
    )
    assert first == on_top == "F1"
    page.keyboard.press("ArrowRight")
    assert page.evaluate(mark) not in (None, first)
    page.locator("#wall-front .board").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#cut-card")).to_be_visible()
    assert watched.complaints == []
