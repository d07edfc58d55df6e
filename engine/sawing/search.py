"""The search: which numbers of lengths to take, cheapest first.

A plan is a choice of how many lengths of each kind, and a packing of them. Near the least cost that the cuts
known so far allow, there are few choices, few enough to list. Each that cannot hold the parts gives a cut,
which strikes off many others. What is listed next is a little dearer, until a choice can be packed: that plan
is then proven best. (Benders 1962 with the pattern program as the sub-problem; for one stock length it comes
down to Gilmore and Gomory's bound and a search for a plan that meets it.)

A proof rests on this: cuts and bounds are whole-number arithmetic. Listing numbers uses doubles where they
are exact, or with an allowance. Two verdicts of the solver are trusted: the range that the small linear
program gives each number of lengths, with a ten-thousandth of a length to spare, and "no solution" of the
integer program by which numbers with little slack are refuted (`leaf`).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from soleplate.engine.sawing.candidates import Candidates, candidates
from soleplate.engine.sawing.cuts import Cut, cut_from, least_cost
from soleplate.engine.sawing.effort import Effort
from soleplate.engine.sawing.first_plan import first_plan
from soleplate.engine.sawing.job import Bar, SawJob
from soleplate.engine.sawing.program import generate
from soleplate.engine.sawing.trial import Trials, Verdict

Rows = npt.NDArray[np.int64]

LISTED: Final = 16_000_000
"""How many beginnings of numbers are followed at once, times cuts and stock types."""

SAMPLE: Final = 20
"""Numbers tried from a list that is not complete, before another is made."""

RANGES: Final = 32
"""The first range of cost is this part of the gap."""


@dataclass(frozen=True, slots=True)
class Found:
    """What a search found: the bars, their cost, and a bound that no plan's cost is below."""

    bars: list[Bar]
    cost: int
    bound: int


def search(job: SawJob, effort: Effort) -> Found:
    """The best bars found for a job, and a bound on the cost of any.

    The job must have stock without limit for every part.
    """
    first = first_plan(job)

    # Without any effort to spend there is the bound of plain length.
    if effort.spent():
        rooms = [stock.room for stock in job.stocks]
        need = sum(part.size * part.demand for part in job.parts)
        bound = least_cost(job, rooms, need, [0] * len(rooms), [stock.available for stock in job.stocks])
        return Found(first, job.cost(first), bound or 0)

    return Search(job, first, effort).run()


