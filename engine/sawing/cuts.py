"""What the numbers of lengths must satisfy, in whole numbers that can be trusted.

A cut is here what it is in integer programming, an inequality that cuts off choices; a saw cut is a `SawCut`.
Give each part type i any worth p_i >= 0, and let V_s be the most that one length of stock s can carry
(a knapsack). Numbers n_s of lengths that hold all parts then satisfy

    sum V_s n_s >= sum p_i demand_i

whatever p is. Duals of the pattern program make the inequality sharp; rounding them makes it less sharp, but
never wrong. (The dual bound of Gilmore and Gomory 1961 and Farley 1990, kept in the space of
the numbers of lengths, as in the decomposition of Benders 1962.)
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cmp_to_key
from typing import TypeVar

from soleplate.engine.sawing.job import SawJob
from soleplate.engine.sawing.knapsack import Knapsack, Values

Number = TypeVar("Number", int, float)


@dataclass(frozen=True, slots=True)
class Cut:
    """`sum carry_s n_s >= need` for every plan; `values` are the worths of part types that it comes from."""

    carry: tuple[int, ...]
    need: int
    values: tuple[int, ...]

    def slack(self, numbers: Sequence[Number]) -> Number:
        """By how much `numbers` satisfy it; negative where they cannot hold the parts."""
        return sum(carry * number for carry, number in zip(self.carry, numbers, strict=True)) - self.need


def cut_from(job: SawJob, knapsack: Knapsack, values: Values) -> Cut:
    """The cut of these part values."""
    worth = tuple(values.tolist())
    need = sum(value * demand for value, demand in zip(worth, job.demands, strict=True))
    return Cut(tuple(knapsack.best(values, job.demands)), need, worth)


def least_cost(
    job: SawJob, carry: Sequence[int], need: int, least: Sequence[int], most: Sequence[int]
) -> int | None:
    """The least cost of numbers in a box with `sum carry_s n_s >= need`, were fractions allowed, rounded up.

    None where no numbers in the box meet the need.
    """
    cost = sum(stock.cost * number for stock, number in zip(job.stocks, least, strict=True))
    need -= sum(each * number for each, number in zip(carry, least, strict=True))

    def dearer(one: int, other: int) -> int:
        return job.stocks[one].cost * carry[other] - job.stocks[other].cost * carry[one]

    for stock in sorted((s for s in range(len(carry)) if carry[s] > 0), key=cmp_to_key(dearer)):
        if need <= 0:
            break
        spare = most[stock] - least[stock]
        if carry[stock] * spare < need:
            cost += job.stocks[stock].cost * spare
            need -= carry[stock] * spare
        else:
            cost += -(-job.stocks[stock].cost * need // carry[stock])
            need = 0
    return job.round_up(cost) if need <= 0 else None
