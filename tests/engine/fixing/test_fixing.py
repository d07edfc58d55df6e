"""The stage: what is asked for, what rules answer, anchors, noggins, goods and bad answers."""

from __future__ import annotations

import itertools
from pathlib import Path
from typing import Any

import pytest

from soleplate.engine.building_file import SchemaError
from soleplate.engine.laying_out import lay_out
from soleplate.engine.registry import RuleError, load_registry
from soleplate.engine.rules import JoinedPiece, Joint, Seat
from soleplate.engine.shapes import Section
from soleplate.plugins.fixing import FramingNails, UpliftStraps
from soleplate.viewer.lists import buying_list_csv
from tests.buildings import building, layout_of
from tests.fixings import FRAMED, braced, fixed
from tests.floors import on_floor


def test_a_building_that_does_not_ask_is_told_nothing() -> None:
    told = layout_of(building()).model_dump_json()
    assert '"fixings_list"' not in told
    assert layout_of(building()).fixings == ()


def test_the_building_s_own_rule_wins() -> None:
    own = layout_of(building(fixings=[{"rule": "framing-nails", "diameter": 3.75, "length": 90}]))
    assert {each.diameter for each in own.fixings if each.way == "through"} == {3.75}
    assert {each.diameter for each in layout_of(building(fixings=[])).fixings if each.way == "through"} == {
        3.1
    }


def test_an_unknown_rule_is_refused_with_its_place() -> None:
    with pytest.raises(SchemaError, match="/fixings/0") as error:
        layout_of(building(fixings=[{"rule": "glue"}]))
    assert "framing-nails" in str(error.value)


def test_anchors_are_the_fixings_of_their_plates_and_bought_once() -> None:
    asked: dict[str, Any] = {"defaults": {"holding_down": {"rule": "anchor-bolts"}}}
    layout = layout_of(building() | asked | {"fixings": []})
    plain = layout_of(building() | asked)
    base = [each for each in layout.fixings if each.joint == "base"]
    anchors = [anchor for wall in layout.walls for anchor in wall.anchors]
    assert sum(len(each.places) for each in base) == len(anchors) > 0
    assert {each.kind for each in base} == {"anchor bolt"}
    assert {each.into for each in base} == {"base"}
    bolts = [row for row in layout.goods if row.kind == "anchor bolt"]
    assert bolts == [row for row in plain.goods if row.kind == "anchor bolt"]


def test_a_plate_on_a_floor_is_nailed_to_its_timber_through_the_deck() -> None:
    layout = layout_of(on_floor() | {"fixings": []})
    base = [each for each in layout.fixings if each.joint == "base" and each.places]
    floor = {piece.mark for piece in layout.floors[0].pieces}
    assert base
    assert {each.into for each in base} <= floor
    screwed = layout_of(on_floor(defaults={"holding_down": {"rule": "sole-screws"}}) | {"fixings": []})
    held = [each for each in screwed.fixings if each.joint == "base"]
    assert {each.kind for each in held} == {"sole plate screw"}
    assert {each.into for each in held} <= {piece.mark for piece in screwed.floors[0].pieces}


def test_under_a_brace_a_sole_plate_takes_three_nails_to_16_in() -> None:
    """Table 340 row 6: 3-16d per 16 in at braced wall panels, and beside the brace 16d at 16 in."""
    layout = layout_of(on_floor(defaults={"bracing": [{"rule": "let-in"}]}) | {"fixings": []})
    front = layout.walls[0]
    braces = [sorted((brace.foot[0], brace.head[0])) for brace in front.braces]
    plates = {piece.mark for piece in front.pieces if piece.role == "sole plate"}
    assert braces
    under: list[float] = []
    for each in layout.fixings:
        if each.joint != "base" or each.through not in plates or not each.places:
            continue
        places = sorted(place.head[0] - front.plan.start[0] for place in each.places)
        gaps = [other - one for one, other in itertools.pairwise(places)]
        if any(low <= sum(places) / len(places) <= high for low, high in braces):
            under += gaps
            # One that stands in the way may give way by 75.
            assert max(gaps) <= 406.4 / 3 + 75
            assert "three to 16 in" in each.basis
        else:
            assert max(gaps, default=0.0) > 406.4 / 3
    assert sum(under) / len(under) <= 406.4 / 3


