"""Published values and facts of floors, the source beside each."""

from __future__ import annotations

import itertools
import math

import pytest

from soleplate.engine.layout import FloorOut
from tests.buildings import layout_of
from tests.floors import floor_of, floor_with, honey_house_on, on_floor

FOOT = 304.8
INCH = 25.4


@pytest.mark.parametrize(("centres", "joists"), [(16, 25), (12, 33)])
def test_joists_of_a_floor_of_32_feet(centres: int, joists: int) -> None:
    """Printed in a 19th century Builder's Guide: 25 joists at 16 in and 33 at 12 in from centre to centre."""
    value = on_floor(
        floor_with(
            section=[2 * INCH, 8 * INCH], joists={"rule": "fixed-centres", "centres": centres * INCH},
            noggins=None, bearers=None,
        ),
        outline={"length": 32 * FOOT, "width": 12 * FOOT},
    )  # fmt: skip
    floor = floor_of(layout_of(value))
    assert len(floor.marks["front rim joist"]) == joists


@pytest.fixture(scope="module")
def honey_house_floor() -> FloorOut:
    return floor_of(honey_house_on(floor_with()))


def test_joists_of_the_honey_house(honey_house_floor: FloorOut) -> None:
    """By hand: 2700 less two rims of 45; first face half a breadth less than 400 (NAVEDTRA 14044 p 1-23)."""
    joists = [piece for piece in honey_house_floor.pieces if piece.role == "joist"]
    assert {joist.length for joist in joists} == {2610.0}
    marks = [mark.at for mark in honey_house_floor.marks["front rim joist"]]
    assert marks == [0.0, *(377.5 + 400.0 * k for k in range(11)), 4455.0]
    assert honey_house_floor.bays[-1].clear == 32.5


def test_a_narrow_closing_bay_is_told_of_a_floor() -> None:
    layout = honey_house_on(floor_with())
    (found,) = [f for f in layout.findings if f.part == "floor" and f.code == "narrow-bay"]
    assert found.value == 32.5
    assert found.wall is None


def test_bearers_of_the_honey_house(honey_house_floor: FloorOut) -> None:
    """By hand: (2700 - 3 x 95) / 2 clear between them."""
    bearers = sorted(
        min(z for _, z in piece.outline) for piece in honey_house_floor.pieces if piece.role == "bearer"
    )
    clear = [upper - lower - 95.0 for lower, upper in itertools.pairwise(bearers)]
    assert clear == [1207.5, 1207.5]


def test_pads_and_diagonal_of_the_honey_house(honey_house_floor: FloorOut) -> None:
    """By hand: (4500 - 300) / 1500 is three bays of 1400, twelve pads; Pythagoras for the diagonal."""
    assert honey_house_floor.diagonal == pytest.approx(math.hypot(4500, 2700), abs=0.0005)
    assert honey_house_floor.diagonal == 5247.857
    along = (150.0, 1550.0, 2950.0, 4350.0)
    assert honey_house_floor.pads == tuple((x, y) for y in (47.5, 1350.0, 2652.5) for x in along)
    assert honey_house_floor.pad_size == 300.0


def test_a_floor_weighs_what_its_timber_does(honey_house_floor: FloorOut) -> None:
    """EN 338: C16 has a mean density of 370 kg/m3; the sheets' is given."""
    joist = next(piece for piece in honey_house_floor.pieces if piece.role == "joist")
    assert joist.weight_kg == pytest.approx(2.61 * 0.045 * 0.145 * 370, abs=0.0005)
    sheets = sum(piece.weight_kg for piece in honey_house_floor.pieces if piece.role == "sheet")
    # Three rows of two sheets: their gaps of 3 mm take 1.5 mm off each end and 3 mm between rows.
    assert sheets < 4.5 * 2.7 * 0.018 * 640
    assert sheets == pytest.approx(4.5 * 2.7 * 0.018 * 640, rel=0.01)
