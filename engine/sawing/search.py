"""The search: branch on how many lengths of each kind to take, cheapest first.

Boxes of numbers of lengths wait in order of an exact lower bound. The cheapest box gives, by the cuts known
so far, numbers to try. Either they cannot hold the parts even in the relaxed programme, which yields a new
cut; or a dive packs them, which is a plan; or they are decided exactly (`leaf`); or they stay open, and keep
the bound honest.
"""

from __future__ import annotations

import heapq
import math
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from soleplate.engine.sawing.cuts import Cut, cut_from
from soleplate.engine.sawing.dive import dive
from soleplate.engine.sawing.effort import Effort
from soleplate.engine.sawing.first_plan import first_plan
from soleplate.engine.sawing.job import Bar, Job
from soleplate.engine.sawing.knapsack import Knapsack
from soleplate.engine.sawing.leaf import decide, tight_patterns
from soleplate.engine.sawing.numbers import NumbersProgram
from soleplate.engine.sawing.program import PatternProgram, generate

Numbers = tuple[int, ...]

DIVES: Final = 3
"""Dives into numbers that the relaxed programme can hold, before they are decided exactly."""


@dataclass
class Found:
    """What a search has to show: the bars, their cost and a bound no plan can beat."""

    bars: list[Bar]
    cost: int
    bound: int
    stats: dict[str, int] = field(default_factory=dict)


