"""The design's worked example: 4500 x 2700, 45 x 70 timber, a 6 degree slope down from the front."""

from __future__ import annotations

import pytest

from tests.buildings import building, layout_of, wall_of

LAYOUT = layout_of(building())


def studs(wall: str) -> list[tuple[float, float]]:
    return [(p.short_length, p.length) for p in wall_of(LAYOUT, wall).pieces if p.role == "stud"]


def test_heights_and_level_studs() -> None:
    assert wall_of(LAYOUT, "front").top_line[0][1] == pytest.approx(2236.424, abs=0.001)
    assert studs("front") == [(2146.424, 2146.424)] * 8
    assert studs("back") == [(1870.0, 1870.0)] * 8


def test_back_wall_marks_and_bays() -> None:
    back = wall_of(LAYOUT, "back")
    between = [636.429, 1272.857, 1909.286, 2545.714, 3182.143, 3818.571]
    assert [mark.at for mark in back.marks["sole plate"]] == [0.0, *between, 4455.0]
    assert [bay.clear for bay in back.bays] == [591.429] * 7
    assert (back.spacers[0].spacer, back.spacers[0].closing_bay) == (591.0, 594.0)


def test_side_wall() -> None:
    left = wall_of(LAYOUT, "left")
    assert left.length == 2560.0
    assert [bay.clear for bay in left.bays] == [583.75] * 4
    assert studs("left") == [
        (1877.109, 1881.839),
        (1943.194, 1947.923),
        (2009.278, 2014.008),
        (2075.362, 2080.092),
        (2141.447, 2146.176),
    ]
    plate = next(piece for piece in left.pieces if piece.role == "raked plate")
    assert (plate.short_length, plate.length) == (2574.101, 2578.831)


def test_stud_ends_say_angle_long_point_and_which_end_is_factory() -> None:
    stud = next(piece for piece in wall_of(LAYOUT, "left").pieces if piece.role == "stud")
    foot, head = stud.ends
    assert (foot.cut, foot.end) == ("square", "factory")
    assert (head.cut, head.angle, head.long_point, head.end) == ("bevel", 6.0, "right", "fresh")


def test_cutting_list_holds_each_piece_once() -> None:
    listed = sorted(mark for row in LAYOUT.cutting_list for mark in row.marks)
    assert listed == sorted(piece.mark for wall in LAYOUT.walls for piece in wall.pieces)
    assert all(sum(row.gangs) == row.count == len(row.marks) for row in LAYOUT.cutting_list)


@pytest.mark.parametrize("gang", [1, 4, 6])
def test_alike_pieces_are_clamped_in_gangs_and_the_rest_last(gang: int) -> None:
    """No gang is empty, and all but the last are full."""
    layout = layout_of(building(stock={"gang": gang}))
    assert any(row.count > gang for row in layout.cutting_list)
    for row in layout.cutting_list:
        *full, last = row.gangs
        assert set(full) <= {gang}
        assert 1 <= last <= gang


def test_what_is_bought_is_as_much_as_is_cut() -> None:
    (row,) = LAYOUT.buying_list
    run = sum(piece.length for piece in LAYOUT.pieces)
    assert (row.section, row.pieces) == ((45.0, 70.0), len(LAYOUT.pieces))
    assert row.total_length == pytest.approx(run, abs=0.01)
    assert row.volume_m3 == pytest.approx(run / 1000 * 0.045 * 0.070, abs=2e-6)
    assert row.weight_kg == pytest.approx(sum(piece.weight_kg for piece in LAYOUT.pieces), abs=0.001)
