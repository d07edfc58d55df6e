"""The contract of plugins: whether a rule, layer, exporter or check keeps what the engine asks of it.

One call, in a test of any runner, or `python -m soleplate.engine.contract PLUGIN` without one:

    from soleplate.engine import contract

    def test_it_keeps_the_contract():
        contract.check(MyRule)

A rule of any family is run at the limits of its own parameters on generated buildings, the same ones every
time; layers, exporters and checks on the layouts of these. What is broken is told in the author's terms, all
of it at once, with the parameters and the building that show it.

Not found are: a result that differs between runs of Python (the order of a set), and what no generated
building brings about.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Collection, Iterable
from typing import Any, Final

from soleplate.engine.contract.breach import Breach, ContractBroken, Fault
from soleplate.engine.contract.extensions import check_breaches, exporter_breaches, layer_breaches
from soleplate.engine.contract.rules import CASES, rule_breaches
from soleplate.engine.contract.watching import Allowed
from soleplate.engine.registry import PluginError
from soleplate.engine.rules import DrawingLayer, Exporter, Finding, Role, Rule

SECONDS: Final = 1.0
"""Of processor time that one call into a plugin may take with one wall or layout; those that ship take some
hundredths."""

Offer = type[Rule] | type[DrawingLayer] | type[Exporter] | Callable[..., Iterable[Finding]]
"""What a plugin offers: a class, or the function that implements `check_layout`."""

__all__ = ["CASES", "SECONDS", "Breach", "ContractBroken", "Fault", "Offer", "breaches", "check"]


def check(offer: Offer, *, seconds: float = SECONDS, cases: int = CASES, roles: Iterable[Role] = ()) -> None:
    """Hold what a plugin offers to the contract.

    Args:
        offer: a rule of any family, a drawing layer, an exporter, or a `check_layout` function.
        seconds: of processor time that one call into it may take.
        cases: pairs of parameters and a building that a rule is run on; more find more, and take longer.
        roles: those that a rule's plugin offers, beside those that ship.

    Raises:
        ContractBroken: with every breach; an `AssertionError`, so that any test runner tells it as a failure.
        TypeError: it is nothing that a plugin offers.
    """
    found = breaches(offer, seconds=seconds, cases=cases, roles=roles)
    if found:
        raise ContractBroken(offer.__name__, found)


def breaches(
    offer: Offer,
    *,
    seconds: float = SECONDS,
    cases: int = CASES,
    roles: Iterable[Role] = (),
    without: Collection[str] = (),
    at_last: Callable[[PluginError], object] | None = None,
) -> tuple[Breach, ...]:
    """All that breaks the contract, one of each kind and place.

    Arguments and errors as `check`; `without` names plugins that ship which a rule is tried without, for one
    that takes their place, and `at_last` ends the process where one catches every stop and goes on.
    """
    given: Any = offer
    allowed = Allowed(seconds, at_last)
    if inspect.isclass(given) and issubclass(given, Rule):
        return rule_breaches(given, allowed, cases, roles, without)
    if inspect.isclass(given) and issubclass(given, DrawingLayer):
        return layer_breaches(given, allowed)
    if inspect.isclass(given) and issubclass(given, Exporter):
        return exporter_breaches(given, allowed)
    if inspect.isfunction(given):
        return check_breaches(given, allowed)
    raise TypeError(f"{offer!r} is no rule, drawing layer, exporter or check_layout function")
