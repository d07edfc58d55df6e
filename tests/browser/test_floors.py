"""A floor on the page: picked like any rule, shown among the parts, its hatch drawn along."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser.conftest import Watched
from tests.browser.test_editing import entry, ready


def test_a_floor_is_picked_shown_and_its_hatch_drawn_along(
    watched: Watched, honey_house_address: str
) -> None:
    page = ready(watched.open(honey_house_address))
    floor = page.locator("#entries summary", has_text="floor").first
    floor.click()
    page.locator(entry(page, "/floor")).select_option("joists")
    link = page.locator("#way a[data-wall='wall-floor']")
    expect(link).to_be_visible()
    expect(page.locator(entry(page, "/floor/joists/centres"))).to_have_value("400")
    link.click()
    section = page.locator("#wall-floor")
    expect(section).to_be_visible()
    expect(section).to_contain_text("floor: seen from above")
    expect(section.locator("[data-role='bearer']")).to_have_count(3)

    page.get_by_role("button", name="Add: floor opening").click()
    hole = section.locator(".hole")
    expect(hole).to_have_count(1)
    expect(hole).to_have_attribute("aria-valuenow", "600")
    hole.focus()
    page.keyboard.press("ArrowRight")
    expect(section.locator(".hole[aria-valuenow='610']")).to_have_count(1)
    assert page.evaluate("building.file.floor.openings[0].at") == {"left": 610}

    page.locator(entry(page, "/floor/insulation")).fill("700")
    page.locator(entry(page, "/floor/insulation")).press("Enter")
    expect(page.locator("#entries .fault")).to_contain_text("accepted is 10 to 600 mm")
    page.locator(entry(page, "/floor/insulation")).fill("100")
    page.locator(entry(page, "/floor/insulation")).press("Enter")
    expect(page.locator("#entries .fault")).to_have_count(0)
    # What is not up to date is drawn faint.
    expect(page.locator(".wall[data-stale]")).to_have_count(0)
    expect(page.locator("#lists[aria-busy]")).to_have_count(0)
    assert watched.violations() == []

    page.locator(entry(page, "/floor")).select_option("")
    expect(link).to_have_count(0)
    assert page.evaluate("building.file.floor") is None
    assert [said for said in watched.complaints if "422" not in said] == []
