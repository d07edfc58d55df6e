"""Cladding at the edges of the frame: overhangs, corners, slopes, and boards that would not meet."""

from __future__ import annotations

from typing import Any

import pytest

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.layout import FindingOut, Layout
from tests.buildings import building, layout_of, registry, wall_of

REBATED: dict[str, Any] = {"rule": "rebated", "width": 145, "cover": 130}
BATTENS = {"section": [25, 50]}
LEVEL = {"form": "level", "height": 2300}


def clad(rule: dict[str, Any], member: str = "cladding", **changes: Any) -> Layout:
    value = building(**changes)
    value["defaults"][member] = rule
    return layout_of(value)


@pytest.mark.parametrize("rule", ["rebated", "tongue-and-groove"])
def test_boards_that_would_not_meet_are_refused(rule: str) -> None:
    assert clad({"rule": rule, "width": 125, "cover": 120, "gap": 5}).walls
    with pytest.raises(UnbuildableError, match="accepted is up to the width, 125 mm, so that boards meet"):
        clad({"rule": rule, "width": 125, "cover": 120, "gap": 6})


@pytest.mark.parametrize("battens", [None, BATTENS])
@pytest.mark.parametrize("past", ["through-walls", "corner-boards"])
def test_what_hangs_over_is_fixed_within_the_frame(battens: dict[str, Any] | None, past: str) -> None:
    """Boards on battens may be fixed to what of a batten hangs down; battens are fixed to the frame."""
    rule = {**REBATED, "least_drop": 100, "most_drop": 100, "over_plate": 100, "runs_past": past}
    layout = clad({**rule, "battens": battens} if battens else rule, roof=LEVEL)
    onto_frame = [
        piece
        for wall in layout.walls
        for piece in wall.pieces
        if piece.fixed_at and (piece.role != "board" or battens is None)
    ]
    assert onto_frame
    assert all(0.0 < z < 2300.0 for piece in onto_frame for _, z in piece.fixed_at or ())
    assert all(len(piece.fixed_at or ()) > 1 for piece in onto_frame)


def unbacked(layout: Layout) -> dict[str | None, FindingOut]:
    return {finding.wall: finding for finding in layout.findings if finding.code == "joint-unbacked"}


def test_a_level_joint_is_looked_behind_under_a_slope_too() -> None:
    roof = {"form": "mono-pitch", "high_side": "front", "low_height": 2100, "pitch": 15}
    told = unbacked(clad({"rule": "sheets"}, roof=roof))
    assert set(told) == {"front", "left", "right"}
    # The plate lies at 2401.5 mm over part of the side walls alone; over its other side there is no wall.
    assert "in 2 bays" in told["left"].message
    assert "in 2 bays" in told["right"].message


@pytest.mark.parametrize("rule", [REBATED, {"rule": "board-and-batten", "width": 145, "cover_width": 65}])
def test_an_opening_behind_the_neighbour_s_lining_is_no_fault_of_the_rule(rule: dict[str, Any]) -> None:
    which = "counter_battens" if rule["rule"] == "board-and-batten" else "battens"
    window = {"name": "w", "kind": "window", "width": 500, "height": 600, "sill": 900, "at": {"left": 150}}
    layout = clad(
        {**rule, which: BATTENS},
        "lining",
        frame={"section": [45, 145], "material": "C16"},
        roof=LEVEL,
        walls={"front": {"openings": [window]}},
    )
    front = wall_of(layout, "front")
    left = front.plan.depth + (front.lining.build_out if front.lining else 0.0)
    assert all(x >= left for piece in front.pieces if piece.face for x, _ in piece.outline)


def test_boards_of_one_kind_that_were_jointed_apart_are_planned_once() -> None:
    lengths = [{"length": 3000, "price": 6.0}, {"length": 3600, "price": 7.0}]
    value = building(stock={"stock": [{"section": [25, 145], "lengths": lengths}]})
    value["defaults"] |= {
        "cladding": {**REBATED, "lengths": [3000]},
        "lining": {**REBATED, "lengths": [3600]},
    }
    read = registry().read_building(value)
    laid_out = layout_of(value)
    assert len([kind for kind in laid_out.boards if kind.role == "board"]) == 2
    planned = with_saw_plan(laid_out, read)
    (row,) = [kind for kind in planned.boards if kind.role == "board"]
    assert planned.saw_plan is not None
    assert sum(count.count for count in row.lengths) == sum(line.count for line in planned.saw_plan.buying)
    assert row.value == pytest.approx(planned.saw_plan.cost)
