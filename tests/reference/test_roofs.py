"""Published values and closed forms of framed roofs, the source beside each."""

from __future__ import annotations

import math
from typing import Any

import pytest

from soleplate.engine.layout import Layout, Piece, SlopeOut
from soleplate.engine.rules import Section
from soleplate.engine.shapes import area
from soleplate.plugins.roofs.pitched import NOTCH_SHARE, Pitched, longest_seat
from tests.buildings import layout_of, wall_of
from tests.roofs import DUO, duo, frame_with, mono, slope_of

FOOT = 304.8
INCH = 25.4


def of_role(slope: SlopeOut, role: str) -> list[Piece]:
    return [piece for piece in slope.pieces if piece.role == role]


def top_of(piece: Piece) -> float:
    return max(z for _, z in piece.outline)


@pytest.fixture(scope="module")
def honey_house() -> Layout:
    return layout_of(mono())


# R1: by hand, 6 degrees, 2700 over the outer faces, plates 70 deep, rafters 45 x 145, overhangs of 300.
# The run is the span less the depth of the high wall's plate (NAVEDTRA 14044 p 2-34).


def test_the_honey_houses_rafter_card(honey_house: Layout) -> None:
    card = slope_of(honey_house).card
    assert (card.seat, card.heel, card.hap, card.plumb_cut) == (70.0, 7.357, 138.441, 145.799)
    assert card.seat * math.sin(math.radians(6)) == pytest.approx(7.317, abs=0.0005)
    assert card.marks == (0.0, 301.652, 2946.139, 3318.177)
    assert card.marks[2] - card.marks[1] == pytest.approx(2644.487, abs=0.001)
    assert card.blank == 3333.417
    assert card.pitch == 6.0
    assert card.rise_in_12 == pytest.approx(12 * math.tan(math.radians(6)), abs=0.0005)


def test_the_honey_houses_rafters(honey_house: Layout) -> None:
    """EN 338: C16 has a mean density of 370 kg/m3."""
    for rafter in of_role(slope_of(honey_house), "rafter"):
        assert rafter.length == 3333.417
        assert area(rafter.outline) == pytest.approx(480620.701, abs=3.0)
        assert rafter.weight_kg == 8.002
        assert [(end.cut, end.angle) for end in rafter.ends] == [("bevel", 6.0)] * 2
        told = [(n.kind, n.from_low_end, n.seat, n.heel, n.hap) for n in rafter.notches or ()]
        assert told == [
            ("birdsmouth", 301.652, 70.0, 7.357, 138.441),
            ("birdsmouth", 2946.139, 70.0, 7.357, 138.441),
        ]


def test_the_honey_houses_fascias_and_barge_boards(honey_house: Layout) -> None:
    slope = slope_of(honey_house)
    assert sorted(top_of(piece) for piece in of_role(slope, "fascia")) == [2064.808, 2413.754]
    assert {piece.length for piece in of_role(slope, "fascia")} == {5000.0}
    assert {piece.length for piece in of_role(slope, "barge board")} == {3376.265}


def test_the_honey_houses_dropped_side_walls(honey_house: Layout) -> None:
    """R2: each side stud is shorter by the plumb face of a birdsmouth."""
    left = wall_of(honey_house, "left")
    lengths = sorted(piece.length for piece in left.pieces if piece.role == "stud")
    for long_point in (1874.482, 1940.566, 2006.650, 2072.735, 2138.819):
        assert any(length == pytest.approx(long_point, abs=0.002) for length in lengths), lengths
    bare = mono()
    del bare["roof"]["frame"]
    before = sorted(p.length for p in wall_of(layout_of(bare), "left").pieces if p.role == "stud")
    assert [b - a for a, b in zip(lengths, before, strict=True)] == pytest.approx(
        [7.357] * len(before), abs=0.002
    )


@pytest.mark.parametrize(
    ("largest", "count", "centres", "bay"), [(600, 8, 616.429, 571.429), (570, 9, 539.375, 494.375)]
)
def test_where_the_honey_houses_rafters_stand(largest: int, count: int, centres: float, bay: float) -> None:
    """R3: from the side walls' inner faces, 70 in, at equal bays."""
    slope = slope_of(layout_of(mono(frame_with(spacing={"rule": "equal-bays", "largest_bay": largest}))))
    for marks in slope.marks.values():
        assert len(marks) == count
        assert marks[0].at == 70.0
        assert marks[1].at - marks[0].at == pytest.approx(centres, abs=0.001)
    assert {b.clear for b in slope.bays} == {bay}


