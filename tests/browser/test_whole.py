"""The building as a whole: turned, touched, its layers switched; and there without a script."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from soleplate.api.written.folder import folder_files, write_folder
from tests.browser.conftest import Watched
from tests.buildings import honey_house, layout_of, registry

SIZES = [(1280, 900), (390, 800)]


def whole(watched: Watched, address: str) -> Page:
    page = watched.open(f"{address}?example=honey_house&whole=yes")
    expect(page.locator("#whole .turn .lines").first).to_be_attached()
    return page


def drawn(page: Page) -> str:
    return str(
        page.evaluate(
            "Array.from(document.querySelectorAll('.turn path'), (p) => p.getAttribute('d')).join()"
        )
    )


def test_the_way_leads_to_the_whole_and_back_to_a_wall(watched: Watched, honey_house_address: str) -> None:
    page = watched.open(f"{honey_house_address}?example=honey_house")
    page.get_by_role("link", name="The whole building").click()
    expect(page.locator("#whole .seen")).to_have_text("Seen from the front left and above")
    expect(page.locator("main > .board-bar")).to_be_hidden()
    page.locator("svg.plan a[data-wall='wall-front']").click()
    expect(page.locator("#whole")).to_have_count(0)
    expect(page.locator("#wall-front .elevation")).to_be_visible()
    assert watched.complaints == []


def test_it_is_turned_by_keys_buttons_and_dragging(watched: Watched, honey_house_address: str) -> None:
    page = whole(watched, honey_house_address)
    seen = page.locator("#whole .seen")
    before = drawn(page)
    page.locator(".turn").focus()
    page.keyboard.press("ArrowUp")
    expect(page.locator(".turn .lines").first).not_to_have_attribute("d", before)
    for _ in range(4):
        page.keyboard.press("ArrowUp")
    expect(seen).to_have_text("Seen from straight above")
    page.get_by_role("button", name="back", exact=True).click()
    expect(seen).to_have_text("Seen from the back right and above")
    box = page.locator(".turn").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 225, y, steps=4)
    page.mouse.up()
    # 225 pixels at 0.4 degrees each.
    expect(seen).to_have_text("Seen from the front right and above")
    expect(page.locator("#cut-card")).to_be_hidden()
    assert watched.complaints == []


def test_a_touched_piece_has_its_cut_card_and_layers_are_switched(
    watched: Watched, honey_house_address: str
) -> None:
    page = whole(watched, honey_house_address)
    door = page.locator(".turn .piece.leaf-board").first
    door.dispatch_event("click")
    card = page.locator("#cut-card")
    expect(card).to_be_visible()
    expect(card.locator("[data-slot=mark]")).to_have_text(door.get_attribute("data-mark") or "")
    expect(card.locator("[data-slot=place]")).to_contain_text("front, ")
    page.keyboard.press("Escape")
    page.get_by_role("checkbox", name="Covering").click()
    expect(door).to_be_hidden()
    expect(page.locator(".turn .piece.stud").first).to_be_visible()
    assert watched.complaints == []


def test_keys_go_from_the_whole_to_its_pieces_and_back(watched: Watched, honey_house_address: str) -> None:
    page = whole(watched, honey_house_address)
    page.locator(".turn").focus()
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("Enter")
    expect(page.locator(".turn .piece:focus")).to_have_count(1)
    page.keyboard.press("Enter")
    expect(page.locator("#cut-card")).to_be_visible()
    page.keyboard.press("Escape")
    page.keyboard.press("Escape")
    expect(page.locator(".turn")).to_be_focused()


@pytest.mark.parametrize("size", SIZES)
def test_it_breaks_no_rule_of_access(
    watched: Watched, honey_house_address: str, size: tuple[int, int]
) -> None:
    page = watched.page
    page.set_viewport_size({"width": size[0], "height": size[1]})
    whole(watched, honey_house_address)
    assert watched.violations() == []


def test_without_a_script_it_is_there_from_four_sides(browser: Browser, honey_house_address: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{honey_house_address}?example=honey_house")
    page.get_by_role("link", name="The whole building").click()
    expect(page.locator("#whole figure svg")).to_have_count(4)
    expect(page.locator("#whole figcaption").first).to_have_text(
        "Honey house, seen from the front left and above"
    )
    expect(page.locator("#whole .turntable")).to_be_hidden()
    context.close()


def test_a_folder_has_it_from_disk(watched: Watched, tmp_path: Path) -> None:
    write_folder(folder_files(layout_of(honey_house()), registry()), tmp_path / "made")
    page = watched.open(f"file://{tmp_path}/made/page.html#whole")
    expect(page.locator(".turn .lines").first).to_be_visible()
    page.locator(".turn").focus()
    page.keyboard.press("ArrowLeft")
    expect(page.locator("#whole .seen")).to_have_text("Seen from the front left and above")
    expect(page.locator("#wall-front")).to_be_hidden()
    assert watched.complaints == []
