"""Parting a wall at match lines."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soleplate.engine.shapes import area, bounds
from soleplate.viewer.sheets.elevation import letter
from soleplate.viewer.sheets.parts import parted, within
from tests.buildings import honey_house, layout_of, single_wall

WALL = single_wall(14000.0, [45, 70], {"rule": "equal-bays", "largest_bay": 600})


@settings(deadline=None, max_examples=40)
@given(st.floats(2500.0, 14000.0))
def test_parts_cover_the_wall_once_and_none_is_longer_than_the_sheet(reach: float) -> None:
    parts = parted(WALL, reach)
    assert parts[0].left == 0.0
    assert parts[-1].right == WALL.length
    assert all(one.right == other.left for one, other in itertools.pairwise(parts))
    assert all(0 < part.right - part.left <= reach for part in parts)


@settings(deadline=None, max_examples=40)
@given(st.floats(2500.0, 14000.0))
def test_nothing_is_lost_where_pieces_are_cut(reach: float) -> None:
    shown = [piece for part in parted(WALL, reach) for piece in within(WALL, part).pieces]
    assert {piece.mark for piece in shown} == {piece.mark for piece in WALL.pieces}
    assert sum(area(piece.outline) for piece in shown) == pytest.approx(
        sum(area(piece.outline) for piece in WALL.pieces)
    )


def test_what_is_seen_of_a_board_ends_at_the_match_lines_too() -> None:
    """By it the boards' marks find their places."""
    building = honey_house()
    building["outline"]["length"] = 9000
    building["defaults"]["cladding"] = {"rule": "rebated", "width": 145, "cover": 130}
    wall = layout_of(building).walls[0]
    for part in parted(wall, 3000.0):
        boards = [piece for piece in within(wall, part).pieces if piece.seen]
        assert boards
        for left, right, _, _ in (bounds(outline) for board in boards for outline in board.seen or ()):
            assert part.begins or left >= part.left - 1e-6
            assert part.ends or right <= part.right + 1e-6


def test_match_lines_are_lettered_like_columns() -> None:
    assert [letter(number) for number in (1, 2, 26, 27, 52, 53)] == ["A", "B", "Z", "AA", "AZ", "BA"]
