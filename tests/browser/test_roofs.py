"""A framed roof on the page: its slope's entries, how its eaves are closed, and what was measured of it."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser.conftest import Watched
from tests.browser.test_editing import entry, ready


def test_a_slope_has_entries_of_what_closes_it_and_of_its_run(
    watched: Watched, honey_house_address: str
) -> None:
    page = ready(watched.open(honey_house_address))
    page.evaluate("building.set(['roof', 'frame'], undefined, 'whole')")
    page.evaluate("building.set(['walls'], {}, 'whole')")
    page.evaluate("building.set(['defaults'], {studs: {rule: 'equal-bays', largest_bay: 600}}, 'whole')")
    page.evaluate(
        "building.set(['roof', 'frame'], {rule: 'rafters', section: [45, 145], eaves: {low: 300},"
        " spacing: {rule: 'equal-bays', largest_bay: 600}, deck: {rule: 'sheets'}}, 'whole')"
    )
    link = page.locator("#way a[data-wall='wall-roof%20back']")
    expect(link).to_be_visible()
    link.click()
    section = page.locator("section[id='wall-roof%20back']")
    expect(section.locator("[data-role='blocking']").first).to_be_visible()

    closing = page.locator(entry(page, "/roof/frame/closing"))
    closing.select_option("open")
    expect(section.locator("[data-role='blocking']")).to_have_count(0)
    expect(section).to_contain_text("nothing closes the eaves")
    closing.select_option("blocking")
    expect(page.locator("#entries .fault")).to_have_count(0)
    expect(page.locator(entry(page, "/roof/frame/closing/gap"))).to_have_attribute("placeholder", "30")

    insulation = page.locator(entry(page, "/roof/frame/insulation"))
    insulation.fill("90")
    insulation.press("Enter")
    expect(section).to_contain_text("Insulation 90 mm thick")

    # A slope has a run alone, a wall none.
    run = page.locator(entry(page, "/measured/roof back/run"))
    expect(page.locator("#entries [data-pointer='/measured/roof back/length']")).to_have_count(0)
    page.locator("#entries details[data-key='measured'] > summary").click()
    run.fill("2690")
    run.press("Enter")
    expect(section).to_contain_text("10.1 mm shorter than designed")
    page.locator("#way a[data-wall='wall-back']").click()
    expect(page.locator("#entries [data-pointer='/measured/back/run']")).to_have_count(0)
    expect(page.locator("#entries [data-pointer='/measured/back/length']")).to_have_count(1)
    # A verge of either kind is picked like any rule.
    page.locator("#way a[data-wall='wall-roof%20back']").click()
    page.locator(entry(page, "/roof/frame/verge")).select_option("flush")
    expect(page.locator("#entries .fault")).to_have_count(0)
    assert page.evaluate("building.file.roof.frame.verge") == {"rule": "flush"}
    # What is not up to date is drawn faint.
    expect(page.locator(".wall[data-stale]")).to_have_count(0)
    expect(page.locator("#lists[aria-busy]")).to_have_count(0)
    assert watched.violations() == []
