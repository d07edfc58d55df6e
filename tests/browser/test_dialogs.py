"""Dialogs by the keyboard alone, and for everybody, on a phone too."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Watched
from tests.browser.test_editing import ready
from tests.buildings import BARE_HONEY_HOUSE
from tests.serving import serving

DIALOGS = {"Keep": "#kept", "Sheets": "#sheets"}


@pytest.fixture(scope="module")
def keeping_address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    designs: Path = tmp_path_factory.mktemp("dialogs") / "designs.sqlite"
    with serving(BARE_HONEY_HOUSE, "--designs", designs) as server:
        yield server.address


def opened(watched: Watched, address: str, name: str) -> Page:
    """The page, the dialog opened with Enter on its button."""
    page = ready(watched.open(address))
    page.get_by_role("button", name=name, exact=True).focus()
    page.keyboard.press("Enter")
    expect(page.locator(DIALOGS[name])).to_be_visible()
    return page


@pytest.mark.parametrize("name", DIALOGS)
def test_a_dialog_is_walked_and_left_by_the_keyboard(
    watched: Watched, keeping_address: str, name: str
) -> None:
    page = opened(watched, keeping_address, name)
    expect(page.locator(f"{DIALOGS[name]} button").nth(1)).to_be_visible()
    inside = f"document.querySelector('{DIALOGS[name]}').contains(document.activeElement)"
    assert page.evaluate(inside)
    fields = page.locator(f"{DIALOGS[name]} :is(button, input, select):visible:enabled")
    wanted = {field.evaluate("(field) => field.outerHTML") for field in fields.all()}
    reached = set()
    for _ in range(len(wanted) + 1):
        # After the last field comes the browser's own turn, and none of the page behind.
        assert page.evaluate(f"{inside} || document.activeElement === document.body")
        reached.add(page.evaluate("document.activeElement.outerHTML"))
        page.keyboard.press("Tab")
    assert wanted <= reached
    page.keyboard.press("Escape")
    expect(page.locator(DIALOGS[name])).to_be_hidden()
    expect(page.get_by_role("button", name=name, exact=True)).to_be_focused()
    assert watched.complaints == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("name", DIALOGS)
def test_a_dialog_is_accessible(watched: Watched, keeping_address: str, name: str, scheme: str) -> None:
    watched.page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    opened(watched, keeping_address, name)
    assert watched.violations() == []


def test_a_dialog_fits_a_phone(watched: Watched, keeping_address: str) -> None:
    watched.page.set_viewport_size({"width": 390, "height": 844})
    for name, place in DIALOGS.items():
        page = opened(watched, keeping_address, name)
        box = page.locator(place).bounding_box()
        assert box is not None
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= 390
        page.keyboard.press("Escape")


def test_on_a_phone_the_drawing_begins_on_the_first_screen(watched: Watched, keeping_address: str) -> None:
    watched.page.set_viewport_size({"width": 390, "height": 844})
    page = ready(watched.open(keeping_address))
    box = page.locator(".elevation").bounding_box()
    assert box is not None
    assert box["y"] < 844 * 0.6
