"""Braces against trigonometry: lengths, angles, mitres, housings, straps that cross, bad input, findings."""

from __future__ import annotations

import math
from typing import Any

import pytest

from soleplate.engine import UnbuildableError
from soleplate.engine.building_file import BuildingError
from soleplate.engine.layout import BraceOut, FindingOut, Layout, WallOut
from soleplate.engine.shapes import overlap
from tests.buildings import building, honey_house, layout_of

LEVEL = 2400.0


def wall_with(*bracing: dict[str, Any], length: float = 4500, height: float = LEVEL, **more: Any) -> Layout:
    """One level wall in 45 x 70 timber, studs at 600 mm centres."""
    value = building(
        outline={"walls": [{"name": "wall", "length": length}]},
        roof={"form": "level", "height": height},
        defaults={"studs": {"rule": "fixed-centres", "centres": 600}, "bracing": list(bracing)}
        | more.pop("defaults", {}),
        **more,
    )
    return layout_of(value)


def only(layout: Layout) -> WallOut:
    (wall,) = layout.walls
    return wall


def braces(*bracing: dict[str, Any], **more: Any) -> tuple[BraceOut, ...]:
    return only(wall_with(*bracing, **more)).braces


def findings(layout: Layout) -> dict[str, FindingOut]:
    return {finding.code: finding for finding in layout.findings}


def fault(*bracing: dict[str, Any], **more: Any) -> tuple[str, str]:
    with pytest.raises(UnbuildableError) as raised:
        wall_with(*bracing, **more)
    (one,) = raised.value.faults
    return one.pointer, str(one)


@pytest.mark.parametrize("angle", [45.0, 50.0, 60.0])
def test_a_let_in_board_over_its_long_points(angle: float) -> None:
    """Its lower and its upper edge end where it leaves the wall: so much longer than the height's share."""
    (board,) = braces({"rule": "let-in", "ends": "left", "angle": angle})
    slope = math.radians(angle)
    assert board.length == pytest.approx(LEVEL / math.sin(slope) + 100.0 / math.tan(slope), abs=1e-3)
    assert board.angle == pytest.approx(angle, abs=1e-3)
    assert board.foot == pytest.approx((50.0 / math.sin(slope), 0.0), abs=1e-3)
    assert board.head[0] - board.foot[0] == pytest.approx(LEVEL / math.tan(slope), abs=1e-3)


def test_a_let_in_board_has_its_housings() -> None:
    wall = only(wall_with({"rule": "let-in", "ends": "left", "angle": 45}))
    (board,) = wall.braces
    (piece,) = [piece for piece in wall.pieces if piece.role == "let-in brace"]
    assert (piece.section, piece.depth, piece.length) == ((25.0, 100.0), (0.0, 25.0), board.length)
    assert [(end.cut, end.angle) for end in piece.ends] == [("bevel", 45.0), ("bevel", 45.0)]
    housed = {piece.mark: piece for piece in wall.pieces if piece.housings}
    assert set(board.crosses) < set(housed)
    assert {housed[mark].role for mark in set(housed) - set(board.crosses)} == {"sole plate", "head plate"}
    # The upper edge passes the end stud's inner corner at the sole plate: four others are crossed.
    assert len(board.crosses) == 4
    second = housed[board.crosses[1]]
    ((housing),) = second.housings or ()
    left = min(x for x, _ in second.outline)
    # Its upper edge starts in the corner and rises at 45 degrees; it is 100 mm broad, 141.4 mm plumb.
    assert housing.to == pytest.approx(left + 45.0 - 45.0, abs=1e-3)
    assert housing.from_ == pytest.approx(left - 45.0 - 100.0 * math.sqrt(2), abs=1e-3)
    assert (housing.deep, housing.width, housing.angle, housing.face) == (25.0, 100.0, 45.0, "outside")
    whole = wall_with().walls[0]
    before = next(piece for piece in whole.pieces if piece.outline == second.outline)
    cut_out = 45.0 * 100.0 * math.sqrt(2) * 25.0 / (45.0 * 70.0 * second.length)
    assert second.weight_kg == pytest.approx(before.weight_kg * (1.0 - cut_out), abs=0.002)


def test_a_brace_let_into_the_inside() -> None:
    wall = only(wall_with({"rule": "let-in", "ends": "right", "face": "inside", "section": [19, 89]}))
    (piece,) = [piece for piece in wall.pieces if piece.role == "let-in brace"]
    assert piece.depth == (51.0, 70.0)
    assert {each.face for stud in wall.pieces for each in stud.housings or ()} == {"inside"}
    assert wall.braces[0].rises == "left"


