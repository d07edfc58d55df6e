"""The timbers round openings, piece by piece."""

from __future__ import annotations

import pytest

from soleplate.engine.rules import CannotFrame, Cripples
from soleplate.engine.shapes import Member, Section
from soleplate.plugins.openings import Lintel, Panes, SingleStuds, Trimmed
from tests.plugins.walls import assert_clear, box, hole, of_role, plated

WALL = plated(4500.0, 2191.424)  # the front wall of the worked example: 2236.424 less a plate of 45


def beam(thickness: float, height: float, plies: int) -> Lintel:
    return Lintel(section=Section(thickness, height), plies=plies)


def depths(members: tuple[Member, ...], role: str) -> list[tuple[float, float]]:
    return [member.depth for member in of_role(members, role)]


def test_a_trimmed_door() -> None:
    framed = Trimmed(lintel=beam(35, 145, 2)).frame_opening(hole(1500, 3000, 0, 1880, "door"), WALL)
    assert [box(m) for m in of_role(framed.members, "king stud")] == [
        (1410.0, 1455.0, 45.0, 2191.424),
        (3045.0, 3090.0, 45.0, 2191.424),
    ]
    assert [box(m) for m in of_role(framed.members, "trimmer")] == [
        (1455.0, 1500.0, 45.0, 1880.0),
        (3000.0, 3045.0, 45.0, 1880.0),
    ]
    plies = of_role(framed.members, "lintel")
    assert [box(m) for m in plies] == [(1455.0, 3045.0, 1880.0, 2025.0)] * 2
    assert of_role(framed.members, "sill") == []
    assert (framed.left, framed.right) == (1410.0, 3090.0)
    assert framed.over == Cripples(1455.0, 3045.0, 2025.0)
    assert framed.under is None
    assert framed.findings == ()
    assert_clear(framed.members)


def test_more_trimmers_and_kings_stand_outwards() -> None:
    framed = Trimmed(trimmers=2, kings=2).frame_opening(hole(1500, 2500, 900, 1800), WALL)
    assert [m.left for m in of_role(framed.members, "trimmer")] == [1410, 1455, 2500, 2545]
    assert [m.left for m in of_role(framed.members, "king stud")] == [1320, 1365, 2590, 2635]
    assert box(of_role(framed.members, "head")[0]) == (1410.0, 2590.0, 1800.0, 1845.0)
    assert of_role(framed.members, "lintel") == []
    assert_clear(framed.members)


@pytest.mark.parametrize(
    ("thickness", "plies", "lintels", "packers"),
    [
        (45, 1, [(0, 45)], [(45, 70)]),
        (25, 2, [(0, 25), (45, 70)], [(25, 45)]),
        (20, 3, [(0, 20), (20, 40), (50, 70)], [(40, 50)]),
        (35, 2, [(0, 35), (35, 70)], []),
        (69.5, 1, [(0, 69.5)], []),
    ],
)
def test_plies_and_packers_fill_the_wall(
    thickness: float, plies: int, lintels: list[tuple[float, float]], packers: list[tuple[float, float]]
) -> None:
    framed = Trimmed(lintel=beam(thickness, 145, plies)).frame_opening(hole(1500, 2500, 0, 1800), WALL)
    assert depths(framed.members, "lintel") == lintels
    assert depths(framed.members, "packer") == packers
    assert_clear(framed.members)


@pytest.mark.parametrize(("depth", "of_sheet", "material"), [(75.0, True, "OSB"), (75.1, False, None)])
def test_up_to_30_mm_are_packed_by_a_strip_of_sheet(depth: float, of_sheet: bool, material: str) -> None:
    """About the thickest sheet on sale; more is packed with timber (common practice, no source)."""
    lintel = Lintel(section=Section(45.0, 145.0), packer="OSB")
    (packer,) = of_role(tuple(lintel.members(1455.0, 2545.0, 1800.0, depth)), "packer")
    assert packer.section == pytest.approx((depth - 45.0, 145.0))
    assert (packer.of_sheet, packer.material) == (of_sheet, material)


