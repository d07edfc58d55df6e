"""Finished openings: linings, sill, strips and flashing by closed forms, and on any opening in its place."""

from __future__ import annotations

import itertools
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soleplate.engine.rules import (
    CannotFrame,
    FaceBeside,
    FinishedOpening,
    Hole,
    Member,
    OpeningToFinish,
    TopLine,
    Wall,
)
from soleplate.engine.shapes import Section, area, level
from soleplate.plugins.finishes import BareOpening, Lined, Sill

TOP = TopLine(((0.0, 2400.0), (4000.0, 2400.0)))
WINDOW = Hole("window", "window", 1000.0, 1900.0, 950.0, 1650.0)
DOOR = Hole("door", "door", 1000.0, 1900.0, 0.0, 1950.0)


def to_finish(hole: Hole, *, outside: float = 25.0, inside: float = 9.0, **changes: Any) -> OpeningToFinish:
    wall = Wall("front", 4000.0, 70.0, Section(45.0, 70.0), TOP, ())  # type: ignore[arg-type]
    faces = (FaceBeside(out, 5.0 if out else 0.0, -25.0, 4025.0, TOP) for out in (outside, inside))
    told: dict[str, Any] = dict(zip(("outside", "inside"), faces, strict=True))
    return OpeningToFinish(**{"hole": hole, "wall": wall, "foot": hole.bottom} | told | changes)


def of_role(done: FinishedOpening, role: str) -> list[Member]:
    return [member for member in (*done.outside, *done.inside) if member.role == role]


def box(member: Member) -> tuple[float, float, float, float]:
    return member.left, member.right, member.bottom, member.top


def test_linings_are_as_deep_as_frame_cladding_and_lining() -> None:
    """70 of frame, 25 of cladding and 9 of lining are 104; the boards stand and lie in the hole."""
    done = Lined().finish_opening(to_finish(DOOR))
    left, right = of_role(done, "jamb lining")
    (head,) = of_role(done, "head lining")
    assert {member.depth for member in (left, right, head)} == {(-25.0, 79.0)}
    assert {member.section for member in (left, right, head)} == {Section(20.0, 104.0)}
    assert box(left) == (1000.0, 1020.0, 0.0, 1930.0)
    assert box(right) == (1880.0, 1900.0, 0.0, 1930.0)
    assert box(head) == (1000.0, 1900.0, 1930.0, 1950.0)
    assert done.clear == (1020.0, 1880.0, 0.0, 1930.0)
    assert not of_role(done, "sill board")
    assert not done.findings


def test_a_sill_lies_under_the_jambs_and_drips_clear_of_the_cladding() -> None:
    """The Ontario Building Code's note has the drip 5 mm out or more: 35 less 6 and a groove of 6 is 23."""
    done = Lined().finish_opening(to_finish(WINDOW))
    (sill,) = of_role(done, "sill board")
    assert box(sill) == (1000.0, 1900.0, 950.0, 982.0)
    assert sill.depth == (-60.0, 79.0)
    assert sill.section == Section(32.0, 139.0)
    assert {member.bottom for member in of_role(done, "jamb lining")} == {982.0}
    assert [(found.code, found.value) for found in done.findings] == [("sill-throat", 23.0)]


def test_a_sill_that_stands_out_too_little_is_told() -> None:
    for projection, code in ((16.0, "sill-short"), (17.0, "sill-throat"), (0.0, "sill-short")):
        done = Lined(sill=Sill(projection=projection)).finish_opening(to_finish(WINDOW))
        assert [found.code for found in done.findings] == [code]


