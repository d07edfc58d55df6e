"""Designs kept from the page: listed, opened, kept again; a conflict is told, and nothing is lost."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Watched
from tests.browser.test_editing import ready, type_in
from tests.buildings import BARE_HONEY_HOUSE
from tests.serving import serving


@pytest.fixture
def keeping_address(tmp_path: Path) -> Iterator[str]:
    with serving(BARE_HONEY_HOUSE, "--designs", tmp_path / "designs.sqlite") as server:
        yield server.address


def keep(page: Page, revision: int) -> None:
    page.get_by_role("button", name="Keep", exact=True).click()
    page.locator("#kept").get_by_role("button", name="Keep “Honey house”").click()
    expect(page.locator("#kept")).to_contain_text(f"Kept as revision {revision}.")


def close(page: Page) -> None:
    page.locator("#kept").get_by_role("button", name="Close").click()
    expect(page.locator("#kept")).to_be_hidden()


def length_is(page: Page, length: int) -> None:
    expect(page.locator(".wall-head .facts")).to_contain_text(f"{length} mm long")


def test_revisions_are_kept_listed_and_taken_back(watched: Watched, keeping_address: str) -> None:
    page = ready(watched.open(keeping_address))
    page.get_by_role("button", name="Keep", exact=True).click()
    expect(page.locator("#kept")).to_contain_text("Nothing is kept yet.")
    close(page)
    keep(page, 1)
    close(page)
    type_in(page, "/outline/length", "4800")
    length_is(page, 4800)
    keep(page, 2)
    page.get_by_role("button", name="Earlier ones").click()
    expect(page.locator("#kept .changed")).to_have_text(["length: 4500 → 4800", "As it was first kept"])
    page.locator("#kept ol li", has_text="Honey house").last.get_by_role("button").click()
    length_is(page, 4500)
    page.get_by_role("button", name="Undo").click()
    length_is(page, 4800)
    other = page.context.browser
    assert other is not None
    fresh = other.new_context().new_page()
    fresh.goto(f"{keeping_address}?start=1")
    fresh.get_by_role("button", name="Keep", exact=True).click()
    fresh.locator("#kept").get_by_role("button", name="Open", exact=True).click()
    length_is(fresh, 4800)
    fresh.context.close()
    assert watched.complaints == []


def test_what_somebody_else_kept_is_not_written_over_unseen(watched: Watched, keeping_address: str) -> None:
    page = ready(watched.open(keeping_address))
    keep(page, 1)
    close(page)
    other = page.context.new_page()
    other.goto(f"{keeping_address}?start=1")
    other.get_by_role("button", name="Keep", exact=True).click()
    other.locator("#kept").get_by_role("button", name="Open", exact=True).click()
    ready(other)
    length_is(other, 4500)
    type_in(other, "/outline/length", "5000")
    length_is(other, 5000)
    keep(other, 2)
    type_in_length = "4600"
    type_in(page, "/outline/length", type_in_length)
    length_is(page, 4600)
    page.get_by_role("button", name="Keep", exact=True).click()
    page.locator("#kept").get_by_role("button", name="as revision 2").click()
    expect(page.locator(".conflict")).to_contain_text("revision 2 meanwhile")
    page.get_by_role("button", name="Open theirs").click()
    length_is(page, 5000)
    page.get_by_role("button", name="Undo").click()
    length_is(page, 4600)
    keep(page, 3)
    assert [said for said in watched.complaints if "412" not in said] == []


def test_a_revision_is_known_by_what_it_changed(watched: Watched, keeping_address: str) -> None:
    page = ready(watched.open(keeping_address))
    keep(page, 1)
    close(page)
    page.get_by_role("button", name="Add a window").click()
    expect(page.locator(".hole")).to_have_count(2)
    keep(page, 2)
    close(page)
    # The unit alone changes no length.
    page.locator("[id='entry/units']").select_option("in")
    expect(page.locator(".wall-head .facts")).to_contain_text("14 ft 9 3/16 in long")
    keep(page, 3)
    close(page)
    type_in(page, "/outline/length", "16 ft")
    page.locator("#entries summary", has_text="doors").click()
    type_in(page, "/walls/front/openings/0/width", "5 ft")
    expect(page.locator(".wall-head .facts")).to_contain_text("16 ft long")
    page.get_by_role("button", name="Take out").last.click()
    expect(page.locator(".hole")).to_have_count(1)
    keep(page, 4)
    page.get_by_role("button", name="Earlier ones").click()
    expect(page.locator("#kept .changed")).to_have_text(
        [
            "length: 14 ft 9 3/16 in → 16 ft; front, doors, width: 4 ft 11 1/16 in → 5 ft;"
            " front, window 1 taken out",
            "units: mm → in",
            "front, window 1 added",
            "As it was first kept",
        ]
    )
    assert watched.complaints == []