def test_plies_thicker_than_the_wall_stand_proud_and_are_reported() -> None:
    framed = Trimmed(lintel=beam(45, 145, 2)).frame_opening(hole(1500, 2500, 0, 1800), WALL)
    assert depths(framed.members, "lintel") == [(0, 45), (45, 90)]
    ((code, value),) = [(each.code, each.value) for each in framed.findings]
    assert (code, value) == ("lintel-proud", 20.0)


def test_the_sill_lies_between_the_trimmers_on_cripples() -> None:
    framed = Trimmed().frame_opening(hole(1500, 2500, 900, 1800), WALL)
    assert box(of_role(framed.members, "sill")[0]) == (1500.0, 2500.0, 855.0, 900.0)
    assert framed.under == Cripples(1500, 2500, 855)


@pytest.mark.parametrize(("bottom", "sills"), [(0.0, 0), (45.0, 0), (90.0, 1)])
def test_a_low_hole_needs_no_cripples_under_it(bottom: float, sills: int) -> None:
    framed = Trimmed().frame_opening(hole(1500, 2500, bottom, 1800), WALL)
    assert len(of_role(framed.members, "sill")) == sills
    assert framed.under is None
    assert framed.findings == ()


def test_a_gap_too_low_for_cripples_is_to_be_packed() -> None:
    framed = Trimmed().frame_opening(hole(1500, 2500, 95, 2140), WALL)
    assert framed.over is None
    assert framed.under is None
    found = {each.code: each.value for each in framed.findings}
    assert found == {"packed-under-sill": 5.0, "packed-over-lintel": pytest.approx(6.424)}


@pytest.mark.parametrize("rule", [Trimmed(), SingleStuds()])
@pytest.mark.parametrize(
    ("gap", "has_cripples", "told"),
    [(40.0, True, []), (39.9, False, [39.9]), (0.6, False, [0.6]), (0.5, False, []), (0.0, False, [])],
)
def test_cripples_of_40_mm_are_cut_and_less_is_packed_down_to_half_a_mm(
    rule: Trimmed | SingleStuds, gap: float, has_cripples: bool, told: list[float]
) -> None:
    """Common practice, no source: over a head of 45 mm under a plate at 2355, and under a sill of 45 mm."""
    framed = rule.frame_opening(hole(1500, 2500, 90 + gap, 2310 - gap), plated(4500.0, 2355.0))
    assert (framed.over is not None) is has_cripples
    assert (framed.under is not None) is has_cripples
    found = {each.code: each.value for each in framed.findings}
    kinds = ("packed-over-lintel", "packed-under-sill")
    assert found == {kind: pytest.approx(value) for kind in kinds for value in told}


@pytest.mark.parametrize("rule", [Trimmed(), SingleStuds()])
@pytest.mark.parametrize("bottom", [1.0, 44.0, 46.0, 89.0])
def test_no_sill_fits_within_the_sole_plate(rule: Trimmed | SingleStuds, bottom: float) -> None:
    with pytest.raises(CannotFrame, match=r"0 .*, 45 mm .*, or at least 90 mm"):
        rule.frame_opening(hole(1500, 2500, bottom, 1800), WALL)


def test_a_lintel_that_does_not_fit_says_by_how_much() -> None:
    with pytest.raises(CannotFrame, match=r"lintel 28\.6 mm lower"):
        Trimmed(lintel=beam(45, 220, 1)).frame_opening(hole(1500, 2500, 0, 2000), WALL)


def test_under_a_slope_the_lintel_fits_over_its_whole_span() -> None:
    sloped = plated(2560.0, 1900.0, 2169.0)
    low, high = hole(400, 1300, 0, 1700), hole(1300, 2200, 0, 1700)
    rule = Trimmed(lintel=beam(45, 250, 1))
    with pytest.raises(CannotFrame, match="lintel"):
        rule.frame_opening(low, sloped)
    framed = rule.frame_opening(high, sloped)
    left, right = of_role(framed.members, "king stud")
    assert left.top < right.top
    assert_clear(framed.members)


