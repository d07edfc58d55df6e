"""Raising on the page: obstacles drawn on the site, the order asked for, gone through and ticked off."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, FloatRect, Page, Route, expect

from soleplate.engine.work_order import work_order
from tests.browser.conftest import Watched
from tests.browser.test_editing import ready
from tests.buildings import layout_of, registry
from tests.serving import serving
from tests.yards import TILTED, banks, hut

SITE = {"obstacles": banks(300)}


def served(value: dict[str, Any], folder: Path) -> Iterator[str]:
    file = folder / "hut.json"
    file.write_text(json.dumps(value))
    with serving(file) as server:
        yield server.address


@pytest.fixture(scope="module")
def hut_address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    yield from served(hut(SITE), tmp_path_factory.mktemp("hut"))


@pytest.fixture(scope="module")
def boxed_address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    boxed = hut({"obstacles": banks(300), "ways": TILTED}, through="pinwheel")
    yield from served(boxed, tmp_path_factory.mktemp("boxed"))


def found(watched: Watched, address: str, width: int = 1280) -> Page:
    watched.page.set_viewport_size({"width": width, "height": 844})
    page = ready(watched.open(address))
    page.get_by_role("button", name="Find the order of work").click()
    expect(page.locator(".raising-step").first).to_be_visible()
    return page


def obstacles(page: Page) -> list[dict[str, Any]]:
    told: list[dict[str, Any]] = page.evaluate("building.file.site?.obstacles ?? []")
    return told


def steps() -> int:
    order, _ = work_order(layout_of(hut(SITE)), registry().read_building(hut(SITE)), registry())
    assert order is not None
    return len(order.steps)


def test_the_order_is_asked_for_by_its_button_alone_and_says_that_work_is_under_way(
    watched: Watched, hut_address: str
) -> None:
    page = ready(watched.open(hut_address))
    assert not [url for url in watched.requests if url.endswith("/v1/orders-of-work")]
    held: list[Route] = []
    page.route("**/v1/orders-of-work", lambda route: held.append(route), times=1)
    button = page.get_by_role("button", name="Find the order of work")
    button.click()
    expect(page.locator("#raising-said")).to_contain_text("Work is under way")
    expect(button).to_have_attribute("aria-busy", "true")
    held[0].continue_()
    expect(page.locator(".raising-step")).to_have_count(steps())
    expect(page.locator("#raising-said")).to_have_text(f"0 of {steps()} done")
    expect(button).not_to_have_attribute("aria-busy", "true")
    assert watched.complaints == []


@pytest.mark.parametrize("width", [1280, 390])
def test_steps_are_gone_through_by_arrow_keys(watched: Watched, hut_address: str, width: int) -> None:
    page = found(watched, hut_address, width)
    row, count = page.locator(".raising-figures"), steps()
    page.emulate_media(reduced_motion="reduce")
    row.focus()
    for number in (2, 3, 4):
        page.keyboard.press("ArrowRight")
        expect(page.locator("#raising-said")).to_contain_text(f"{number} of {count}: ")
    expect(page.locator(".raising-step").nth(3)).to_be_in_viewport(ratio=0.5)
    page.keyboard.press("ArrowLeft")
    expect(page.locator("#raising-said")).to_contain_text(f"3 of {count}: ")
    page.keyboard.press("End")
    expect(page.locator("#raising-said")).to_contain_text(f"{count} of {count}: ")
    expect(page.locator(".raising-step").last).to_be_in_viewport(ratio=0.5)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert page.locator(".raising-step").first.evaluate("(step) => step.offsetWidth") <= 340


def test_ticks_are_remembered_with_the_steps(watched: Watched, hut_address: str) -> None:
    page = found(watched, hut_address, 390)
    ticks = page.locator("#raising [data-tick]")
    ticks.nth(0).check()
    ticks.nth(1).check()
    expect(page.locator("#raising-said")).to_have_text(f"2 of {steps()} done")
    page.reload()
    expect(ticks).to_have_count(steps())
    expect(ticks.nth(1)).to_be_checked()
    expect(ticks.nth(2)).not_to_be_checked()
    # The row begins at the first step that is left.
    page.wait_for_function(
        "([row, step]) => Math.abs(step.offsetLeft - row.offsetLeft - row.scrollLeft) < 4",
        arg=[
            page.locator(".raising-figures").element_handle(),
            page.locator(".raising-step").nth(2).element_handle(),
        ],
    )
    assert watched.complaints == []


def test_each_figure_says_what_it_shows(watched: Watched, hut_address: str) -> None:
    page = found(watched, hut_address)
    names = page.locator(".raising-plan").evaluate_all(
        "(all) => all.map((each) => each.getAttribute('aria-label'))"
    )
    assert len(names) == steps()
    assert all(name.startswith(f"Step {number}: ") for number, name in enumerate(names, 1))
    assert watched.violations() == []


def test_in_the_dark_nothing_is_drawn_in_the_colour_of_its_ground(watched: Watched, hut_address: str) -> None:
    watched.page.emulate_media(color_scheme="dark")
    page = found(watched, hut_address)
    last = page.locator(".raising-step").last
    ink = last.locator(".standing").first.evaluate("(wall) => getComputedStyle(wall).fill")
    paper = last.locator(".under-text").first.evaluate("(ground) => getComputedStyle(ground).fill")
    assert ink != paper
    assert watched.violations() == []


def test_without_an_order_it_is_told_and_what_is_in_the_way_is_drawn(
    watched: Watched, boxed_address: str
) -> None:
    page = found(watched, boxed_address)
    expect(page.locator("#raising-said")).to_contain_text("There is no order of work")
    expect(page.locator("#raising-steps")).to_contain_text("At the most there stand:")
    expect(page.locator(".raising-step .room").first).to_be_attached()
    expect(page.locator("#raising-steps")).to_contain_text(
        "there is an order with the corners", ignore_case=True
    )


def test_once_the_building_is_changed_the_steps_say_so(watched: Watched, hut_address: str) -> None:
    page = found(watched, hut_address)
    expect(page.locator("#raising[data-stale]")).to_have_count(0)
    page.locator("[data-do=add-obstacle]").click()
    expect(page.locator("#raising[data-stale]")).to_have_count(1)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#raising[data-stale]")).to_have_count(0)


def plan_of(page: Page) -> FloatRect:
    page.locator("svg.site").scroll_into_view_if_needed()
    box = page.locator("svg.site").bounding_box()
    assert box is not None
    return box


def drag(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    """From a share of the plan's width and height to another."""
    box = plan_of(page)
    (x0, y0), (x1, y1) = [
        (box["x"] + x * box["width"], box["y"] + y * box["height"]) for x, y in (start, end)
    ]
    page.mouse.move(x0, y0)
    page.mouse.down()
    page.mouse.move((x0 + x1) / 2, (y0 + y1) / 2)
    page.mouse.move(x1, y1)
    page.mouse.up()


