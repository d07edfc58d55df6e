"""The bench on a phone: a group of cuts at a time, then the walls, then the courses; ticks are remembered."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import pytest
from playwright.sync_api import Page, Route, expect

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import WallOut
from soleplate.viewer.drawings.face import Side
from soleplate.viewer.drawings.tiers import left_edge, tiers
from tests.browser.conftest import Watched
from tests.browser.test_editing import ready
from tests.buildings import HONEY_HOUSE, honey_house, layout_of
from tests.serving import serving


def clad() -> dict[str, object]:
    value = honey_house()
    value["defaults"]["cladding"] = {"rule": "rebated", "width": 145, "cover": 130}
    value["walls"]["left"] = {"lining": {"rule": "tongue-and-groove", "width": 120, "cover": 108}}
    return value


@pytest.fixture(scope="module")
def clad_address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    file: Path = tmp_path_factory.mktemp("clad") / "clad.json"
    file.write_text(json.dumps(clad()))
    with serving(file) as server:
        yield server.address


def steps_of(wall: WallOut, facing: Side) -> int:
    """A course, a board, a sheet, or all battens of a tier at a time."""
    laid = tiers(wall, facing)
    courses = wall.courses if facing == "outside" else wall.lining_courses
    boards = [tier for tier in laid if tier.pieces[0].course is None]
    return len(courses) + sum(1 if tier.role == "batten" else len(tier.pieces) for tier in boards)


def at_the_bench(watched: Watched, address: str) -> Page:
    watched.page.set_viewport_size({"width": 390, "height": 844})
    page = ready(watched.open(address))
    page.get_by_role("button", name="Bench").click()
    expect(page.locator("#bench-step")).not_to_be_empty()
    return page


def test_each_cut_is_shown_large_and_ticked_off(watched: Watched, clad_address: str) -> None:
    page = at_the_bench(watched, clad_address)
    layout = layout_of(clad())
    step, stage = page.locator("#bench-step"), page.locator("#bench-stage")
    count = len(layout.cutting_list)
    for number, row in enumerate(layout.cutting_list[:4], 1):
        expect(stage).to_have_text(f"Cutting, {number} of {count}")
        expect(step.locator(".bench-figure")).to_contain_text(row.display)
        expect(step.locator(".bench-figure")).to_contain_text(f"× {row.count}")
        assert step.locator(".cut-end").count() == 2
        size = "parseFloat(getComputedStyle(document.querySelector('.bench-figure')).fontSize)"
        assert page.evaluate(size) >= 40
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        page.get_by_role("button", name="Cut: tick it off").click()
    assert page.locator("#bench-progress").evaluate("(bar) => bar.value") == 4
    assert watched.complaints == []


def test_the_button_tells_that_the_bench_opens_and_the_stage_has_the_focus(
    watched: Watched, clad_address: str
) -> None:
    page = ready(watched.open(clad_address))
    page.wait_for_load_state("networkidle")
    held: list[Route] = []
    page.route("**/v1/boards", lambda route: held.append(route), times=1)
    before = len(watched.requests)
    button = page.locator("[data-do=bench]")
    button.press("Enter")
    expect(button).to_have_attribute("aria-busy", "true")
    expect(button).to_have_text("Bench: opening …")
    expect(button).to_be_focused()
    assert watched.violations() == []
    button.press("Enter")
    expect(page.locator("#bench")).to_be_hidden()
    (route,) = held
    route.continue_()
    expect(page.locator("#bench-stage")).to_be_focused()
    expect(page.locator("#bench-stage")).to_contain_text("Cutting, 1 of")
    asked = [url for url in watched.requests[before:] if url.endswith("/v1/boards")]
    assert len(asked) == 2, "both sides, once each"
    page.get_by_role("button", name="Back to the board").click()
    expect(button).to_have_text("Bench")
    expect(button).to_be_focused()
    assert button.get_attribute("aria-busy") is None
    assert watched.complaints == []


def test_ticks_survive_a_closed_tab_and_need_no_network(watched: Watched, clad_address: str) -> None:
    page = at_the_bench(watched, clad_address)
    context = page.context
    context.set_offline(True)
    for _ in range(3):
        page.get_by_role("button", name="Cut: tick it off").click()
    expect(page.locator("#bench-stage")).to_contain_text("Cutting, 4 of")
    page.get_by_role("button", name="Before").click()
    expect(page.get_by_role("button", name="take the tick back")).to_have_attribute("aria-pressed", "true")
    context.set_offline(False)
    page.close()
    watched.page = context.new_page()
    again = at_the_bench(watched, clad_address)
    expect(again.locator("#bench-stage")).to_contain_text("Cutting, 4 of")


def test_it_is_loaded_again_without_a_network(watched: Watched, clad_address: str) -> None:
    page = at_the_bench(watched, clad_address)
    page.get_by_role("button", name="Cut: tick it off").click()
    expect(page.locator("#bench")).to_have_attribute("data-kept", "")
    page.context.set_offline(True)
    page.reload()
    page.locator("[data-do=bench]").click()
    expect(page.locator("#bench-stage")).to_contain_text("Cutting, 2 of")
    layout = layout_of(clad())
    for _ in layout.cutting_list:
        page.keyboard.press("ArrowRight")
    expect(page.locator("#bench-stage")).to_contain_text("Putting together")
    assert page.evaluate("document.querySelector('#bench-progress').max") == len(layout.cutting_list) + len(
        layout.walls
    ) + sum(steps_of(wall, "outside") + steps_of(wall, "inside") for wall in layout.walls)


def test_what_is_kept_never_stands_before_what_the_server_has(watched: Watched, tmp_path: Path) -> None:
    file = tmp_path / "one.json"
    file.write_text(json.dumps(clad()))
    with serving(file) as server:
        page = at_the_bench(watched, server.address)
        expect(page.locator("#bench")).to_have_attribute("data-kept", "")
        port = int(server.address.rstrip("/").rpartition(":")[2])
    file.write_text(json.dumps({**clad(), "name": "Another"}))
    with serving(file, port=port) as server:
        page.goto(server.address)
        expect(page.locator("#facts h1")).to_have_text("Another")


def test_after_the_cuts_come_walls_and_courses(watched: Watched, clad_address: str) -> None:
    page = at_the_bench(watched, clad_address)
    layout = layout_of(clad())
    step, stage = page.locator("#bench-step"), page.locator("#bench-stage")
    page.context.set_offline(True)
    for _ in layout.cutting_list:
        page.keyboard.press("ArrowRight")
    for number, wall in enumerate(layout.walls, 1):
        expect(stage).to_have_text(f"Putting together, {number} of {len(layout.walls)}")
        expect(step.locator("h2")).to_have_text(wall.name)
        assert step.locator(".elevation .piece").count() == len(wall.pieces)
        text = step.inner_text()
        assert all(
            mark.mark in text and mark.display in text for each in wall.plate_lengths for mark in each.marks
        )
        page.keyboard.press("ArrowRight")
    courses = [(wall, course) for wall in layout.walls for course in wall.courses]
    for number, (wall, course) in enumerate(courses[:5], 1):
        expect(stage).to_have_text(f"Cladding, {number} of {len(courses)}")
        expect(step.locator("h2")).to_have_text(f"{wall.name}, course {course.number}")
        expect(step.locator(".bench-figure")).to_contain_text(course.display)
        assert all(mark in step.inner_text() for mark in course.boards)
        assert lit(page) == set(course.boards)
        assert step.locator(".elevation .course").count() == len(wall.courses)
        page.keyboard.press("ArrowRight")
    for _ in courses[5:]:
        page.keyboard.press("ArrowRight")
    left = next(wall for wall in layout.walls if wall.name == "left")
    assert left.lining_courses
    for number, course in enumerate(left.lining_courses, 1):
        expect(stage).to_have_text(f"Lining, {number} of {len(left.lining_courses)}")
        expect(step.locator("h2")).to_have_text(f"left inside, course {course.number}")
        expect(step.locator(".bench-figure")).to_contain_text(course.display)
        assert all(mark in step.inner_text() for mark in course.boards)
        assert lit(page) == set(course.boards)
        expect(step.locator(".elevation")).to_have_attribute("aria-label", "left: seen from inside")
        assert left.courses
        assert step.locator(".elevation .course").count() == 0, "the rod is that of the cladding"
        page.keyboard.press("ArrowRight")
    page.get_by_role("button", name="Back to the board").click()
    expect(page.locator("#bench")).to_be_hidden()
    expect(page.get_by_role("button", name="Bench")).to_be_focused()
    assert watched.complaints == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_is_accessible(watched: Watched, clad_address: str, scheme: str) -> None:
    watched.page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    page = at_the_bench(watched, clad_address)
    assert watched.violations() == []
    for _ in layout_of(clad()).cutting_list:
        page.keyboard.press("ArrowRight")
    expect(page.locator("#bench-stage")).to_contain_text("Putting together")
    assert watched.violations() == []


def test_the_storey_rod_stands_level_with_the_courses(watched: Watched, clad_address: str) -> None:
    page = watched.open(clad_address)
    page.locator("input[name=layer][value=cladding]").check()
    wall = layout_of(clad()).walls[0]
    assert page.locator(".elevation .course").count() == len(wall.courses)
    page.locator("[data-do=nearer]").click()
    for course in wall.courses:
        lower = page.locator(f".elevation .course[data-course='{course.number}'] line").get_attribute("y1")
        assert float(lower or "nan") == pytest.approx(-course.bottom, abs=5e-4)


def lit(page: Page) -> set[str]:
    """The marks of the pieces that the step's drawing shows as those to put up, each of them to be seen."""
    found: list[list[str]] = page.evaluate(
        """() => Array.from(document.querySelectorAll("#bench-step .piece.at"),
            (piece) => [piece.dataset.mark, piece.getClientRects().length])"""
    )
    assert all(rects for _, rects in found)
    return {mark for mark, _ in found}


