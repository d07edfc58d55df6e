"""Every choice of numbers of lengths that may still hold the parts, within a range of cost.

Numbers are set one stock type after another; a beginning is given up as soon as some cut can no longer
be met with the money left, by the fractional knapsack over the stock types to come. Sums stay far below
2**53, so that doubles hold them exactly; the knapsack's quotients are given an allowance.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt
from soleplate.engine.sawing.cuts import Cut
from soleplate.engine.sawing.job import Job

Floats = npt.NDArray[np.float64]
Rows = npt.NDArray[np.int64]


def candidates(
    job: Job,
    cuts: Sequence[Cut],
    costs: tuple[int, int],
    box: tuple[Sequence[int], Sequence[int]],
    limit: int,
    hint: Floats | None = None,
) -> Rows | None:
    """All numbers in `box` that cost from `costs[0]` to `costs[1]` and satisfy every cut, one a row.

    None where more than `limit` beginnings would have to be followed at once.
    """
    price = np.array([stock.cost for stock in job.stocks], dtype=np.int64)
    carry = np.array([cut.carry for cut in cuts], dtype=np.float64)
    need = np.array([cut.need for cut in cuts], dtype=np.float64)
    least, most = np.array(box[0], dtype=np.int64), np.array(box[1], dtype=np.int64)
    if hint is not None:
        carry = np.vstack([carry, hint @ carry])
        need = np.append(need, hint @ need)
    order = sorted(range(len(price)), key=lambda stock: (most[stock] - least[stock], -price[stock], stock))
    rows = least[None, :].copy()
    left = costs[1] - rows @ price
    lacking = need - rows @ carry.T
    spare = most - least
    for place, stock in enumerate(order):
        later = order[place + 1 :]
        afford = left // price[stock] if price[stock] else np.full(len(left), spare[stock])
        count = np.clip(np.minimum(afford, spare[stock]), -1, None) + 1
        if int(count.sum()) > 4 * limit:
            return None
        parent = np.repeat(np.arange(len(rows)), count)
        taken = np.arange(len(parent)) - np.repeat(np.cumsum(count) - count, count)
        left = left[parent] - taken * price[stock]
        lacking = lacking[parent] - taken[:, None] * carry[:, stock]
        dearest = int((spare[later] * price[later]).sum())
        keep = left <= costs[1] - costs[0] + dearest
        for index in range(len(carry)):
            at, most_carried = _reach(carry[index, later], price[later], spare[later])
            reach = np.interp(left, at, most_carried)
            keep &= lacking[:, index] <= reach * (1 + 1e-9)
        chosen = np.flatnonzero(keep)
        rows = rows[parent[chosen]]
        rows[:, stock] += taken[chosen]
        left, lacking = left[chosen], lacking[chosen]
        if len(rows) > limit:
            return None
    return rows[(lacking[:, : len(cuts)] <= 0).all(axis=1)]


def _reach(carry: Floats, price: Rows, spare: Rows) -> tuple[Floats, Floats]:
    """The most that can still be carried against the money left: corners of a concave line."""
    free = price == 0
    at, reach = [0.0], [float((carry[free] * spare[free]).sum())]
    paid = np.flatnonzero(~free)
    for stock in sorted(paid.tolist(), key=lambda stock: -carry[stock] / price[stock]):
        at.append(at[-1] + float(price[stock] * spare[stock]))
        reach.append(reach[-1] + float(carry[stock] * spare[stock]))
    return np.array(at), np.array(reach)