@pytest.fixture(scope="module")
def open_address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    yield from served(hut(), tmp_path_factory.mktemp("open"))


def test_an_obstacle_is_drawn_moved_stretched_and_taken_back(watched: Watched, open_address: str) -> None:
    page = ready(watched.open(open_address))
    expect(page.locator("svg.site")).to_be_visible()
    drag(page, (0.35, 0.08), (0.65, 0.2))
    expect(page.locator(".site .obstacle")).to_have_count(1)
    (first,) = obstacles(page)
    assert first["beside"] == "back"
    assert first["top"] == 1800
    assert first["clear"] > 0
    assert first["along"][1] - first["along"][0] > first["thick"]
    # By its body it is moved, and stays as large as it is.
    drag(page, (0.5, 0.14), (0.5, 0.1))
    (moved,) = obstacles(page)
    assert moved["clear"] > first["clear"]
    assert moved["thick"] == first["thick"]
    # By a corner it is stretched; the opposite corner stays.
    corner = page.locator(".site .handle").nth(3).bounding_box()
    assert corner is not None
    page.mouse.move(corner["x"] + corner["width"] / 2, corner["y"] + corner["height"] / 2)
    page.mouse.down()
    page.mouse.move(corner["x"] - 60, corner["y"] + corner["height"] / 2)
    page.mouse.up()
    (wider,) = obstacles(page)
    assert wider["along"][0] == moved["along"][0]
    assert wider["along"][1] > moved["along"][1]
    for earlier in ([moved], [first], []):
        page.get_by_role("button", name="Undo").click()
        assert obstacles(page) == earlier
    assert watched.complaints == []