@pytest.mark.parametrize("name", ["hen_house", "reading_room"])
def test_boards_and_sheets_go_up_one_by_one(watched: Watched, name: str) -> None:
    file = HONEY_HOUSE.with_name(f"{name}.json")
    layout = layout_of(json.loads(file.read_text()))
    with serving(file) as server:
        page = at_the_bench(watched, server.address)
        step, stage = page.locator("#bench-step"), page.locator("#bench-stage")
        sides: tuple[Side, ...] = get_args(Side)
        for facing, kind in zip(sides, ("Cladding", "Lining"), strict=True):
            count = sum(steps_of(wall, facing) for wall in layout.walls)
            if count == 0:
                continue
            while kind not in stage.inner_text():
                page.keyboard.press("ArrowRight")
            expect(stage).to_have_text(f"{kind}, 1 of {count}")
            wall = layout.walls[0]
            for tier in tiers(wall, facing):
                if tier.role == "batten":
                    expect(step.locator("h2")).to_have_text(wall.name)
                    told = step.inner_text()
                    assert all(piece.mark in told for piece in tier.pieces)
                    assert f"layer {tier.number} of {tier.count} from the frame" in told
                    assert lit(page) == {piece.mark for piece in tier.pieces}
                    page.keyboard.press("ArrowRight")
                elif tier.pieces[0].course is None:
                    for piece in tier.pieces:
                        expect(step.locator("h2")).to_have_text(f"{wall.name}, {piece.mark}")
                        edge = format_length(left_edge(wall, piece, facing), layout.units)
                        expect(step.locator(".bench-figure")).to_contain_text(edge)
                        label = step.locator(".bench-figure small").inner_text()
                        assert label.endswith("left end seen from inside") == (facing == "inside")
                        assert lit(page) == {piece.mark}
                        page.keyboard.press("ArrowRight")
        assert page.evaluate("document.documentElement.scrollWidth") <= 390
        assert watched.violations() == []
        assert watched.complaints == []


def test_a_walls_drawing_fits_the_phone_and_is_brought_nearer(watched: Watched, clad_address: str) -> None:
    page = at_the_bench(watched, clad_address)
    for _ in layout_of(clad()).cutting_list:
        page.keyboard.press("ArrowRight")
    expect(page.locator("#bench-stage")).to_contain_text("Putting together")
    board = page.locator("#bench-step div.board").first
    beyond = "(board) => [board.scrollWidth - board.clientWidth, board.scrollHeight - board.clientHeight]"
    assert board.evaluate(beyond) == [0, 0]
    board.focus()
    page.keyboard.press("+")
    assert board.evaluate(beyond)[0] > 0
    page.keyboard.press("0")
    assert board.evaluate(beyond) == [0, 0]
    assert watched.complaints == []
