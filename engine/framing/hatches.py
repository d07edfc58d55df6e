"""The rules of a part that lies: what frames its hatches and windows, and what decks it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.registry import Registry
from soleplate.engine.rules import CladdingRule, Hatch, OpeningRule, Rule


def framed_by_one(hatch: Hatch, registry: Registry, pointer: str) -> Hatch:
    """A hatch with the rule that frames it: that which usually does, where it has none.

    `pointer` is to the part in the building file.

    Raises:
        UnbuildableError: no installed rule usually does.
    """
    if hatch.framing is not None:
        return hatch
    openings = (each.model for each in registry.rules if issubclass(each.model, OpeningRule))
    model = next((model for model in openings if model.usual_for_hatches), None)
    if model is None:
        raise UnbuildableError.at(
            f"{pointer}/openings/{hatch.index}/framing", "missing; no installed rule stands in for it"
        )
    return replace(hatch, framing=model())


def refuse_rules_of_walls(
    hatches: Iterable[Hatch], deck: CladdingRule | None, registry: Registry, pointer: str, called: str
) -> None:
    """Refuse rules that serve walls alone, and say which would do.

    `called` is what a hatch of the part is called.

    Raises:
        UnbuildableError: one of them frames no hatch, or lays no deck.
    """
    for hatch in hatches:
        if hatch.framing is not None and not hatch.framing.frames_hatches:
            place = f"{pointer}/openings/{hatch.index}/framing"
            raise _refusal(place, hatch.framing, f"frames no {called}", registry)
    if deck is not None and not deck.decks:
        raise _refusal(f"{pointer}/deck", deck, "lays no deck", registry)


def _refusal(place: str, rule: Rule, why: str, registry: Registry) -> UnbuildableError:
    accepted = [
        each.name
        for each in registry.of_family(rule.family)
        if getattr(each.model, "frames_hatches", False) or getattr(each.model, "decks", False)
    ]
    return UnbuildableError.at(place, f"{rule.name} {why}; accepted are {', '.join(accepted)}")
