"""Whether given numbers of lengths can hold all the parts, decided exactly where that is cheap.

If the numbers satisfy a cut with little slack, every bar of any plan with these numbers must carry nearly the
most it can: `V_s - slack` at least. When the slack is small, few patterns do, and they can be listed. An
integer program over the list then finds a plan, or proves that there is none.
"""

from __future__ import annotations

from collections.abc import Sequence

import highspy
import numpy as np
import numpy.typing as npt

from soleplate.engine.sawing.cuts import Cut
from soleplate.engine.sawing.job import Bar, SawJob
from soleplate.engine.sawing.knapsack import Knapsack
from soleplate.engine.sawing.solver import new_solver

ListedPatterns = list[tuple[int, npt.NDArray[np.int64]]]


def tight_patterns(
    job: SawJob, knapsack: Knapsack, cuts: Sequence[Cut], numbers: Sequence[int], most: int
) -> ListedPatterns | None:
    """Every pattern that a plan with these numbers may use, by the cuts; None if these are too many."""
    # Only parts with a worth are listed: cuts that give some parts none are of no use here.
    sharp = sorted(
        (cut for cut in cuts if min(cut.values) > 0), key=lambda cut: cut.slack(numbers) / max(cut.carry)
    )
    for cut in sharp[:3]:
        listed = _listed(job, knapsack, cut, cuts, numbers, most)
        if listed is not None:
            return listed
    return None


def _listed(
    job: SawJob, knapsack: Knapsack, cut: Cut, cuts: Sequence[Cut], numbers: Sequence[int], most: int
) -> ListedPatterns | None:
    """The same by one cut, sieved by the others."""
    # The listing reads the knapsack's table, which `best` makes for the worths of this cut.
    knapsack.best(np.array(cut.values, dtype=np.int64), job.demands)
    listed: ListedPatterns = []
    total = 0
    for stock, number in enumerate(numbers):
        if number:
            rows = knapsack.listing(stock, cut.carry[stock] - cut.slack(numbers), most - total)
            if rows is None:
                return None
            for other in cuts:
                rows = rows[rows @ np.array(other.values) >= other.carry[stock] - other.slack(numbers)]
            listed.append((stock, rows))
            total += len(rows)
    return listed


def decide(
    job: SawJob, listed: ListedPatterns, numbers: Sequence[int], seconds: float, nodes: int
) -> tuple[list[Bar] | None, bool]:
    """A plan from the listed patterns with at most these numbers of lengths, or None.

    The second value is true where it is certain that the list has none. At most so many `seconds` and `nodes`
    are spent.
    """
    parts = len(job.parts)

    # Rows: every part as often as it is wanted, and every stock type at most as often as there are numbers.
    solver = new_solver()
    infinity = highspy.kHighsInf
    none_i, none_f = np.array([], dtype=np.int32), np.array([], dtype=np.float64)
    rows = parts + len(numbers)
    lower = np.array([*job.demands, *[-infinity] * len(numbers)], dtype=np.float64)
    upper = np.array([*[infinity] * parts, *numbers], dtype=np.float64)
    solver.addRows(rows, lower, upper, 0, np.zeros(rows, dtype=np.int32), none_i, none_f)

    # Columns: how often each pattern is cut.
    columns: list[tuple[int, npt.NDArray[np.int64]]] = []
    for stock, patterns in listed:
        for pattern in patterns:
            cut = np.flatnonzero(pattern)
            index = np.append(cut, parts + stock).astype(np.int32)
            solver.addCol(
                0.0, 0.0, float(numbers[stock]), len(index), index, np.append(pattern[cut], 1).astype(float)
            )
            columns.append((stock, pattern))
    if not columns:
        return None, True

    solver.changeColsIntegrality(
        len(columns), np.arange(len(columns), dtype=np.int32), np.full(len(columns), 1, dtype=np.uint8)
    )
    solver.setOptionValue("presolve", "choose")
    solver.setOptionValue("mip_max_nodes", nodes)
    solver.setOptionValue("time_limit", seconds)
    solver.run()

    # Only "no solution" is a proof; a limit that was reached says nothing.
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return None, True
    if status != highspy.HighsModelStatus.kOptimal:
        return None, False

    times = np.rint(np.array(solver.getSolution().col_value)).astype(int)
    bars = [
        Bar(stock, tuple(pattern.tolist()))
        for (stock, pattern), count in zip(columns, times.tolist(), strict=True)
        for _ in range(count)
    ]

    # The solver works with tolerances: what it returns is checked in whole numbers.
    yielded = np.sum([bar.pattern for bar in bars], axis=0)
    enough = bool((yielded >= np.array(job.demands)).all())
    kept = all(sum(bar.stock == stock for bar in bars) <= number for stock, number in enumerate(numbers))
    return (bars, False) if enough and kept else (None, False)