class Search:
    """One job's search."""

    def __init__(self, job: SawJob, first: list[Bar], effort: Effort) -> None:
        self.job = job
        self.effort = effort
        self.trials = Trials(job, first, effort)
        self.price = np.array([stock.cost for stock in job.stocks], dtype=np.int64)
        self.low = 0
        """No plan costs less, but for numbers left undecided."""
        self.undecided: list[tuple[int, tuple[int, ...]]] = []
        """(cost, numbers) that could be neither packed nor refuted so far."""

    @property
    def bound(self) -> int:
        """The least cost that any plan can still have."""
        return min([self.trials.cost, self.low, *(cost for cost, _ in self.undecided)])

    def run(self) -> Found:
        """Search until proven or the effort is spent."""
        self._root()
        self._sweep()
        self._again()
        return Found(self.trials.bars, self.trials.cost, self.bound)

    def _root(self) -> None:
        """Cuts of plain length and of the cheapest relaxed plan, then the first dive."""
        trials, job = self.trials, self.job

        # Short stock is no help to parts that need straight stock: these have a cut of their own.
        sizes = np.array([part.size for part in job.parts], dtype=np.float64)
        straight = sizes * [not part.short for part in job.parts]
        for worth in (sizes, straight):
            if worth.any():
                self._cut(worth)

        # The worths of the relaxed plan give Gilmore and Gomory's bound.
        if self.low < trials.cost:
            trials.program.ask_cost(trials.most, trials.penalty)
            relaxed = generate(trials.program, job.demands, trials.most, self.effort)
            self._cut(relaxed.worth)

        if self.low < trials.cost:
            trials.dive(trials.most)

    def _cut(self, worth: npt.NDArray[np.float64]) -> None:
        """Take in the cut of these part values and raise the bound by it."""
        trials = self.trials
        trials.numbers.add(cut_from(self.job, trials.knapsack, trials.knapsack.whole(worth)))

        # Lengths that cost nothing are all taken: more room makes no plan dearer.
        least = [0 if stock.cost else stock.available for stock in self.job.stocks]
        _, bound = trials.numbers.solve(least, trials.most)
        self.low = max(self.low, trials.cost if bound is None else min(bound, trials.cost))

    def _sweep(self) -> None:
        """Try numbers, cheapest first, in ranges of cost narrow enough to be listed whole.

        Where even one cost has too many, a part of them is tried: among so many one can often be packed.
        """
        step = self.job.step
        width = (self.trials.cost - self.low) // RANGES
        while self.low < self.trials.cost and not self.effort.spent():
            high = min(self.trials.cost - step, self.low + width // step * step)
            listed = self._listed(high)

            if not listed.complete and high > self.low:
                width = (high - self.low) // 2
                continue

            before = self.effort.steps
            self._try_all(listed)
            if self.effort.spent():
                return

            # All that cost so much are done: go on with dearer ones, in a wider range. Where only some were
            # tried, the next list is made with the new cuts; without any it would be the same.
            if listed.complete:
                self.low = min(high + step, self.trials.cost)
                width = 2 * width + step
            elif self.effort.steps == before:
                return

    def _listed(self, high: int) -> Candidates:
        """Numbers up to this cost that the cuts allow; where they are too many, more cuts are sought."""
        numbers = self.trials.numbers
        while True:
            # The box that the cuts leave; empty where nothing is so cheap.
            least, most, corners = numbers.ranges(high)
            if not all(map(int.__le__, least, most)):
                return Candidates(np.zeros((0, len(self.price)), dtype=np.int64), complete=True)

            numbers.solve(least, most)
            hint = numbers.multipliers()
            listed = candidates(self.job, numbers.cuts, (self.low, high), (least, most), LISTED, hint)
            if listed.complete:
                return listed

            # More cuts make fewer choices, as long as enough corners of the box can be cut off.
            new = self._corner_cuts(corners)
            for cut in new:
                numbers.add(cut)
            if 4 * len(new) <= len(corners) or self.effort.spent():
                return listed

    def _corner_cuts(self, corners: Sequence[Sequence[float]]) -> list[Cut]:
        """Cuts that corners of what the cuts allow break, though no whole numbers lie there."""
        found = []
        for corner in corners:
            if self.effort.spent():
                break
            cut = self.trials.shortfall(corner)
            if cut is not None:
                found.append(cut)
        return found

    def _try_all(self, listed: Candidates) -> None:
        """Try listed numbers, the cheapest first and of these the roomiest; new cuts strike some off."""
        rows, tried = listed.rows, 0
        known = {numbers for _, numbers in self.undecided}
        cuts = self.trials.numbers.cuts
        seen = 0
        while not self.effort.spent():
            # Strike off what cuts found since the last look exclude, and what is no cheaper than the best.
            for cut in cuts[seen:]:
                rows = rows[rows @ np.array(cut.carry) >= cut.need]
            seen = len(cuts)
            cost = rows @ self.price
            rows, cost = rows[cost < self.trials.cost], cost[cost < self.trials.cost]
            if not len(rows) or (tried >= SAMPLE and not listed.complete):
                return

            self.low = max(self.low, int(cost.min()))
            pick = self._roomiest(rows, np.flatnonzero(cost == cost.min()))
            numbers = tuple(rows[pick].tolist())
            if numbers in known:
                rows = np.delete(rows, pick, axis=0)
                continue

            # A new cut strikes the numbers off itself; whatever else was found, they are done with here.
            tried += 1
            verdict = self.trials.first_trial(numbers)
            if verdict is Verdict.OPEN:
                self.undecided.append((int(cost[pick]), numbers))
            if verdict is not Verdict.CUT:
                rows = np.delete(rows, pick, axis=0)

    def _roomiest(self, rows: Rows, among: Rows) -> int:
        """The row whose tightest cut has most slack."""
        slacks = [
            (rows[among] @ np.array(cut.carry) - cut.need) / max(cut.carry)
            for cut in self.trials.numbers.cuts
        ]
        return int(among[int(np.min(slacks, axis=0).argmax())])

    def _again(self) -> None:
        """Numbers left open are tried again, cheapest first, each time with more allowed."""
        round_ = 1
        while not self.effort.spent():
            self.undecided = [each for each in self.undecided if each[0] < self.trials.cost]
            if not self.undecided:
                return
            for cost, numbers in sorted(self.undecided):
                if cost >= self.trials.cost or self.effort.spent():
                    break
                if self.trials.trial(numbers, round_) is Verdict.REFUTED:
                    self.undecided.remove((cost, numbers))
            round_ += 1
