"""One sawing job in whole numbers: what the search works on.

A job is one section in one material. Lengths are whole *units* (see `soleplate.engine.sawing.jobs`), with
the saw kerf counted in. A part's size is its length and one kerf. A stock's room is its usable length and one
kerf, for the last part needs no cut after it. So parts fit a length exactly if their sizes add up to its room
or less.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from math import gcd
from operator import mul


@dataclass(frozen=True, slots=True)
class PartType:
    """Parts alike in size and grade."""

    size: int
    """Length and one kerf, in units."""
    demand: int
    """How many are wanted."""
    short: bool
    """Whether they may also come from stock that is good for short pieces only."""


@dataclass(frozen=True, slots=True)
class StockType:
    """Lengths alike in room, cost and grade."""

    room: int
    """Usable length and one kerf, in units."""
    cost: int
    """What taking one adds to the objective, a whole number of its smallest units."""
    available: int
    """How many there are; of lengths on sale, as many as could be needed."""
    short: bool
    """Whether it is good for short pieces only."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One length and what is cut from it: a count for each part type of the job."""

    stock: int
    pattern: tuple[int, ...]


@dataclass(frozen=True)
class SawJob:
    """Part types, those that may be short first and each kind by falling size, and stock types."""

    parts: tuple[PartType, ...]
    stocks: tuple[StockType, ...]

    @cached_property
    def shorts(self) -> int:
        """The number of part types that any stock may yield; they come first."""
        return sum(part.short for part in self.parts)

    @cached_property
    def sizes(self) -> tuple[int, ...]:
        """The size of each part type."""
        return tuple(part.size for part in self.parts)

    @cached_property
    def demands(self) -> tuple[int, ...]:
        """How many of each part type are wanted."""
        return tuple(part.demand for part in self.parts)

    @cached_property
    def step(self) -> int:
        """The greatest common divisor of the costs: no two plans differ by less."""
        return gcd(*(stock.cost for stock in self.stocks)) or 1

    def allowed(self, stock: int) -> int:
        """How many part types, counted from the first, may come from `stock`."""
        return self.shorts if self.stocks[stock].short else len(self.parts)

    def cost(self, bars: Sequence[Bar]) -> int:
        """What the bars cost together."""
        return sum(self.stocks[bar.stock].cost for bar in bars)

    def filled(self, pattern: Sequence[int]) -> int:
        """The room that a pattern takes, in units."""
        return sum(map(mul, self.sizes, pattern))

    def round_up(self, bound: int) -> int:
        """The least cost that a plan can have, given that it costs `bound` or more."""
        return -(-bound // self.step) * self.step