def test_where_the_upper_plate_is_spliced_eight_nails_hold_it() -> None:
    """Table 340 row 10, of plates that cannot be had in one length."""
    value = building(
        defaults={"studs": {"rule": "equal-bays", "largest_bay": 600}, "top_plates": {"rule": "double"}},
        stock={"stock": [{"section": [45, 70], "lengths": [{"length": 3000}]}]},
        fixings=[],
    )
    layout = layout_of(value)
    plates = {piece.mark for piece in layout.pieces if piece.role == "head plate"}
    laps = [
        each
        for each in layout.fixings
        if each.joint == "side" and {each.through, each.into} <= plates and "eight" in each.basis
    ]
    assert laps
    assert all(len(each.places) >= 8 for each in laps)


def test_nails_of_a_brace_are_bought_with_its_joints_alone() -> None:
    """Its rule counts them too, for a layout that does not ask for joints."""
    plain, layout = layout_of(braced("let-in")), fixed("let-in braces")
    assert [row for row in plain.goods if row.kind == "brace nail"]
    assert not [row for row in layout.goods if row.kind == "brace nail"]
    braces = {piece.mark for piece in layout.pieces if piece.role == "let-in brace"}
    plated = {piece.mark for piece in layout.pieces if piece.role != "noggin"}
    crossing = [each for each in layout.fixings if each.through in braces and each.into in plated]
    bought = [row for row in plain.goods if row.kind == "brace nail"]
    # It counts one plate at each end, and where plates lie doubled the board is nailed to both.
    assert sum(len(each.places) for each in crossing) >= bought[0].quantity
    # Table 340 row 20: two in each stud and plate.
    assert {len(each.places) for each in crossing if not each.faults} == {2}
    assert sum(bool(each.faults) for each in crossing) < len(crossing) / 10


def test_what_joins_walls_floor_and_roof_is_driven_after_raising() -> None:
    layout = fixed("on a floor, under a roof")
    part = {piece.mark: each.name for each in layout.parts for piece in each.pieces}
    between = [each for each in layout.fixings if part[each.through] != part[each.into]]
    assert {each.joint for each in between} >= {"corner", "base", "side"}
    role = {piece.mark: piece.role for each in layout.parts for piece in each.pieces}
    roofs = {slope.name for slope in layout.roofs}
    for each in between:
        if not {part[each.through], part[each.into]} <= roofs:
            # Rafters stand on plates that are raised, and are nailed to them before what goes between.
            is_seat = {role[each.through], role[each.into]} == {"rafter", "head plate"}
            assert each.when == "after raising" or (is_seat and each.when.startswith("before "))


def test_the_ends_of_noggins_say_how_they_are_fixed() -> None:
    """A noggin at a boxed corner was told to be nailed through a stud 97 mm thick: nothing reaches."""
    name = "l_shaped_workshop"
    layout, planned = fixed(name), layout_of(FRAMED[name])
    middle = {p.mark: sum(u for u, _ in p.outline) / len(p.outline) for p in layout.pieces}
    roles = {piece.mark: piece.role for piece in layout.pieces}
    before = {piece.mark: piece.fixings for piece in planned.pieces}
    changed = []
    for piece in layout.pieces:
        joints = [each for each in layout.fixings if each.into == piece.mark and each.joint == "end"]
        if piece.fixings is None or not joints:
            continue
        for end, is_left in zip(piece.fixings, (True, False), strict=True):
            (joint,) = [each for each in joints if (middle[each.through] < middle[piece.mark]) == is_left]
            assert (end.way, end.count) == (joint.way, len(joint.places))
        if piece.fixings != before[piece.mark]:
            changed += [roles[each.through] for each in joints if each.way == "skew"]
    assert set(changed) == {"corner stud"}


def test_what_is_taken_later_is_nailed_first() -> None:
    """A sill into its trimmer before the king stud; the lower head plate before the upper."""
    layout = layout_of(
        building(
            defaults={"studs": {"rule": "equal-bays", "largest_bay": 600}, "top_plates": {"rule": "double"}},
            walls={
                "front": {
                    "openings": [
                        {
                            "name": "window", "kind": "window", "width": 1200, "height": 700, "sill": 900,
                            "at": {"left": 1500}, "framing": {"rule": "trimmed"},
                        }
                    ]
                }
            },
            fixings=[],
        )
    )  # fmt: skip
    roles = {piece.mark: piece.role for piece in layout.pieces}
    times = {
        (roles[each.into], roles[each.through], roles[each.when.removeprefix("before ")])
        for each in layout.fixings
        if each.when is not None and each.when.startswith("before ")
    }
    assert ("sill", "trimmer", "king stud") in times
    assert any(through == "head plate" and then == "head plate" for _, through, then in times)