def test_the_honey_houses_verge_deck_and_covering(honey_house: Layout) -> None:
    """R3: a verge of 250, deck over fascias and barge boards of 20, sheets 1060 wide that cover 1000."""
    slope = slope_of(honey_house)
    assert {rung.length for rung in of_role(slope, "rung")} == {275.0}
    assert slope.deck_m2 == pytest.approx(3.358398 * 5.040, abs=0.001)
    assert slope.covering is not None
    assert slope.covering.sheets == 5
    assert slope.covering.area_m2 == 16.926
    rolls = slope_of(layout_of(mono(frame_with(covering={"kind": "roll", "width": 1000, "lap": 75}))))
    assert rolls.covering is not None
    assert rolls.covering.rolls == 4


# R4: by hand, 35 degrees, a run of 1500 to the ridge line, plates 95 deep, 45 x 120, overhangs of 250.


@pytest.fixture(scope="module")
def two_slopes() -> Layout:
    return layout_of(duo())


def test_the_rafters_of_two_slopes(two_slopes: Layout) -> None:
    for slope in two_slopes.roofs:
        card = slope.card
        assert (card.seat, card.heel, card.hap, card.plumb_cut) == (52.303, 36.623, 109.870, 146.493)
        assert card.seat * math.sin(math.radians(35)) == pytest.approx(30.0, abs=0.001)
        assert (card.marks[-1], card.blank) == (2116.823, 2200.848)
        line = 1500 / math.cos(math.radians(35))
        assert line == pytest.approx(1831.162, abs=0.0005)
        assert card.marks[1] + line - card.marks[-1] == pytest.approx(19.532, abs=0.001)


def test_the_ridge_board(two_slopes: Layout) -> None:
    (board,) = of_role(two_slopes.roofs[0], "ridge board")
    assert top_of(board) == pytest.approx(3148.978, abs=0.001)
    assert [(n.kind, n.seat, n.heel) for n in board.notches or ()] == [("notch", 95.0, 39.710)] * 2
    assert board.length == 5000.0
    tops = [top_of(p) for p in wall_of(two_slopes, "left").pieces if p.role == "raked plate"]
    assert max(tops) == pytest.approx(3013.688, abs=0.001)


@pytest.mark.parametrize(
    ("height", "depth", "long", "short"), [(2700, 120, 1314.413, 971.658), (2500, 95, 1885.672, 1614.324)]
)
def test_ties(height: int, depth: int, long: float, short: float) -> None:
    """R5: between the rafters' upper edges at their undersides."""
    ties = {"every": 1, "height": height, "section": [45, depth]}
    first = layout_of(duo(frame_with(DUO, ties=ties))).roofs[0]
    made = of_role(first, "tie")
    # Beside every pair of eight but the outermost.
    assert len(made) == 6
    assert {(tie.length, tie.short_length) for tie in made} == {(long, short)}


def test_a_ridge_beam() -> None:
    """R6: 70 broad; seats half of that, its top where the plates meet."""
    beam = {"rule": "beam", "section": [70, 195]}
    layout = layout_of(duo(frame_with(DUO, ridge=beam)))
    (made,) = of_role(layout.roofs[0], "ridge beam")
    assert top_of(made) == pytest.approx(3013.688, abs=0.001)
    for slope in layout.roofs:
        for rafter in of_role(slope, "rafter"):
            assert rafter.length == 2220.380
            assert [n.seat for n in rafter.notches or ()] == [52.303, 35.0]
    assert len(of_role(layout.roofs[0], "post")) == 2


def rafter(
    pitch: float, run: float, tail: float = 0.0, section: tuple[float, float] = (45.0, 145.0)
) -> Pitched:
    return Pitched(pitch, Section(*section), 0.0, 0.0, -tail, run, ())


def by_rise(rise: float, run: float) -> float:
    return math.degrees(math.atan2(rise, run))


