"""The search against every order tried by hand, on sites of all kinds; and what must hold of any order."""

from __future__ import annotations

import copy
import itertools
import json
from collections.abc import Iterator, Sequence
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from soleplate.engine.building_file import Building
from soleplate.engine.layout import Layout, TemporaryBraceOut, WorkStep
from soleplate.engine.raising.order import order_of_work
from soleplate.engine.raising.panels import SitePanel
from soleplate.engine.raising.question import FIT, Cost, RaisingQuestion, RaisingWay
from soleplate.engine.raising.yard import Yard, yard_of
from soleplate.engine.rules import team_lift
from soleplate.engine.shapes import shortfall
from tests.buildings import building, layout_of, registry
from tests.yards import SIDES

FEW = settings(
    max_examples=8, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)

CLAD = {"rule": "lapped", "thickness": 25, "thin_edge": 8, "width": 150}
L_PLAN = {"corners": [[0, 0], [5200, 0], [5200, 3600], [2600, 3600], [2600, 2400], [0, 2400]]}


@st.composite
def outlines(draw: st.DrawFn) -> dict[str, Any]:
    if draw(st.integers(0, 3)) == 0:
        return {**L_PLAN, "through": draw(st.sampled_from(["front-back", "left-right"]))}
    length, width = draw(st.integers(2400, 5000)), draw(st.integers(2000, 4500))
    partitions = [
        {"name": f"partition {number}", "runs": "front-back", "at": length * number / 3}
        for number in range(1, draw(st.integers(0, 2)) + 1)
    ]
    through = draw(st.sampled_from(["front-back", "left-right", "pinwheel"]))
    return {"length": length, "width": width, "through": through, "partitions": partitions}


@st.composite
def obstacles(draw: st.DrawFn, walls: Sequence[str]) -> list[dict[str, Any]]:
    beside = [
        {"name": f"bank {wall}", "beside": wall, "clear": draw(st.sampled_from([120, 300, 420, 700, 2900]))}
        for wall in walls
        if draw(st.booleans())
    ]
    hung: list[dict[str, Any]] = []
    if draw(st.booleans()):
        x, y = draw(st.integers(-500, 4000)), draw(st.integers(-1500, 3000))
        corners = [[x, y], [x + 900, y + 200], [x + 300, y + 1200]]
        hung = [{"name": "branch", "polygon": corners, "bottom": draw(st.integers(2350, 2600)), "top": 5000}]
    return [*beside, *hung]


@st.composite
def sites(draw: st.DrawFn) -> dict[str, Any]:
    """Buildings of four to six walls between obstacles."""
    outline = draw(outlines())
    walls = list("ABCDEF") if "corners" in outline else list(SIDES)
    ways = ["tilt-up", "tilt-up-from-outside", "framed-standing"]
    value = building(
        outline=outline,
        roof={"form": "level", "height": draw(st.integers(1900, 2300))},
        frame={"section": draw(st.sampled_from([[45, 70], [63, 145]]))},
        defaults={"cladding": CLAD} if draw(st.booleans()) else {},
    )
    if outline.get("partitions") == [] and draw(st.booleans()):
        value["walls"] = {"front": {"panels": {"largest_length": max(outline["length"] * 0.7, 1500)}}}
    value["site"] = {
        "obstacles": draw(obstacles(walls)),
        "ways": draw(st.lists(st.sampled_from(ways), min_size=1, max_size=3, unique=True)),
        "people": draw(st.integers(1, 3)),
        "preference": draw(st.sampled_from(["from-deck", "braced-least"])),
    }
    return value


def read(value: dict[str, Any]) -> tuple[Building, Layout, Yard]:
    asked, layout = registry().read_building(value), layout_of(value)
    return asked, layout, yard_of(layout, asked, registry())


