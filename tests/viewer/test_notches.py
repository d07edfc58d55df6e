"""Notches in words: on the page, on sheets and in the spreadsheet alike, with the figures of the layout."""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest

from soleplate.engine.layout import CuttingRow, Layout
from soleplate.viewer.lists import cutting_list_csv
from soleplate.viewer.page.lists import cutting_list
from soleplate.viewer.sheets.lists import cutting_table
from soleplate.viewer.words import ENGLISH, notches_text
from tests.buildings import layout_of
from tests.roofs import DUO, duo, frame_with, mono


def rows_of(layout: Layout, role: str) -> list[CuttingRow]:
    return [row for row in layout.cutting_list if row.role == role]


def told_by(layout: Layout) -> tuple[str, str, str]:
    """What the page, a sheet and a spreadsheet say of all pieces."""
    rows = [(row, row.marks) for row in layout.cutting_list]
    sheet = cutting_table(rows, layout, (), ENGLISH, clamped=True)
    table = csv.DictReader(io.StringIO(cutting_list_csv(layout).decode("utf-8-sig")))
    ends = " ".join(row["ends"] for row in table)
    return str(cutting_list(layout, ENGLISH)), str(sheet["rows"]).replace("\u200b", ""), ends


@pytest.mark.parametrize(
    ("value", "role", "said"),
    [
        # heels at 301.652 and 2946.139, seat 70, heel 7.357, 138.441 over it (tests/reference/test_roofs.py)
        (
            mono(),
            "rafter",
            "; 2 × birdsmouth, heel at 302 mm, 2946 mm along the upper edge from the low end, seat 70 mm,"
            " heel 7 mm, 138 mm plumb over the heel (HAP)",
        ),
        # from overhang 250 on, over gables of 95, up to the plates' apex: 39.710 (the same)
        (
            duo(),
            "ridge board",
            "; lower edge notched 40 mm deep, 250 to 345 mm, 4655 to 4750 mm from its left end",
        ),
    ],
    ids=["birdsmouths", "ridge board"],
)
def test_notches_are_told_alike_everywhere(value: dict[str, Any], role: str, said: str) -> None:
    layout = layout_of(value)
    (row,) = rows_of(layout, role)
    assert notches_text(row, "mm", ENGLISH) == said
    for told in told_by(layout):
        assert told.count(said) == 1


def test_a_seat_on_a_beam_is_told_apart_from_that_on_a_plate() -> None:
    layout = layout_of(duo(frame_with(DUO, ridge={"rule": "beam", "section": [70, 195]})))
    (row,) = rows_of(layout, "rafter")
    on_plate, on_beam = row.notches or ()
    assert (on_plate.seat, on_beam.seat) == (52.303, 35.0)
    said = notches_text(row, "mm", ENGLISH)
    assert said.count("1 × birdsmouth") == 2
    assert "seat 52 mm" in said
    assert "seat 35 mm" in said


def test_a_rafter_with_birdsmouths_and_a_plain_one_are_never_one_row() -> None:
    """Flush fly rafters stand on the raked plates of walls that run through, as long as the others."""
    outline = {"length": 4500, "width": 2700, "through": "left-right"}
    layout = layout_of(mono(frame_with(verge={"rule": "flush"}), outline=outline))
    (rafter,), (fly,) = rows_of(layout, "rafter"), rows_of(layout, "fly rafter")
    assert (rafter.length, rafter.ends, rafter.section) == (fly.length, fly.ends, fly.section)
    assert rafter.notches is not None
    assert fly.notches is None
    assert notches_text(fly, "mm", ENGLISH) == ""


def test_rungs_say_the_edge_that_lies_on_the_plate() -> None:
    layout = layout_of(mono(frame_with(raked_plates="as set out")))
    told = [notches_text(row, "mm", ENGLISH) for row in rows_of(layout, "rung")]
    # 275 long, notched over a plate of 70 (tests/engine/test_roofs.py)
    assert sorted(told) == [
        "; lower edge notched 7 mm deep, 0 to 70 mm from its left end",
        "; lower edge notched 7 mm deep, 205 to 275 mm from its left end",
    ]
