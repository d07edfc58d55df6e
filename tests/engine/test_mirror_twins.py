"""Mirror twins, one cut that is turned, stand in one row of the cutting list."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, reject, settings

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.layout import CutEnd, CuttingRow, Layout, Turn, mirrored_ends
from tests.buildings import building, honey_house, layout_of
from tests.engine.test_symmetry import mirrored, symmetric_buildings


def row_of(layout: Layout, mark: str) -> CuttingRow:
    return next(row for row in layout.cutting_list if mark in row.marks)


def marks(layout: Layout, wall: str, role: str) -> list[str]:
    return [p.mark for w in layout.walls if w.name == wall for p in w.pieces if p.role == role]


SHED = building(roof={"form": "mono-pitch", "high_side": "front", "low_height": 1960, "pitch": 6})


def test_studs_of_opposite_side_walls_are_one_cut_turned_over() -> None:
    layout = layout_of(SHED)
    rights, lefts = marks(layout, "right", "stud"), marks(layout, "left", "stud")
    for right, left in zip(rights, reversed(lefts), strict=True):
        row = row_of(layout, right)
        assert set(row.marks) == {right, left}
        assert row.turn == "over"
        assert row.turned in ((left,), (right,))


def test_raked_plates_of_opposite_side_walls_are_one_cut_turned_end_for_end() -> None:
    layout = layout_of(SHED)
    (right,), (left,) = marks(layout, "right", "raked plate"), marks(layout, "left", "raked plate")
    row = row_of(layout, right)
    assert (row.marks, row.turn) == ((right, left), "end for end")
    pieces = {piece.mark: piece for piece in layout.pieces}
    assert row.turned is not None
    (turned,) = row.turned
    (told,) = {right, left} - {turned}
    assert row.ends == pieces[told].ends == mirrored_ends(pieces[turned].ends, "end for end")


def test_a_row_is_told_as_most_of_its_pieces_are() -> None:
    """Of a wall by itself that has the turned ones alone, as these are."""
    layout = layout_of(SHED)
    row = row_of(layout, "L3")
    for piece in layout.pieces:
        if piece.mark in row.marks:
            own = row.told_of([piece.mark])
            assert (own.ends, own.turned, own.turn) == (piece.ends, None, None)
    assert row.told_of(row.marks) == row


def test_a_double_bevel_turned_over_has_its_faces_from_the_other_side() -> None:
    head = CutEnd(cut="double bevel", angle=None, angles=(0.0, 20.0), widths=(15.0, 30.0), long_point="left")
    foot = CutEnd(cut="square", end="factory")
    turned = CutEnd(cut="double bevel", angles=(20.0, 0.0), widths=(30.0, 15.0), long_point="right")
    assert mirrored_ends((foot, head), "over") == (foot, turned)


CLAD = {"rule": "rebated", "cover": 130, "lengths": [6000], "least_board": 3000}


def test_boards_and_sheets_with_slopes_are_no_twins_and_battens_are() -> None:
    """A board has its face and its profile; a batten has none."""
    defaults = {"studs": {"rule": "equal-bays"}, "cladding": CLAD}
    layout = layout_of(SHED | {"defaults": defaults})
    roles = {role for row in layout.cutting_list if row.turned for role in row.role.split(", ")}
    assert roles == {"stud", "raked plate"}
    gable = [piece for wall in layout.walls for piece in wall.pieces if piece.role == "board"]
    sloped = [piece for piece in gable if any(end.cut != "square" for end in piece.ends)]
    assert sloped
    assert all(row_of(layout, piece.mark).ends == piece.ends for piece in sloped)
    lapped = {"rule": "lapped", "battens": {"section": [25, 40]}, "lengths": [6000], "least_board": 3000}
    battened = layout_of(SHED | {"defaults": defaults | {"cladding": lapped}})
    assert "batten" in {row.role for row in battened.cutting_list if row.turned}


def facts(row: CuttingRow, places: int = 3) -> tuple[Any, ...]:
    """All but marks, and of mirror images one; figures in mm and degrees to so many places."""

    def told(ends: tuple[CutEnd, CutEnd]) -> str:
        return str([(end.cut, round(end.angle or 0.0, places), end.long_point, end.end) for end in ends])

    is_upright = any(end.long_point in ("left", "right") for end in row.ends)
    turn: Turn = "over" if is_upright else "end for end"
    return (
        row.section, row.material, row.grade, row.of_sheet, sorted(row.role.split(", ")), row.count,
        round(row.length, places), round(row.short_length, places), row.trim_allowance,
        min(told(row.ends), told(mirrored_ends(row.ends, turn))), row.turn,
    )  # fmt: skip


@settings(max_examples=40, deadline=None)
@given(symmetric_buildings())
def test_a_mirrored_building_has_the_same_cutting_list(value: dict[str, Any]) -> None:
    """Of its frame: boards are no twins."""
    value["defaults"].pop("cladding", None)
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    rows, others = (
        sorted(str(facts(row, 1)) for row in each.cutting_list)
        for each in (layout, layout_of(mirrored(value)))
    )
    assert rows == others


def test_the_honey_house_and_its_mirror_image_have_the_same_list() -> None:
    value = honey_house()
    value["walls"] = {name: {"openings": []} for name in value["walls"]}
    value["defaults"].pop("cladding", None)
    layout, other = layout_of(value), layout_of(mirrored(value))
    assert [facts(row) for row in layout.cutting_list] == [facts(row) for row in other.cutting_list]
    assert [row.ends for row in layout.cutting_list] == [row.ends for row in other.cutting_list]


@pytest.mark.parametrize("turn", ["over", "end for end"])
def test_turned_twice_is_as_before(turn: Any) -> None:
    for row in layout_of(SHED).cutting_list:
        assert mirrored_ends(mirrored_ends(row.ends, turn), turn) == row.ends