@pytest.mark.parametrize("left", [80.0, 89.0, 95.0, 134.0])
def test_timbers_that_do_not_fit_beside_the_end_stud_are_refused(left: float) -> None:
    with pytest.raises(CannotFrame, match=r"accepted is 90 mm exactly.*or at least 135 mm"):
        Trimmed().frame_opening(hole(left, 1000), WALL)
    with pytest.raises(CannotFrame, match="right end"):
        Trimmed().frame_opening(hole(4500 - 1000, 4500 - left), WALL)


@pytest.mark.parametrize("left", [90.0, 135.0, 200.0])
def test_a_king_may_stand_in_the_end_studs_place(left: float) -> None:
    framed = Trimmed().frame_opening(hole(left, 1000), WALL)
    assert framed.left == left - 90.0


def test_single_studs_with_head_and_sill_between() -> None:
    framed = SingleStuds().frame_opening(hole(1500, 2000, 900, 1800), WALL)
    assert [box(m) for m in of_role(framed.members, "stud")] == [
        (1455.0, 1500.0, 45.0, 2191.424),
        (2000.0, 2045.0, 45.0, 2191.424),
    ]
    assert box(of_role(framed.members, "head")[0]) == (1500.0, 2000.0, 1800.0, 1845.0)
    assert box(of_role(framed.members, "sill")[0]) == (1500.0, 2000.0, 855.0, 900.0)
    assert framed.over == Cripples(1500, 2000, 1845)
    assert framed.under == Cripples(1500, 2000, 855)
    assert (framed.left, framed.right) == (1455, 2045)
    assert of_role(framed.members, "lintel") == []


def test_panes_meet_on_the_centre_lines_of_studs() -> None:
    framed = Panes(panes=3).frame_opening(hole(1000, 1000 + 3 * 820, 900, 1700), WALL)
    assert list(framed.stud_lines) == [1000, 1820, 2640, 3460]
    studs = of_role(framed.members, "stud")
    assert [(m.left + m.right) / 2 for m in studs] == pytest.approx(framed.stud_lines)
    assert {m.top for m in studs} == {2191.424}
    noggins = of_role(framed.members, "noggin")
    assert [box(m) for m in noggins[:2]] == [
        (1022.5, 1797.5, 855.0, 900.0),
        (1022.5, 1797.5, 1700.0, 1745.0),
    ]
    assert len(noggins) == 6
    assert (framed.left, framed.right) == (977.5, 3482.5)
    assert (framed.over, framed.under) == (None, None)
    assert_clear(framed.members)


def test_panes_lap_their_noggins_by_the_edge_cover() -> None:
    framed = Panes(panes=1, edge_cover=15).frame_opening(hole(1000, 1800, 900, 1700), WALL)
    below, above = of_role(framed.members, "noggin")
    assert below.top == 915
    assert above.bottom == 1685


def test_what_panes_cannot_be() -> None:
    with pytest.raises(CannotFrame, match="accepted is a window or a gap"):
        Panes(panes=2).frame_opening(hole(1000, 2000, 0, 1800, "door"), WALL)
    with pytest.raises(CannotFrame, match="here up to 15"):
        Panes(panes=16).frame_opening(hole(1000, 2000, 900, 1800), WALL)
    with pytest.raises(CannotFrame, match="at least 90 mm"):
        Panes(panes=2).frame_opening(hole(1000, 2000, 80, 1800), WALL)
    with pytest.raises(CannotFrame, match="noggin over the panes"):
        Panes(panes=2).frame_opening(hole(1000, 2000, 900, 2160), WALL)
    with pytest.raises(CannotFrame, match="less edge_cover"):
        Panes(panes=2, edge_cover=100).frame_opening(hole(1000, 2000, 900, 1050), WALL)
