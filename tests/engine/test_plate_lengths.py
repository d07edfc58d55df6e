"""Marks of plates that lie in several lengths, against the outlines of the pieces themselves."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.layout import Piece, WallOut
from tests.buildings import building, layout_of, single_wall, wall_of
from tests.engine.test_invariants import buildings

DOOR = {"name": "door", "kind": "door", "width": 900, "height": 1900, "at": {"left": 1300}}


def left(piece: Piece) -> float:
    return min(x for x, _ in piece.outline)


def right(piece: Piece) -> float:
    return max(x for x, _ in piece.outline)


def test_a_plate_that_a_door_divides_is_marked_length_by_length() -> None:
    """3600 long, studs of 45 at 600 centres, a door from 1300 to 2200 with a trimmer and a king a side."""
    wall = single_wall(
        3600,
        [45, 70],
        {"rule": "fixed-centres", "centres": 600},
        walls={"partition": {"openings": [DOOR | {"framing": {"rule": "trimmed"}}]}},
    )
    one, other, head = wall.plate_lengths
    assert [(each.plate, each.start, each.alone) for each in wall.plate_lengths] == [
        ("sole plate", 0.0, False),
        ("sole plate", 2200.0, False),
        ("head plate", 0.0, True),
    ]
    assert [mark.at for mark in one.marks] == [0.0, 577.5, 1210.0, 1255.0]
    assert [mark.at for mark in other.marks] == [0.0, 45.0, 177.5, 777.5, 1355.0]
    assert [mark.at for mark in head.marks] == [mark.at for mark in wall.marks["head plate"]]
    pieces = {piece.mark: piece for piece in wall.pieces}
    for length in (one, other):
        assert length.mark is not None
        assert left(pieces[length.mark]) == length.start


def assert_marks_agree(wall: WallOut) -> None:
    """Each length's marks and start give where the near face is, and all marks of a plate are there once."""
    pieces = {piece.mark: piece for piece in wall.pieces}
    for plate, marks in wall.marks.items():
        lengths = [length for length in wall.plate_lengths if length.plate == plate]
        told = [(length.start + mark.at, mark.mark) for length in lengths for mark in length.marks]
        assert [mark for _, mark in told] == [mark.mark for mark in marks]
        assert [at for at, _ in told] == pytest.approx([mark.at for mark in marks], abs=0.002)
        assert all(length.alone == (len(lengths) == 1) for length in lengths)
        for length in lengths:
            assert length.mark is not None
            slope = 0.0 if "raked" not in plate else math.radians(_slope(pieces[length.mark]))
            reach = (right(pieces[length.mark]) - left(pieces[length.mark])) / math.cos(slope)
            for mark in length.marks:
                assert -0.002 <= mark.at <= reach + 0.002
                if slope == 0.0:
                    near = left(pieces[mark.mark]) - left(pieces[length.mark])
                    assert mark.at == pytest.approx(near, abs=0.002)


def _slope(piece: Piece) -> float:
    """Of a plate's long edges, degrees."""
    edges = zip(piece.outline, (*piece.outline[1:], piece.outline[0]), strict=True)
    # A plate of a short slope may be longer across, at its plumb ends, than along.
    (x0, z0), (x1, z1) = max(
        (edge for edge in edges if abs(edge[1][0] - edge[0][0]) > 1e-3), key=lambda edge: math.dist(*edge)
    )
    return math.degrees(math.atan(abs((z1 - z0) / (x1 - x0))))


@settings(max_examples=40, deadline=None)
@given(buildings(), st.sampled_from([None, 1800, 2400, 3600]))
def test_lengths_and_plates_tell_the_same(value: dict[str, Any], stock: int | None) -> None:
    if stock is not None:
        section = value["frame"]["section"]
        value["stock"] = {"stock": [{"section": section, "lengths": [{"length": stock}]}]}
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    for wall in layout.walls:
        assert_marks_agree(wall)


def test_a_jointed_plate_is_marked_length_by_length() -> None:
    """A stud over the joint has its near face on the length before."""
    stock = {"stock": [{"section": [45, 70], "lengths": [{"length": 2410}]}]}
    wall = single_wall(3600, [45, 70], {"rule": "fixed-centres", "centres": 600}, stock=stock)
    one, other = (length for length in wall.plate_lengths if length.plate == "sole plate")
    assert (one.start, other.start) == (0.0, 1200.0)
    assert [mark.at for mark in one.marks] == [0.0, 577.5, 1177.5]
    assert [mark.at for mark in other.marks] == [577.5, 1177.5, 1777.5, 2355.0]


def test_a_jointed_raked_plate_starts_along_its_own_slope() -> None:
    stock = {"stock": [{"section": [45, 70], "lengths": [{"length": 2100}]}]}
    value = building(roof={"form": "mono-pitch", "high_side": "front", "low_height": 1960, "pitch": 20})
    wall = wall_of(layout_of(value | {"stock": stock}), "right")
    one, other = (length for length in wall.plate_lengths if length.plate == "raked plate")
    pieces = {piece.mark: piece for piece in wall.pieces}
    assert other.mark is not None
    assert one.start == 0.0
    assert other.start == pytest.approx(left(pieces[other.mark]) / math.cos(math.radians(20)), abs=0.002)
    assert_marks_agree(wall)
