"""Walls on which much stands close together."""

from __future__ import annotations

from typing import Any

import pytest

from soleplate.viewer.lists.cutting import cutting_rows
from soleplate.viewer.sheets.elevation import MOST_PARTS, elevation
from soleplate.viewer.words.texts import ENGLISH
from tests.buildings import building, layout_of
from tests.viewer.sheets.books import pages_of
from tests.viewer.sheets.reading_pdf import boxes
from tests.viewer.sheets.test_job_book import covered

DEFAULTS = {
    "studs": {"rule": "equal-bays", "largest_bay": 600},
    "noggins": {"rule": "staggered", "rows": 2},
}


def one_wall(length: float, height: float, openings: list[dict[str, Any]], **changes: Any) -> dict[str, Any]:
    return building(
        outline={"walls": [{"name": "long side", "length": length}]},
        roof={"form": "level", "height": height},
        walls={"long side": {"openings": openings}},
        **({"defaults": DEFAULTS} | changes),
    )


def window(name: str, left: float, size: float) -> dict[str, Any]:
    return {
        "name": name, "kind": "window", "width": size, "height": size, "sill": 1000, "at": {"left": left},
    }  # fmt: skip


CROWDED = {
    "many windows": one_wall(9000, 2400, [window(f"w{i}", 300 + 900 * i, 500) for i in range(9)]),
    "two slits": one_wall(
        9000, 2400, [window("a rather long name for a slit", 3000, 150), window("shutter", 3350, 150)]
    ),
    "tall": one_wall(1200, 9000, []),
    "many studs": one_wall(12000, 2400, [], defaults={"studs": {"rule": "equal-bays", "largest_bay": 100}}),
    "many walls": building(
        outline={"walls": [{"name": f"wall {number}", "length": 3000} for number in range(24)]},
        roof={"form": "level", "height": 2400},
        defaults=DEFAULTS,
    ),
    "gables": building(
        roof={"form": "duo-pitch", "ridge": "front-back", "low_height": 2100, "pitch": 35}, defaults=DEFAULTS
    ),
}


@pytest.mark.parametrize("name", CROWDED)
def test_texts_stay_within_the_frame_and_apart(name: str) -> None:
    for number, page in enumerate(pages_of(layout_of(CROWDED[name])), 1):
        placed = list(boxes(page))
        assert covered(placed) == [], f"page {number}"
        assert min(left for left, _, _, _ in placed) >= 20.0
        assert max(right for _, right, _, _ in placed) <= page.width - 10.0
        assert max(bottom for _, _, _, bottom in placed) <= page.height - 10.0


def test_a_wall_whose_marks_would_cover_each_other_is_parted_at_a_larger_scale() -> None:
    windows = [window(f"w{index}", 300 + 540 * index, 300) for index in range(15)]
    layout = layout_of(one_wall(9000, 2200, windows))
    drawn = elevation(layout.walls[0], layout, cutting_rows(layout), "A4", ENGLISH)
    assert drawn.scale == 20
    assert 2 <= len(drawn.parts) <= MOST_PARTS
