"""The schedule of framing nails: how many, which way and how long, by what meets what."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from soleplate.engine.rules import JoinedPiece, Joint, JointFixing, JointKind
from soleplate.engine.shapes import Section
from soleplate.plugins.fixing import FramingNails
from tests.buildings import building, layout_of

STUD = Section(38.0, 89.0)


def joint(
    through: str,
    into: str,
    kind: JointKind = "end",
    *,
    along: float = 38.0,
    across: float = 89.0,
    thickness: float = 38.0,
    reach: float = 2000.0,
    crosses: bool = False,
) -> Joint:
    one, other = JoinedPiece(through, STUD, "wall"), JoinedPiece(into, STUD, "wall")
    return Joint(kind, one, other, along, across, thickness, reach, crosses)


def answer(asked: Joint, **members: Any) -> JointFixing:
    found = FramingNails(**members).fix(asked)
    assert found is not None
    return found


def counts(asked: Joint) -> list[tuple[str, int | None]]:
    return [(way.way, way.count) for way in answer(asked).ways]


def test_studs_by_the_table() -> None:
    """Table 340 rows 7 and 8: 2-16d end nails, or 4-8d toenails."""
    assert counts(joint("sole plate", "stud"))[:2] == [("through", 2), ("skew", 4)]
    assert counts(joint("head plate", "king stud"))[:2] == [("through", 2), ("skew", 4)]


def test_seats_by_the_table() -> None:
    """Rows 1 and 19: joists to girders and rafters to plates by 3-8d toenails; row 18: ties by 3-16d."""
    assert counts(joint("bearer", "joist", "plies", crosses=True))[0] == ("skew", 3)
    assert counts(joint("head plate", "rafter", "side", crosses=True))[0] == ("skew", 3)
    tie = joint("tie", "rafter", "plies", thickness=38.0, reach=45.0, crosses=True)
    assert counts(tie)[0] == ("face", 3)


@pytest.mark.parametrize(
    ("asked", "most"),
    [
        (joint("trimmer", "king stud", "side", along=1800.0, reach=38.0), 609.6),
        (joint("head plate", "head plate", "side", along=3000.0, reach=38.0), 406.4),
        (joint("lintel", "lintel", "plies", along=1200.0, reach=38.0), 406.4),
        (joint("sole plate", "rim joist", "base", along=3000.0, reach=145.0), 406.4),
        (joint("stud", "stud", "corner", along=1900.0, reach=89.0), 609.6),
    ],
)
def test_centres_are_no_wider_than_the_table(asked: Joint, most: float) -> None:
    """Rows 9, 10, 14, 6 and 23: 24, 16, 16, 16 and 24 in."""
    ways = answer(asked).ways
    assert ways
    assert all(way.centres is not None and way.centres <= most for way in ways)


def test_lintels_are_nailed_along_both_edges() -> None:
    """Row 14: along each edge."""
    ways = answer(joint("lintel", "lintel", "plies", along=1200.0, reach=38.0)).ways
    assert {way.rows for way in ways} == {2}


def test_a_nail_ends_within_two_plies() -> None:
    """Two 38 mm plies: 90 mm would stand out by 14, so it is 63 that leaves 13 to the far face."""
    ways = answer(joint("lintel", "lintel", "plies", along=1200.0, reach=38.0)).ways
    assert [way.fastener.length for way in ways] == [63.0, 50.0, 40.0]
    thick = answer(joint("lintel", "lintel", "plies", along=1200.0, thickness=45.0, reach=45.0)).ways
    assert thick[0].fastener.length == 75.0
    packed = answer(joint("lintel", "packer", "plies", along=1200.0, reach=13.0 + 45.0)).ways
    assert packed[0].fastener.length == 90.0


def test_a_splice_and_what_lies_at_a_corner_need_none_of_their_own() -> None:
    assert answer(joint("head plate", "head plate", "splice")).ways == ()
    assert answer(joint("sole plate", "stud", "corner")).ways == ()
    lap = joint("head plate", "head plate", "corner", along=89.0, across=89.0, reach=38.0, crosses=True)
    assert answer(lap).ways[0].count == 2


def test_plates_that_lap_a_splice_take_eight() -> None:
    """Row 10: 8-16d in a lap splice; by hand 650 - 2 x 50 in seven gaps."""
    lap = joint("head plate", "head plate", "side", along=650.0, reach=38.0)
    assert {way.centres for way in answer(lap).ways} == {400.0}
    spliced = replace(lap, spliced=True)
    assert all(way.centres == pytest.approx(550.0 / 7) for way in answer(spliced).ways)
    assert "row 10: eight" in answer(spliced).basis
    assert {way.centres for way in answer(replace(spliced, along=4000.0)).ways} == {400.0}


def test_a_sole_plate_under_a_brace_takes_three_to_16_in() -> None:
    """Row 6: 3-16d per 16 in at braced wall panels; a joist that crosses it takes them at once."""
    along = replace(joint("sole plate", "rim joist", "base", along=3000.0, reach=145.0), braced=True)
    assert all(way.centres is not None and way.centres <= 406.4 / 3 for way in answer(along).ways)
    across = replace(joint("sole plate", "joist", "base", along=45.0, reach=145.0), braced=True)
    assert answer(across).ways[0].count == 3


def test_floors_and_roofs_by_the_other_table() -> None:
    """IBC Table 2304.10.1: joist to rim 3-16d; rafter to ridge 2-16d, or 3-10d; blocking 2 at each end."""
    assert counts(joint("rim joist", "joist", across=145.0))[0] == ("through", 3)
    assert counts(joint("ridge board", "rafter", across=145.0))[:2] == [("through", 2), ("skew", 3)]
    blocking = joint("joist", "noggin", across=145.0)
    blocking = replace(blocking, into=replace(blocking.into, part="floor"))
    assert counts(blocking) == [("through", 2), ("skew", 2)]
    assert counts(joint("stud", "noggin", across=145.0))[0] == ("through", 3)


@pytest.mark.parametrize("into", ["prop", "barge board"])
def test_what_it_does_not_know_is_left_to_others(into: str) -> None:
    assert FramingNails().fix(joint("fascia", into)) is None


def skewed(thick: float, length: float) -> list[int]:
    """How many skewed nails of a length go from each noggin into studs so thick that nothing else does."""
    nails = {"rule": "framing-nails", "length": 40, "skew_length": length, "skew_diameter": 2.8}
    layout = layout_of(
        building(
            frame={"section": [thick, 89]},
            defaults={"studs": {"rule": "equal-bays", "largest_bay": 600}},
            fixings=[nails],
        )
    )
    roles = {piece.mark: piece.role for piece in layout.pieces}
    return [
        len(each.places)
        for each in layout.fixings
        if roles[each.through] == "sole plate" and roles[each.into] == "stud" and each.joint == "end"
    ]


def test_skewed_nails_stay_in_their_plate() -> None:
    """By hand: 63 ends 3 above the underside of 38 and goes in; 75 comes out by 2 and 90 by 10, so none do.

    Depth in the plate: L cos 30 - L / 3 is 33.6, 40.0 and 47.9 mm, and 3 mm of timber stay under a point.
    """
    assert set(skewed(38, 63)) == {4}
    assert set(skewed(38, 75)) == {0}
    assert set(skewed(38, 90)) == {0}
    assert set(skewed(47, 63)) == {4}
