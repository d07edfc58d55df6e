"""Walls as measured: laps at the corners, and what is listed as changed on every wall."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.layout import Layout, Piece
from soleplate.engine.listing import changes
from tests.buildings import building, layout_of, wall_of
from tests.engine.test_invariants import buildings


def doubled(breadth: float | None = None, **measured: Any) -> Layout:
    """The plain plan under a level roof with double plates, its front wall's studs of another breadth."""
    value = building(
        roof={"form": "level", "height": 2300},
        defaults={
            "studs": {"rule": "equal-bays", "largest_bay": 600},
            "noggins": {"rule": "straight", "rows": 1},
            "top_plates": {"rule": "double"},
        },
    )
    front = {"front": {"breadth": breadth}} if breadth is not None else {}
    return layout_of(value | {"measured": {**front, **measured}})


def upper(layout: Layout, wall: str) -> Piece:
    """The upper head plate."""
    plates = [piece for piece in wall_of(layout, wall).pieces if piece.role == "head plate"]
    return max(plates, key=lambda piece: max(z for _, z in piece.outline))


def reach(piece: Piece) -> tuple[float, float]:
    return min(x for x, _ in piece.outline), max(x for x, _ in piece.outline)


@pytest.mark.parametrize("breadth", [43.0, 44.0, 45.0, 46.0, 47.0])
def test_plates_on_one_level_still_lap(breadth: float) -> None:
    """EN 336, tolerance class 2: plates up to 100 mm are within 1 mm either way, two within 2 together."""
    layout = doubled(breadth)
    assert reach(upper(layout, "front")) == (70.0, 4430.0)
    assert reach(upper(layout, "right")) == (-70.0, 2630.0)
    assert "laps-lost" not in {finding.code for finding in layout.findings}
    assert wall_of(layout, "right").changes == ()
    assert (wall_of(layout, "front").changes == ()) is (breadth == 45.0)


@pytest.mark.parametrize("breadth", [42.9, 47.1, 48.0])
def test_plates_on_two_levels_lap_no_more_and_both_walls_say_so(breadth: float) -> None:
    layout = doubled(breadth)
    assert reach(upper(layout, "front")) == (0.0, 4500.0)
    assert reach(upper(layout, "right")) == (0.0, 2560.0 + 70.0)
    found = [finding for finding in layout.findings if finding.code == "laps-lost"]
    assert [(each.wall, each.level, each.value, each.limit) for each in found] == [
        (wall, "warn", pytest.approx(abs(breadth - 45.0)), 2.0) for wall in ("right", "left")
    ]
    way = "thinner" if breadth > 45.0 else "thicker"
    assert all(f"mm {way} than those of front" in each.message for each in found)
    listed = {wall.name: wall.changes for wall in layout.walls}
    assert {(c.what, c.before, c.after) for c in listed["right"]} == {
        ("length", 2700.0, 2630.0),
        ("place", -70.0, 0.0),
    }
    assert {(c.what, c.before, c.after) for c in listed["left"]} == {("length", 2700.0, 2630.0)}
    assert listed["back"] == ()


def test_plates_are_paired_with_those_of_their_own_layer() -> None:
    """The upper plate starts left of the lower one as designed, and at its end as measured."""
    designed, measured = doubled(), doubled(48.0)
    before, after = wall_of(designed, "right").pieces, wall_of(measured, "right").pieces
    marks = {piece.mark: piece for piece in after if piece.role == "head plate"}
    found = [change for change in changes(before, after, "mm") if change.mark in marks]
    assert {change.mark for change in found} == {upper(measured, "right").mark}


def test_noggins_of_two_rows_are_paired_row_by_row() -> None:
    """A noggin that is gone from the upper row is told there, and none of the lower row is taken for it."""
    value = building(
        roof={"form": "level", "height": 2300},
        defaults={
            "studs": {"rule": "equal-bays", "largest_bay": 600},
            "noggins": {"rule": "straight", "heights": [800, 1500]},
        },
    )
    before = wall_of(layout_of(value), "front").pieces
    noggins = [piece for piece in before if piece.role == "noggin"]
    gone = max(noggins, key=lambda piece: (piece.outline[0][1], -piece.outline[0][0]))
    after = [piece for piece in before if piece is not gone]
    (change,) = changes(before, after, "mm")
    assert (change.what, change.mark) == ("gone", gone.mark)


@settings(max_examples=25, deadline=None)
@given(buildings(), st.booleans())
def test_what_is_measured_as_designed_changes_nothing(value: dict[str, Any], doubles: bool) -> None:
    if doubles:
        value["defaults"]["top_plates"] = {"rule": "double"}
    value.pop("measured", None)
    try:
        designed = layout_of(value)
    except UnbuildableError:
        reject()
    breadth = designed.walls[0].pieces[0].section[0]
    tape = {wall.name: {"length": wall.length, "breadth": breadth} for wall in designed.walls}
    frames = [wall.get("frame") for wall in value.get("walls", {}).values()]
    if any(frames):
        reject()
    measured = layout_of(value | {"measured": tape})
    assert all(wall.changes == () for wall in measured.walls)
    assert [wall.pieces for wall in measured.walls] == [wall.pieces for wall in designed.walls]
