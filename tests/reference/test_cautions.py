"""Cautions against published values."""

from __future__ import annotations

import pytest

from soleplate.plugins.cautions.lintels import FOOT, INCH, ROWS, between, lintel_span
from soleplate.plugins.cautions.thresholds import inside_m2, is_exempt, most_height
from tests.buildings import building, layout_of, registry


def feet(whole: float, inches: float) -> float:
    return whole * FOOT + inches * INCH


def test_between_two_columns_of_a_table() -> None:
    """W28: 6-2 at 30 psf and 5-6 at 50 interpolate to 5-10 at 40."""
    at_40 = between(40.0, (30.0, feet(6, 2)), (50.0, feet(5, 6)))
    assert at_40 == pytest.approx(feet(5, 10))


@pytest.mark.parametrize(
    ("depth", "across", "span", "trimmers"),
    [
        (89.0, 20, feet(3, 6), 1),
        (140.0, 28, feet(4, 8), 1),
        (184.0, 28, feet(5, 11), 2),
        (235.0, 36, feet(6, 6), 2),
        (286.0, 20, feet(9, 9), 2),
    ],
)
def test_lintels_by_the_rows(depth: float, across: float, span: float, trimmers: int) -> None:
    """IRC Table R502.5(1), roof and ceiling: as printed."""
    assert lintel_span(depth, across * FOOT) == (pytest.approx(span), trimmers)


def test_lintels_between_and_beyond_the_rows() -> None:
    """By hand: half way from 20 to 28 ft a 2-2x4 spans half way from 3-6 to 3-2; 97 mm counts as 89."""
    assert lintel_span(97.0, 24 * FOOT) == (pytest.approx(feet(3, 4)), 1)
    assert lintel_span(ROWS[0][0] - 2.0, 20 * FOOT) is None
    assert lintel_span(89.0, 37 * FOOT) is None
    assert lintel_span(89.0, 8 * FOOT) == lintel_span(89.0, 20 * FOOT)


@pytest.mark.parametrize(
    ("area", "boundary", "passes"),
    [(14.9, 200.0, True), (15.1, 900.0, False), (30.0, 1000.0, True), (30.1, 1000.0, False)],
)
def test_class_6(area: float, boundary: float, passes: bool) -> None:
    """W48: what burns, where nobody sleeps."""
    assert is_exempt(area, boundary) is passes


def test_class_e_heights() -> None:
    """W47 and S9-02: 2.5 m within 2 m of a boundary; else 4 m under two slopes, 3 m under any other roof."""
    assert most_height(2000.0, "duo-pitch") == 2500.0
    assert most_height(2001.0, "duo-pitch") == 4000.0
    assert most_height(None, "mono-pitch") == 3000.0


def level(height: float, **site: object) -> set[str]:
    value = building(
        roof={"form": "level", "height": height}, site={"region": "england", "ground": 100} | site
    )
    return {each.code for each in layout_of(value).findings}


def test_a_building_near_a_boundary_is_flagged_by_its_height() -> None:
    """W47: 2.6 m tall within 2 m is flagged, and 2.5 m passes; measured from the ground, 100 lower."""
    assert "planning-height" in level(2500, boundary=1900)
    assert "planning-height" not in level(2400, boundary=1900)
    assert "planning-height" not in level(2500, boundary=2100)
    assert "planning-height" not in {
        each.code for each in layout_of(building(roof={"form": "level", "height": 5000})).findings
    }


def test_floor_inside_is_between_the_frames() -> None:
    """By hand: 4500 x 2700 with frames 70 deep, and an L of the same outer size."""
    plain = registry().read_building(building())
    assert inside_m2(plain) == pytest.approx(4.36 * 2.56)
    corners = [[0, 0], [4500, 0], [4500, 2700], [2000, 2700], [2000, 1500], [0, 1500]]
    bent = registry().read_building(
        building(outline={"corners": corners}, roof={"form": "level", "height": 2200})
    )
    assert inside_m2(bent) == pytest.approx(4.36 * 1.36 + (2.5 - 0.14) * 1.2)


def test_a_large_shed_wants_a_permit() -> None:
    """S9-07: 200 square feet are 18.58 m2."""
    for width, found in ((4100, False), (4200, True)):
        value = building(
            outline={"length": 4500, "width": width}, site={"region": "united-states"},
            roof={"form": "level", "height": 2200},
        )  # fmt: skip
        assert ("permit-area" in {each.code for each in layout_of(value).findings}) is found