def test_housings_are_told_in_the_cutting_list_by_their_side() -> None:
    layout = wall_with({"rule": "let-in", "angle": 60})
    rows = [row for row in layout.cutting_list if row.housings and "stud" in row.role]
    # Mirrored studs are cut alike in length and yet are two settings: the housing rises the other way.
    ways = {(row.length, housing.rises) for row in rows for housing in row.housings or ()}
    assert {way for _, way in ways} == {"left", "right"}
    assert all(
        len({row.housings for row in rows if mark in row.marks}) == 1 for row in rows for mark in row.marks
    )


def test_cut_in_pieces_are_mitred_between_studs() -> None:
    wall = only(wall_with({"rule": "cut-in", "ends": "left", "angle": 45}))
    (brace,) = wall.braces
    pieces = [piece for piece in wall.pieces if piece.mark in brace.pieces]
    assert {piece.role for piece in pieces} == {"brace"}
    assert min(z for piece in pieces for _, z in piece.outline) == 45.0
    assert max(z for piece in pieces for _, z in piece.outline) == 2355.0
    for piece in pieces[1:-1]:
        xs = sorted({x for x, _ in piece.outline})
        assert xs[1] - xs[0] == pytest.approx(555.0)
        assert piece.length == pytest.approx(555.0 * math.sqrt(2) + 45.0, abs=1e-3)
        assert [(end.cut, end.angle) for end in piece.ends] == [("bevel", 45.0), ("bevel", 45.0)]


def test_noggins_in_the_way_are_left_out_with_a_word() -> None:
    noggins = {"noggins": {"rule": "straight", "rows": 1}}
    plain, braced = wall_with(defaults=noggins), wall_with({"rule": "cut-in"}, defaults=noggins)
    before, after = (sum(p.role == "noggin" for p in only(each).pieces) for each in (plain, braced))
    assert findings(braced)["noggins-for-brace"].value == before - after > 0


def test_noggins_under_a_let_in_brace_stay_and_are_housed() -> None:
    noggins = {"noggins": {"rule": "straight", "rows": 1}}
    plain, braced = wall_with(defaults=noggins), wall_with({"rule": "let-in"}, defaults=noggins)
    before, after = ([p for p in only(each).pieces if p.role == "noggin"] for each in (plain, braced))
    assert len(after) == len(before)
    assert any(noggin.housings for noggin in after)


def test_straps_cross_in_pairs() -> None:
    layout = wall_with({"rule": "straps", "ends": "left", "angle": 45})
    one, other = only(layout).braces
    assert (one.rises, other.rises) == ("right", "left")
    # Two bands of one angle over a rectangle cross in its middle.
    lines = [(brace.foot, brace.head) for brace in (one, other)]
    (x0, z0), (x1, z1) = lines[0]
    (x2, z2), (x3, z3) = lines[1]
    assert (x0 + x1, z0 + z1) == pytest.approx((x2 + x3, z2 + z3), abs=1e-2)
    slope = math.radians(45.0)
    long = LEVEL / math.sin(slope) + 30.0 / math.tan(slope)
    assert one.length == other.length == pytest.approx(long, abs=1e-3)
    assert one.strap is not None
    assert other.strap is not None
    assert overlap(one.strap.outline, other.strap.outline)
    goods = {row.kind: row for row in layout.goods}
    assert goods["bracing strap"].quantity == pytest.approx((2 * long + 4 * 70.0) / 1000, abs=1e-3)
    assert goods["bracing strap"].size == (30.0, 0.8)
    assert goods["strap tensioner"].quantity == 2
    assert goods["strap nail"].quantity == sum(8 + 2 * len(brace.crosses) for brace in (one, other))
    assert not [piece for piece in only(layout).pieces if piece.housings]


def test_straps_under_a_raked_top_each_have_their_angle() -> None:
    value = honey_house()
    value["walls"]["left"] = {"bracing": [{"rule": "straps", "ends": "left"}]}
    wall = layout_of(value).walls[3]
    one, other = wall.braces
    assert one.angle != pytest.approx(other.angle, abs=1.0)
    for brace in wall.braces:
        assert 30.0 <= brace.angle <= 60.0
        (x0, z0), (x1, z1) = brace.foot, brace.head
        assert brace.angle == pytest.approx(math.degrees(math.atan2(z1 - z0, abs(x1 - x0))), abs=1e-3)