class Judge:
    """Tries orders with volumes themselves, and knows no mask."""

    def __init__(self, made: Yard, asked: Building) -> None:
        self.panels = made.question.panels
        self.question: RaisingQuestion = made.question
        self.obstacles = [prism for each in made.obstructions for prism in each.prisms]
        self.site = asked.site
        self.known: dict[tuple[int, frozenset[str]], Cost | None] = {}

    def clear(self, volumes: Sequence[Any], standing: Sequence[SitePanel], clearance: float) -> bool:
        others = [prism for panel in standing for prism in panel.standing]
        return not any(
            shortfall(v, prism, clearance) for v in volumes for prism in self.obstacles
        ) and not any(shortfall(v, prism, FIT) for v in volumes for prism in others)

    def groups(self, standing: Sequence[SitePanel]) -> Iterator[list[SitePanel]]:
        left = list(standing)
        while left:
            group, grown = [left.pop()], True
            while grown:
                near = [p for p in left if any(meet(p, q) for q in group)]
                left, grown = [p for p in left if p not in near], bool(near)
                group += near
            yield group

    def alone(self, standing: Sequence[SitePanel]) -> list[SitePanel]:
        return [
            panel
            for group in self.groups(standing)
            if not any(meet(p, q) and across(p, q) for p, q in itertools.combinations(group, 2))
            for panel in group
        ]

    def braced(self, panel: SitePanel, standing: Sequence[SitePanel], moved: Sequence[Any]) -> bool:
        index = self.panels.index(panel)
        others = [each for each in standing if each is not panel]
        return any(
            self.clear(placed.brace.rakers, others, 0.0)
            and not any(shortfall(v, raker, FIT) for v in moved for raker in placed.brace.rakers)
            for placed in self.question.braces[index]
        )

    def price(self, way: RaisingWay, standing: Sequence[SitePanel]) -> Cost | None:
        key = way.number, frozenset(panel.name for panel in standing)
        if key not in self.known:
            self.known[key] = self.worked_out(way, standing)
        return self.known[key]

    def worked_out(self, way: RaisingWay, standing: Sequence[SitePanel]) -> Cost | None:
        panel, movement = self.panels[way.panel], way.movement
        place = panel.axes.place
        swept, free = ([place(v) for v in each] for each in (movement.swept, movement.free))
        if not self.clear(swept, standing, self.site.clearance) or not self.clear(free, standing, 0.0):
            return None
        if movement.spots and not any(self.clear([place(s)], standing, 0.0) for s in movement.spots):
            return None
        if not all(self.braced(each, standing, swept) for each in self.alone(standing)):
            return None
        after = [*standing, panel]
        alone = self.alone(after)
        if panel in alone and not self.braced(panel, after, ()):
            return None
        heavy = panel.panel.weight_kg * movement.share > team_lift(self.site.people) + 1e-9
        outside, stood = not movement.on_deck, movement.share == 0.0
        first = (
            (len(alone), int(outside))
            if self.site.preference == "braced-least"
            else (int(outside), len(alone))
        )
        return (int(heavy), int(stood), *first, 0, 0)

    def orders(self) -> Iterator[tuple[Cost, tuple[int, ...]]]:
        """(cost, sequence) of every order that is possible."""
        for sequence in itertools.permutations(range(len(self.panels))):
            total: tuple[int, ...] = (0,) * 6
            standing: list[SitePanel] = []
            for index in sequence:
                panel = self.panels[index]
                hosts = [
                    each
                    for each in self.panels
                    if panel.panel.is_inside and meet(panel, each) and across(panel, each)
                ]
                prices = [self.price(way, standing) for way in self.question.ways[index]]
                fitting = [each for each in prices if each is not None]
                if not fitting or not all(host in standing for host in hosts):
                    break
                total = tuple(a + b for a, b in zip(total, min(fitting), strict=True))
                standing.append(panel)
            else:
                over, stood, first, second, carried, early = total
                yield (over, stood, first, second, carried, early), sequence


def meet(one: SitePanel, other: SitePanel) -> bool:
    """Whether the frames of two walls lie along each other."""
    a, b = one.footprint.extent, other.footprint.extent
    gaps = (max(a[0], b[0]) - min(a[1], b[1]), max(a[2], b[2]) - min(a[3], b[3]))
    return max(gaps) <= 25.0 and min(gaps) < 0.0


def across(one: SitePanel, other: SitePanel) -> bool:
    return abs(one.axes.run[0] * other.axes.run[0] + one.axes.run[1] * other.axes.run[1]) < 0.5