class Search:
    """One job's search."""

    def __init__(self, job: Job, first: list[Bar], effort: Effort) -> None:
        self.job = job
        self.effort = effort
        self.bars = first
        self.cost = job.cost(first)
        self.knapsack = Knapsack(job)
        self.program = PatternProgram(job, self.knapsack)
        self.numbers = NumbersProgram(job)
        self.penalty = 4.0 * sum(stock.cost for stock in job.stocks) + 1.0
        self.most = tuple(stock.available for stock in job.stocks)
        self.least = tuple(0 if stock.cost else stock.available for stock in job.stocks)
        self.waiting: list[tuple[int, int, Numbers, Numbers]] = []
        self.undecided: list[tuple[int, Numbers]] = []
        self.serial = 0
        self.stats = {"boxes": 0, "tried": 0, "refuted": 0, "dives": 0, "leaves": 0, "mips": 0, "open": 0}

    @property
    def bound(self) -> int:
        """The least cost that any plan can still have."""
        ahead = [self.waiting[0][0]] if self.waiting else []
        return min([self.cost, *ahead, *(cost for cost, _ in self.undecided)])

    def run(self) -> Found:
        """Search until proven or the effort is spent."""
        for bar in self.bars:
            self.program.add(bar.stock, bar.pattern)
        self._root()
        while self.waiting and not self.effort.spent():
            bound, _, least, most = heapq.heappop(self.waiting)
            if bound >= self.cost:
                self.waiting.clear()
                break
            self._visit(bound, least, most)
        self.undecided = [(cost, numbers) for cost, numbers in self.undecided if cost < self.cost]
        self._retry()
        return Found(self.bars, self.cost, self.bound, self.stats)

    def _keep(self, bars: list[Bar] | None) -> bool:
        if bars is None or self.job.cost(bars) >= self.cost:
            return False
        self.bars, self.cost = bars, self.job.cost(bars)
        for bar in bars:
            self.program.add(bar.stock, bar.pattern)
        return True

    def _root(self) -> None:
        """Cuts of plain length and of the relaxed plan, then the first dive."""
        sizes = np.array([part.size for part in self.job.parts], dtype=np.float64)
        straight = sizes * [not part.short for part in self.job.parts]
        for worth in (sizes, straight):
            if worth.any():
                self.numbers.add(cut_from(self.job, self.knapsack, self.knapsack.whole(worth)))
        self._push(0, self.least, self.most)
        if self._bounded() >= self.cost:
            return
        self.program.ask_cost(self.most, self.penalty)
        relaxed, _ = generate(self.program, self.job.demands, self.most, self.effort, 10_000)
        self._add(cut_from(self.job, self.knapsack, self.knapsack.whole(relaxed.worth)))
        if self._bounded() < self.cost:
            self.stats["dives"] += 1
            self._keep(dive(self.program, self.most, self.cost, self.penalty, self.effort))

    def _bounded(self) -> int:
        """The first box's bound by the cuts so far."""
        _, bound = self.numbers.solve(self.least, self.most)
        bound = self.cost if bound is None else bound
        self.waiting = [(bound, 0, self.least, self.most)]
        return bound

    def _add(self, cut: Cut) -> None:
        self.numbers.add(cut)

    def _push(self, bound: int, least: Numbers, most: Numbers) -> None:
        if all(map(int.__le__, least, most)):
            self.serial += 1
            heapq.heappush(self.waiting, (bound, -self.serial, least, most))

    def _visit(self, bound: int, least: Numbers, most: Numbers) -> None:
        """Tighten a box's bound; then split it, or try its numbers."""
        self.stats["boxes"] += 1
        found, exact = self.numbers.solve(least, most)
        if exact is None:
            return
        bound = max(bound, exact)
        if bound >= self.cost:
            return
        if self.waiting and bound > self.waiting[0][0]:
            self._push(bound, least, most)
            return
        away = [abs(number - round(number)) for number in found]
        stock = max(range(len(away)), key=lambda stock: (away[stock], -stock))
        if away[stock] > 1e-6:
            split = math.floor(found[stock])
            self._push(bound, least, (*most[:stock], split, *most[stock + 1 :]))
            self._push(bound, (*least[:stock], split + 1, *least[stock + 1 :]), most)
            return
        numbers = tuple(round(number) for number in found)
        verdict = self._try(numbers)
        if verdict == "cut":
            self._push(bound, least, most)
            return
        if verdict == "open":
            self.stats["open"] += 1
            self.undecided.append((max(bound, self._cost_of(numbers)), numbers))
        self._exclude(bound, numbers, least, most)

    def _cost_of(self, numbers: Numbers) -> int:
        return sum(stock.cost * number for stock, number in zip(self.job.stocks, numbers, strict=True))

    def _exclude(self, bound: int, numbers: Numbers, least: Numbers, most: Numbers) -> None:
        """Split what is left of a box around all numbers up to `numbers`."""
        for stock, number in enumerate(numbers):
            self._push(bound, (*least[:stock], max(number + 1, least[stock]), *least[stock + 1 :]), most)
            most = (*most[:stock], min(number, most[stock]), *most[stock + 1 :])

    def _try(self, numbers: Numbers) -> str:
        """Whether these numbers hold the parts: "packed", "cut", "refuted" or "open"."""
        self.stats["tried"] += 1
        if any(cut.slack(numbers) < 0 for cut in self.numbers.cuts):
            return "refuted"
        cut = self._shortfall(numbers)
        if cut is not None:
            self.stats["refuted"] += 1
            self._add(cut)
            return "cut"
        if self.effort.spent():
            return "open"
        for skip in range(DIVES):
            self.stats["dives"] += 1
            if self._keep(dive(self.program, numbers, self.cost, self.penalty, self.effort, skip)):
                return "packed"
        return self._decide(numbers)

    def _shortfall(self, numbers: Numbers) -> Cut | None:
        """A cut that these numbers break, if the relaxed programme cannot hold the parts in them."""
        program = self.program
        program.ask_shortfall(numbers)
        every = self.most
        while True:
            relaxed = program.solve()
            self.effort.take()
            if relaxed.shortfall < 1e-9:
                return None
            values, best, more = program.price(relaxed, self.job.demands, every)
            need = sum(value * demand for value, demand in zip(values.tolist(), self.job.demands, strict=True))
            cut = Cut(tuple(best), need, tuple(values.tolist()))
            if cut.slack(numbers) < 0:
                short = -cut.slack(numbers) / max(sum(best), 1)
                if not more or short > 0.7 * relaxed.shortfall:
                    return cut
            if not more or self.effort.spent():
                return None

    def _decide(self, numbers: Numbers) -> str:
        self.stats["leaves"] += 1
        listed = tight_patterns(self.job, self.knapsack, self.numbers.cuts, numbers)
        if listed is None:
            return "open"
        self.stats["mips"] += 1
        bars, certain = decide(self.job, listed, numbers, min(2.0, self.effort.seconds_left))
        if self._keep(bars):
            return "packed"
        return "refuted" if certain else "open"

    def _retry(self) -> None:
        """More dives into the numbers left open, cheapest first."""
        skip = DIVES
        while self.undecided and not self.effort.spent() and skip < 40:
            for _, numbers in sorted(self.undecided):
                if not self.effort.spent():
                    self.stats["dives"] += 1
                    self._keep(dive(self.program, numbers, self.cost, self.penalty, self.effort, skip))
            self.undecided = [(cost, numbers) for cost, numbers in self.undecided if cost < self.cost]
            skip += 1


def search(job: Job, effort: Effort) -> Found | None:
    """The best bars found for a job and a bound; None where even the first plan runs out of stock."""
    first = first_plan(job)
    if first is None:
        return None
    if effort.spent():
        return Found(first, job.cost(first), 0)
    return Search(job, first, effort).run()