def test_a_shed_of_eight_feet() -> None:
    """R7: pressbooks "Carpentry refresher", topic 6: 8 ft less 3 1/2 + 1/2 in is 7.67 ft.

    12 in up it prints 1.56 in 12, exactly 1.565.
    """
    run = 8 * FOOT - 4 * INCH
    assert run / FOOT == pytest.approx(7.667, abs=0.0005)
    assert 12 * math.tan(math.radians(by_rise(12 * INCH, run))) == pytest.approx(1.565, abs=0.0005)


def test_a_shed_measured_over_its_outer_faces() -> None:
    """R8: basiccarpentrytechniques.com "Framing Shed Roofs" prints 2549.5 and 510.

    That is 500 up in 2500, and 500 out. It measures from outer face to outer face: so the run is 2500 here.
    """
    pitch = by_rise(500, 2500)
    assert rafter(pitch, 2500).edge == pytest.approx(2549.51, abs=0.005)
    assert rafter(pitch, 0.0, 500).edge == pytest.approx(509.90, abs=0.005)


def test_a_seat_is_as_broad_as_the_plate(honey_house: Layout) -> None:
    """R9: Army EN5156 fig 3-10; where a quarter of the depth allows it."""
    assert slope_of(honey_house).card.seat == 70.0
    assert longest_seat(6, 145) > 70.0


@pytest.mark.parametrize(
    ("rise", "run", "length", "printed", "within"),
    [
        # NAVEDTRA 14044 p 2-12, example 1: 13.89 x 8.
        (7, 8 * 12, 111.140, 111.12, 0.03),
        # Griffith s17: 13.42 x 12.5.
        (6, 12.5 * 12, 167.705, 167.75, 0.05),
        # EN0069A, EN5156 3-13: 17.69 x 10.333.
        (13, 124, 182.815, 182.79, 0.03),
    ],
)
def test_lengths_from_the_unit_rise(
    rise: int, run: float, length: float, printed: float, within: float
) -> None:
    """W01 to W03: rise in inches a foot of run; exactly, and as it is printed from rounded tables."""
    edge = rafter(by_rise(rise, 12), run * INCH).edge / INCH
    assert edge == pytest.approx(length, abs=0.0005)
    assert edge == pytest.approx(printed, abs=within)


def test_the_line_of_a_hip_by_its_own_run() -> None:
    """W04: NAVEDTRA 14044 p 2-21 prints 23.45 ft: hip run 21.21 ft (15 x the root of 2), 10 ft up."""
    assert rafter(by_rise(10, 15 * math.sqrt(2)), 15 * math.sqrt(2)).edge == pytest.approx(23.452, abs=0.0005)


def test_a_rafter_at_eight_in_twelve() -> None:
    """W08: NAVEDTRA 14044 p 2-15: run 5 ft 9 in, tail 10 in, ridge 1 1/2 in thick."""
    pitch = by_rise(8, 12)
    assert rafter(pitch, 69 * INCH).edge / INCH == pytest.approx(82.928, abs=0.0005)
    assert rafter(pitch, 0.0, 10 * INCH).edge / INCH == pytest.approx(12.019, abs=0.0005)
    loss = rafter(pitch, 69.0).edge - rafter(pitch, 69.0 - 0.75).edge
    assert loss == pytest.approx(0.901, abs=0.0005)


def test_eaves_along_the_slope() -> None:
    """W37: AS 1684 class exercise: 750 level at 18 degrees, printed 0.788 m; W50: 1 in 40 over 2400."""
    assert rafter(18, 0.0, 750).edge == pytest.approx(788.6, abs=0.05)
    flat = rafter(by_rise(1, 40), 2400)
    assert flat.line(2400) == pytest.approx(60.0, abs=1e-9)
    assert flat.pitch == pytest.approx(1.432, abs=0.0005)


@pytest.mark.parametrize(("depth", "most"), [(5.5, 1.375), (7.25, 1.8125), (9.25, 2.3125), (11.25, 2.8125)])
def test_a_notch_takes_a_quarter_of_the_depth(depth: float, most: float) -> None:
    """S4-07: IRC R502.8.1, R802.7.1: 2x6 to 2x12 dressed, square to the edge."""
    assert depth * NOTCH_SHARE == most
    assert longest_seat(30, depth) * math.sin(math.radians(30)) == pytest.approx(most)


def test_without_a_frame_the_roof_gives_tops_alone() -> None:
    value: dict[str, Any] = mono()
    del value["roof"]["frame"]
    assert layout_of(value).roofs == ()