def test_by_keys_an_obstacle_goes_by_a_tenth_of_a_metre_and_finely_by_ten_mm(
    watched: Watched, open_address: str
) -> None:
    page = ready(watched.open(open_address))
    page.locator("[data-do=add-obstacle]").click()
    (first,) = obstacles(page)
    assert (first["beside"], first["clear"], first["thick"], first["along"]) == (
        "front",
        600,
        1000,
        [0, 1000],
    )
    page.locator(".site .obstacle").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Shift+ArrowDown")
    (moved,) = obstacles(page)
    assert (moved["clear"], moved["thick"], moved["along"]) == (610, 1000, [100, 1100])
    corner = page.locator(".site .handle[tabindex]")
    corner.focus()
    page.keyboard.press("ArrowDown")
    (larger,) = obstacles(page)
    assert (larger["clear"], larger["thick"]) == (610, 1100)
    expect(corner).to_be_focused()
    page.locator(".site .obstacle").focus()
    page.keyboard.press("Delete")
    assert obstacles(page) == []


def test_its_two_figures_and_its_entries_are_of_one_obstacle(watched: Watched, open_address: str) -> None:
    page = ready(watched.open(open_address))
    page.locator("[data-do=add-obstacle]").click()
    page.locator("[data-figure=clear]").fill("350")
    page.locator("[data-figure=clear]").press("Tab")
    page.locator("[data-figure=top]").fill("2.5 m")
    page.locator("[data-figure=top]").press("Tab")
    (told,) = obstacles(page)
    assert (told["clear"], told["top"]) == (350, "2.5 m")
    entry = page.locator('[id="entry/site/obstacles/0/clear"]')
    expect(entry).to_have_value("350")


def test_a_finger_pans_over_the_plan_unless_it_is_asked_to_draw(watched: Watched, open_address: str) -> None:
    page = ready(watched.open(open_address))
    plan = page.locator("svg.site")
    assert plan.evaluate("(plan) => getComputedStyle(plan).touchAction") == "auto"
    # What a finger may take along was touched before.
    page.locator("[data-do=add-obstacle]").click()
    page.locator("[data-do=add-obstacle]").click()
    bodies = page.locator(".site .obstacle")
    touch = "(bodies) => bodies.map((body) => getComputedStyle(body).touchAction)"
    assert bodies.evaluate_all(touch) == ["auto", "none"]
    bodies.first.click()
    assert bodies.evaluate_all(touch) == ["none", "auto"]
    page.get_by_role("button", name="Draw an obstacle").click()
    expect(page.get_by_role("button", name="Draw an obstacle")).to_have_attribute("aria-pressed", "true")
    assert plan.evaluate("(plan) => getComputedStyle(plan).touchAction") == "none"


def test_without_a_script_it_is_said_where_the_order_is(browser: Browser, hut_address: str) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(hut_address)
    assert "the job book has it" in (page.locator("#raising noscript").text_content() or "")
    expect(page.get_by_role("button", name="Find the order of work")).to_be_hidden()
    context.close()


def test_an_obstacle_over_a_wall_is_told_before_the_order_is_asked_for(
    watched: Watched, hut_address: str
) -> None:
    page = ready(watched.open(hut_address))
    over = {"name": "post", "polygon": [[200, -50], [400, -50], [400, 60], [200, 60]]}
    page.evaluate("(post) => building.set(['site', 'obstacles'], [post], 'whole')", over)
    expect(page.locator("#status")).to_contain_text("post stands in wall front by 60 mm")
    page.evaluate("building.set(['site', 'obstacles'], [], 'whole')")
    expect(page.locator("#status")).not_to_contain_text("post stands")
    assert not [url for url in watched.requests if url.endswith("/v1/orders-of-work")]
