"""Movement of boards and sheets against published figures, the source beside each."""

from __future__ import annotations

import pytest

from soleplate.engine.rules.movement import ACROSS_GRAIN, width_change
from soleplate.plugins.openings.pane_movement import fit_panes, length_change, sheet_movement


def test_a_beam_drying_in_place() -> None:
    """A class note (Missouri S&T): 13.25 in deep, from 19 to 10 % at 0.2 % for each 1 %: 0.2385 in less."""
    assert width_change(13.25, 10 - 19, 0.002) == pytest.approx(-0.2385)
    assert 13.25 + width_change(13.25, 10 - 19, 0.002) == pytest.approx(13.01, abs=0.005)


def test_a_wide_board_of_red_alder() -> None:
    """Wood magazine, September 2021: 8 in of flat-sawn red alder over 6 % of moisture: 1/8 in, at 0.0026."""
    assert width_change(8.0, 6, 0.0026) == pytest.approx(0.125, abs=0.0005)
    assert width_change(8.0, 6, ACROSS_GRAIN["red alder"].value) == pytest.approx(0.125, abs=0.003)


def test_target_sizes_of_european_softwood() -> None:
    """EN 336, derived: 97 mm at 20 % is 95.06 mm at 12 %, 38 mm is 37.24 mm."""
    rate = ACROSS_GRAIN["softwood"].value
    assert 97 + width_change(97, 12 - 20, rate) == pytest.approx(95.06)
    assert 38 + width_change(38, 12 - 20, rate) == pytest.approx(37.24)


def test_a_board_of_douglas_fir() -> None:
    """Derived from the Wood Handbook's tangential 0.00267: 145 mm over 6 % changes by 2.3 mm."""
    assert width_change(145, 6, ACROSS_GRAIN["Douglas fir"].value) == pytest.approx(2.3, abs=0.05)


@pytest.mark.parametrize(("swing", "a_metre"), [(55, 3.575), (80, 5.2)])
def test_polycarbonate(swing: float, a_metre: float) -> None:
    """EPSE: 3.575 mm a metre over 55 K; a supplier: 5.2 mm over 80 K."""
    assert sheet_movement(1000, "polycarbonate", swing) == pytest.approx(a_metre)


def test_acrylic() -> None:
    """Makers' data: 48 in over 100 F moves 0.19 in at 4.0e-5 a degree F; the greater 4.4e-5 is used here."""
    assert length_change(48, 100, 4.0e-5) == pytest.approx(0.19, abs=0.003)
    assert sheet_movement(48, "acrylic", 100 / 1.8) == pytest.approx(48 * 100 * 4.4e-5)


def test_acrylic_beside_glass() -> None:
    """Makers' data: acrylic moves about 8 times as much as glass; dark sheets 1.4 times as much as clear."""
    acrylic = sheet_movement(1000, "acrylic", 50)
    assert acrylic / sheet_movement(1000, "glass", 50) == pytest.approx(8, abs=1)
    assert sheet_movement(1000, "acrylic", 50, dark=True) == pytest.approx(1.4 * acrylic)


def test_holes_in_a_sheet() -> None:
    """A maker's example, of no authority: 1000 mm over 30 K at 7e-5 moves 2.1 mm; a 5 mm screw has over 7.1.

    Polycarbonate is taken at 6.5e-5, which gives 1.95 mm and 6.95 mm.
    """
    assert length_change(1000, 30, 7e-5) == pytest.approx(2.1)
    fit = fit_panes(1000 + 1.95, 45, "polycarbonate", 30, shank=5)
    assert fit.width == pytest.approx(1000)
    assert fit.hole == pytest.approx(5 + 1.95)
