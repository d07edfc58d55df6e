"""Steps, hours, reasons, what helps and what is found: of sites whose answer is plain."""

from __future__ import annotations

import copy
import json
import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any, ClassVar, Literal

import pytest

from soleplate.engine import contract
from soleplate.engine.layout import OrderOfWork, WorkStep
from soleplate.engine.raising.hours import in_dry_hours
from soleplate.engine.raising.panels import panels_of
from soleplate.engine.registry import RegisteredRule, RuleError
from soleplate.engine.rules import Finding, Movement, Panel, Prism, Quarter, RaisingRule, SiteOut
from soleplate.engine.work_order import work_order
from soleplate.plugins.raising import TiltUp
from tests.buildings import HONEY_HOUSE, layout_of, registry
from tests.floors import floor_with
from tests.roofs import mono
from tests.yards import SIDES, TILTED, TILTED_EITHER_WAY, banks, hut, yard

CLAD = {"cladding": {"rule": "lapped", "thickness": 25, "thin_edge": 8, "width": 150}}
PLACE = {"polygon": [[0, -6000], [4500, -6000], [4500, -3500], [0, -3500]]}


def worked(value: dict[str, Any]) -> tuple[OrderOfWork, tuple[Finding, ...]]:
    order, found = work_order(layout_of(value), registry().read_building(value), registry())
    assert order is not None
    return order, found


def raises(order: OrderOfWork) -> dict[str, WorkStep]:
    return {step.wall: step for step in order.steps if step.kind == "raise" and step.wall is not None}


def codes(found: Sequence[Finding]) -> set[str]:
    return {each.code for each in found}


def step(number: int, hours: float, **changes: Any) -> WorkStep:
    usual = {"kind": "frame", "people": 1, "dry": True, "whole": False, "display": "work"}
    return WorkStep(number=number, hours=hours, **(usual | changes))


def placed(steps: Sequence[WorkStep], *hours: float) -> tuple[list[str | None], Any]:
    given = [{"name": f"day {number}", "hours": each} for number, each in enumerate(hours, 1)]
    told, closed = in_dry_hours(steps, registry().read_building(hut({"dry_hours": given})))
    return [each.during for each in told], closed


def test_work_that_can_be_broken_off_goes_on_the_next_day_and_other_work_waits_for_it() -> None:
    """By hand: 3 of 4 h, then 2 h of which 1 fits; a raise of 1.5 h then fits into the 3 h left of day 2."""
    roof = step(4, 1.0, kind="roof")
    steps = [step(1, 3.0), step(2, 2.0), step(3, 1.5, kind="raise", whole=True), roof]
    days, closed = placed(steps, 4.0, 4.0)
    assert days == ["day 1", "day 2", "day 2", "day 2"]
    assert (closed.after, closed.short_hours) == ("day 2", 0.0)
    # One hour less on the first day, and the raise no longer fits behind what is broken off then.
    days, closed = placed([step(1, 3.0), step(2, 1.5, whole=True), replace(roof, number=3)], 4.0, 4.0)
    assert days == ["day 1", "day 2", "day 2"]


def test_how_many_dry_hours_are_lacking_is_told() -> None:
    steps = [step(1, 3.0), step(2, 2.0, dry=False), step(3, 4.0, kind="roof"), step(4, 9.0, kind="clad")]
    days, closed = placed(steps, 5.0)
    assert days == ["day 1", None, None, None]
    assert (closed.after, closed.short_hours) == (None, 2.0)
    assert (closed.before, closed.later) == ((2,), (4,))
    assert placed(steps)[1] is None


def test_the_hours_of_all_steps_are_told() -> None:
    order, _ = worked(hut({"people": 2}))
    assert order.hours is not None
    assert order.hours.dry == pytest.approx(sum(s.hours for s in order.steps if s.dry), abs=0.01)
    # By hand: raised in half an hour and braced in a quarter by one; two take it in 1 / 2 ** 0.8 of that.
    assert all(abs(each.hours - 0.75 / 2**0.8) < 0.001 for each in raises(order).values())