@FEW
@given(sites())
def test_no_order_is_better_and_each_is_counted(value: dict[str, Any]) -> None:
    asked, _, made = read(value)
    by_hand = list(Judge(made, asked).orders())
    search = made.search()
    found = search.best()
    assert search.orders() == len(by_hand)
    assert search.exists() == bool(by_hand)
    assert bool(found.steps) == bool(by_hand)
    if by_hand:
        cost, sequence = min(by_hand)
        assert tuple(step.way.panel for step in found.steps) == sequence
        over, stood, off, braced, *rest = found.cost
        if asked.site.preference == "braced-least":
            off, braced = braced, off
        assert (over, stood, off, braced, *rest) == cost


@FEW
@given(sites())
def test_without_an_obstacle_no_order_is_lost(value: dict[str, Any]) -> None:
    _, _, made = read(value)
    if not made.search().exists():
        return
    for gone in made.obstructions:
        assert made.search([each for each in made.obstructions if each is not gone]).exists()


@FEW
@given(sites(), st.randoms(use_true_random=False))
def test_the_order_of_the_file_changes_nothing(value: dict[str, Any], chance: Any) -> None:
    asked, layout, _ = read(value)
    order, _ = order_of_work(layout, asked, registry())
    turned = copy.deepcopy(value)
    chance.shuffle(turned["site"]["obstacles"])
    walls = list(layout.walls)
    chance.shuffle(walls)
    again, _ = order_of_work(
        layout.model_copy(update={"walls": tuple(walls)}), registry().read_building(turned), registry()
    )
    assert order is not None
    assert again is not None
    assert again.steps == order.steps
    assert (again.preference, again.orders, again.furthest) == (
        order.preference,
        order.orders,
        order.furthest,
    )


@FEW
@given(sites())
def test_in_every_state_each_wall_stands_or_is_braced(value: dict[str, Any]) -> None:
    asked, layout, made = read(value)
    order, _ = order_of_work(layout, asked, registry())
    assert order is not None
    judge, by_name = Judge(made, asked), {panel.name: panel for panel in made.question.panels}
    raises = [step for step in order.steps if step.kind == "raise"]
    for step, following in itertools.pairwise(raises):
        standing = [by_name[name] for name in (*step.standing, called(step))]
        for panel in judge.alone(standing):
            # Up, from before this step's end until after the next one.
            held = [
                brace
                for earlier in raises
                if earlier.number <= step.number
                for brace in earlier.braces
                if called(brace) == panel.name and brace.off_after >= following.number
            ]
            assert len(held) == 1
            assert all(leg not in panel.footprint.outline for leg in held[0].feet)


def called(one: WorkStep | TemporaryBraceOut) -> str:
    """The name of the panel that a step or a brace is of."""
    return f"{one.wall}" if one.panel is None else f"{one.wall} {one.panel}"


def mirrored(value: dict[str, Any]) -> dict[str, Any]:
    """The same building and site as seen in a mirror: left is right."""
    turned: dict[str, Any] = json.loads(json.dumps(value).replace("left-right", "across"))
    text = json.dumps(turned).replace('"left"', '"*"').replace('"right"', '"left"').replace('"*"', '"right"')
    turned = json.loads(text.replace("across", "left-right"))
    length = turned["outline"]["length"]
    for each in turned["site"]["obstacles"]:
        if "polygon" in each:
            each["polygon"] = [[length - x, y] for x, y in each["polygon"]]
    return turned


@FEW
@given(sites().filter(lambda v: "length" in v["outline"]))
def test_in_a_mirror_the_order_is_as_good(value: dict[str, Any]) -> None:
    # A partition has its outer face to the right, and a pinwheel turns one way, in a mirror too.
    value["outline"]["partitions"] = []
    value.pop("walls", None)
    if value["outline"]["through"] == "pinwheel":
        value["outline"]["through"] = "left-right"
    here, there = (read(each)[2].search() for each in (value, mirrored(value)))
    assert here.orders() == there.orders()
    assert here.best().cost == there.best().cost


def test_the_judge_sees_a_post() -> None:
    value = building(
        site={"obstacles": [{"name": "post", "polygon": [[2000, 1000], [2100, 1000], [2100, 1100]]}]}
    )
    asked, _, made = read(value)
    judge = Judge(made, asked)
    tilted = next(way for way in made.question.ways[0] if way.rule == "tilt-up")
    swept = [judge.panels[0].axes.place(v) for v in tilted.movement.swept]
    assert not judge.clear(swept, [], 20.0)
    judge.obstacles = []
    assert judge.clear(swept, [], 20.0)
