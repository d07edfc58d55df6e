"""Sheets: what is cut from each fits it, and no way of cutting takes fewer than the bound."""

from __future__ import annotations

import math
from itertools import permutations
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soleplate.engine.buying import with_saw_plan
from soleplate.engine.covering.sheet_cutting import Size, fewest_lengths, fewest_sheets, sheets_taken
from tests.buildings import building, layout_of, registry

SHEET = Size(1220.0, 2440.0)


def test_offcuts_beside_each_other_and_over_each_other_share_a_sheet() -> None:
    """By hand: two halves in one sheet, four quarters in another, and one whole."""
    halves, quarters = [Size(600.0, 2440.0)] * 2, [Size(600.0, 1200.0)] * 4
    assert sheets_taken([*quarters, SHEET, *halves], SHEET, 3.0) == 3
    assert fewest_sheets([*quarters, SHEET, *halves], SHEET) == 3


def test_the_saw_takes_its_kerf() -> None:
    assert sheets_taken([Size(610.0, 2440.0)] * 2, SHEET, 0.0) == 1
    assert sheets_taken([Size(610.0, 2440.0)] * 2, SHEET, 3.0) == 2
    assert sheets_taken([Size(1220.0, 1220.0)] * 2, SHEET, 0.0) == 1
    assert sheets_taken([Size(1220.0, 1220.0)] * 2, SHEET, 3.0) == 2
    assert sheets_taken([Size(608.5, 1218.5)] * 4, SHEET, 3.0) == 1


@settings(max_examples=60, deadline=None)
@given(st.lists(st.integers(1, 10), min_size=1, max_size=6))
def test_the_bound_on_lengths_holds(cuts: list[int]) -> None:
    """Every order of filling one length after another tried, the least is no less than the bound."""
    assert fewest_lengths([float(cut) for cut in cuts], 10.0) <= min(map(filled, permutations(cuts)))


def filled(cuts: tuple[int, ...]) -> int:
    count, room = 0, 0
    for cut in cuts:
        if cut > room:
            count, room = count + 1, 10
        room -= cut
    return count


sizes = st.builds(Size, st.floats(50.0, 1220.0), st.floats(50.0, 2440.0))


@given(st.lists(sizes, max_size=40), st.sampled_from([0.0, 3.0]))
def test_any_pieces(pieces: list[Size], kerf: float) -> None:
    assert fewest_sheets(pieces, SHEET) <= sheets_taken(pieces, SHEET, kerf) <= len(pieces)


@given(sizes, st.integers(1, 60), st.sampled_from([0.0, 3.0]))
def test_alike_pieces_fill_their_sheets(piece: Size, number: int, kerf: float) -> None:
    """So many beside each other, so many rows over each other."""
    across = int((SHEET.width + kerf) // (piece.width + kerf))
    rows = int((SHEET.height + kerf) // (piece.height + kerf))
    assert sheets_taken([piece] * number, SHEET, kerf) == math.ceil(number / (across * rows))


def sheeted(**stock: Any) -> Any:
    value = building(stock=stock) if stock else building()
    value["defaults"]["lining"] = {"rule": "sheets", "width": 1220, "height": 2440, "material": "plywood"}
    read = registry().read_building(value)
    return with_saw_plan(layout_of(value), read)


def test_the_buying_list_tells_how_many_sheets() -> None:
    layout = sheeted()
    row = next(row for row in layout.buying_list if row.material == "plywood")
    area = sum(wall.lining.area_m2 for wall in layout.walls) * 1e6
    assert [line.stock_length for line in row.lengths] == [2440.0]
    assert area / (1220 * 2440) <= row.lengths[0].count <= row.pieces


@pytest.mark.parametrize("frame", [True, False])
def test_sheets_are_priced_and_not_sawn_from_lengths(frame: bool) -> None:
    listed: list[dict[str, Any]] = [
        {"section": [9, 1220], "material": "plywood", "lengths": [{"length": 2440, "price": 31.5}]}
    ]
    if frame:
        listed.append({"section": [45, 70], "lengths": [{"length": 4800, "price": 9.0}]})
    layout = sheeted(stock=listed)
    row = next(row for row in layout.buying_list if row.material == "plywood")
    assert row.lengths[0].cost == pytest.approx(31.5 * row.lengths[0].count)
    told = {finding.code for finding in layout.findings}
    assert "unused-stock" not in told
    marks = {cut.mark for length in layout.saw_plan.lengths for cut in length.cuts} if frame else set()
    sheets = {piece.mark for wall in layout.walls for piece in wall.pieces if piece.role == "sheet"}
    assert sheets
    assert not marks & sheets
