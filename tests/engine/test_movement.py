"""What boards and panes do, and what is said of it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soleplate.engine.rules import board_movement, movement_finding
from soleplate.engine.rules.movement import across_grain
from soleplate.plugins.openings.pane_movement import EXPANSION, fit_panes, sheet_movement


def test_a_gap_that_is_enough_is_noted_and_one_that_is_not_warned_of() -> None:
    """125 mm of softwood over 6 %: 1.875 mm."""
    wide, tight = board_movement(125, 6, 4), board_movement(125, 6, 1)
    assert (wide.change, wide.is_enough, tight.is_enough) == (pytest.approx(1.875), True, False)
    note, warning = movement_finding(wide, None, "front, back: "), movement_finding(tight, "front", "")
    assert (note.level, note.part, note.value, note.limit) == ("note", None, 1.875, 4)
    assert (warning.level, warning.part, warning.limit) == ("warn", "front", 1)
    assert "by 1.9 mm in width over 6 % of moisture" in warning.told("mm", ["front"], {}).message
    assert "EN 336" in note.basis


def test_boards_that_lap_have_no_gap_to_compare() -> None:
    movement = board_movement(150, 6)
    assert movement.is_enough
    finding = movement_finding(movement, "front", "")
    assert (finding.level, finding.limit) == ("note", None)


def test_a_timber_of_no_known_rate_counts_as_softwood() -> None:
    assert across_grain("larch from the yard") == across_grain("softwood")
    assert board_movement(100, 6, 0, "red oak").change == pytest.approx(2.214)


@given(
    centres=st.floats(200, 2000),
    breadth=st.floats(30, 100),
    material=st.sampled_from(sorted(EXPANSION)),
    swing=st.floats(0, 120),
    dark=st.booleans(),
)
def test_panes_fill_the_row_at_the_hottest_and_are_held_at_the_coldest(
    centres: float, breadth: float, material: str, swing: float, dark: bool
) -> None:
    fit = fit_panes(centres, breadth, material, swing, dark=dark)  # type: ignore[arg-type]
    assert fit.width + fit.joint == pytest.approx(centres)
    hottest = fit.width + sheet_movement(fit.width, material, swing, dark=dark)  # type: ignore[arg-type]
    assert hottest == pytest.approx(centres)
    # Fitted on the hottest day it draws back by half its movement at each edge.
    at_fitting = (breadth - fit.joint) / 2
    assert fit.cover == pytest.approx(at_fitting - fit.movement / 2)
    assert fit.hole is None
