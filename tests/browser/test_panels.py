"""Panels on the page: asked for by an entry made from the schema, drawn, listed, and taken back."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser.conftest import Watched
from tests.browser.test_editing import entry, ready, type_in


def test_panels_are_asked_for_and_drawn(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator("#entries summary", has_text="Rules for every wall").click()
    page.locator("#entries details[data-key='/defaults#more'] > summary").click()
    page.locator("#entries details[data-key='/defaults/panels'] > summary").click()
    type_in(page, "/defaults/panels/largest_length", "3200")
    front = page.locator("#wall-front")
    expect(front.locator(".elevation").get_by_text("panel 2", exact=True)).to_be_visible()
    expect(front.locator("table.panels tbody tr")).to_have_count(2)
    expect(page.locator("#cutting-list th", has_text="Panels")).to_have_count(1)

    type_in(page, "/defaults/panels/largest_length", "400")
    expect(page.locator("#entries .fault")).to_contain_text("shorter than a bay")
    # An entry that is emptied leaves nothing behind.
    type_in(page, "/defaults/panels/largest_length", "")
    expect(page.locator("#entries .fault")).to_have_count(0)
    expect(front.locator("table.panels")).to_have_count(0)
    assert page.evaluate("building.file.defaults.panels") is None
    assert page.locator(entry(page, "/defaults/panels/largest_length")).input_value() == ""
    assert [said for said in watched.complaints if "422" not in said] == []
