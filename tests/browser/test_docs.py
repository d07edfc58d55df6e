"""The page about the API in a real browser: quiet, open to all, and to be read on a phone."""

from __future__ import annotations

from typing import Literal

import pytest

from tests.browser.conftest import Watched


@pytest.mark.parametrize(("width", "scheme"), [(390, "dark"), (1280, "light")])
def test_it_is_accessible(
    watched: Watched, honey_house_address: str, width: int, scheme: Literal["dark", "light"]
) -> None:
    watched.page.set_viewport_size({"width": width, "height": 900})
    watched.page.emulate_media(color_scheme=scheme)
    page = watched.open(f"{honey_house_address}docs")
    page.evaluate("document.querySelectorAll('details').forEach((part) => { part.open = true; })")
    assert watched.violations() == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    assert watched.complaints == []
    assert [url for url in watched.requests if not url.startswith(honey_house_address)] == []


def test_on_a_phone_each_cell_stands_beside_its_label(watched: Watched, honey_house_address: str) -> None:
    watched.page.set_viewport_size({"width": 390, "height": 900})
    page = watched.open(f"{honey_house_address}docs")
    cells = page.locator("table.list td")
    assert cells.count() > 500
    told = cells.evaluate_all("(cells) => cells.map((cell) => [cell.children.length, cell.dataset.label])")
    assert {count for count, _ in told} == {1}
    assert {"where", "what", "status", "title", "form", "kind", "needed"} == {label for _, label in told}
    widths = page.locator("table.list td > div:not(:empty)").evaluate_all(
        "(parts) => parts.map((part) => part.getBoundingClientRect().width)"
    )
    assert min(widths) > 150


def test_on_a_desk_no_short_word_is_broken(watched: Watched, honey_house_address: str) -> None:
    watched.page.set_viewport_size({"width": 1280, "height": 900})
    page = watched.open(f"{honey_house_address}docs")
    heights = page.locator("table.list thead th").evaluate_all(
        "(heads) => heads.map((head) => head.getBoundingClientRect().height)"
    )
    assert len(heights) > 100
    assert max(heights) < 40
