"""A rule run at the limits of its parameters on the generated buildings."""

from __future__ import annotations

import json
import random
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import replace
from importlib.metadata import entry_points
from typing import Any, Final, get_args

from pydantic import ValidationError

from soleplate.engine.building_file import Building, BuildingError
from soleplate.engine.contract.breach import Breach, Fault
from soleplate.engine.contract.buildings import buildings
from soleplate.engine.contract.described import described
from soleplate.engine.contract.values import parameter_sets
from soleplate.engine.contract.watching import Allowed, SlowError, Watch, watched
from soleplate.engine.laying_out import lay_out
from soleplate.engine.layout import Layout
from soleplate.engine.raising import yard_of
from soleplate.engine.registry import (
    GROUP,
    OWN,
    Patience,
    PluginLoadError,
    RegisteredRule,
    Registry,
    RuleError,
    load_registry,
    rule_name,
    sentence,
)
from soleplate.engine.rules import RaisingRule, Role, Rule, families
from soleplate.engine.shapes import Roles

PLUGIN: Final = "this-plugin"
"""What the rule's plugin is called while it is tried."""

CASES: Final = 60
"""Pairs of parameters and building."""

PLACE: Final[dict[str, Any]] = {
    "framing_place": {"polygon": [[0, -4000], [3000, -4000], [3000, -2000], [0, -2000]]}
}
"""The site of buildings on which rules are tried that raise walls: frames can be carried."""

Case = tuple[dict[str, Any], dict[str, Any]]
"""Parameters, and a building file that asks for them."""


def rule_breaches(
    model: type[Rule],
    allowed: Allowed,
    cases: int = CASES,
    roles: Iterable[Role] = (),
    without: Collection[str] = (),
) -> tuple[Breach, ...]:
    """All that breaks the contract of a rule; see `contract.breaches`."""
    missing = tuple(described(model))
    family = families.family_of(model)
    if family is None:
        return (*missing, Breach("half made", "it is derived from no family's base class"))
    installed = first_party(without)
    known_roles = {**installed.roles, **{role.name: role for role in roles}}
    installed = replace(installed, roles=Roles(tuple(known_roles.values())))
    try:
        name = rule_name(PLUGIN, model)
    except PluginLoadError as error:
        return missing or (Breach("half made", error.message),)
    known = [rule for rule in installed.of_family(family.name) if rule.name == name]
    if known and known[0].model is not model:
        taken = f"the rule name {name!r} is taken by one that ships with Soleplate"
        return (*missing, Breach("half made", taken))
    wrong = tuple(_examples(installed.narrowed(model)))
    if wrong:
        return (*missing, *wrong)
    watch = Watch(allowed.seconds)
    rule = RegisteredRule(family.name, name, PLUGIN, watched(model, watch))
    tried = with_rule(installed, rule, allowed.patience)
    return (*missing, *_run(family.name, _cases(model, installed, cases), tried, installed, watch))


def _examples(model: type[Rule]) -> Iterator[Breach]:
    """What is wrong with the examples of a rule that picks others, among those that ship."""
    for example in model.examples:
        try:
            model.model_validate_json(json.dumps(example))
        except ValidationError as error:
            place = "/".join(map(str, error.errors()[0]["loc"]))
            yield Breach("half made", f"an example is not valid at {place}: {error.errors()[0]['msg']}")


def first_party(without: Collection[str] = ()) -> Registry:
    """What ships with Soleplate alone, so that another plugin's fault is not taken for this one's."""
    ours = (entry.name for entry in entry_points(group=GROUP) if entry.dist and entry.dist.name == OWN)
    registry = load_registry(only=[name for name in ours if name not in without])
    return replace(registry, drawing_layers=(), exporters=(), checks=())


def with_rule(installed: Registry, rule: RegisteredRule, patience: Patience) -> Registry:
    """What is installed with one rule more, or with that in place of its namesake."""
    others = [each for each in installed.rules if (each.family, each.name) != (rule.family, rule.name)]
    rules = tuple(sorted((*others, rule), key=lambda each: (each.family, each.name)))
    return replace(installed, rules=rules, patience=patience)


def _run(
    family: str, cases: Iterable[Case], tried: Registry, installed: Registry, watch: Watch
) -> Iterator[Breach]:
    found: set[tuple[str, str]] = set()
    roles: set[str] | None = None
    refusal = ""
    for parameters, value in cases:
        watch.seen.clear()
        told: list[tuple[Fault, str]] = []
        try:
            layout = lay_out(tried.read_building(value), tried)
            if family == RaisingRule.family:
                told += _of_raising(layout, tried.read_building(value), tried)
            roles = (roles or set()) | {piece.role for wall in layout.walls for piece in wall.pieces}
        except SlowError as error:
            yield Breach("too slow", str(error), parameters, value)
            return
        except BuildingError as error:
            # As a rule the building is at fault: an opening too near a corner, a wall too low.
            refusal = str(error.faults[0])
        except Exception as error:
            told = list(_told(error, family, value, installed))
        for fault, message in (*watch.seen, *told):
            # One of each kind is enough: the author mends it and runs it again.
            key = (fault, message.split(" ")[0] if fault == "failure" else "")
            if key not in found:
                found.add(key)
                yield Breach(fault, message, parameters, value)
    if not found:
        yield from _in_vain(family, roles if watch.answered else None, refusal)


