"""Asking the rules how each panel can be raised, and looking at what they answer."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from soleplate.engine.building_file import Building, UnbuildableError, pointer_to
from soleplate.engine.raising.panels import SitePanel
from soleplate.engine.registry import Asked, Registry
from soleplate.engine.rules import Movement, Panel, Prism, Quarter, RaisingRule, SiteOut
from soleplate.engine.shapes import TOUCH, Outline, Point, is_convex, pairs


@dataclass(frozen=True, slots=True)
class OfferedWay:
    """A movement and the rule that offers it."""

    rule: str
    movement: Movement


def offered_ways(
    panels: Sequence[SitePanel], building: Building, registry: Registry
) -> tuple[tuple[OfferedWay, ...], ...]:
    """How each panel can be raised by the rules that come into question for it.

    Raises:
        UnbuildableError: a way is allowed that no rule offers.
        RuleError: a rule failed, or returned what cannot be.
    """
    site = site_out(building)
    rules = _allowed(building, registry)
    return tuple(tuple(_ways(each, rules, site, registry)) for each in panels)


def site_out(building: Building) -> SiteOut:
    """What rules are told of the site."""
    site = building.site
    return SiteOut(
        deck=site.deck,
        place=site.framing_place is not None,
        ground=site.ground or 0.0,
        working_room=site.working_room,
        head_room=site.head_room,
        carry_width=site.carry_width,
        hand_height=site.hand_height,
    )


def _allowed(building: Building, registry: Registry) -> list[RaisingRule]:
    """The rules that come into question where a wall picks none, by name."""
    offered = {each.name: each.model for each in registry.of_family(RaisingRule.family)}
    every = {name: model() for name, model in offered.items()}
    rules = {n: r for n, r in every.items() if isinstance(r, RaisingRule) and not r.is_open}
    names = building.site.ways
    for index, name in enumerate(names or ()):
        if name not in rules:
            known = ", ".join(rules) or "none, since no plugin brings one"
            raise UnbuildableError.at(
                pointer_to("site", "ways", index),
                f"no way of raising is called {name!r}; accepted are {known}",
            )
    return [rule for name, rule in rules.items() if names is None or name in names]


def _ways(
    panel: SitePanel, rules: Sequence[RaisingRule], site: SiteOut, registry: Registry
) -> Iterator[OfferedWay]:
    asked = Asked(panel.name, "wall", lambda rule: pointer_to("walls", panel.wall.name, "raising"), registry)
    own = panel.rule
    asking = rules if own is None else [own, *rules] if own.is_open else [own]
    for rule in asking:
        for answer in asked.several(rule, rule.ways, panel.panel, site):
            movement = asked.whole(rule, answer, Movement)
            wrong = unfit(movement, panel.panel)
            if wrong:
                raise asked.fault(rule, wrong)
            if movement.clad == panel.panel.is_clad:
                yield OfferedWay(rule.name, movement)


def unfit(movement: Movement, panel: Panel) -> str:
    """What is wrong with a movement, in words; empty where nothing is."""
    for volume in movement.swept:
        if isinstance(volume, Quarter) and (
            min(volume.length, volume.radius) <= 0.0 or not _is_square(volume.run, volume.into)
        ):
            return "returned a quarter cylinder without size, or whose sides are not square"
    for prism in (*(v for v in movement.swept if isinstance(v, Prism)), *movement.spots, *movement.free):
        if len(prism.outline) < 3 or not _is_sound(prism.outline):
            return "returned a prism whose outline is not convex and anticlockwise"
        if prism.top <= prism.bottom:
            return "returned a prism whose top is not over its bottom"
    if not 0.0 <= movement.share <= 1.0:
        return f"lifts {movement.share:g} of the weight; accepted is a share from 0 to 1"
    route = movement.route
    if route is not None and (min(route.length, route.width) <= 0.0 or route.top <= route.bottom):
        return "returned a route for something without size"
    swept = [volume for volume in movement.swept if isinstance(volume, Prism)]
    if not all(any(_holds(each, stands) for each in swept) for stands in panel.standing):
        return "returned a movement that does not end where the wall stands: it is in none of the prisms"
    return ""


def _is_sound(outline: Outline) -> bool:
    no_point = all(one != other for one, other in pairs(outline))
    turns = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs(outline))
    return no_point and turns > 0.0 and is_convex(outline)


def _is_square(run: Point, into: Point) -> bool:
    lengths = (run[0] ** 2 + run[1] ** 2, into[0] ** 2 + into[1] ** 2)
    return all(abs(each - 1.0) < 1e-6 for each in lengths) and abs(run[0] * into[0] + run[1] * into[1]) < 1e-6


def _holds(outer: Prism, inner: Prism) -> bool:
    """Whether a prism lies within another, as near as touching is."""
    return (
        outer.bottom <= inner.bottom + TOUCH
        and outer.top >= inner.top - TOUCH
        and all(
            across * x + along * y <= side + TOUCH
            for across, along, side in outer.sides
            for x, y in inner.outline
        )
    )