def test_nails_through_a_raked_plate_run_in_line_with_their_stud() -> None:
    """At 28 degrees a nail square to the plate would leave a stud 38 broad."""
    value = building(
        frame={"section": [38, 63]},
        roof={"form": "duo-pitch", "ridge": "left-right", "low_height": 1800, "pitch": 28},
        fixings=[],
    )
    layout = layout_of(value)
    roles = {piece.mark: piece.role for piece in layout.pieces}
    raked = [
        each for each in layout.fixings if roles[each.through] == "raked plate" and each.way == "through"
    ]
    assert sum(len(each.places) for each in raked) > 10
    for each in raked:
        for place in each.places:
            assert place.head[:2] == pytest.approx(place.point[:2], abs=0.01)


def stud(role: str) -> JoinedPiece:
    return JoinedPiece(role, Section(45.0, 70.0), "wall")


def test_the_schedule_leaves_what_it_does_not_know_to_others() -> None:
    joint = Joint("end", stud("sole plate"), stud("prop"), 45.0, 70.0, 45.0, 2000.0, crosses=True)
    assert FramingNails().fix(joint) is None


def test_three_plies_are_nailed_through_at_once() -> None:
    """A nail through a lintel's outer ply and its packing goes on into the inner one: 5 short of its face."""
    joint = Joint("plies", stud("lintel"), stud("packer"), 1500.0, 145.0, 38.0, 12.0 + 38.0, crosses=False)
    fixing = FramingNails().fix(joint)
    assert fixing is not None
    assert fixing.ways[0].fastener.length <= 38.0 + 50.0 - 5.0


PLUGIN = """
from typing import Literal
from soleplate.engine.rules import Fastener, FixingRule, FixingWay, Joint, JointFixing, hookimpl

class Odd(FixingRule):
    '''An odd one.'''

    examples = ({{"rule": "odd"}},)
    rule: Literal["odd"] = "odd"

    def fix(self, joint: Joint) -> JointFixing | None:
        '''Return it.'''
        return {answer}

@hookimpl
def register_rules():
    return [Odd]
"""


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (
            "JointFixing((FixingWay('through', Fastener('nail', 0.0, 90.0, 'ring'), 2),), 'x')",
            "0.0 by 90.0 mm",
        ),
        (
            "JointFixing((FixingWay('through', Fastener('nail', 3.0, 90.0, 'ring')),), 'x')",
            "count and centres",
        ),
        ("JointFixing((FixingWay('face', Fastener('nail', 3.0, 90.0, 'ring'), 500),), 'x')", "1 to 50"),
        (
            "JointFixing((FixingWay('skew', Fastener('nail', 3.0, 90.0, 'ring'), None, 400.0),), 'x')",
            "skewed",
        ),
        ("'glue'", "JointFixing"),
        ("1 / 0", "division"),
    ],
)
def test_an_answer_that_cannot_be_names_its_rule(answer: str, said: str, tmp_path: Path) -> None:
    file = tmp_path / "odd.py"
    file.write_text(PLUGIN.format(answer=answer))
    registry = load_registry(files=[file])
    with pytest.raises(RuleError, match=said) as error:
        lay_out(registry.read_building(building(fixings=[{"rule": "odd"}])), registry)
    assert error.value.rule == "odd"


def test_faults_are_told_as_findings() -> None:
    layout = fixed("l_shaped_workshop")
    lacking = [each for each in layout.fixings if each.faults]
    told = [each for each in layout.findings if each.code == "fixings-lack"]
    assert lacking
    assert {mark for finding in told for mark in finding.pieces} == {each.into for each in lacking}


