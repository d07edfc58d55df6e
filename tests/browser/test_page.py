"""The page in a real browser: whole, quiet, on its own, and open to all."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.conftest import Watched
from tests.buildings import honey_house, layout_of
from tests.serving import run, serving

HOSTILE = "<img src=x onerror=alert(1)><script>alert(2)</script>\"'&"


def test_the_honey_house_is_drawn(watched: Watched, honey_house_address: str) -> None:
    page = watched.open(honey_house_address)
    layout = layout_of(honey_house())
    assert page.locator("#facts h1").inner_text() == "Honey house"
    assert page.locator("svg.elevation .piece").count() == len(layout.walls[0].pieces)
    assert page.locator("svg.plan").count() == 1
    page.get_by_role("link", name="All walls").click()
    expect(page.locator("svg.elevation")).to_have_count(4)
    pieces = sum(len(wall.pieces) for wall in layout.walls)
    assert page.locator("svg.elevation .piece").count() == pieces
    drawn = page.locator("svg.elevation").all()
    assert all((drawing.bounding_box() or {"height": 0})["height"] > 100 for drawing in drawn)
    assert watched.complaints == []


def test_the_plan_is_the_way_to_each_wall(watched: Watched, honey_house_address: str) -> None:
    page = watched.open(honey_house_address)
    for wall in layout_of(honey_house()).walls:
        page.locator(f"svg.plan a[data-wall='wall-{wall.name}']").click()
        expect(page.locator(f"section.wall#wall-{wall.name}")).to_be_visible()
        expect(page.locator("section.wall")).to_have_count(1)
        expect(page.locator(".plan a[aria-current]")).to_have_attribute("data-wall", f"wall-{wall.name}")
    assert watched.complaints == []


def test_marks_and_the_cutting_list_stand_beside_it(watched: Watched, honey_house_address: str) -> None:
    page = watched.open(f"{honey_house_address}?all=walls")
    layout = layout_of(honey_house())
    shown = page.content()
    assert page.locator("#cutting-list tbody tr").count() == len(layout.cutting_list)
    for wall in layout.walls:
        for marks in wall.marks.values():
            assert all(f">{mark.mark}<" in shown for mark in marks)
    assert page.get_by_text("local codes").first.is_visible()


def test_without_a_script_the_page_shows_drawings_and_lists(
    browser: Browser, honey_house_address: str
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(honey_house_address)
    page.get_by_role("link", name="Show wall back").click()
    assert page.locator("section.wall").get_attribute("id") == "wall-back"
    assert page.locator("svg.elevation").is_visible()
    assert page.locator("svg.tape-strip").is_visible()
    assert page.locator("#cutting-list tbody tr").first.is_visible()
    assert not page.locator("[data-do]").first.is_visible()
    context.close()


def test_the_tape_keeps_step_however_near_it_is_looked_at(watched: Watched, honey_house_address: str) -> None:
    page = watched.open(honey_house_address)
    wall = layout_of(honey_house()).walls[0]
    for times in range(4):
        place = "(mark) => document.querySelector(`.piece[data-mark='${mark}']`).getBoundingClientRect().left"
        pieces = [page.evaluate(place, mark.mark) for mark in wall.marks["sole plate"]]
        tape = page.evaluate(
            "Array.from(document.querySelectorAll('.tape-strip .mark polyline'),"
            " (line) => line.getScreenCTM().e + line.getScreenCTM().a * line.points[0].x)"
        )
        # A piece's box includes half its outline, 2 mm.
        assert sorted(tape) == pytest.approx(sorted(pieces), abs=2.0), times
        page.locator("[data-do=nearer]").click()
        page.locator(".board").evaluate("(board) => { board.scrollLeft += 37; }")
    assert watched.complaints == []


def test_layers_are_switched(watched: Watched, honey_house_address: str) -> None:
    page = watched.open(honey_house_address)
    for name, inside in (("openings", ".hole"), ("findings", ".flag"), ("frame", ".piece")):
        expect(page.locator(f".elevation {inside}").first).to_be_visible()
        page.locator(f"input[name=layer][value={name}]").uncheck()
        expect(page.locator(f".elevation {inside}").first).to_be_hidden()
    page.locator(".plan a[data-wall='wall-back']").click()
    expect(page.locator("#wall-back .piece").first).to_be_hidden()


def test_a_touched_piece_opens_its_cut_card(watched: Watched, honey_house_address: str) -> None:
    page = watched.open(honey_house_address)
    piece = layout_of(honey_house()).walls[0].pieces[3]
    page.locator(f".piece[data-mark='{piece.mark}']").click()
    card = page.locator("#cut-card")
    assert card.locator("[data-slot=mark]").inner_text() == piece.mark
    assert card.locator("[data-slot=length]").inner_text() == piece.display
    assert piece.mark in card.locator("[data-slot=marks]").inner_text().split(", ")
    assert card.locator("[data-slot=place]").inner_text().startswith("front, ")
    assert card.locator(".cut-end").count() == 2
    page.keyboard.press("Escape")
    expect(card).to_be_hidden()
    assert page.evaluate("document.activeElement.dataset.mark") == piece.mark


def test_nothing_comes_from_another_host(watched: Watched, honey_house_address: str) -> None:
    watched.open(honey_house_address)
    assert watched.requests
    assert [url for url in watched.requests if not url.startswith(honey_house_address)] == []


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_it_is_accessible(watched: Watched, honey_house_address: str, width: int, scheme: str) -> None:
    watched.page.set_viewport_size({"width": width, "height": 900})
    watched.page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    page = watched.open(honey_house_address)
    page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })")
    page.locator(".piece[data-role=stud]").first.click()
    assert watched.violations() == []


def test_it_fits_a_phone(watched: Watched, honey_house_address: str) -> None:
    watched.page.set_viewport_size({"width": 390, "height": 800})
    page = watched.open(honey_house_address)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_the_start_page_and_a_problem_page_are_quiet(watched: Watched) -> None:
    with serving() as server:
        page = watched.open(server.address)
        expect(page.get_by_role("heading", name="Begin a building")).to_be_visible()
        page.goto(f"{server.address}problems/schema")
        assert page.locator("h1").count() == 1
    assert watched.complaints == []


def hostile_file(folder: Path) -> Path:
    building = honey_house() | {"name": HOSTILE}
    building["frame"]["material"] = HOSTILE
    building["walls"]["front"]["openings"][0]["name"] = HOSTILE
    file = folder / "hostile.json"
    file.write_text(json.dumps(building))
    return file


def test_hostile_names_are_only_text(watched: Watched, tmp_path: Path) -> None:
    with serving(hostile_file(tmp_path)) as server:
        page = watched.open(server.address)
        assert page.locator("#facts h1").inner_text() == HOSTILE
        assert page.locator("img").count() == 0
        assert page.locator("script:not([src], [type='application/json'])").count() == 0
    assert watched.complaints == []


def test_the_folder_opens_from_disk(watched: Watched, tmp_path: Path) -> None:
    """Without the server's headers, hence hostile names again."""
    assert run("layout", hostile_file(tmp_path), "--out", tmp_path / "made").returncode == 0
    page = watched.open((tmp_path / "made" / "page.html").as_uri())
    assert page.locator("svg.elevation").count() == 4
    assert [wall.is_visible() for wall in page.locator(".wall").all()] == [True, False, False, False]
    page.get_by_role("link", name="Show wall back").click()
    assert [wall.is_visible() for wall in page.locator(".wall").all()] == [False, False, True, False]
    page.locator("input[name=layer][value=openings]").uncheck()
    assert page.locator(".wall:not([hidden]) .layer.openings:visible").count() == 0
    with page.expect_navigation():
        page.locator(".wall:not([hidden])").get_by_role("link", name="See it from inside").click()
    assert page.url.endswith("/inside-3-back.svg")
    assert "seen from inside" in (page.locator("svg").first.text_content() or "")
    page.go_back()
    assert page.locator("img:not([src^=whole])").count() == 0
    styled = "getComputedStyle(document.querySelector('.desk')).display"
    assert page.evaluate(styled) != "block"
    assert all(url.startswith((tmp_path / "made").as_uri()) for url in watched.requests)
    assert watched.complaints == []


def test_the_other_side_is_a_link_away_where_no_script_runs(
    browser: Browser, honey_house_address: str
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{honey_house_address}?wall=back")
    page.get_by_role("link", name="See it from inside").click()
    assert page.locator("section.wall").get_attribute("data-side") == "inside"
    assert page.locator("section.wall").get_attribute("id") == "wall-back"
    page.get_by_role("link", name="See it from outside").click()
    assert page.locator("section.wall").get_attribute("data-side") == "outside"
    assert page.locator("input[name=layer][value=marks]").is_visible()
    context.close()


def test_the_side_that_is_shown_is_the_one_that_is_chosen(watched: Watched, honey_house_address: str) -> None:
    page = watched.open(f"{honey_house_address}?side=inside")
    expect(page.locator("input[name=side][value=inside]")).to_be_checked()
    assert page.get_by_role("link", name="See it from").count() == 0
    assert watched.complaints == []
