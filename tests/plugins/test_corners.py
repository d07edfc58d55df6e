"""What stands at corners and tees besides the end studs."""

from __future__ import annotations

from typing import Literal

import pytest

from soleplate.engine.building_file import Tee, WallEnd
from soleplate.engine.rules import Corner, CornerRule, Wall
from soleplate.engine.shapes import Member
from soleplate.plugins.corners import Boxed, Plain, ThreeStud
from tests.plugins.walls import assert_clear, box, of_role, plated

THROUGH = WallEnd("through", "side", 70.0)
WALL = plated(4500.0, 2355.0, ends=(THROUGH, THROUGH))
RULES: list[CornerRule] = [Plain(), ThreeStud(), Boxed()]
Side = Literal["left", "right"]


def at_corner(rule: CornerRule, side: Side = "left", wall: Wall = WALL) -> list[Member]:
    return list(rule.lay_corner(Corner(wall, side, wall.ends[0 if side == "left" else 1])))


def at_tee(rule: CornerRule, depth: float, centre: float = 2000.0) -> list[Member]:
    tee = Tee("partition", centre, depth)
    return list(rule.lay_tee(tee, plated(4500.0, 2355.0, ends=(THROUGH, THROUGH), tees=(tee,))))


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("kind", ["butts", "free", "tee"])
def test_only_a_wall_that_runs_through_gets_more(
    rule: CornerRule, kind: Literal["butts", "free", "tee"]
) -> None:
    end = WallEnd(kind, "side", 70.0)
    assert at_corner(rule, wall=plated(4500.0, 2355.0, ends=(end, end))) == []


def test_plain_corners_have_nothing_and_a_tee_one_stud() -> None:
    assert at_corner(Plain()) == []
    (stud,) = at_tee(Plain(), 70.0)
    assert (stud.role, box(stud)) == ("corner stud", (1977.5, 2022.5, 45.0, 2355.0))


def test_the_third_stud_is_turned_flat_at_the_inside() -> None:
    (left,), (right,) = at_corner(ThreeStud()), at_corner(ThreeStud(), "right")
    assert (box(left), left.depth) == ((45.0, 115.0, 45.0, 2355.0), (25.0, 70.0))
    assert box(right) == (4385.0, 4455.0, 45.0, 2355.0)
    assert left.section == (45.0, 70.0)


def test_at_a_reentrant_corner_it_is_at_the_outside() -> None:
    end = WallEnd("through", "side", 70.0, reentrant=True)
    (stud,) = at_corner(ThreeStud(), wall=plated(4500.0, 2355.0, ends=(end, end)))
    assert stud.depth == (0.0, 45.0)


def test_a_stud_broader_than_deep_is_not_turned() -> None:
    wall = plated(4500.0, 2355.0, section=(63.0, 38.0), ends=(THROUGH, THROUGH))
    (stud,) = at_corner(ThreeStud(), wall=wall)
    assert (box(stud)[:2], stud.depth) == ((63.0, 126.0), (0.0, 38.0))


def test_a_partition_has_half_a_stud_beside_each_face() -> None:
    studs = at_tee(ThreeStud(), 70.0)
    assert [box(stud)[:2] for stud in studs] == [(1942.5, 1987.5), (2012.5, 2057.5)]


def test_behind_a_thin_partition_the_studs_stand_side_by_side() -> None:
    assert [box(stud)[:2] for stud in at_tee(ThreeStud(), 38.0)] == [(1955.0, 2000.0), (2000.0, 2045.0)]


def test_a_boxed_corner_is_a_post_with_blocks() -> None:
    members = at_corner(Boxed())
    (stud,) = of_role(members, "corner stud")
    blocks = of_role(members, "packer")
    assert box(stud) == (90.0, 135.0, 45.0, 2355.0)
    assert [box(block) for block in blocks] == [
        (45.0, 90.0, 45.0, 345.0),
        (45.0, 90.0, 1050.0, 1350.0),
        (45.0, 90.0, 2055.0, 2355.0),
    ]
    assert_clear(members)


@pytest.mark.parametrize(("neighbour", "layers"), [(45.0, 1), (115.0, 1), (116.0, 2), (145.0, 2), (195.0, 3)])
def test_the_second_stud_shows_a_ledge_beside_the_neighbour(neighbour: float, layers: int) -> None:
    end = WallEnd("through", "side", neighbour)
    members = at_corner(Boxed(), wall=plated(4500.0, 2355.0, ends=(end, end)))
    (stud,) = of_role(members, "corner stud")
    assert stud.left == 45.0 * (layers + 1)
    assert stud.right >= neighbour + 20.0
    assert len(of_role(members, "packer")) == 3 * layers


@pytest.mark.parametrize(
    ("underside", "blocks"), [(945.0, 3), (944.0, 2), (645.0, 2), (644.0, 1), (200.0, 1)]
)
def test_a_low_wall_has_fewer_blocks(underside: float, blocks: int) -> None:
    members = at_corner(Boxed(), wall=plated(4500.0, underside, ends=(THROUGH, THROUGH)))
    assert len(of_role(members, "packer")) == blocks
    assert max(member.top for member in members) <= underside
    assert_clear(members)


def test_under_a_slope_the_top_block_follows_it() -> None:
    wall = plated(2400.0, 2000.0, 2400.0, ends=(THROUGH, THROUGH))
    top = of_role(at_corner(Boxed(), wall=wall), "packer")[-1]
    assert all(z <= wall.underside.at(x) + 1e-6 for x, z in top.outline)
    assert top.top == pytest.approx(wall.underside.at(90.0))


def test_a_boxed_tee_has_blocks_in_its_gap() -> None:
    members = at_tee(Boxed(), 70.0)
    assert [box(block)[:2] for block in of_role(members, "packer")] == [(1987.5, 2012.5)] * 3
    assert len(of_role(members, "corner stud")) == 2
    assert of_role(at_tee(Boxed(), 54.0), "packer") == []


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize("length", [140.0, 200.0, 300.0, 500.0])
def test_corners_of_a_short_wall_stand_clear_of_each_other(rule: CornerRule, length: float) -> None:
    wall = plated(length, 2355.0, ends=(THROUGH, THROUGH))
    members = [*at_corner(rule, "left", wall), *at_corner(rule, "right", wall)]
    assert_clear(members)
    assert all(member.left >= 45.0 and member.right <= length - 45.0 for member in members)


@pytest.mark.parametrize("rule", RULES)
def test_tees_stand_clear_of_each_other_and_of_corners(rule: CornerRule) -> None:
    tees = tuple(Tee(f"p{centre}", centre, 70.0) for centre in (50.0, 150.0, 1000.0, 1060.0, 4480.0))
    wall = plated(4500.0, 2355.0, ends=(THROUGH, THROUGH), tees=tees)
    members = [*at_corner(rule, "left", wall), *at_corner(rule, "right", wall)]
    for tee in tees:
        members += rule.lay_tee(tee, wall)
    assert_clear(members)
    assert all(member.left >= 45.0 and member.right <= 4455.0 for member in members)