def test_side_strips_are_cut_round_the_ends_of_the_sill() -> None:
    """They leave 5 mm of the linings' edge bare, and go on beside the sill's ends to its underside."""
    done = Lined().finish_opening(to_finish(WINDOW))
    left, right, head = (member for member in done.outside if member.role == "cover strip")
    assert box(left) == (945.0, 1015.0, 950.0, 1635.0)
    assert set(left.outline) == {
        (945.0, 950.0), (1000.0, 950.0), (1000.0, 982.0), (1015.0, 982.0), (1015.0, 1635.0), (945.0, 1635.0),
    }  # fmt: skip
    assert {(2900.0 - x, z) for x, z in left.outline} == set(right.outline)
    assert box(head) == (945.0, 1955.0, 1635.0, 1705.0)
    assert {member.depth for member in (left, right, head)} == {(-45.0, -25.0)}
    assert area(left.outline) == pytest.approx(70.0 * 685.0 - 15.0 * 32.0)


def test_strips_inside_go_all_round_a_window_and_down_to_the_floor_beside_a_door() -> None:
    window = Lined().finish_opening(to_finish(WINDOW)).inside
    assert [box(member) for member in window] == [
        (970.0, 1015.0, 977.0, 1635.0),
        (1885.0, 1930.0, 977.0, 1635.0),
        (970.0, 1930.0, 1635.0, 1680.0),
        (970.0, 1930.0, 932.0, 977.0),
    ]
    door = Lined().finish_opening(to_finish(DOOR)).inside
    assert [member.bottom for member in door] == [0.0, 0.0, 1935.0]
    assert {member.depth for member in (*window, *door)} == {(79.0, 94.0)}


def test_a_flashing_goes_past_the_head_strip() -> None:
    """860 between linings, a strip of 70 at each side and 25 past each: 1050."""
    (flashing,) = Lined().finish_opening(to_finish(DOOR)).goods
    assert (flashing.kind.name, flashing.quantity, flashing.size) == ("head flashing", 1050.0, (100.0,))
    assert Lined(flashing=None).finish_opening(to_finish(DOOR)).goods == ()


def test_indoors_there_is_neither_drip_nor_flashing() -> None:
    done = Lined().finish_opening(to_finish(WINDOW, indoors=True))
    (sill,) = of_role(done, "sill board")
    assert sill.depth == (-25.0, 79.0)
    assert (done.goods, done.findings) == ((), ())
    assert len(of_role(done, "cover strip")) == 8


def test_jambs_stand_on_a_threshold() -> None:
    done = Lined().finish_opening(to_finish(DOOR, foot=20.0))
    assert {member.bottom for member in of_role(done, "jamb lining")} == {20.0}
    assert done.clear.bottom == 20.0


def test_a_broader_board_is_ripped_and_a_narrower_one_refused() -> None:
    (left, *_) = of_role(Lined(board=150.0).finish_opening(to_finish(DOOR)), "jamb lining")
    assert (left.section.depth, left.depth) == (150.0, (-25.0, 79.0))
    with pytest.raises(
        CannotFrame, match="lining is 104 mm wide, and boards are 100 mm; accepted are at least"
    ):
        Lined(board=100.0).finish_opening(to_finish(DOOR))
    with pytest.raises(CannotFrame, match="sill is 139 mm wide, and boards are 120 mm"):
        Lined(board=120.0).finish_opening(to_finish(WINDOW))