def test_a_wall_too_heavy_to_lift_is_framed_standing_where_there_is_room() -> None:
    heavy = hut(frame={"section": [70, 145], "material": "C24"})
    order, found = worked(heavy)
    front = raises(order)["front"]
    assert front.way == "framed-standing"
    assert any("raising it would lift" in reason for reason in front.reasons)
    assert "over-lift" not in codes(found)
    order, found = worked(heavy | {"site": {"ways": TILTED}})
    assert raises(order)["front"].way == "tilt-up"
    (over,) = [each for each in found if each.code == "over-lift" and each.part == "front"]
    assert over.value is not None
    assert over.limit == 25.0
    # By hand: half of it at the start, with its head below 2 x 1400.
    assert over.value == pytest.approx(yard(heavy).question.panels[1].panel.weight_kg / 2, rel=0.03)
    assert dict(over.figures)["parts"] == -(-over.value // 25)


@pytest.mark.parametrize(
    ("obstacle", "is_tight"),
    [
        ({"clear": 500}, True),
        ({"clear": 600}, False),
        ({"clear": 500, "top": 290}, False),
        ({"clear": 500, "bottom": 1810, "top": 2500}, False),
    ],
    ids=["near", "far", "low", "high"],
)
def test_what_leaves_no_room_to_clad_a_wall_has_it_clad_first(
    obstacle: dict[str, Any], is_tight: bool
) -> None:
    value = hut({"obstacles": [{"name": "bank", "beside": "back", **obstacle}], "people": 4}, defaults=CLAD)
    order, _ = worked(value)
    back = raises(order)["back"]
    assert back.clad == is_tight
    assert order.preference is not None
    assert order.preference.clad_early == 0
    assert any("clad before" in reason for reason in back.reasons) == is_tight
    clad = [each.number for each in order.steps if each.kind == "clad" and each.wall == "back"]
    assert (clad[0] < back.number) == is_tight
    assert order.wind is not None
    assert (order.wind.newtons["back"] > 3 * order.wind.newtons["front"]) == is_tight


def post(x: float, y: float) -> dict[str, Any]:
    corners = [[x, y], [x + 60, y], [x + 60, y + 60], [x, y + 60]]
    return {"name": f"post {x} {y}", "polygon": corners}


def test_clad_it_is_lifted_from_where_one_can_stand() -> None:
    """Its head lies 2306 in: posts beside its corners and behind leave a spot, until the last two come."""
    value = hut(
        {"obstacles": [post(-300, 2000), post(4700, 2000), post(2200, 2480)], "ways": TILTED},
        outline={"length": 4500, "width": 6000, "through": "front-back"},
        defaults=CLAD,
        walls={"front": {"raising": {"rule": "tilt-up", "clad": "before"}}},
    )
    front = next(i for i, p in enumerate(yard(value).question.panels) if p.name == "front")
    assert yard(value).search().can(front, 0)
    value["site"]["obstacles"] += [post(100, 2480), post(4300, 2480)]
    assert not yard(value).search().can(front, 0)
    # Bare it is lifted from between its studs.
    value["walls"] = {}
    assert yard(value).search().can(front, 0)


def test_a_pinned_way_is_taken_and_what_is_clad_early_is_counted() -> None:
    pins = {
        "front": {"raising": {"rule": "framed-standing"}},
        "left": {"raising": {"rule": "auto", "clad": "before"}},
    }
    order, _ = worked(hut({"people": 4}, walls=pins, defaults=CLAD))
    assert raises(order)["front"].way == "framed-standing"
    assert raises(order)["left"].clad
    assert order.preference is not None
    assert (order.preference.framed_standing, order.preference.clad_early) == (1, 1)


def test_a_partition_is_raised_after_the_walls_that_it_meets() -> None:
    outline = {
        "length": 4500, "width": 2700, "partitions": [{"name": "inside", "runs": "front-back", "at": 2000}],
    }  # fmt: skip
    order, _ = worked(hut({}, outline=outline))
    inside = raises(order)["inside"]
    assert {"front", "back"} <= set(inside.standing)
    assert any("after back, front" in reason for reason in inside.reasons)
    assert inside.way in TILTED_EITHER_WAY
    assert not any(brace.wall == "inside" for brace in inside.braces)


def test_which_preference_counts_first() -> None:
    """Between banks in front and behind, but not beside: a side first saves a step that a wall is braced."""
    value = hut(
        {"obstacles": banks({"front": 300, "back": 300}), "ways": TILTED_EITHER_WAY}, through="pinwheel"
    )
    kept, _ = worked(value)
    value["site"]["preference"] = "braced-least"
    swapped, _ = worked(value)
    assert kept.preference is not None
    assert swapped.preference is not None
    assert swapped.preference.braced <= kept.preference.braced
    assert kept.preference.off_deck <= swapped.preference.off_deck


def test_plates_that_lap_the_corners_are_fixed_later_and_lifted_with_no_wall() -> None:
    value = hut(
        roof={"form": "level", "height": 2200},
        defaults={"top_plates": {"rule": "double", "over_walls": True}},
    )
    made, layout = yard(value), layout_of(value)
    pieces = {wall.name: wall.pieces for wall in layout.walls}
    loose = 0
    for panel in made.question.panels:
        frame = [p for p in pieces[panel.name] if p.is_frame]
        within = [p for p in frame if all(-0.01 <= x <= panel.panel.length + 0.01 for x, _ in p.outline)]
        loose += len(frame) - len(within)
        assert panel.panel.weight_kg == pytest.approx(1.143 * sum(p.weight_kg for p in within))
    assert loose > 0
    order, _ = worked(value)
    kinds = [each.kind for each in order.steps]
    assert kinds.index("plates") == kinds.index("fix") + 1 == kinds.index("roof") - 1


def test_frames_made_elsewhere_are_stacked_with_the_first_to_be_raised_on_top() -> None:
    site = {"deck": False, "framing_place": PLACE | {"roofed": True}, "ways": ["carried"]}
    order, _ = worked(hut(site))
    framed = [each.wall for each in order.steps if each.kind == "frame" and each.wall is not None]
    assert framed == list(raises(order))[::-1]
    assert not any(each.dry for each in order.steps if each.kind == "frame")
    assert all(len(each.path) > 1 for each in raises(order).values())
    assert order.preference is not None
    assert order.preference.kg_m > 0.0


def test_a_wall_that_is_built_in_parts_is_raised_in_parts() -> None:
    value = hut({"people": 2}, walls={"front": {"panels": {"at": [2250]}}})
    layout = layout_of(value)
    order, _ = worked(value)
    steps = [each for each in order.steps if each.kind == "raise"]
    assert sorted((each.wall or "", each.panel) for each in steps if each.wall == "front") == [
        ("front", 1), ("front", 2),
    ]  # fmt: skip
    assert {"front 1", "front 2", "back", "left"} <= set(steps[-1].standing) | {"front 1", "front 2"}
    front = layout.walls[0]
    assert front.panels is not None
    for panel in front.panels:
        raised = next(each for each in steps if (each.wall, each.panel) == ("front", panel.number))
        assert raised.weight_kg == pytest.approx(1.143 * panel.weight_kg, abs=0.01)
        # As it lies and stands, from end to end of the part: the front runs along X.
        xs = [x for x, _ in raised.room]
        assert (min(xs), max(xs)) == (panel.start, panel.start + panel.length)
    framed = [
        (each.wall, each.panel) for each in order.steps if each.kind == "frame" and each.wall == "front"
    ]
    assert sorted(framed) == [("front", 1), ("front", 2)]
    assert order.wind is not None
    assert set(order.wind.newtons) == {"front 1", "front 2", "back", "left", "right"}
    # By hand, about its foot: half as high as the push, rakers at 0.7 of it, two of them, at 45 degrees.
    for name, push in order.wind.newtons.items():
        assert order.wind.rakers[name] == pytest.approx(push * 0.505, abs=0.1)


def test_parts_under_a_slope_are_as_high_as_their_own_higher_end() -> None:
    """The front is 2236.424 high at its inner face; by hand from there, at 6 degrees, to both ends."""
    value = hut({}, walls={"right": {"panels": {"at": [1350]}}}, through="left-right")
    panels = {each.name: each.panel for each in yard(value).question.panels}
    slope = math.tan(math.radians(6.0))
    assert panels["right 1"].height == pytest.approx(2236.424 + 70 * slope, abs=0.01)
    assert panels["right 2"].height == pytest.approx(2236.424 - 1280 * slope, abs=0.01)


def test_the_boards_over_a_break_are_put_on_once_both_parts_stand() -> None:
    value = hut(
        {"people": 4},
        walls={"front": {"panels": {"at": [2250]}, "raising": {"rule": "auto", "clad": "before"}}},
        defaults=CLAD,
    )
    order, _ = worked(value)
    clad = [each for each in order.steps if each.kind == "clad" and each.wall == "front"]
    assert [each.panel for each in clad[:2]] in ([1, 2], [2, 1])
    assert clad[-1].panel is None
    assert clad[-1].number > max(each.number for each in order.steps if each.kind == "raise")
    whole, _ = worked(hut({"people": 4}, defaults=CLAD))
    one = next(each for each in whole.steps if each.kind == "clad" and each.wall == "front")
    assert sum(each.hours for each in clad) == pytest.approx(one.hours, rel=0.02)


def test_a_tee_closes_a_group_like_a_corner() -> None:
    """A partition of two parts: each stands only by the wall that it meets."""
    value = hut({}, outline={
        "length": 4500, "width": 2700, "through": "front-back",
        "partitions": [{"name": "inside", "runs": "front-back", "at": 2000}],
    })  # fmt: skip
    made = yard(value)
    names = [each.name for each in made.question.panels]
    front, inside = names.index("front"), names.index("inside")
    search = made.search()
    assert search.alone(1 << front) == 1 << front
    assert search.alone(1 << front | 1 << inside) == 0


def test_floor_and_roof_are_steps_of_their_own() -> None:
    order, _ = worked(mono() | {"floor": floor_with()})
    kinds = [each.kind for each in order.steps]
    assert kinds[:2] == ["base", "base"]
    assert kinds.count("roof") == 3
    assert kinds.index("roof") > max(i for i, kind in enumerate(kinds) if kind == "raise")
    roof = [each.display for each in order.steps if each.kind == "roof"]
    assert "timber" in roof[0]
    assert "deck" in roof[1]
    assert "cover" in roof[2]


BRANCH = {"name": "branch", "polygon": [[500, -600], [2500, -600], [2500, 2200]], "bottom": 2250, "top": 6000}
UNDER_A_BRANCH = hut(
    {
        "obstacles": [*banks({"left": 350, "back": 300, "right": 300}), BRANCH],
        "ways": TILTED_EITHER_WAY,
    }
)


def test_the_least_change_that_is_enough_is_told() -> None:
    order, _ = worked(UNDER_A_BRANCH)
    assert order.possible is False
    (told,) = order.in_the_way
    assert (told.obstacles, told.lower, told.remove) == (("branch",), None, False)
    assert told.raise_ is not None
    for more, is_enough in ((0.0, True), (-2.0, False)):
        value = copy.deepcopy(UNDER_A_BRANCH)
        value["site"]["obstacles"][-1]["bottom"] = 2250 + told.raise_ + more
        assert bool(worked(value)[0].possible) == is_enough
    # By hand, of the way from outside: hypot(2236.424, 70) + 20 - 2250 = 7.5, at the axis.
    outside = next(each for each in order.ways if each.way == "tilt-up-from-outside")
    assert outside.obstacles["branch"] == pytest.approx(7.5, abs=0.1)


def test_all_smallest_sets_of_obstacles_are_told() -> None:
    """A wall hemmed in on the only two sides from which it can be raised: either one of two is enough."""
    twice = copy.deepcopy(UNDER_A_BRANCH)
    twice["site"]["obstacles"].append(BRANCH | {"name": "second branch"})
    order, _ = worked(twice)
    assert [set(each.obstacles) for each in order.in_the_way] == [{"branch", "second branch"}]
    assert order.in_the_way[0].raise_ is None


def test_room_beside_a_wall_is_an_obstacle_there() -> None:
    value = hut({"room": {"back": 350}})
    (room,) = yard(value).obstructions
    assert (room.name, room.bottom, room.top) == ("room back", 0.0, 1800.0)
    xs, ys = zip(*room.corners, strict=True)
    assert (min(xs), max(xs), min(ys), max(ys)) == (-1000.0, 5500.0, 3050.0, 5050.0)


def test_heights_are_turned_to_those_above_the_sole_plates() -> None:
    (bank,) = yard(hut({"obstacles": banks({"back": 300}), "ground": 250})).obstructions
    assert (bank.bottom, bank.top) == (-250.0, 1550.0)


def test_the_ground_under_a_floor_is_as_low_as_the_floor_is_deep_unless_told() -> None:
    """By hand: a deck of 18 lies over joists of 145, with bearers of 95 under them."""
    floor = {
        "rule": "joists", "section": [45, 145], "joists": {"rule": "fixed-centres", "centres": 400},
        "bearers": {"section": [95, 95], "rows": 3, "pads": {"apart": 1500, "size": 300}},
        "deck": {"rule": "sheets", "thickness": 18, "width": 1200, "height": 2400},
    }  # fmt: skip
    site = {"obstacles": banks({"back": 300})}
    assert yard(hut(site, floor=floor)).obstructions[0].bottom == -(18 + 145 + 95)
    assert yard(hut(site | {"ground": 400}, floor=floor)).obstructions[0].bottom == -400
    assert yard(hut(site)).obstructions[0].bottom == 0


def test_every_example_has_an_answer() -> None:
    for file in sorted(HONEY_HOUSE.parent.glob("*.json")):
        value = json.loads(file.read_text())
        order, _ = work_order(layout_of(value), registry().read_building(value), registry())
        assert order is None or order.possible is (file.stem != "hen_house"), file.name
        assert (order is None) == ("walls" in value["outline"])


def test_of_the_examples_one_has_few_orders_and_one_has_none_until_a_bough_is_raised() -> None:
    """Between things on all sides, through walls go before those between them: 2 x 2 of 24 orders."""
    apple, hen = (
        json.loads((HONEY_HOUSE.parent / f"{name}.json").read_text()) for name in ("apple_store", "hen_house")
    )
    assert worked(apple)[0].orders == 4
    (change,) = worked(hen)[0].in_the_way
    assert (change.obstacles, change.raise_) == (("walnut bough",), 262.0)
    bough = hen["site"]["obstacles"][0]
    for by, is_possible in ((261, False), (262, True)):
        moved = copy.deepcopy(hen)
        moved["site"]["obstacles"][0]["bottom"] = bough["bottom"] + by
        assert worked(moved)[0].possible is is_possible


class Bad(RaisingRule):
    """Returns what cannot be."""

    rule: Literal["bad"] = "bad"
    examples = ({"rule": "bad"},)
    answer: ClassVar[Movement] = Movement(swept=[])

    def ways(self, panel: Panel, site: SiteOut) -> Sequence[Movement]:
        return [self.answer]


TURNED = Prism(((0.0, 0.0), (0.0, 100.0), (100.0, 100.0)), 0.0, 10.0)
FLAT = Quarter((0.0, 0.0), (1.0, 0.0), (1.0, 0.0), 100.0, 100.0)


@pytest.mark.parametrize(
    ("answer", "words"),
    [
        (Movement(swept=[]), "does not end where the wall stands"),
        (Movement(swept=[TURNED]), "not convex and anticlockwise"),
        (Movement(swept=[FLAT]), "whose sides are not square"),
        (Movement(swept=[], share=1.5), "share from 0 to 1"),
        (Movement(swept=[Prism(((0.0, 0.0), (float("nan"), 0.0), (0.0, 9.0)), 0.0, 1.0)]), "finite"),
        ("nothing", "where Movement belongs"),
    ],
)
def test_a_rule_that_returns_what_cannot_be_is_named(answer: Any, words: str) -> None:
    kind = type("Bad", (Bad,), {"answer": answer, "__module__": __name__, "__doc__": Bad.__doc__})
    rules = (*registry().rules, RegisteredRule("raising_rules", "bad", "faulty", kind))
    installed = replace(registry(), rules=rules)
    value = hut({"ways": ["bad"]})
    with pytest.raises(RuleError, match=words) as raised:
        work_order(layout_of(value), registry().read_building(value), installed)
    assert (raised.value.plugin, raised.value.rule) == ("faulty", "bad")


class Remembering(TiltUp):
    """Lifts each wall higher than the one before."""

    rule: Literal["remembering"] = "remembering"  # type: ignore[assignment]
    examples = ({"rule": "remembering"},)
    seen: ClassVar[dict[str, float]] = {}

    def ways(self, panel: Panel, site: SiteOut) -> Sequence[Movement]:
        ground = self.seen.setdefault(panel.name, float(len(self.seen)))
        self.seen.pop(next(iter(self.seen))) if len(self.seen) > 2 else None
        return [replace(each, ground=ground) for each in super().ways(panel, site)]


def test_the_contract_finds_a_rule_that_goes_by_other_walls() -> None:
    found = contract.breaches(Remembering, cases=6)
    assert "not the same twice" in {each.fault for each in found}


def test_who_glazes_is_told_how_glass_is_carried() -> None:
    window = {"name": "pane", "kind": "window", "width": 600, "height": 600, "sill": 900, "at": {"left": 900}}
    order, _ = worked(hut(walls={"front": {"openings": [window]}}))
    (glazed,) = [each for each in order.steps if each.kind == "openings"]
    assert "glass on edge" in glazed.display


def test_who_raises_walls_alone_is_told_so() -> None:
    assert "raised-alone" in codes(worked(hut({"ways": TILTED}))[1])
    assert "raised-alone" not in codes(worked(hut({"ways": TILTED, "people": 2}))[1])
    assert "raised-alone" not in codes(worked(hut({"ways": ["framed-standing"]}))[1])


def test_all_sides_are_there() -> None:
    assert set(raises(worked(hut())[0])) == set(SIDES)


def test_what_finishes_openings_is_not_raised_with_a_wall() -> None:
    weights = []
    for finish in ({"rule": "as-framed"}, {"rule": "lined", "leaf": {}}):
        door = {"name": "door", "kind": "door", "width": 900, "height": 1800, "at": {"left": 700}}
        value = hut(walls={"front": {"openings": [door | {"finish": finish}]}})
        value["defaults"] = (
            value.get("defaults", {}) | CLAD | {"raising": {"rule": "tilt-up", "clad": "before"}}
        )
        panels = panels_of(layout_of(value), registry().read_building(value), ())
        weights += [each.panel.weight_kg for each in panels if each.name == "front"]
    assert len(weights) == 2
    assert weights[0] == pytest.approx(weights[1])


@pytest.mark.parametrize("name", ["honey_house", "apple_store", "seed_loft", "tool_store", "reading_room"])
def test_each_piece_comes_to_its_place_with_one_step(name: str) -> None:
    value = json.loads(HONEY_HOUSE.with_name(f"{name}.json").read_text())
    layout = layout_of(value)
    order, _ = worked(value)
    placed_once = [mark for step in order.steps for mark in step.pieces]
    assert sorted(placed_once) == sorted(piece.mark for part in layout.parts for piece in part.pieces)


def test_the_diagonals_of_a_wall_are_told_and_those_under_a_slope_one_by_one() -> None:
    """By hand: hypot(4500, 1960) = 4908.3; sides of 2560 between walls of 70, under tops of 2236 and 1960."""
    order, _ = worked(hut())
    said = {step.wall: step.display for step in order.steps if step.kind == "square"}
    assert "both diagonals 4908 mm" in said["back"]
    high, low = (math.hypot(2560, top) for top in _ends_of("left"))
    longer, shorter = (f"{each:.0f} mm" for each in (max(high, low), min(high, low)))
    # Seen from outside the front, the higher one, is right of the left wall and left of the right one.
    assert f"{longer} from the left and {shorter} from the right" in said["left"]
    assert f"{shorter} from the left and {longer} from the right" in said["right"]


def _ends_of(name: str) -> tuple[float, float]:
    (wall,) = (each for each in layout_of(hut()).walls if each.name == name)
    return wall.top_line[0][1], wall.top_line[-1][1]


def test_a_wall_without_braces_of_its_own_is_nailed_to_what_holds_it() -> None:
    order, _ = worked(hut())
    for wall, each in raises(order).items():
        assert ("head of each raker" in each.display) == bool(each.braces), wall
        assert ("walls that it meets" in each.display) != bool(each.braces), wall
        assert "blocks along the base's outer edge" in each.display
        assert " kg" not in each.display, "its figures are told beside it"


def test_a_wall_that_comes_from_outside_lies_on_its_outer_face() -> None:
    order, _ = worked(hut({"deck": False, "ways": ["tilt-up-from-outside"]}))
    framed = [step.display for step in order.steps if step.kind == "frame" and step.wall is not None]
    assert len(framed) == 4
    assert all("on the ground outside" in said and "outer face down" in said for said in framed)
    assert all("away from where it lies" in each.display for each in raises(order).values())
