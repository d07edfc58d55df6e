"""Floors and slopes on the page: their openings drawn along, their marks and the covering at the bench."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Watched
from tests.browser.test_bench import at_the_bench
from tests.browser.test_editing import entry, ready
from tests.buildings import layout_of
from tests.floors import HATCH, floor_with
from tests.roofs import frame_with, mono
from tests.serving import serving

WINDOW: dict[str, Any] = {"name": "light", "at": {"left": 1200}, "up": 900, "width": 550, "height": 700}


def whole() -> dict[str, Any]:
    """Joists from left to right with a hatch, a roof with a window and a covering."""
    hatch = HATCH | {"at": {"left": 1000}}
    floor = floor_with(runs="left-right", openings=[hatch])
    return mono(frame_with(openings=[WINDOW]), floor=floor)


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    file: Path = tmp_path_factory.mktemp("whole") / "whole.json"
    file.write_text(json.dumps(whole()))
    with serving(file) as server:
        yield server.address


def drag(page: Page, wall: str, across: float) -> None:
    """The mouse takes the opening of a part by its middle, px along."""
    shape = page.locator(f"[id='{wall}'] .hole .opening")
    shape.scroll_into_view_if_needed()
    box = shape.bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + across, y, steps=5)
    page.mouse.up()


def test_a_hatch_is_drawn_along_where_joists_run_from_left_to_right(watched: Watched, address: str) -> None:
    """Along the drawing lies what is from the front to the back."""
    page = ready(watched.open(address))
    page.locator("#way a[data-wall='wall-floor']").click()
    hole = page.locator("#wall-floor .hole")
    expect(hole).to_have_attribute("data-left", "600")
    drag(page, "wall-floor", 40)
    expect(hole).not_to_have_attribute("data-left", "600")
    told = page.evaluate("building.file.floor.openings[0]")
    assert told["from_front"] > 610
    assert told["at"] == {"left": 1000}
    expect(hole).to_have_attribute("data-left", f"{told['from_front']:g}")
    expect(page.locator(entry(page, "/floor/openings/0/from_front"))).to_have_value(f"{told['from_front']:g}")
    hole.focus()
    page.keyboard.press("Shift+ArrowLeft")
    expect(hole).to_have_attribute("data-left", f"{told['from_front'] - 1:g}")
    assert watched.complaints == []


def test_a_roof_window_is_drawn_along_its_slope(watched: Watched, address: str) -> None:
    page = ready(watched.open(address))
    page.locator("#way a[data-wall='wall-roof%20back']").click()
    hole = page.locator("[id='wall-roof%20back'] .hole")
    expect(hole).to_have_attribute("data-left", "1200")
    drag(page, "wall-roof%20back", 40)
    expect(hole).not_to_have_attribute("data-left", "1200")
    told = page.evaluate("building.file.roof.frame.openings[0]")
    assert told["at"]["left"] > 1210
    assert told["up"] == 900
    hole.focus()
    page.keyboard.press("ArrowRight")
    expect(hole).to_have_attribute("data-left", f"{told['at']['left'] + 10:g}")
    assert watched.complaints == []


def test_marks_and_the_covering_are_at_the_bench(watched: Watched, address: str) -> None:
    page = at_the_bench(watched, address)
    layout = layout_of(whole())
    (slope,) = layout.roofs
    assert slope.covering is not None
    steps = page.evaluate("Number(document.querySelector('#bench-progress').max)")
    seen: list[str] = []
    for number in range(steps):
        if number:
            page.get_by_role("button", name="Next").click()
        seen.append(page.locator("#bench-step").inner_text())
    putting = [text for text in seen if text.startswith("roof back") and "back plate" in text]
    assert len(putting) == 1
    for marks in slope.marks.values():
        for mark in marks:
            assert mark.display in putting[0]
    (covering,) = [text for text in seen if text.startswith("Covering of roof back")]
    assert "lay each sheet 60 mm over the one before it" in covering
    assert "start" in covering
    assert sum("Covering of roof back" in text for text in seen) == 1
    assert watched.complaints == []