@pytest.mark.parametrize("rule", ["cut-in", "let-in", "straps"])
def test_braces_from_both_ends_mirror_each_other(rule: str) -> None:
    wall = only(
        wall_with({"rule": rule}, length=6045, defaults={"studs": {"rule": "equal-bays", "number": 9}})
    )
    ways = {brace.rises for brace in wall.braces}
    assert ways == {"left", "right"}
    feet = sorted(round(brace.foot[0], 2) for brace in wall.braces)
    assert feet == [round(6045 - foot, 2) for foot in reversed(feet)]
    assert {round(brace.angle, 3) for brace in wall.braces} == {45.0}


def test_one_brace_from_here_to_there() -> None:
    (board,) = braces({"rule": "let-in", "from": 600, "to": 2700})
    # Corner to corner 2100 along and 2400 up, the board 100 broad.
    far = math.hypot(2100.0, LEVEL)
    angle = math.degrees(math.atan2(LEVEL, 2100.0) + math.asin(100.0 / far))
    assert board.angle == pytest.approx(angle, abs=1e-3)
    assert board.length == pytest.approx(math.sqrt(far**2 - 100.0**2), abs=1e-3)
    (back,) = braces({"rule": "let-in", "from": 2700, "to": 600})
    assert (back.rises, back.length) == ("left", board.length)


def test_several_kinds_in_order() -> None:
    found = braces({"rule": "straps", "ends": "left"}, {"rule": "let-in", "ends": "right"})
    assert [brace.kind for brace in found] == ["strap", "strap", "let in"]


WINDOW = {"name": "window", "kind": "window", "width": 900, "height": 900, "sill": 900, "at": {"left": 1200}}


