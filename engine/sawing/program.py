"""The linear program over patterns, and the patterns it asks for.

Gilmore and Gomory's column generation (A linear programming approach to the cutting-stock problem,
Operations Research 9, 1961) with the number of each stock length as a variable of its own:

    least   sum c_s n_s + price x shortfall
    so that sum over patterns of a_ip x_p            >= demand_i       for each part type i
            sum over patterns of s of x_p            <= n_s + spread_s x shortfall
            least_s <= n_s <= most_s

With the numbers n fixed it measures how far n falls short of holding the parts; with n free it is the
cheapest relaxed plan. One program serves both: the solver starts each time from where it ended last.

Its columns are, in this order: the numbers of each stock type, the shortfall, the patterns. Its rows are the
part types, then the stock types.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import highspy
import numpy as np
import numpy.typing as npt

from soleplate.engine.sawing.effort import Effort
from soleplate.engine.sawing.job import SawJob
from soleplate.engine.sawing.knapsack import Knapsack, Values
from soleplate.engine.sawing.solver import new_solver

Floats = npt.NDArray[np.float64]

TOLERANCE: Final = 1e-7

SPARSE: Final = 8
"""Where parts are few of a kind, so many more patterns are taken at once, from what the best one leaves.

Patterns that go together save many rounds; with parts many of a kind they come by themselves.
"""


@dataclass(frozen=True, slots=True)
class Relaxed:
    """A solution of the linear program."""

    objective: float
    shortfall: float
    numbers: Floats
    """Lengths of each stock type."""
    times: Floats
    """How often each pattern of the pool is cut."""
    worth: Floats
    """Dual value of each part type."""
    rent: Floats
    """Dual value of one length of each stock type."""


class PatternProgram:
    """The linear program of a job with a growing pool of patterns."""

    def __init__(self, job: SawJob, knapsack: Knapsack) -> None:
        self.job = job
        self.knapsack = knapsack
        self.stock_of: list[int] = []
        self._known: set[tuple[int, tuple[int, ...]]] = set()

        # The patterns and whether each may be cut; both grow to twice their size when they are full.
        self._matrix = np.zeros((256, len(job.parts)), dtype=np.int64)
        self._open = np.ones(256, dtype=bool)

        self._kinds = len(job.stocks)
        self._first = self._kinds + 1
        self._companions = 9 if self._kinds == 1 else SPARSE // (1 + sum(job.demands) // len(job.parts))
        self._solver = new_solver()
        self._build()
        self._add_singles()

    @property
    def patterns(self) -> npt.NDArray[np.int64]:
        """The pool, one pattern a row."""
        return self._matrix[: len(self.stock_of)]

    def _build(self) -> None:
        """The rows, and the columns of numbers and shortfall."""
        parts, kinds, solver = len(self.job.parts), self._kinds, self._solver

        # The primal simplex: columns are added all the time, and keep the last solution feasible.
        solver.setOptionValue("simplex_strategy", 4)

        nothing_i, nothing_f = np.array([], dtype=np.int32), np.array([], dtype=np.float64)
        infinity = highspy.kHighsInf
        solver.addRows(
            parts + kinds,
            np.array([*self.job.demands, *[-infinity] * kinds], dtype=np.float64),
            np.array([*[infinity] * parts, *[0.0] * kinds], dtype=np.float64),
            0, np.zeros(parts + kinds, dtype=np.int32), nothing_i, nothing_f,
        )  # fmt: skip

        for stock, kind in enumerate(self.job.stocks):
            solver.addCol(
                float(kind.cost), 0.0, float(kind.available), 1,
                np.array([parts + stock], dtype=np.int32), np.array([-1.0]),
            )  # fmt: skip

        # A unit of shortfall allows one more bar of every stock type.
        solver.addCol(
            0.0, 0.0, infinity, kinds,
            np.arange(parts, parts + kinds, dtype=np.int32), np.full(kinds, -1.0),
        )  # fmt: skip

    def _add_singles(self) -> None:
        """One part alone on a length, for each part type: with these the program always has a solution."""
        stocks = self.job.stocks
        for part, kind in enumerate(self.job.parts):
            fits = [
                s for s in range(self._kinds) if stocks[s].room >= kind.size and part < self.job.allowed(s)
            ]

            # On the longest of the stock there is most of.
            alone = tuple(int(other == part) for other in range(len(self.job.parts)))
            self.add(max(fits, key=lambda s: (stocks[s].available, stocks[s].room)), alone)

    def ask_cost(self, most: Sequence[int], penalty: float) -> None:
        """Seek the cheapest relaxed plan with at most `most` lengths of each stock type."""
        kinds = self._kinds
        columns = np.arange(kinds + 1, dtype=np.int32)
        costs = np.array([*(kind.cost for kind in self.job.stocks), penalty], dtype=np.float64)
        self._solver.changeColsCost(kinds + 1, columns, costs)
        self.set_numbers([0] * kinds, most)

    def ask_shortfall(self, numbers: Sequence[float]) -> None:
        """Seek how far exactly these numbers of lengths fall short of holding the parts."""
        kinds = self._kinds
        columns = np.arange(kinds + 1, dtype=np.int32)
        self._solver.changeColsCost(kinds + 1, columns, np.array([*[0.0] * kinds, 1.0]))
        self.set_numbers(numbers, numbers)

    def set_numbers(self, least: Sequence[float], most: Sequence[float]) -> None:
        """Bounds of the numbers of lengths of each stock type."""
        kinds = self._kinds
        self._solver.changeColsBounds(
            kinds,
            np.arange(kinds, dtype=np.int32),
            np.array(least, dtype=np.float64),
            np.array(most, dtype=np.float64),
        )

    def set_demands(self, demands: Sequence[int]) -> None:
        """Parts still wanted; patterns that would yield more of a type than that are closed."""
        parts = len(self.job.parts)
        self._solver.changeRowsBounds(
            parts,
            np.arange(parts, dtype=np.int32),
            np.array(demands, dtype=np.float64),
            np.full(parts, highspy.kHighsInf),
        )

        # Only columns that change are told to the solver.
        size = len(self.stock_of)
        fits = np.all(self.patterns <= np.asarray(demands), axis=1)
        changed = np.flatnonzero(fits != self._open[:size]).astype(np.int32)
        if len(changed):
            most = np.where(fits[changed], highspy.kHighsInf, 0.0)
            self._solver.changeColsBounds(len(changed), changed + self._first, np.zeros(len(changed)), most)
            self._open[:size] = fits

    def add(self, stock: int, pattern: tuple[int, ...]) -> bool:
        """Take a pattern into the pool; False if it was there."""
        if (stock, pattern) in self._known:
            return False
        self._known.add((stock, pattern))

        size = len(self.stock_of)
        if size == len(self._matrix):
            self._matrix = np.concatenate([self._matrix, np.zeros_like(self._matrix)])
            self._open = np.concatenate([self._open, np.ones_like(self._open)])
        self._matrix[size] = pattern
        self._open[size] = True
        self.stock_of.append(stock)

        cut = np.flatnonzero(self._matrix[size])
        rows = np.append(cut, len(self.job.parts) + stock).astype(np.int32)
        amounts = np.append(self._matrix[size][cut], 1).astype(np.float64)
        self._solver.addCol(0.0, 0.0, highspy.kHighsInf, len(rows), rows, amounts)
        return True

    def by_stock(self, numbers: Sequence[int]) -> list[tuple[int, npt.NDArray[np.int64]]]:
        """The pool's patterns for each stock type of which there are any."""
        stocks = np.array(self.stock_of)
        return [(stock, self.patterns[stocks == stock]) for stock, number in enumerate(numbers) if number]

    def solve(self) -> Relaxed:
        """Solve over the pool as it is."""
        self._solver.run()
        solution = self._solver.getSolution()
        values = np.array(solution.col_value)
        duals = np.array(solution.row_dual)
        parts, kinds = len(self.job.parts), self._kinds
        return Relaxed(
            objective=self._solver.getInfo().objective_function_value,
            shortfall=float(values[kinds]),
            numbers=values[:kinds],
            times=values[self._first :],
            worth=np.maximum(duals[:parts], 0.0),
            rent=np.maximum(-duals[parts:], 0.0),
        )

    def price(
        self, relaxed: Relaxed, limits: Sequence[int], most: Sequence[int]
    ) -> tuple[Values, list[int], bool]:
        """Add the patterns that the solution asks for.

        Returns the values of parts that were used, in whole numbers, the value of the best bar of each stock
        type at them, and whether a pattern was new.
        """
        # A pattern can make the solution better if its parts are worth more than the rent of its length.
        values = self.knapsack.whole(relaxed.worth)
        least = TOLERANCE * max(float(relaxed.rent.max(initial=0.0)), 1e-9)
        best = self.knapsack.best(values, limits)
        wanted = self._gainful(relaxed, best, most, least)
        found = list(wanted)

        # Companions: from the parts that the most gainful pattern leaves, the next, and so on.
        left = list(limits)
        for _ in range(self._companions):
            if not wanted:
                break
            _, pattern = max(
                wanted, key=lambda each: float(np.dot(each[1], relaxed.worth)) - relaxed.rent[each[0]]
            )
            left = [have - used for have, used in zip(left, pattern, strict=True)]
            wanted = self._gainful(relaxed, self.knapsack.best(values, left), most, least)
            found += wanted

        new = [self.add(stock, pattern) for stock, pattern in found]
        return values, best, any(new)

    def _gainful(
        self, relaxed: Relaxed, best: Sequence[int], most: Sequence[int], least: float
    ) -> list[tuple[int, tuple[int, ...]]]:
        """The best pattern of each stock type where it is worth more than the length's rent."""
        patterns = [
            (stock, self.knapsack.pattern(stock))
            for stock in range(self._kinds)
            if most[stock] and best[stock]
        ]
        return [
            (stock, pattern)
            for stock, pattern in patterns
            if float(np.dot(pattern, relaxed.worth)) - float(relaxed.rent[stock]) > least
        ]


def generate(
    program: PatternProgram,
    limits: Sequence[int],
    most: Sequence[int],
    effort: Effort,
    rounds: int | None = None,
) -> Relaxed:
    """Solve and price until no pattern is asked for, or for so many `rounds`.

    Without `rounds` it goes on at most until half of the effort is spent, to leave some for whole plans.
    """
    done = 0
    while True:
        relaxed = program.solve()
        effort.take()
        if not program.price(relaxed, limits, most)[2]:
            return relaxed
        done += 1
        if effort.spent() or (effort.half_spent if rounds is None else done >= rounds):
            return program.solve()
