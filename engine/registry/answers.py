"""Whether what a plugin returned is of the kind that was asked for, down to its numbers.

Types in Python are promises. A plugin may break them, and what it returned would then fail far from it.
"""

from __future__ import annotations

import dataclasses
import math
import types
from collections.abc import Callable
from functools import cache
from typing import Any, Final, Literal, Union, get_args, get_origin, get_type_hints

MOST_SHOWN: Final = 60
"""Characters of a strange value that a message quotes."""

Check = Callable[[Any], str | None]


def wrong(answer: object, kind: Any) -> str | None:
    """What is wrong with an answer, in words; `None` where it is sound.

    `kind` is a dataclass, or what one is made of: numbers, texts, literals, tuples and unions of them.
    """
    look: Check = _check(kind)
    return look(answer)


def flaw(answer: object, kind: type[Any]) -> str | None:
    """The same of what is of that class, as a phrase: `a Role whose name is 3, not str`."""
    said = wrong(answer, kind)
    return said and f"a {kind.__name__} whose {said.lstrip('.')}"


@cache
def _check(kind: Any) -> Check:
    """How to look at a value of a kind; worked out once, for it is asked of every piece."""
    origin = get_origin(kind)
    if origin is Literal:
        return lambda value: None if value in get_args(kind) else _not(value, " or ".join(get_args(kind)))
    if origin in (Union, types.UnionType):
        return _any_of(get_args(kind))
    if origin is tuple:
        return _tuple(get_args(kind))
    if kind is float:
        return _number
    if isinstance(kind, type) and dataclasses.is_dataclass(kind):
        return _record(kind, [field.name for field in dataclasses.fields(kind) if field.init])
    if isinstance(kind, type) and issubclass(kind, tuple) and hasattr(kind, "_fields"):
        return _record(kind, list(kind._fields))
    return lambda value: None if isinstance(value, kind) else _not(value, kind.__name__)


def _number(value: Any) -> str | None:
    if type(value) is float and math.isfinite(value):
        return None
    if isinstance(value, bool) or not isinstance(value, int | float):
        return _not(value, "a number")
    return None if math.isfinite(value) else _not(value, "a finite number")


def _any_of(kinds: tuple[Any, ...]) -> Check:
    checks = [_check(kind) for kind in kinds]

    def look(value: Any) -> str | None:
        first: str | None = None
        for check in checks:
            said = check(value)
            if said is None:
                return None
            first = first or said
        return first

    return look


def _tuple(kinds: tuple[Any, ...]) -> Check:
    checks = [_check(kind) for kind in kinds if kind is not Ellipsis]
    repeats = Ellipsis in kinds

    def look(value: Any) -> str | None:
        if not isinstance(value, tuple):
            return _not(value, "a tuple")
        if not repeats and len(value) != len(checks):
            return _not(value, f"a tuple of {len(checks)}")
        each = checks * len(value) if repeats else checks
        for index, (item, check) in enumerate(zip(value, each, strict=True)):
            if said := check(item):
                return _within(f"[{index}]", said)
        return None

    return look


def _record(kind: type[Any], names: list[str]) -> Check:
    checks: list[tuple[str, Check]] = []

    def look(value: Any) -> str | None:
        if not isinstance(value, kind):
            return _not(value, kind.__name__)
        if not checks:
            # Not before it is asked for: what a record holds may hold such records in turn.
            hints = get_type_hints(kind)
            checks.extend((name, _check(hints[name])) for name in names)
        for name, check in checks:
            if said := check(getattr(value, name)):
                return _within(f".{name}", said)
        return None

    return look


def _within(step: str, said: str) -> str:
    """A place one step further out."""
    return f"{step}{said}" if said.startswith((".", "[")) else f"{step} {said}"


def _not(value: object, accepted: str) -> str:
    shown = repr(value)
    shown = shown if len(shown) <= MOST_SHOWN else f"{shown[:MOST_SHOWN]}..."
    return f"is {shown}, not {accepted}"
