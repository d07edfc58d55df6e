"""Finished openings: linings, sill, strips and flashing by closed forms, and on any opening in its place."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from soleplate.engine.rules import (
    CannotFrame,
    DoorLeaf,
    FaceBeside,
    FinishedOpening,
    Hole,
    Member,
    OpeningToFinish,
    TopLine,
    Wall,
)
from soleplate.engine.shapes import Section, area, level
from soleplate.plugins.finishes import AsFramed, LedgedLeaf, Lined, Sill

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
    with pytest.raises(
        CannotFrame, match=r"a stud runs through it at 1400 mm.*accepted is the finish as-framed"
    ):
        Lined().finish_opening(to_finish(WINDOW, wall=wall))
    assert AsFramed().finish_opening(to_finish(WINDOW, wall=wall)).clear == (1000.0, 1900.0, 950.0, 1650.0)


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


def hung(clear_width: float, height: float = 1850.0, **changes: Any) -> FinishedOpening:
    """A door with a leaf, its clear width and height as given."""
    hole = Hole("door", "door", 1000.0, 1040.0 + clear_width, 0.0, height + 20.0)
    return Lined(leaf=LedgedLeaf(**changes)).finish_opening(to_finish(hole))


def of_leaf(leaf: DoorLeaf, role: str) -> list[Member]:
    return [member for member in leaf.members if member.role == role]


def test_two_leaves_by_closed_form() -> None:
    """1460 clear less three gaps of 3 are two leaves of 725.5; 1850 less 3 and 8 is 1839. Boards of 112 seen,
    2 apart: seven, of which five whole ones leave (725.5 - 5 x 112 - 6 x 2) / 2 = 76.75 for the outer two."""
    done = hung(1460.0, tongue=8.0)
    left, right = done.leaves
    assert (left.span.left, left.span.right) == (pytest.approx(1023.0), pytest.approx(1748.5))
    assert (right.span.left, right.span.right) == (pytest.approx(1751.5), pytest.approx(2477.0))
    assert (left.span.bottom, left.span.top) == (8.0, 1847.0)
    assert (left.hinged, right.hinged) == ("left", "right")
    boards = of_leaf(left, "leaf board")
    assert [board.right - board.left for board in boards] == pytest.approx([84.75, *[120.0] * 5, 76.75])
    assert [board.left for board in boards] == pytest.approx(
        [1023.0, *(1101.75 + 114.0 * index for index in range(6))]
    )
    assert {board.depth for board in boards} == {(-45.0, -25.0)}
    (found,) = done.findings
    assert (found.code, found.value) == ("leaf-made", 725.5)
    counted = {(goods.kind.name, goods.size): 0.0 for goods in done.goods}
    for goods in done.goods:
        counted[goods.kind.name, goods.size] += goods.quantity
    # Half of 725.5 is 362.75: the next strap sold is 400; three ledges on each leaf.
    assert counted["T hinge", (400.0,)] == 6.0
    assert counted["latch", ()] == 1.0
    assert counted["bolt", ()] == 2.0


def test_ledges_end_clear_of_the_stops_and_where_leaves_meet() -> None:
    """Stops of 15 reach 12 behind a leaf that hangs 3 from its lining; 5 more are free."""
    left, right = hung(1460.0).leaves
    assert [(ledge.left, ledge.right) for ledge in of_leaf(left, "leaf ledge")] == [(1040.0, 1743.5)] * 3
    assert [(ledge.left, ledge.right) for ledge in of_leaf(right, "leaf ledge")] == [(1756.5, 2460.0)] * 3
    assert [ledge.bottom for ledge in of_leaf(left, "leaf ledge")] == [158.0, 880.0, 1602.0]
    assert {ledge.depth for ledge in of_leaf(left, "leaf ledge")} == {(-25.0, 0.0)}


@pytest.mark.parametrize("hinged", ["left", "right"])
def test_braces_rise_from_the_side_that_hangs(hinged: Any) -> None:
    (leaf,) = hung(860.0, hinged=hinged).leaves
    ledges, braces = of_leaf(leaf, "leaf ledge"), of_leaf(leaf, "leaf brace")
    assert leaf.hinged == hinged
    assert len(braces) == len(ledges) - 1 == 2
    for brace, (lower, upper) in zip(braces, itertools.pairwise(ledges), strict=True):
        assert (brace.bottom, brace.top) == (lower.top, upper.bottom)
        assert (brace.left, brace.right) == (pytest.approx(lower.left), pytest.approx(lower.right))
        foot = [x for x, z in brace.outline if z == brace.bottom]
        assert (min(foot) if hinged == "left" else max(foot)) == (
            lower.left if hinged == "left" else lower.right
        )
        # Its width square to its length is that of its timber.
        run, angle = max(foot) - min(foot), math.radians(abs(brace.grain))
        assert run * math.sin(angle) == pytest.approx(95.0)
        assert (brace.grain > 0) is (hinged == "left")


def test_a_leaf_that_hangs_on_the_other_side_is_the_mirror_image() -> None:
    shapes = []
    for hinged, turn in (("left", 1.0), ("right", -1.0)):
        (leaf,) = hung(860.0, tongue=8.0, hinged=hinged).leaves
        middle = (leaf.span.left + leaf.span.right) / 2
        shapes.append(
            [
                (
                    member.role,
                    member.depth,
                    sorted((round(turn * (x - middle), 6), z) for x, z in member.outline),
                )
                for member in leaf.members
            ]
        )
    assert shapes[0] == shapes[1]


def test_a_leaf_weighs_what_its_boards_do() -> None:
    """860 clear: a leaf of 854 by 1839, 20 thick, of eight plain boards, 2 apart."""
    (leaf,) = hung(860.0).leaves
    assert sum(board.volume for board in of_leaf(leaf, "leaf board")) == pytest.approx(840.0 * 1839.0 * 20.0)


def test_the_meeting_strip_is_on_the_leaf_that_opens_first() -> None:
    for hinged, index in (("left", 1), ("right", 0)):
        leaves = hung(1460.0, hinged=hinged).leaves
        assert [len(of_leaf(leaf, "meeting strip")) for leaf in leaves] == [1 - index, index]
    assert [len(of_leaf(leaf, "meeting strip")) for leaf in hung(1460.0, meeting=None).leaves] == [0, 0]


def test_a_shutter_has_two_ledges_and_no_more_under_it_than_beside_it() -> None:
    done = Lined(leaf=LedgedLeaf()).finish_opening(to_finish(WINDOW))
    (leaf,) = done.leaves
    assert (leaf.span.bottom, leaf.span.top) == (985.0, 1627.0)
    assert len(of_leaf(leaf, "leaf ledge")) == 2
    assert [found.code for found in done.findings] == ["sill-throat", "leaf-made", "leaf-brace-flat"]


def test_braces_that_rise_too_little_are_told() -> None:
    """Three ledges of 95, 150 from the ends of a leaf of 1839, are 627 apart: broad leaves have flat ones."""
    for width, flat in ((600.0, False), (980.0, True)):
        done = hung(width)
        lowest = min(abs(brace.grain) for brace in of_leaf(done.leaves[0], "leaf brace"))
        assert (lowest < 40.0) is flat
        assert ("leaf-brace-flat" in [found.code for found in done.findings]) is flat


@pytest.mark.parametrize(
    ("width", "height", "changes", "said"),
    [
        (150.0, 1850.0, {"boards": Section(20.0, 200.0)},
         "narrower than what is seen of one board, 200.0 mm; accepted are boards of up to 144.0"),
        (600.0, 300.0, {}, "a leaf of 289.0 mm is too low .* accepted is at least 498.8 mm"),
        (150.0, 1850.0, {"boards": Section(20.0, 60.0), "ledges": Section(25.0, 150.0)}, "room for a brace"),
        (600.0, 1850.0, {"boards": Section(60.0, 120.0), "ledges": Section(90.0, 95.0)},
         "its leaf and stops are 150 mm thick, and 124 mm are left for them"),
    ],
)  # fmt: skip
def test_a_leaf_that_cannot_be_made_is_refused(
    width: float, height: float, changes: dict[str, Any], said: str
) -> None:
    with pytest.raises(CannotFrame, match=said):
        hung(width, height, **changes)


@given(
    width=st.floats(400.0, 2800.0),
    height=st.floats(800.0, 2300.0),
    board=st.floats(45.0, 150.0),
    tongue=st.floats(0.0, 25.0),
    gap=st.floats(0.0, 20.0),
    hinged=st.sampled_from(["left", "right"]),
)
@example(width=412.0, height=1850.0, board=45.0, tongue=25.0, gap=3.0, hinged="right")
def test_any_leaf_lies_within_the_clear_opening(
    width: float, height: float, board: float, tongue: float, gap: float, hinged: Any
) -> None:
    section = Section(20.0, board)
    done = hung(width, height, boards=section, tongue=tongue, gap=gap, hinged=hinged)
    clear = done.clear
    for leaf in done.leaves:
        boards = of_leaf(leaf, "leaf board")
        assert min(b.left for b in boards) == pytest.approx(leaf.span.left)
        assert max(b.right for b in boards) == pytest.approx(leaf.span.right)
        assert all(b.right - b.left <= board + 1e-6 for b in boards)
        for member in leaf.members:
            assert member.left >= clear.left - 1e-6
            assert member.right <= clear.right + 1e-6
            assert clear.bottom <= member.bottom <= member.top <= clear.top + 1e-6
    solid = [member for member in done.members if member.role not in ("leaf board", "leaf brace")]
    for one, other in itertools.combinations(solid, 2):
        assert apart(one, other), (one, other)
