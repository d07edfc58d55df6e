"""Partitions: both faces are indoors, and each drawing tells by a wall which of them it shows."""

from __future__ import annotations

from typing import Any, Literal

import pytest

from soleplate.engine.layout import Layout, WallOut
from soleplate.viewer.drawings.elevation import elevation_svg
from soleplate.viewer.drawings.face import Side
from soleplate.viewer.drawings.plan import wall_rectangle
from soleplate.viewer.page.page import page_html
from soleplate.viewer.sheets.book import book_sheets
from soleplate.viewer.words.texts import ENGLISH
from tests.buildings import building, layout_of, wall_of

Runs = Literal["front-back", "left-right"]
LINED = {"rule": "rebated", "thickness": 14, "cover": 110}


def parted(runs: Runs, *names: str) -> Layout:
    """A building of 6 by 6 m with partitions 1.5 m apart, listed the last first."""
    partitions = [
        {"name": name, "runs": runs, "at": 1500.0 * number} for number, name in enumerate(names, start=1)
    ]
    outline = {"length": 6000, "width": 6000, "partitions": partitions[::-1]}
    studs: dict[str, Any] = {"rule": "equal-bays", "largest_bay": 600}
    return layout_of(
        building(
            outline=outline,
            roof={"form": "level", "height": 2300},
            defaults={"studs": studs, "lining": LINED},
        )
    )


def middle(wall: WallOut) -> tuple[float, float]:
    corners = wall_rectangle(wall, 0.0, wall.length)
    return sum(x for x, _ in corners) / 4, sum(y for _, y in corners) / 4


@pytest.mark.parametrize("runs", ["front-back", "left-right"])
def test_each_face_looks_at_the_nearest_wall_on_its_side(runs: Runs) -> None:
    """Worked out anew from where the walls lie: a face looks away from the other one."""
    layout = parted(runs, "store", "shop", "den")
    assert {wall.name: wall.faces for wall in layout.walls if wall.name in ("front", "right")} == {
        "front": None,
        "right": None,
    }
    for name in ("store", "shop", "den"):
        wall = wall_of(layout, name)
        (x, y), corners = middle(wall), wall_rectangle(wall, 0.0, wall.length)
        outwards = (corners[0][0] - corners[3][0], corners[0][1] - corners[3][1])
        seen: dict[bool, tuple[float, str]] = {}
        for other in layout.walls:
            across = (middle(other)[0] - x) * outwards[0] + (middle(other)[1] - y) * outwards[1]
            is_alike = abs(other.plan.direction - wall.plan.direction) % 180 < 1
            if other.name != name and is_alike:
                side = across > 0
                seen[side] = min(seen.get(side, (1e12, "")), (abs(across), other.name))
        assert wall.faces == (seen[True][1], seen[False][1])


def test_the_drawings_tell_which_face_they_show() -> None:
    layout = parted("front-back", "store", "shop")
    said: dict[tuple[str, Side], str] = {
        ("store", "outside"): "store: seen from the side of wall shop",
        ("store", "inside"): "store: seen from the side of wall left",
        ("shop", "outside"): "shop: seen from the side of wall right",
        ("shop", "inside"): "shop: seen from the side of wall store",
        ("front", "outside"): "front: seen from outside",
        ("front", "inside"): "front: seen from inside",
    }
    for (name, side), words in said.items():
        assert words in elevation_svg(layout, name, side=side)


def test_no_sheet_of_a_partition_speaks_of_outside_or_inside() -> None:
    layout = parted("left-right", "store")
    own = [sheet for sheet in book_sheets(layout, "A4", ENGLISH) if "store" in (sheet.of, sheet.title)]
    told = " ".join(f"{sheet.title} {sheet.sub} {sheet.blocks}" for sheet in own)
    assert "outside" not in told
    assert "inside" not in told
    assert "Seen from the side of wall front. " in told
    assert "Seen from the side of wall back: right on the elevation is left here." in told
    assert "Courses of the lining of store, seen from the side of wall back," in told


def test_the_page_tells_both_faces() -> None:
    page = page_html(parted("left-right", "store"))
    assert "Lining towards wall front, in the order in which it goes up, seen from there" in page
    assert "Lining towards wall back, in the order in which it goes up, seen from there" in page


@pytest.mark.parametrize("name", ["{x}", "a } b {", "{{wall}}"])
def test_braces_in_a_name_are_no_places_to_fill_in(name: str) -> None:
    texts = ENGLISH.told_of_partition(name, "left")
    assert texts.seen_outside.format(wall="store") == f"store: seen from the side of wall {name}"
    assert texts.side_names["outside"] == f"the side of wall {name}"
    assert (
        texts.sits_at["outside"]
        .format(x="1", z="2")
        .startswith(f"1 from the left, seen from the side of wall {name},")
    )


def test_all_partition_words_differ_from_those_of_walls() -> None:
    """A text that said the same would be no text of its own, and one by another name would never be read."""
    own = ENGLISH.told_of_partition("one", "other")
    for ours, usual, words in (
        (own, ENGLISH, ENGLISH.of_partition),
        (own.sheets, ENGLISH.sheets, ENGLISH.sheets_of_partition),
    ):
        for name in vars(words):
            assert getattr(ours, name) != getattr(usual, name)
