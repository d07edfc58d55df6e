"""The small linear program over the numbers of lengths alone: the cuts known so far, in a box."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import highspy
import numpy as np
import numpy.typing as npt

from soleplate.engine.sawing.cuts import Cut, least_cost
from soleplate.engine.sawing.job import SawJob
from soleplate.engine.sawing.solver import new_solver

FINE: Final = 2**24
"""Multipliers of cuts are rounded down to this fraction of the largest."""


class NumbersProgram:
    """Least cost of numbers of lengths under every cut added, fractions allowed."""

    def __init__(self, job: SawJob) -> None:
        self.job = job
        self.cuts: list[Cut] = []
        self._solver = new_solver()
        for stock in job.stocks:
            self._solver.addCol(float(stock.cost), 0.0, float(stock.available), 0, [], [])
        self._dear = 10.0 * sum(stock.cost for stock in job.stocks) + 1.0
        self._solver.addCol(self._dear, 0.0, highspy.kHighsInf, 0, [], [])

    def add(self, cut: Cut) -> None:
        """Hold one more cut."""
        self.cuts.append(cut)
        scale = float(max(cut.carry)) or 1.0
        columns = np.arange(len(cut.carry) + 1, dtype=np.int32)
        row = np.array([*(carry / scale for carry in cut.carry), 1.0])
        self._solver.addRow(cut.need / scale, highspy.kHighsInf, len(row), columns, row)

    def ranges(self, highest: int) -> tuple[list[int], list[int], list[list[float]]]:
        """The least and most of each stock type in numbers that satisfy the cuts and cost at most `highest`.

        Beside them the corners, fractions of lengths allowed, where these ends are met.
        """
        corners: list[list[float]] = []
        kinds = len(self.job.stocks)
        columns = np.arange(kinds + 1, dtype=np.int32)
        costs = np.array([*(float(stock.cost) for stock in self.job.stocks), 0.0])
        solver, infinity = self._solver, highspy.kHighsInf
        index = np.arange(kinds, dtype=np.int32)
        least = [0.0 if stock.cost else float(stock.available) for stock in self.job.stocks]
        most = [float(stock.available) for stock in self.job.stocks]
        solver.changeColsBounds(kinds, index, np.array(least), np.array(most))
        solver.changeColBounds(kinds, 0.0, 0.0)
        solver.addRow(-infinity, highest + 1e-6, kinds, index, costs[:kinds])
        for stock in range(kinds):
            if least[stock] == most[stock]:
                continue
            for sign, ends in ((1.0, least), (-1.0, most)):
                goal = np.zeros(kinds + 1)
                goal[stock] = sign
                solver.changeColsCost(kinds + 1, columns, goal)
                solver.run()
                if solver.getModelStatus() == highspy.HighsModelStatus.kOptimal:
                    ends[stock] = sign * solver.getInfo().objective_function_value
                    corners.append(list(solver.getSolution().col_value[:kinds]))
        solver.deleteRows(1, np.array([solver.getNumRow() - 1], dtype=np.int32))
        costs[kinds] = self._dear
        solver.changeColsCost(kinds + 1, columns, costs)
        solver.changeColBounds(kinds, 0.0, infinity)
        return [math.ceil(end - 1e-4) for end in least], [math.floor(end + 1e-4) for end in most], corners

    def solve(self, least: Sequence[int], most: Sequence[int]) -> tuple[list[float], int | None]:
        """The numbers of least cost in a box, and an exact bound on the cost of all whole ones in it.

        The bound is that of one cut, the sum of all with the multipliers the linear program gives; it
        is computed in whole numbers. None: the box holds no numbers that satisfy the cuts.
        """
        kinds = len(least)
        columns = np.arange(kinds, dtype=np.int32)
        self._solver.changeColsBounds(
            kinds, columns, np.array(least, dtype=float), np.array(most, dtype=float)
        )
        self._solver.run()
        solution = self._solver.getSolution()
        multipliers = self.multipliers()
        whole = np.floor(multipliers * FINE).astype(np.int64).tolist()
        used = [(times, cut) for times, cut in zip(whole, self.cuts, strict=True) if times]
        carry = [sum(times * cut.carry[stock] for times, cut in used) for stock in range(kinds)]
        need = sum(times * cut.need for times, cut in used)
        return list(solution.col_value[:kinds]), least_cost(self.job, carry, need, least, most)

    def multipliers(self) -> npt.NDArray[np.float64]:
        """The cuts' multipliers at the last solution, the largest of them 1."""
        duals = np.maximum(np.array(self._solver.getSolution().row_dual, dtype=np.float64), 0.0)
        duals /= np.array([float(max(cut.carry)) or 1.0 for cut in self.cuts])
        largest = float(duals.max(initial=0.0))
        return duals / largest if largest > 0 else duals
