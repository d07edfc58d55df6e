"""The page in a real browser: whole, quiet, on its own, and open to all."""

from __future__ import annotations

import importlib.resources
import json
from pathlib import Path

import pytest

from tests.browser.conftest import Watched
from tests.buildings import honey_house, layout_of
from tests.serving import run, serving

HOSTILE = "<img src=x onerror=alert(1)><script>alert(2)</script>\"'&"


def test_the_honey_house_is_drawn(watched: Watched, honey_house_address: str) -> None:
    page = watched.open(honey_house_address)
    layout = layout_of(honey_house())
    assert page.locator("h1").inner_text() == "Honey house"
    assert page.locator("svg.elevation").count() == len(layout.walls) == 4
    pieces = sum(len(wall.pieces) for wall in layout.walls)
    assert page.locator("svg.elevation .piece").count() == pieces
    assert page.locator("svg.plan").count() == 1
    page.get_by_role("link", name="All walls").click()
    drawn = page.locator("svg.elevation").all()
    assert [drawing.is_visible() for drawing in drawn] == [True] * 4
    assert all((drawing.bounding_box() or {"height": 0})["height"] > 100 for drawing in drawn)
    assert watched.complaints == []


def test_the_plan_is_the_way_to_each_wall(watched: Watched, honey_house_address: str) -> None:
    page = watched.open(honey_house_address)
    for wall in layout_of(honey_house()).walls:
        page.locator(f"svg.plan a[data-wall='wall-{wall.name}']").click()
        shown = [drawing for drawing in page.locator("section.wall").all() if drawing.is_visible()]
        assert [section.get_attribute("id") for section in shown] == [f"wall-{wall.name}"]
    assert watched.complaints == []


def test_marks_and_the_cutting_list_stand_beside_it(watched: Watched, honey_house_address: str) -> None:
    page = watched.open(honey_house_address)
    layout = layout_of(honey_house())
    shown = page.content()
    assert page.locator("#cutting-list tbody tr").count() == len(layout.cutting_list)
    for wall in layout.walls:
        for marks in wall.marks.values():
            assert all(f">{mark.mark}<" in shown for mark in marks)
    assert page.get_by_text("local codes").first.is_visible()


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
    axe = importlib.resources.files("axe_playwright_python") / "axe.min.js"
    page.evaluate(axe.read_text(encoding="utf-8"))
    found = page.evaluate("axe.run()")
    assert found["passes"]
    assert [
        (fault["id"], [node["html"][:200] for node in fault["nodes"]]) for fault in found["violations"]
    ] == []


def test_it_fits_a_phone(watched: Watched, honey_house_address: str) -> None:
    watched.page.set_viewport_size({"width": 390, "height": 800})
    page = watched.open(honey_house_address)
    assert page.evaluate("document.documentElement.scrollWidth") <= 390


def test_the_start_page_and_a_problem_page_are_quiet(watched: Watched) -> None:
    with serving() as server:
        page = watched.open(server.address)
        assert "soleplate serve" in page.inner_text("main")
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
        assert page.locator("h1").inner_text() == HOSTILE
        assert page.locator("img").count() == 0
        assert page.locator("script:not([src])").count() == 0
    assert watched.complaints == []


def test_the_folder_opens_from_disk(watched: Watched, tmp_path: Path) -> None:
    """Without the server's headers, hence hostile names again."""
    assert run("layout", hostile_file(tmp_path), "--out", tmp_path / "made").returncode == 0
    page = watched.open((tmp_path / "made" / "page.html").as_uri())
    assert page.locator("svg.elevation").count() == 4
    assert page.locator("img").count() == 0
    styled = "getComputedStyle(document.querySelector('.desk')).display"
    assert page.evaluate(styled) != "block"
    assert all(url.startswith((tmp_path / "made").as_uri()) for url in watched.requests)
    assert watched.complaints == []
