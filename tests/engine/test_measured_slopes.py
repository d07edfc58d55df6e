"""Slopes as measured: rafters cut to the runs that the tape says, and what is told of that or refused."""

from __future__ import annotations

import math
from typing import Any

import pytest

from soleplate.engine import BuildingError, UnbuildableError
from soleplate.engine.layout import Layout, SlopeOut
from tests.buildings import layout_of
from tests.engine.test_roofs import codes, role
from tests.roofs import DUO, SHEETS, duo, frame_with, mono, slope_of

COS6 = math.cos(math.radians(6))


def measured(value: dict[str, Any], **runs: Any) -> Layout:
    return layout_of(value | {"measured": {name.replace("_", " "): run for name, run in runs.items()}})


def lengths(slope: SlopeOut) -> list[float]:
    """Of the rafters, from the left."""
    return [p.length for p in sorted(role(slope, "rafter"), key=lambda p: p.depth[0])]


def test_rafters_are_cut_to_the_measured_run() -> None:
    """By hand, 6 degrees: 12 mm more of level run are 12 / cos 6 more from heel to heel."""
    slope = slope_of(measured(mono(), roof_back={"run": 2712}))
    assert slope.card.marks[2] - slope.card.marks[1] == pytest.approx(2644.487 + 12 / COS6, abs=0.002)
    assert slope.card.blank == pytest.approx(3333.417 + 12 / COS6, abs=0.002)
    assert set(lengths(slope)) == {slope.card.blank}
    assert slope.card.pitch == 6.0
    told = [n.from_low_end for n in role(slope, "rafter")[0].notches or ()]
    assert told == pytest.approx(slope.card.marks[1:3], abs=0.002)


def test_what_was_drawn_measured_changes_nothing() -> None:
    before, after = layout_of(mono()), measured(mono(), roof_back={"run": 2700})
    assert slope_of(after).pieces == slope_of(before).pieces
    assert slope_of(after).changes == ()
    assert "measured-off" not in codes(after)


def test_walls_out_of_parallel_give_each_rafter_its_own_run() -> None:
    """By hand: 2700 at the left, 2718 at the right of 4500; each rafter by the place of its middle."""
    slope = slope_of(measured(mono(), roof_back={"run": 2700, "run_right": 2718}))
    made = sorted(role(slope, "rafter"), key=lambda p: p.depth[0])
    assert [p.mark for p in made] == [f"RB{number}" for number in range(1, 9)]
    for rafter in made:
        more = 18 * (rafter.depth[0] + 22.5) / 4500
        assert rafter.length == pytest.approx(3333.417 + more / COS6, abs=0.002)
        low, high = rafter.notches or ()
        assert low.from_low_end == pytest.approx(301.652, abs=0.002)
        assert high.from_low_end == pytest.approx(2946.139 + more / COS6, abs=0.002)
    assert lengths(slope) == sorted(lengths(slope))
    first, last = sorted(role(slope, "barge board"), key=lambda p: p.depth[0])
    assert last.length - first.length == pytest.approx(18 * (4500 + 2 * 250 + 20) / 4500 / COS6, abs=0.05)


def test_each_slope_of_two_has_its_run() -> None:
    """By hand, 35 degrees: 6 mm more over the front alone."""
    front, back = measured(duo(), roof_front={"run": 1506}).roofs
    drawn = layout_of(duo()).roofs[1]
    assert front.card.blank == pytest.approx(2200.848 + 6 / math.cos(math.radians(35)), abs=0.002)
    assert back.card == drawn.card


def test_changes_are_listed_piece_by_piece_and_the_run_is_told() -> None:
    layout = measured(mono(), roof_back={"run": 2690})
    slope = slope_of(layout)
    changed = {change.mark: change for change in slope.changes if change.what == "length"}
    for rafter in role(slope, "rafter"):
        assert changed[rafter.mark].after == rafter.length
        assert changed[rafter.mark].before == 3333.417
        assert "10.1 mm shorter than designed" in changed[rafter.mark].display
    (found,) = [f for f in layout.findings if f.code == "measured-off"]
    assert (found.part, found.level, found.value, found.limit) == ("roof back", "note", 2690.0, 2700.0)
    assert "1.1 mm lower" in found.message
    (far,) = [f for f in measured(mono(), roof_back={"run": 2900}).findings if f.code == "measured-off"]
    assert far.level == "warn"


def test_walls_stay_as_they_are() -> None:
    before, after = layout_of(mono()), measured(mono(), roof_back={"run": 2712})
    assert [wall.pieces for wall in after.walls] == [wall.pieces for wall in before.walls]
    assert all(wall.changes == () for wall in after.walls)


@pytest.mark.parametrize(
    "frame",
    [
        frame_with(DUO, deck=SHEETS),
        frame_with(DUO, ridge={"rule": "beam", "section": [70, 195]}),
    ],
)
def test_two_slopes_are_laid_at_any_runs(frame: dict[str, Any]) -> None:
    layout = measured(duo(frame), roof_front={"run": 1490, "run_right": 1515}, roof_back={"run": 1520})
    assert all(role(slope, "rafter") for slope in layout.roofs)


@pytest.mark.parametrize(
    ("runs", "pointer", "said"),
    [
        ({"roof_back": {"run": 1000}}, "/measured/roof back/run", "accepted is 2430 to 2970"),
        ({"roof_back": {"run": 2700, "run_right": 3000}}, "/measured/roof back/run_right", "accepted is"),
        ({"roof_back": {"length": 4500}}, "/measured/roof back", "accepted is run"),
        ({"back": {"run": 2700}}, "/measured/back", "accepted are length, clear_length and breadth"),
        ({"roof_front": {"run": 2700}}, "/measured/roof front", "the slopes roof back"),
    ],
)
def test_runs_that_cannot_be_are_refused(runs: dict[str, Any], pointer: str, said: str) -> None:
    with pytest.raises(UnbuildableError) as caught:
        measured(mono(), **runs)
    (fault,) = caught.value.faults
    assert fault.pointer == pointer
    assert said in fault.message


@pytest.mark.parametrize("runs", [{"run_right": 2700}, {"run": 2700, "length": 4500}])
def test_measures_that_do_not_go_together_are_refused(runs: dict[str, float]) -> None:
    with pytest.raises(BuildingError, match="accepted is run"):
        measured(mono(), roof_back=runs)
