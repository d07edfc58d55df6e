"""Trying whether given numbers of lengths can hold the parts.

First the relaxed program, which may refute them with a cut. Then dives, which may pack them. Then an exact
decision (`leaf`), which may do either. What remains open can be tried again with more effort.
"""

from __future__ import annotations

from collections.abc import Sequence
from enum import Enum
from typing import Final

from soleplate.engine.sawing.cuts import Cut, cut_from
from soleplate.engine.sawing.dive import dive
from soleplate.engine.sawing.effort import Effort
from soleplate.engine.sawing.job import Bar, SawJob
from soleplate.engine.sawing.knapsack import Knapsack
from soleplate.engine.sawing.leaf import decide, tight_patterns
from soleplate.engine.sawing.numbers import NumbersProgram
from soleplate.engine.sawing.program import PatternProgram

DIVES: Final = 8
"""Dives at each trial of the same numbers, each from another first choice."""

DEEP_ENOUGH: Final = 0.7
"""A cut that excludes the numbers by this share of the deepest possible is taken without pricing on."""

EASY_PATTERNS: Final = 20_000
"""Patterns listed for an exact decision in the first round; twice as many in each later one."""

HARDEST: Final = 3
"""The round after which limits no longer grow."""

PATTERN_CELLS: Final = 4_000_000
"""Patterns listed, times part types, at most."""


class Verdict(Enum):
    """What a trial of numbers ended with."""

    PACKED = "a plan with these numbers was found"
    CUT = "a new cut excludes them"
    REFUTED = "they cannot hold the parts"
    OPEN = "not decided"


class Trials:
    """The best bars so far, and the programs by which numbers of lengths are tried."""

    def __init__(self, job: SawJob, first: list[Bar], effort: Effort) -> None:
        self.job = job
        self.effort = effort
        self.bars = first
        self.cost = job.cost(first)
        self.knapsack = Knapsack(job)
        self.program = PatternProgram(job, self.knapsack)
        self.numbers = NumbersProgram(job)
        self.most = tuple(stock.available for stock in job.stocks)
        # One unit of shortfall stands for a length more of every stock type, and must be dearer than those.
        self.penalty = 4.0 * sum(stock.cost for stock in job.stocks) + 1.0

        for bar in first:
            self.program.add(bar.stock, bar.pattern)

    def dive(self, numbers: Sequence[int], skip: int = 0) -> bool:
        """Dive into these numbers; whether that gave a better plan."""
        return self._keep(dive(self.program, numbers, self.cost, self.penalty, self.effort, skip))

    def first_trial(self, numbers: Sequence[int]) -> Verdict:
        """The relaxed program, then dives, then an exact decision."""
        if any(cut.slack(numbers) < 0 for cut in self.numbers.cuts):
            return Verdict.REFUTED

        cut = self.shortfall(numbers)
        if cut is not None:
            self.numbers.add(cut)
            return Verdict.CUT

        return self.trial(numbers, 0)

    def trial(self, numbers: Sequence[int], round_: int) -> Verdict:
        """Dives and an exact decision, with more allowed in each round."""
        for skip in range(round_ * DIVES, round_ * DIVES + DIVES):
            if self.effort.spent():
                return Verdict.OPEN
            if self.dive(numbers, skip):
                return Verdict.PACKED

        return self._decide(numbers, round_)

    def shortfall(self, numbers: Sequence[float]) -> Cut | None:
        """A cut that these numbers break, if not even the relaxed program can hold the parts in them."""
        program, demands = self.program, self.job.demands
        program.ask_shortfall(numbers)
        while True:
            relaxed = program.solve()
            self.effort.take()
            if relaxed.shortfall < 1e-9:
                return None

            # The duals of each round, rounded to whole numbers, give a cut that is true as it stands. How
            # deep it goes is what remains to be seen.
            values, best, more = program.price(relaxed, demands, self.most)
            need = sum(value * demand for value, demand in zip(values.tolist(), demands, strict=True))
            cut = Cut(tuple(best), need, tuple(values.tolist()))
            depth = -cut.slack(numbers) / max(sum(best), 1)

            # Later rounds may bring a deeper one, as deep as the shortfall at most.
            if depth > 0 and (not more or depth > DEEP_ENOUGH * relaxed.shortfall):
                return cut
            if not more or self.effort.spent():
                return None

    def _decide(self, numbers: Sequence[int], round_: int) -> Verdict:
        """An exact decision, or the best that the patterns known so far allow."""
        harder = 2 ** min(round_, HARDEST)

        # Where there are too many to list, the pool may still hold a plan, though it refutes nothing.
        most = min(EASY_PATTERNS * harder, PATTERN_CELLS // len(self.job.parts))
        listed = tight_patterns(self.job, self.knapsack, self._sharpened(numbers), numbers, most)
        complete = listed is not None
        if listed is None:
            listed = self.program.by_stock(numbers)

        seconds = min(2.0 * harder, self.effort.seconds_left)
        bars, none = decide(self.job, listed, numbers, seconds, 1000 * harder)
        self.effort.take(100 * harder)

        if self._keep(bars):
            return Verdict.PACKED
        return Verdict.REFUTED if none and complete else Verdict.OPEN

    def _sharpened(self, numbers: Sequence[int]) -> list[Cut]:
        """The cuts, and the tightest of them mixed with some plain length, so that every part has a worth."""
        cuts = list(self.numbers.cuts)
        sizes = [part.size for part in self.job.parts]
        cuts.sort(key=lambda cut: cut.slack(numbers) / max(cut.carry))
        for cut in cuts[:3]:
            largest = max(cut.values)
            for share in (0.02, 0.2):
                mixed = [v / largest + share * s / max(sizes) for v, s in zip(cut.values, sizes, strict=True)]
                cuts.append(cut_from(self.job, self.knapsack, self.knapsack.whole(mixed)))
        return cuts

    def _keep(self, bars: list[Bar] | None) -> bool:
        """Take these bars if they are better, and their patterns into the pool; whether they were."""
        if bars is None or self.job.cost(bars) >= self.cost:
            return False
        self.bars, self.cost = bars, self.job.cost(bars)
        for bar in bars:
            self.program.add(bar.stock, bar.pattern)
        return True