def test_each_rafter_is_tied_to_a_stud_past_the_plate_and_each_bearer_to_its_pads() -> None:
    layout = fixed("on a floor, under a roof")
    pieces = {piece.mark: piece for piece in layout.pieces}
    rafters = {piece.mark for piece in layout.pieces if piece.role == "rafter"}
    to_studs = [each for each in layout.ties if each.to != "pad"]
    seated = {each.into for each in layout.fixings if each.into in rafters and each.when == "after raising"}
    assert {each.from_ for each in to_studs if each.from_ in rafters} == seated
    for each in to_studs:
        upper, lower = pieces[each.from_], pieces[each.to]
        if upper.role == "rafter" and each.over is not None:
            assert pieces[each.over].role == "head plate"
            assert lower.role in ("stud", "king stud", "cripple")
        elif upper.role == "rafter":
            # No stud stands in line: the plate is tied on to the nearest.
            assert lower.role == "head plate"
            assert each.to in {other.from_ for other in to_studs}
        (x, y, top), (x2, y2, bottom) = each.line
        assert (x, y) == (x2, y2)
        assert top - bottom == pytest.approx(each.length)
    pads = [each for each in layout.ties if each.to == "pad"]
    assert len(pads) == len(layout.floors[0].pads) > 0
    straps = [row for row in layout.goods if row.kind == "uplift strap"]
    assert sum(row.quantity for row in straps) == len(layout.ties)


def test_what_nothing_ties_down_is_told() -> None:
    roofed = FRAMED["on a floor, under a roof"]
    plain = [each.message for each in layout_of(roofed).findings if each.code == "no-uplift"]
    assert len(plain) == 2
    assert "rafters" in plain[0] + plain[1]
    assert "floor" in plain[0] + plain[1]
    assert not [each for each in fixed("on a floor, under a roof").findings if each.code == "no-uplift"]
    assert not [each for each in layout_of(building()).findings if each.code == "no-uplift"]


def test_a_strap_is_longer_by_the_plates_that_it_runs_past() -> None:
    """By hand: two plates of 45 between the rafter and the stud, one in the other building."""
    asked = UpliftStraps(length=300)
    rafter = JoinedPiece("rafter", Section(45.0, 145.0), "slope")
    assert asked.tie(Seat("rafter", rafter, 90.0)).length == 390.0
    lengths = {each.length for each in fixed("two slopes").ties if each.over is not None}
    assert lengths == {345.0}


def test_boxes_are_counted_where_the_file_says_how_many_are_in_one() -> None:
    box = {"diameter": 3.1, "length": 90, "count": 250}
    plain = layout_of(building(fixings=[]))
    layout = layout_of(building(fixings=[], stock={"boxes": [box]}))
    for rows in (plain.fixings_list, plain.goods):
        assert all(row.boxes is None for row in rows)
    (row,) = [each for each in layout.fixings_list if each.diameter == 3.1]
    (goods,) = [each for each in layout.goods if each.size == (3.1, 90.0)]
    assert row.with_waste == goods.to_buy
    for each in (row, goods):
        assert each.box == 250
        assert each.boxes == -(-row.with_waste // 250)
    assert all(each.boxes is None for each in layout.goods if each.size != (3.1, 90.0))
    assert f"{row.boxes}\r\n" in buying_list_csv(layout).decode()


@pytest.mark.parametrize("name", ["honey_house", "l_shaped_workshop", "on a floor, under a roof"])
def test_what_joins_walls_stands_up_their_height_and_can_be_driven_once_both_stand(name: str) -> None:
    """At 400 mm and 100 from the ends (common practice); Table 340 row 23 allows 24 in, 610 mm."""
    layout = fixed(name)
    part = {piece.mark: wall for wall in layout.walls for piece in wall.pieces}
    between = [each for each in layout.fixings if each.joint == "corner" and each.places]
    assert len(between) >= 4
    for each in between:
        heights = sorted(place.head[2] for place in each.places)
        assert max(other - one for one, other in itertools.pairwise(heights)) <= 610.0
        # One that stands in the way may give way by 75.
        assert heights[0] <= 45.0 + 100.0 + 75.0
        wall = part[each.through]
        head, point = each.places[0].head, each.places[0].point
        view = wall.views["face"]
        right, up = view.right, view.up
        inwards = (up[1] * right[2] - up[2] * right[1], up[2] * right[0] - up[0] * right[2])
        out = sum((a - b) * c for a, b, c in zip(head[:2], point[:2], inwards, strict=True))
        assert each.side == ("inside" if out > 60 else "outside" if out < -60 else "bay")
    assert all(each.side is None for each in layout.fixings if each.joint != "corner")
