"""The small linear programme over the numbers of lengths alone: the cuts known so far, in a box."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import highspy
import numpy as np

from soleplate.engine.sawing.cuts import Cut, least_cost
from soleplate.engine.sawing.job import Job
from soleplate.engine.sawing.solver import new_solver

FINE: Final = 2**24
"""Multipliers of cuts are rounded down to this fraction of the largest."""


class NumbersProgram:
    """Least cost of numbers of lengths under every cut added, fractions allowed."""

    def __init__(self, job: Job) -> None:
        self.job = job
        self.cuts: list[Cut] = []
        self._solver = new_solver()
        for stock in job.stocks:
            self._solver.addCol(float(stock.cost), 0.0, float(stock.available), 0, [], [])
        dear = 10.0 * sum(stock.cost for stock in job.stocks) + 1.0
        self._solver.addCol(dear, 0.0, highspy.kHighsInf, 0, [], [])

    def add(self, cut: Cut) -> None:
        """Hold one more cut."""
        self.cuts.append(cut)
        scale = float(max(cut.carry)) or 1.0
        columns = np.arange(len(cut.carry) + 1, dtype=np.int32)
        row = np.array([*(carry / scale for carry in cut.carry), 1.0])
        self._solver.addRow(cut.need / scale, highspy.kHighsInf, len(row), columns, row)

    def solve(self, least: Sequence[int], most: Sequence[int]) -> tuple[list[float], int | None]:
        """The numbers of least cost in a box, and an exact bound on the cost of all whole ones in it.

        The bound is that of one cut, the sum of all with the multipliers the linear programme gives; it
        is computed in whole numbers. None: the box holds no numbers that satisfy the cuts.
        """
        kinds = len(least)
        columns = np.arange(kinds, dtype=np.int32)
        self._solver.changeColsBounds(kinds, columns, np.array(least, dtype=float), np.array(most, dtype=float))
        self._solver.run()
        solution = self._solver.getSolution()
        duals = np.maximum(np.array(solution.row_dual), 0.0)
        duals /= np.array([float(max(cut.carry)) or 1.0 for cut in self.cuts])
        largest = float(duals.max(initial=0.0))
        whole = np.floor(duals * (FINE / largest)).astype(np.int64).tolist() if largest > 0 else [0] * len(duals)
        used = [(times, cut) for times, cut in zip(whole, self.cuts, strict=True) if times]
        carry = [sum(times * cut.carry[stock] for times, cut in used) for stock in range(kinds)]
        need = sum(times * cut.need for times, cut in used)
        return list(solution.col_value[:kinds]), least_cost(self.job, carry, need, least, most)
