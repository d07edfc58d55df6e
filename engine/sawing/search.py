"""The search: branch on how many lengths of each kind to take, cheapest first.

Boxes of numbers of lengths wait in order of an exact lower bound. The cheapest box gives, by the cuts known
so far, numbers to try. Either they cannot hold the parts even in the relaxed programme, which yields a new
cut; or a dive packs them, which is a plan; or they are decided exactly (`leaf`); or they stay open, and keep
the bound honest.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

import numpy as np

from soleplate.engine.sawing.candidates import candidates
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

LISTED: Final = 200_000

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
        self.low = 0
        self.undecided: list[tuple[int, Numbers]] = []
        self.serial = 0
        self.stats = {"boxes": 0, "tried": 0, "refuted": 0, "dives": 0, "leaves": 0, "mips": 0, "open": 0}

    @property
    def bound(self) -> int:
        """The least cost that any plan can still have."""
        return min([self.cost, self.low, *(cost for cost, _ in self.undecided)])

    def run(self) -> Found:
        """Search until proven or the effort is spent."""
        for bar in self.bars:
            self.program.add(bar.stock, bar.pattern)
        self._root()
        self.low = self._bounded()
        self._sweep()
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
        return min(bound, self.cost)

    def _add(self, cut: Cut) -> None:
        self.numbers.add(cut)

    def _cost_of(self, numbers: Numbers) -> int:
        return sum(stock.cost * number for stock, number in zip(self.job.stocks, numbers, strict=True))

    def _sweep(self) -> None:
        """Try numbers, cheapest first, in ranges of cost that can be listed whole."""
        job = self.job
        price = np.array([stock.cost for stock in job.stocks], dtype=np.int64)
        width = (self.cost - self.low) // 32
        while self.low < self.cost and not self.effort.spent():
            high = min(self.cost - job.step, self.low + width)
            least, most, corners = self.numbers.ranges(high)
            self.stats["boxes"] += 1
            if not all(map(int.__le__, least, most)):
                self.low = min(high + job.step, self.cost)
                width = 2 * width + job.step
                continue
            _, bound = self.numbers.solve(least, most)
            hint = self.numbers.multipliers()
            rows = candidates(job, self.numbers.cuts, (self.low, high), (least, most), LISTED, hint)
            if rows is None:
                new = [cut for corner in corners if (cut := self._shortfall(corner)) is not None]
                self.stats["corner"] = self.stats.get("corner", 0) + len(new)
                for cut in new:
                    self._add(cut)
                if len(new) < len(corners) / 4 + 1:
                    if high <= self.low:
                        self.stats["wide"] = 1
                        return
                    width = (high - self.low) // 2
                continue
            cost = rows @ price
            fresh = 0
            self.stats["listed"] = self.stats.get("listed", 0) + len(rows)
            while len(rows) and not self.effort.spent():
                cuts = self.numbers.cuts[fresh:]
                for cut in cuts:
                    keep = rows @ np.array(cut.carry) >= cut.need
                    rows, cost = rows[keep], cost[keep]
                fresh = len(self.numbers.cuts)
                keep = cost < self.cost
                rows, cost = rows[keep], cost[keep]
                if not len(rows):
                    break
                self.low = int(cost.min())
                level = np.flatnonzero(cost == self.low)
                slack = np.min([(rows[level] @ np.array(cut.carry) - cut.need) / max(cut.carry) for cut in self.numbers.cuts], axis=0)
                pick = int(level[int(slack.argmax())])
                numbers = tuple(rows[pick].tolist())
                verdict = self._try(numbers)
                if verdict == "open":
                    self.stats["open"] += 1
                    self.undecided.append((self.low, numbers))
                if verdict != "cut":
                    rows, cost = np.delete(rows, pick, axis=0), np.delete(cost, pick)
            if self.effort.spent():
                return
            self.low = min(high + job.step, self.cost)
            width = 2 * width + job.step

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


def search(job: Job, effort: Effort) -> Found:
    """The best bars found for a job, and a bound on the cost of any.

    The job must have stock without limit for every part.
    """
    first = first_plan(job)
    if effort.spent():
        return Found(first, job.cost(first), 0)
    return Search(job, first, effort).run()
