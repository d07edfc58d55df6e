"""Bracing in the page: its entries come from the schema, its straps and pieces are drawn, and it is told."""

from __future__ import annotations

import json
from pathlib import Path

from playwright.sync_api import expect

from tests.browser.conftest import Watched
from tests.browser.test_editing import entry, ready
from tests.buildings import honey_house
from tests.serving import serving


def test_braces_are_picked_changed_and_told(watched: Watched, tmp_path: Path) -> None:
    value = honey_house()
    value["defaults"]["bracing"] = [{"rule": "straps"}, {"rule": "let-in", "ends": "left"}]
    value["walls"]["right"]["bracing"] = None
    file = tmp_path / "braced.json"
    file.write_text(json.dumps(value))
    with serving(file) as server:
        page = ready(watched.open(server.address))
        expect(page.locator("svg.elevation .straps polygon")).to_have_count(4)
        expect(page.locator("#wall-front")).to_contain_text("drawn tight, and 70 mm more round each plate")
        page.evaluate("document.querySelectorAll('details').forEach((each) => (each.open = true))")
        angle = page.locator(entry(page, "/defaults/bracing/1/angle"))
        angle.fill("59")
        angle.press("Enter")
        expect(page.locator("#wall-front")).to_contain_text("rises to the right at 59°")
        assert page.locator("#cutting-list").get_by_text("let-in brace").count() > 0
        assert page.locator("#cutting-list").get_by_text("housed 25 mm deep").count() > 0
    assert watched.complaints == []
