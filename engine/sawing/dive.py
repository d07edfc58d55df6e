"""From a relaxed plan to a real one: fix some bars, price again, fix more.

This is a diving heuristic with column generation on what is left. Patterns that the relaxed plan cuts whole
times are fixed first, or else its largest fraction; then new patterns are sought for the parts left alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np

from soleplate.engine.sawing.effort import Effort
from soleplate.engine.sawing.first_plan import best_fit
from soleplate.engine.sawing.job import Bar
from soleplate.engine.sawing.program import PatternProgram, Relaxed, generate

ROUNDS: Final = 10
"""Pricing rounds after each fixing."""

AT_ONCE: Final = 150
"""For each so many lengths still to fix, one more fraction is fixed at once."""


def dive(
    program: PatternProgram, most: Sequence[int], below: int, penalty: float, effort: Effort, skip: int = 0
) -> list[Bar] | None:
    """A plan of at most `most` lengths of each stock type that costs less than `below`; `None` if none is.

    `skip` fixes the (skip + 1)-th largest fraction first, for another dive from the same place.
    """
    job = program.job

    # What is still to be cut, and the lengths that may still be taken.
    left, numbers = list(job.demands), list(most)
    bars: list[Bar] = []
    spent = 0

    best: list[Bar] | None = None
    program.ask_cost(numbers, penalty)
    try:
        while any(left) and not effort.spent():
            # At every depth a quick packing of the rest may already give a better plan.
            finish = best_fit(
                job, left, numbers, lambda stock, size: (job.stocks[stock].room, job.stocks[stock].cost)
            )
            if finish is not None and spent + job.cost(finish) < below:
                best = [*bars, *finish]
                below = spent + job.cost(finish)

            program.set_demands(left)
            program.set_numbers([0] * len(numbers), numbers)
            relaxed = generate(program, left, numbers, effort, ROUNDS)

            # Given up where the rest doesn't fit, or where even the relaxed plan is no better than the best.
            if (
                relaxed.shortfall > 1e-6
                or job.round_up(int(np.ceil(spent + relaxed.objective - 1e-6))) >= below
            ):
                break

            # Bars may yield more of a part than is wanted: one may have taken what the next was to yield.
            for bar in _fixed(program, relaxed, skip):
                skip = 0
                if all(map(int.__le__, bar.pattern, left)) and numbers[bar.stock]:
                    bars.append(bar)
                    spent += job.stocks[bar.stock].cost
                    numbers[bar.stock] -= 1
                    left = [have - used for have, used in zip(left, bar.pattern, strict=True)]

        if not any(left) and spent < below:
            best = bars
    finally:
        # The program is shared: whoever asks next expects it to be about all parts.
        program.set_demands(job.demands)
    return best


def _fixed(program: PatternProgram, relaxed: Relaxed, skip: int) -> list[Bar]:
    """The bars to fix: the whole part of every pattern's times, or those of the largest fractions."""
    whole = np.floor(relaxed.times + 1e-6).astype(int)
    job = program.job
    if whole.any() and not skip:
        return [
            Bar(program.stock_of[index], tuple(program.patterns[index].tolist()))
            for index in np.flatnonzero(whole).tolist()
            for _ in range(whole[index])
        ]

    # The largest fraction first; of equal ones the pattern that leaves least.
    sizes = np.array(job.sizes)
    used = np.flatnonzero(relaxed.times > 1e-6)
    rooms = np.array([job.stocks[program.stock_of[index]].room for index in used])
    spare = rooms - program.patterns[used] @ sizes
    order = sorted(
        range(len(used)), key=lambda at: (-round(float(relaxed.times[used[at]]), 6), int(spare[at]), at)
    )

    first = min(skip, len(order) - 1)
    at_once = 1 + int(relaxed.times.sum()) // AT_ONCE
    return [
        Bar(program.stock_of[index], tuple(program.patterns[index].tolist()))
        for index in (int(used[at]) for at in order[first : first + at_once])
    ]
