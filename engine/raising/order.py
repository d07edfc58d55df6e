"""The stage: a layout and its building in, the order of work and what was found out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from soleplate.engine.building_file import Building, Mm, Said, SingleWalls, said, telling
from soleplate.engine.layout import (
    Layout,
    OrderCost,
    OrderOfWork,
    WindOut,
)
from soleplate.engine.raising import findings as kinds
from soleplate.engine.raising.carrying import Carrying
from soleplate.engine.raising.decks import past_deck
from soleplate.engine.raising.explaining import blocked_ways, furthest, in_the_way
from soleplate.engine.raising.ground import with_ground
from soleplate.engine.raising.helping import parts_that_help
from soleplate.engine.raising.hours import all_hours, in_dry_hours
from soleplate.engine.raising.obstacles import obstructions_of
from soleplate.engine.raising.panels import SitePanel
from soleplate.engine.raising.question import Cost
from soleplate.engine.raising.search import (
    MOST_PANELS,
    Clock,
    FoundOrder,
    NotSearchedError,
    OrderSearch,
    Step,
)
from soleplate.engine.raising.site_plan import site_plan
from soleplate.engine.raising.steps import steps_of
from soleplate.engine.raising.wind import clad_limit, push_of, raker_push, recommended_lift
from soleplate.engine.raising.yard import Yard, yard_of
from soleplate.engine.registry import Registry
from soleplate.engine.rules import Finding, team_lift
from soleplate.engine.shapes import TOUCH, rounded

SEARCH_S: Final = 2.0
"""Seconds of processor time that the search may take, and the explanation again; both are a backstop."""


def check_site(layout: Layout, building: Building) -> None:
    """Refuse a site whose obstacles stand in a wall of the layout, as an order of work is refused for it.

    Raises:
        UnbuildableError: an obstacle stands in a wall, or the site is too wide.
    """
    if not isinstance(building.outline, SingleWalls):
        with telling(building.units):
            obstructions_of(with_ground(building, layout), layout.walls)


def order_of_work(
    layout: Layout, building: Building, registry: Registry
) -> tuple[OrderOfWork | None, tuple[Finding, ...]]:
    """The order of work of a building that is laid out, and what was found; none of walls on their own.

    Raises:
        UnbuildableError: an obstacle stands in a wall, the site is too wide, or a way is not known.
        RuleError: a rule failed, or returned what cannot be.
    """
    if isinstance(building.outline, SingleWalls):
        return None, ()
    building = with_ground(building, layout)
    with telling(building.units):
        yard = yard_of(layout, building, registry)
    if len(yard.question.panels) > MOST_PANELS:
        many = said(
            "{number} walls are too many; up to {most} are searched",
            number=len(yard.question.panels),
            most=MOST_PANELS,
        )
        return _not_searched(many, 0)
    routes = yard.routes(yard.obstructions)
    search = yard.search(clock=Clock(SEARCH_S), routes=routes)
    try:
        found = search.best()
    except NotSearchedError as error:
        return _not_searched(said("it took too long, and was given up"), error.states)
    if not found.steps:
        return _impossible(yard, found, building, registry)
    return _possible(yard, search, found, routes, layout, building)


def has_order(layout: Layout, building: Building, registry: Registry) -> bool | None:
    """Whether there is an order at all; `None` where that was not found out. Raises as `order_of_work`."""
    yard = yard_of(layout, building, registry)
    if len(yard.question.panels) > MOST_PANELS:
        return None
    try:
        return yard.search(clock=Clock(SEARCH_S)).exists()
    except NotSearchedError:
        return None


def _not_searched(why: Said, states: int) -> tuple[OrderOfWork, tuple[Finding, ...]]:
    order = OrderOfWork(possible=None, best=False, states=states)
    return order, (kinds.NOT_SEARCHED.of(said=why),)


def _possible(
    yard: Yard, search: OrderSearch, found: FoundOrder, routes: Carrying, layout: Layout, building: Building
) -> tuple[OrderOfWork, tuple[Finding, ...]]:
    paths: list[Sequence[tuple[float, float, float]]] = []
    crossed: list[int] = []
    for step in found.steps:
        carry, braced = step.way.carry, search.braced(step.way, step.standing)
        paths.append(() if carry is None else routes.way(carry.number, step.standing, braced) or ())
        crossed.append(0 if carry is None else routes.crossed(carry.number, step.standing, braced))
    steps = steps_of(yard, search, found, paths, crossed, layout, building)
    placed, closed = in_dry_hours(steps, building)
    order = OrderOfWork(
        possible=True,
        best=True,
        states=len(found.states),
        orders=search.orders(),
        preference=cost_out(found.cost),
        site=site_plan(yard, building),
        steps=placed,
        wind=wind_out(yard, building),
        hours=all_hours(placed),
        closed_in=closed,
    )
    return order, tuple(_of_steps(yard, found.steps, building))


def wind_out(yard: Yard, building: Building) -> WindOut:
    """What the wind does to walls as they are raised."""
    force = building.site.wind
    pushes = {each.name: push_of(each, force) for each in yard.question.panels}
    names = sorted(pushes)
    return WindOut(
        beaufort=force,
        newtons={name: rounded(pushes[name]) for name in names},
        rakers={name: rounded(raker_push(pushes[name])) for name in names},
    )


def cost_out(cost: Cost) -> OrderCost:
    """A cost as it comes out."""
    over, standing, off, braced, carried, early = cost
    return OrderCost(
        over_limit=over,
        framed_standing=standing,
        off_deck=off,
        braced=braced,
        kg_m=rounded(carried / 1000),
        clad_early=early,
    )


def _impossible(
    yard: Yard, found: FoundOrder, building: Building, registry: Registry
) -> tuple[OrderOfWork, tuple[Finding, ...]]:
    states, clock = furthest(found.states), Clock(SEARCH_S)
    ways = blocked_ways(yard, states[0], clock)
    sets, is_whole = in_the_way(yard, clock)
    order = OrderOfWork(
        possible=False,
        best=True,
        states=len(found.states),
        orders=0,
        site=site_plan(yard, building, states[0]),
        furthest=tuple(yard.question.names(state) for state in states),
        ways=ways,
        in_the_way=sets,
    )
    told: list[Finding] = []
    try:
        helps = tuple(parts_that_help(yard, states[0], building, registry, clock))
        order = replace(order, may_help=helps)
    except NotSearchedError:
        is_whole = False
    if not is_whole:
        why = said("what is in the way, or may help, was not all found in the time there is")
        told.append(kinds.NOT_SEARCHED.of(said=why))
    return order, (kinds.NO_ORDER.of(said=_why(order)), *told, *_unbraced(yard, order))


def _why(order: OrderOfWork) -> Said:
    """What is in the way, in a sentence."""
    stands = ", ".join(order.furthest[0]) or "none"
    if len(order.in_the_way) == 1:
        return said(
            "{names} in the way; at the most {walls} can stand",
            names=" and ".join(order.in_the_way[0].obstacles),
            walls=stands,
        )
    if order.in_the_way:
        sets = "; or ".join(" and ".join(each.obstacles) for each in order.in_the_way)
        return said("in the way are {sets}; at the most {walls} can stand", sets=sets, walls=stands)
    return said("at the most {walls} can stand", walls=stands)


def _unbraced(yard: Yard, order: OrderOfWork) -> Iterator[Finding]:
    """Walls for which there is no brace in the ways that are left."""
    panels = {panel.name: panel for panel in yard.question.panels}
    names = dict.fromkeys(name for way in order.ways for name in way.braces)
    for name in names:
        way = next(each for each in order.ways if name in each.braces)
        yield kinds.BRACE_BLOCKED.of(
            part=panels[name].wall.name,
            it=called(panels[name]),
            where="beside its ends, outside or inside",
            what=f"what moves {way.wall}, or what stands",
        )


def called(panel: SitePanel) -> str:
    """How sentences on its wall call it."""
    return "it" if panel.part is None else f"panel {panel.part}"


def _of_steps(yard: Yard, steps: Sequence[Step], building: Building) -> Iterator[Finding]:
    """What is to be looked at in an order."""
    site, question = building.site, yard.question
    limit = team_lift(site.people, site.lift_each)
    raised = [question.panels[step.way.panel].name for step in steps if step.way.movement.share > 0.0]
    if site.people == 1 and raised:
        yield kinds.ALONE.of(walls=", ".join(raised))
    for step in steps:
        way, panel = step.way, question.panels[step.way.panel]
        if way.peak_kg > limit + 1e-9:
            yield kinds.OVER_LIFT.of(
                part=panel.wall.name,
                it=called(panel),
                value=rounded(way.peak_kg),
                limit=rounded(limit),
                peak=way.peak_kg,
                most=limit,
                who="one person" if site.people == 1 else f"{site.people} people",
                niosh=recommended_lift(*FROM_THE_DECK),
                parts=-int(-way.peak_kg // limit),
            )
        if way.movement.ground > 0.0:
            yield kinds.WAY_NEEDS_GROUND.of(
                part=panel.wall.name,
                it=called(panel),
                value=rounded(way.movement.ground),
                far=Mm(way.movement.ground, ".0f"),
            )
        over = past_deck(panel, way.swept, building) if way.movement.on_deck else 0.0
        if over > TOUCH:
            yield kinds.HEAD_OVER_EDGE.of(
                part=panel.wall.name, it=called(panel), value=rounded(over), over=Mm(over, ".0f")
            )
        if way.movement.clad and site.wind > (most := clad_limit(site.people)):
            push = push_of(panel, site.wind)
            yield kinds.WIND.of(
                part=panel.wall.name,
                it=called(panel),
                value=site.wind,
                limit=most,
                newtons=push,
                beaufort=site.wind,
                most=most,
            )


FROM_THE_DECK: Final = (30.0, 10.0, 65.0)
"""cm: how far the hands are out, how high at the start, and how far they lift, where a wall is lifted that
lies (hands 100 mm up: common practice, no source)."""