@pytest.mark.parametrize(
    ("changes", "hole", "said"),
    [
        (
            {"thickness": 70.0}, Hole("slit", "gap", 100.0, 300.0, 500.0, 900.0),
            "linings of 70 mm leave 60.0 mm of its width of 200 mm; accepted is up to 50.0 mm",
        ),
        (
            {}, Hole("slit", "window", 500.0, 900.0, 500.0, 640.0),
            "leave 88.0 mm of its height; accepted is at least 12.0 mm more",
        ),
        (
            {"outer_strips": Section(20.0, 30.0)}, DOOR,
            "30 mm wide leave 10 mm on the face beside the opening; accepted is at least 35 mm",
        ),
        ({}, Hole("door", "door", 0.0, 900.0, 0.0, 1950.0), "outer cover strips reach from -55 to 955 mm"),
        (
            {}, Hole("door", "door", 500.0, 1400.0, 0.0, 2380.0),
            "would reach 2435.0 mm, and the face ends at 2400.0 mm",
        ),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_refused_with_what_would(changes: dict[str, Any], hole: Hole, said: str) -> None:
    with pytest.raises(CannotFrame, match=said):
        Lined(**changes).finish_opening(to_finish(hole))


def test_an_opening_that_timbers_run_through_takes_no_lining() -> None:
    stud = level("stud", Section(45.0, 70.0), (1400.0, 1445.0, 45.0, 2300.0), (0.0, 70.0))
    wall = Wall("front", 4000.0, 70.0, Section(45.0, 70.0), TOP, (), members=(stud,))  # type: ignore[arg-type]
    with pytest.raises(CannotFrame, match=r"a stud runs through it at 1400 mm.*accepted is the finish bare"):
        Lined().finish_opening(to_finish(WINDOW, wall=wall))
    assert BareOpening().finish_opening(to_finish(WINDOW, wall=wall)).clear == (1000.0, 1900.0, 950.0, 1650.0)


sizes = st.floats(0.0, 200.0, allow_nan=False)


@given(
    left=st.floats(300.0, 1500.0),
    width=st.floats(250.0, 2000.0),
    bottom=st.floats(0.0, 1200.0),
    height=st.floats(300.0, 900.0),
    outside=sizes,
    inside=sizes,
    thickness=st.floats(6.0, 40.0),
    reveal=st.floats(0.0, 50.0),
    projection=sizes,
    strip=st.floats(80.0, 150.0),
    indoors=st.booleans(),
)
def test_any_opening_is_finished_within_its_hole_and_on_its_faces(
    left: float, width: float, bottom: float, height: float, outside: float, inside: float,
    thickness: float, reveal: float, projection: float, strip: float, indoors: bool,
) -> None:  # fmt: skip
    hole = Hole("window", "window", left, left + width, bottom, bottom + height)
    rule = Lined(
        thickness=thickness,
        reveal=reveal,
        sill=Sill(projection=projection),
        outer_strips=Section(20.0, strip),
        inner_strips=Section(15.0, strip),
    )
    done = rule.finish_opening(to_finish(hole, outside=outside, inside=inside, indoors=indoors))
    for member in done.outside:
        assert (member.depth[1] <= -outside + 1e-6) or (
            hole.left <= member.left and member.right <= hole.right + 1e-6
            and hole.bottom <= member.bottom and member.top <= hole.top + 1e-6
        )  # fmt: skip
    assert all(member.depth[0] >= 70.0 + inside - 1e-6 for member in done.inside)
    for one, other in itertools.combinations((*done.outside, *done.inside), 2):
        assert apart(one, other), (one, other)
    for sill in of_role(done, "sill board"):
        assert sill.depth[0] == pytest.approx(-outside - (0.0 if indoors else projection))
    clear = done.clear
    assert clear.right - clear.left == pytest.approx(width - 2 * thickness)
    for strip_ in of_role(done, "cover strip"):
        assert not any(
            clear.left < x < clear.right and clear.bottom < z < clear.top for x, z in strip_.outline
        )


def apart(one: Member, other: Member) -> bool:
    """Whether two pieces share no place, cell by cell of the grid of all their corners."""
    if min(one.depth[1], other.depth[1]) - max(one.depth[0], other.depth[0]) <= 1e-6:
        return True
    xs = sorted({x for member in (one, other) for x, _ in member.outline})
    zs = sorted({z for member in (one, other) for _, z in member.outline})
    return not any(
        right - left > 1e-6 and top - low > 1e-6
        and all(holds(member, (left + right) / 2, (low + top) / 2) for member in (one, other))
        for left, right in itertools.pairwise(xs)
        for low, top in itertools.pairwise(zs)
    )  # fmt: skip


def holds(member: Member, x: float, z: float) -> bool:
    """By crossings of a ray to the right; no edge is but level or plumb."""
    outline = member.outline
    crossed = 0
    for (x0, z0), (_, z1) in zip(outline, (*outline[1:], outline[0]), strict=True):
        crossed += x0 > x and min(z0, z1) < z < max(z0, z1)
    return crossed % 2 == 1