def _of_raising(layout: Layout, building: Building, tried: Registry) -> Iterator[tuple[Fault, str]]:
    """What a rule that raises walls answers of each wall, which others may not change."""
    turned = layout.model_copy(update={"walls": layout.walls[::-1]})
    once, again = (yard_of(each, building, tried).question.ways for each in (layout, turned))
    if [repr(ways) for ways in once] != [repr(ways) for ways in again]:
        yield (
            "not the same twice",
            "ways returned other movements of a wall after it was asked of another one",
        )


def _told(
    error: Exception, family: str, value: Mapping[str, Any], installed: Registry
) -> Iterator[tuple[Fault, str]]:
    """What an error says of the rule that is tried, if it is at fault."""
    if isinstance(error, RuleError):
        if error.plugin == PLUGIN or not _fails_without(family, value, installed):
            yield error.fault, error.message.split(": ", 1)[-1]
    elif not _fails_without(family, value, installed):
        # A property of a rule is met outside of its methods.
        yield "failure", sentence(error)


def _in_vain(family: str, roles: Collection[str] | None, refusal: str) -> Iterator[Breach]:
    """Whether a rule that breaks nothing does nothing either; `roles` are of all pieces laid out."""
    if roles is None:
        yield Breach(
            "refuses everything", f"no generated building is laid out with it; the last time: {refusal}"
        )
        return
    role = next(each.left_out for each in families.FAMILIES if each.name == family)
    if role is not None and role not in roles:
        yield Breach(
            "outside the wall", f"none of its {role}s has room in any generated wall: the engine left all out"
        )


def _fails_without(family: str, value: Mapping[str, Any], installed: Registry) -> bool:
    """Whether a building fails with the stand-in of the family too: then it is another rule's fault."""
    try:
        lay_out(installed.read_building(_without(value, family)), installed)
    except BuildingError:
        return False
    except Exception:
        return True
    return False


def _cases(model: type[Rule], installed: Registry, most: int) -> Iterator[Case]:
    """Pairs of parameters and a building that asks for them, its other rules drawn from what is installed."""
    draw = random.Random(model.__name__)  # noqa: S311 - the same every time is wanted
    made, sets = buildings(), parameter_sets(installed.narrowed(model))
    examples = sets[: max(len(model.examples), 1)]
    pairs = [(examples[index % len(examples)], value) for index, value in enumerate(made)]
    pairs += [(one, draw.choice(made)) for one in sets[len(examples) :]]
    pairs += [(draw.choice(sets), draw.choice(made)) for _ in range(max(most - len(pairs), 0))]
    for index, (parameters, value) in enumerate(pairs[:most]):
        others = _drawn_rules(model.family, installed, draw) if index % 2 else {}
        asked = asking_for(value, model.family, parameters, others)
        yield parameters, asked | {"site": PLACE} if model.family == RaisingRule.family else asked


def asking_for(
    value: Mapping[str, Any], family: str, parameters: Mapping[str, Any], others: Mapping[str, Any]
) -> dict[str, Any]:
    """A building file that asks for a rule, and for others beside it."""
    copy: dict[str, Any] = json.loads(json.dumps(value))
    copy["defaults"] = {**others, **_asked(family, parameters)}
    for pick in _elsewhere(family):
        for holder in _holders(copy, pick):
            holder[pick.member] = dict(parameters) if pick.most is None else [dict(parameters)]
    return copy


def _without(value: Mapping[str, Any], family: str) -> dict[str, Any]:
    """A building file that asks for no rule of a family."""
    copy: dict[str, Any] = json.loads(json.dumps(value))
    for member in _asked(family, {}):
        copy["defaults"].pop(member, None)
    for pick in _elsewhere(family):
        for holder in _holders(copy, pick):
            holder.pop(pick.member, None)
    return copy


def _asked(family: str, parameters: Mapping[str, Any]) -> dict[str, Any]:
    """The members of `defaults` in which a rule of a family is asked for."""
    return {
        pick.member: dict(parameters) if pick.most is None else [dict(parameters)]
        for each, pick in families.choices()
        if each.name == family
    }


def _elsewhere(family: str) -> Iterator[families.Pick]:
    """Where a rule of a family is asked for that serves the whole building: its floor, its roof's frame."""
    for each in families.FAMILIES:
        if each.name == family:
            yield from (
                pick for pick in each.picks if pick.within is Building or isinstance(pick.within, tuple)
            )


def _holders(value: dict[str, Any], pick: families.Pick) -> Iterator[dict[str, Any]]:
    """The parts of a building file that have such a member: itself, or its roof, of a form that can."""
    if pick.within is Building:
        yield value
    elif isinstance(pick.within, tuple):
        forms = {form for model in pick.within for form in get_args(model.model_fields["form"].annotation)}
        if value["roof"]["form"] in forms:
            yield value["roof"]


def _drawn_rules(family: str, installed: Registry, draw: random.Random) -> dict[str, Any]:
    chosen: dict[str, Any] = {}
    for of, pick in families.choices():
        rules = installed.of_family(of.name)
        if of.name != family and rules and pick.most is None:
            chosen[pick.member] = dict(draw.choice(draw.choice(rules).model.examples))
    return chosen
