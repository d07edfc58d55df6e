"""Which brace holds each panel, from when on, and after which step it may come off."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from soleplate.engine.raising.question import PlacedBrace, RaisingQuestion
from soleplate.engine.raising.search import OrderSearch, Step


@dataclass(frozen=True, slots=True)
class BraceUse:
    """A brace of a panel that is set up with one raise and may come off after another, by their places."""

    panel: int
    brace: PlacedBrace
    first: int
    off: int


def brace_uses(
    question: RaisingQuestion,
    search: OrderSearch,
    steps: Sequence[Step],
    blocked: int,
    crossed: Sequence[int],
) -> tuple[BraceUse, ...]:
    """The braces of an order, each kept as long as it can be: it is moved only where it is in the way.

    `crossed` are the bits of the braces that are in the way on which each step's panel is carried.
    """
    made: list[BraceUse] = []
    for first, step in enumerate(steps):
        panel, last = step.way.panel, first
        while last + 1 < len(steps) and search.alone(_after(steps[last])) >> panel & 1:
            last += 1
        # It must be held while the panels up to `last` are raised, the one that closes its corner among them.
        start = first
        while start < last:
            clear = [
                (_clear_until(brace, steps, start, last, crossed), brace)
                for brace in question.braces[panel]
                if not brace.bit & blocked and not brace.stands & _after(steps[start])
            ]
            until, brace = max(clear, key=lambda pair: pair[0])
            made.append(BraceUse(panel, brace, start, until))
            start = until
    return tuple(made)


def _after(step: Step) -> int:
    """The panels that stand after a step."""
    return step.standing | 1 << step.way.panel


def _clear_until(
    brace: PlacedBrace, steps: Sequence[Step], first: int, last: int, crossed: Sequence[int]
) -> int:
    """The last step up to which a brace that is set up with the first is in nobody's way."""
    for index in range(first + 1, last + 1):
        way = steps[index].way
        if (way.braces | crossed[index]) & brace.bit or brace.stands & steps[index].standing:
            return index - 1
    return last