@pytest.mark.parametrize(
    ("rule", "more", "pointer", "said"),
    [
        ({"from": 600, "to": 2700}, {"walls": {"wall": {"openings": [WINDOW]}}}, "/from", "through window"),
        ({"from": 600, "to": 5000}, {}, "/to", "accepted is 0 to 4500 mm"),
        ({"from": 0, "to": 600}, {}, "/to", "accepted is 45 to 60"),
        ({"from": 0, "to": 0}, {}, "/to", "at 90 degrees; accepted is 45 to 60, so about 1386 to 2400 mm"),
        ({"ends": "left"}, {"length": 1200}, "/ends", "accepted is the other end, a longer wall"),
        ({"angle": 45}, {"length": 2000}, "/angle", "accepted is another angle from 45 to 60"),
        ({"section": [40, 100]}, {}, "/section", "accepted is up to 35 mm"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_its_place(
    rule: dict[str, Any], more: dict[str, Any], pointer: str, said: str
) -> None:
    place, message = fault({"rule": "let-in", **rule}, **more)
    assert place == f"/defaults/bracing/0{pointer}"
    assert said in message


def test_where_all_walls_are_braced_one_without_room_is_told() -> None:
    value = honey_house() | {"defaults": {"bracing": [{"rule": "straps"}]}}
    found = layout_of(value).findings
    without = {each.part for each in found if each.code == "brace-left-out"}
    assert without == {each.part for each in found if each.code == "wall-unbraced"} | {"left"}
    assert "right" in without


def test_from_without_to_is_refused() -> None:
    with pytest.raises(BuildingError, match="from and to together"):
        wall_with({"rule": "let-in", "from": 600})
    with pytest.raises(BuildingError, match="or the angle"):
        wall_with({"rule": "let-in", "from": 600, "to": 2700, "angle": 50})


def test_clear_of_openings() -> None:
    door = {"name": "door", "kind": "door", "width": 900, "height": 2000, "at": {"left": 600}}
    for rule in ("cut-in", "let-in", "straps"):
        layout = wall_with({"rule": rule}, length=6000, walls={"wall": {"openings": [door]}})
        assert min(min(b.foot[0], b.head[0]) for b in only(layout).braces) > 1500.0


def test_what_a_wall_still_misses() -> None:
    both, one = wall_with({"rule": "let-in"}), wall_with({"rule": "let-in", "ends": "left"})
    assert {"braces-one-way", "no-bracing", "wall-unbraced"}.isdisjoint(findings(both))
    assert findings(both)["braced-by"].message.startswith(
        "it is braced by 2 let-in braces, 1 rising to the right and 1 to the left, over "
    )
    assert {"braces-one-way", "braced-by"} <= set(findings(one))
    assert "no-bracing" in findings(wall_with())
    assert "braced-by" not in findings(wall_with())


def test_straps_alone_brace_a_building() -> None:
    found = findings(wall_with({"rule": "straps"}))
    assert "no-bracing" not in found
    assert "braces-one-way" not in found


def test_the_least_length_that_counts() -> None:
    """AS 1684.2, nominal bracing: 450 mm (S8-23)."""
    low = {"rule": "let-in", "ends": "left", "angle": 60}
    run = 450.0 * math.tan(math.radians(60.0))
    assert "brace-short" in findings(wall_with(low, height=round(run) - 2, length=2000))
    assert "brace-short" not in findings(wall_with(low, height=round(run) + 2, length=2000))


@pytest.mark.parametrize(("centres", "told"), [(406.4, False), (450, True)])
def test_let_in_braces_are_for_studs_at_16_in(centres: float, told: bool) -> None:
    """IRC Table R602.10.4: 16 in, 406.4 mm."""
    layout = wall_with({"rule": "let-in"}, length=4545, defaults={
        "studs": {"rule": "equal-bays", "largest_centres": centres}})  # fmt: skip
    assert ("let-in-wide" in findings(layout)) is told


@pytest.mark.parametrize(("angle", "told"), [(45, False), (44, True)])
def test_straps_flatter_than_one_code_has_them(angle: float, told: bool) -> None:
    """IRC Table R602.10.4: 45 to 60 degrees."""
    layout = wall_with({"rule": "straps", "ends": "left", "angle": angle})
    assert ("brace-flat" in findings(layout)) is told


@pytest.mark.parametrize(
    ("thickness", "length", "said"),
    [
        (9.0, 4500, "from 9.5 mm on"),
        (9.5, 4500, "by one code's words 4497 mm of it braces"),
        (9.5, 1200, "stretches brace from 1219 mm on"),
    ],
)
def test_sheets_brace_by_the_words_of_one_code(thickness: float, length: float, said: str) -> None:
    """IRC Table R602.10.4, 3/8 in; IBC 2308.9.3, 48 in."""
    sheets = {"rule": "sheets", "width": 1200, "height": 2400, "thickness": thickness}
    strap = {"rule": "straps", "ends": "left", "angle": 45} if length > 3000 else None
    value = building(
        outline={"walls": [{"name": "wall", "length": length}, {"name": "other", "length": 5000}]},
        roof={"form": "level", "height": LEVEL},
        defaults={"studs": {"rule": "fixed-centres", "centres": 600}, "cladding": sheets},
        walls={"other": {"bracing": [strap or {"rule": "straps"}]}},
    )
    layout = layout_of(value)
    (told,) = [each for each in layout.findings if (each.code, each.part) == ("sheets-brace", "wall")]
    assert said in told.message
    assert "wall-unbraced" not in findings(layout)


def test_steep_enough_for_both_ends() -> None:
    found = braces({"rule": "let-in"}, length=3400)
    assert [brace.rises for brace in found] == ["right", "left"]
    assert found[0].angle == pytest.approx(found[1].angle) != pytest.approx(45.0)


def test_boards_let_into_both_faces_cross() -> None:
    one, other = braces(
        {"rule": "let-in", "ends": "left"}, {"rule": "let-in", "ends": "right", "face": "inside"}, length=2700
    )
    assert one.head[0] > other.head[0]
    with pytest.raises(UnbuildableError, match="accepted is the other end"):
        wall_with({"rule": "let-in", "ends": "left"}, {"rule": "let-in", "ends": "right"}, length=2700)


def test_where_no_wall_is_braced_one_caution_says_so() -> None:
    found = findings(wall_with({"rule": "straps"}, length=900))
    assert {"brace-left-out", "no-bracing"} <= set(found)
    assert "wall-unbraced" not in found


def test_a_housed_stud_is_no_mirror_twin() -> None:
    """Both middle studs are alike but for their bevel, and have one housing: turned, it would lie inside."""
    studs = {"rule": "equal-bays", "number": 3}
    board = {"rule": "let-in", "ends": "left", "angle": 45}
    layout = layout_of(building(defaults={"studs": studs, "bracing": [board]}))
    left, right = (
        next(p for p in layout.walls[index].pieces if p.role == "stud" and min(p.outline)[0] == 1257.5)
        for index in (1, 3)
    )
    assert left.housings
    assert (left.length, left.housings) == (right.length, right.housings)
    assert left.ends != right.ends
    assert not [row for row in layout.cutting_list if {left.mark, right.mark} <= set(row.marks)]
