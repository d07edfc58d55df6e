"""Every choice of numbers of lengths that may still hold the parts, within a range of cost.

Numbers are set one stock type after another; a beginning is given up as soon as some cut can no longer
be met with the money left, by the fractional knapsack over the stock types to come. Sums stay far below
2**53, so that doubles hold them exactly; the knapsack's quotients are given an allowance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from soleplate.engine.sawing.cuts import Cut
from soleplate.engine.sawing.job import SawJob

ALLOWANCE: Final = 1e-9
"""By what share of its need a cut may seem to be missed: a million times the rounding of doubles."""

Floats = npt.NDArray[np.float64]
Rows = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Candidates:
    """Numbers of lengths, one choice a row."""

    rows: Rows
    complete: bool
    """Whether these are all there are in the range of cost asked for."""


def candidates(
    job: SawJob,
    cuts: Sequence[Cut],
    costs: tuple[int, int],
    box: tuple[Sequence[int], Sequence[int]],
    limit: int,
    hint: Floats,
) -> Candidates:
    """The numbers in `box` that cost from `costs[0]` to `costs[1]` and satisfy every cut.

    `hint` are multipliers of the cuts; the sum that they make strikes off beginnings which no single cut
    does. Where beginnings followed at once, times cuts and stock types to set, would be more than `limit`,
    only the roomiest are followed, and the list is not complete.
    """
    price = np.array([stock.cost for stock in job.stocks], dtype=np.int64)
    carry = np.array([cut.carry for cut in cuts], dtype=np.float64)
    need = np.array([cut.need for cut in cuts], dtype=np.float64)
    least, most = np.array(box[0], dtype=np.int64), np.array(box[1], dtype=np.int64)
    carry = np.vstack([carry, hint @ carry])
    need = np.append(need, hint @ need)
    room = np.zeros(1)
    complete = True
    followed = max(limit // (len(carry) * max(int((most > least).sum()), 1)), 1)
    order = sorted(range(len(price)), key=lambda stock: (most[stock] - least[stock], -price[stock], stock))
    rows = least[None, :].copy()
    left = costs[1] - rows @ price
    lacking = need - rows @ carry.T
    spare = most - least
    for place, stock in enumerate(order):
        later = order[place + 1 :]
        afford = left // price[stock] if price[stock] else np.full(len(left), spare[stock])
        count = np.clip(np.minimum(afford, spare[stock]), -1, None) + 1
        if int(count.sum()) > followed:
            complete = False
            many = max(followed * len(rows) // int(count.sum()), 1)
            kept = np.sort(np.argsort(-room, kind="stable")[:many])
            rows, left, lacking, count = rows[kept], left[kept], lacking[kept], count[kept]
        parent = np.repeat(np.arange(len(rows)), count)
        taken = np.arange(len(parent)) - np.repeat(np.cumsum(count) - count, count)
        left = left[parent] - taken * price[stock]
        lacking = lacking[parent] - taken[:, None] * carry[:, stock]
        dearest = int((spare[later] * price[later]).sum())
        keep = left <= costs[1] - costs[0] + dearest
        for index in range(len(carry)):
            at, most_carried = _reach(carry[index, later], price[later], spare[later])
            reach = np.interp(left, at, most_carried)
            spare_room = (reach - lacking[:, index]) / max(need[index], 1.0)
            keep &= spare_room >= -ALLOWANCE
            room = spare_room if index == 0 else np.minimum(room, spare_room)
        chosen = np.flatnonzero(keep)
        room = room[chosen]
        rows = rows[parent[chosen]]
        rows[:, stock] += taken[chosen]
        left, lacking = left[chosen], lacking[chosen]
    return Candidates(rows[(lacking[:, : len(cuts)] <= 0).all(axis=1)], complete)


def _reach(carry: Floats, price: Rows, spare: Rows) -> tuple[Floats, Floats]:
    """The most that can still be carried against the money left: corners of a concave line."""
    free = price == 0
    at, reach = [0.0], [float((carry[free] * spare[free]).sum())]
    paid = np.flatnonzero(~free)
    for stock in sorted(paid.tolist(), key=lambda stock: -carry[stock] / price[stock]):
        at.append(at[-1] + float(price[stock] * spare[stock]))
        reach.append(reach[-1] + float(carry[stock] * spare[stock]))
    return np.array(at), np.array(reach)
