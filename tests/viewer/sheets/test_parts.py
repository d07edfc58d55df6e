"""Parting a wall at match lines."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soleplate.engine.geometry import area
from soleplate.viewer.sheets.elevation import letter
from soleplate.viewer.sheets.parts import parted, within
from tests.buildings import single_wall

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


def test_match_lines_are_lettered_like_columns() -> None:
    assert [letter(number) for number in (1, 2, 26, 27, 52, 53)] == ["A", "B", "Z", "AA", "AZ", "BA"]
