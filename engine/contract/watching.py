"""Watching a plugin's method: asked twice, timed, and what it is given looked at before and after."""

from __future__ import annotations

import inspect
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any, Final, TypeVar

from soleplate.engine.contract.breach import Fault
from soleplate.engine.registry import Patience, PluginError, drawn_out
from soleplate.engine.rules import CannotFrame, Rule

Answer = TypeVar("Answer")

PATIENCE: Final = 10.0
"""Times the seconds that a call may take, after which one that never returns is stopped."""


class SlowError(BaseException):
    """A call took too long: enough is known, and every other would take as long again."""


@dataclass(frozen=True, slots=True)
class Allowed:
    """What one call into a plugin may take: seconds of processor time, and what ends one that never stops."""

    seconds: float
    at_last: Callable[[PluginError], object] | None = None

    @property
    def patience(self) -> Patience:
        """After which a call that never returns is stopped."""
        return Patience(PATIENCE * self.seconds, at_last=self.at_last)


@dataclass(slots=True)
class Watch:
    """What was seen of the calls so far: how many were answered and refused, and faults in words.

    `seconds` of processor time are what one call may take.
    """

    seconds: float
    answered: int = 0
    refused: int = 0
    refusal: str = ""
    seen: list[tuple[Fault, str]] = field(default_factory=list)
    _inside: bool = False

    def ask(self, name: str, call: Callable[..., Answer], given: Sequence[object]) -> Answer:
        """The answer of a call, having looked at what it does; whatever it raises passes."""
        if self._inside:
            return call(*given)
        self._inside = True
        before = repr(given)
        try:
            start = time.thread_time()
            first: Answer = _whole(call(*given))
            middle = time.thread_time()
            told = repr(first)
            begin = time.thread_time()
            second = repr(_whole(call(*given)))
            taken = min(middle - start, time.thread_time() - begin)
        except CannotFrame as error:
            self.refused += 1
            self.refusal = str(error)
            raise
        finally:
            self._inside = False
            if repr(given) != before:
                self.seen.append(
                    ("changes what it is given", f"{name} changed its arguments, or its own members")
                )
        self.answered += 1
        if told != second:
            self.seen.append(
                ("not the same twice", f"{name} returned {_difference(told, second)} for the same arguments")
            )
        if taken > self.seconds:
            raise SlowError(
                f"{name} took {taken:.2f} s of processor time; accepted is up to {self.seconds:g} s"
            )
        return first


def watched(model: type[Rule], watch: Watch) -> type[Rule]:
    """The rule with its methods watched; in all else it is the same."""
    base = next(each for each in model.__mro__ if each.__dict__.get("family") == model.family)
    abstract = sorted(getattr(base, "__abstractmethods__", ()))
    methods = [name for name in abstract if inspect.isfunction(getattr(model, name))]

    def watching(name: str) -> Callable[..., Any]:
        method = getattr(model, name)
        return lambda rule, *given: watch.ask(name, method, (rule, *given))

    kind: Any = type(model)
    made: type[Rule] = kind(
        model.__name__,
        (model,),
        {"__module__": model.__module__, "__qualname__": model.__qualname__, "__doc__": model.__doc__}
        | {name: watching(name) for name in methods},
    )
    return made


def _whole(answer: Any) -> Any:
    """An answer in full, that of a generator too; nonsense is left for the engine to tell."""
    if isinstance(answer, bytes) or not hasattr(answer, "__iter__"):
        return answer
    return drawn_out(answer)


def _difference(one: str, other: str) -> str:
    """The first part in which two texts differ."""
    place = next((index for index, pair in enumerate(zip(one, other, strict=False)) if pair[0] != pair[1]), 0)
    start = max(place - 20, 0)
    return f"...{one[start : place + 20]}... and then ...{other[start : place + 20]}..."
