"""What any choice of joints must buy.

Give each board a worth: its size in whole tenths of a millimetre, rounded down. No length carries more
worth than the greatest sum of such sizes that its room holds, however they repeat; every run takes
up at least the worth of its cheapest way. So the lengths bought, each counted with what it can carry,
reach the sum over all runs; the cheapest numbers of lengths that do are a bound (the argument by which a dual
solution bounds cutting stock; Gilmore and Gomory 1961). Sums that boards can't make up are
thereby no room at all: with supports 600 apart a length of 2.9 m carries 2.4 m.

Runs that are never jointed are counted besides: of those that take up some size or more, a length carries no
more than that size goes into its room (the same argument, each of them worth 1 and all others nothing).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from soleplate.engine.covering.heading_joints.ways import GRID

MOST_TRIED: Final = 400
"""Choices of numbers of lengths that are looked at before the plain quotient has to do."""


def carried(sizes: Iterable[int], rooms: Sequence[int]) -> list[int]:
    """The greatest worth that a length of each room can carry."""
    top = max(rooms) // GRID
    within = (1 << (top + 1)) - 1
    reached = 1
    for size in sorted({size // GRID for size in sizes} - {0}):
        step = size
        while step <= top:
            reached |= (reached << step) & within
            step *= 2
    return [(reached & ((1 << (room // GRID + 1)) - 1)).bit_length() - 1 for room in rooms]


def thresholds(sizes: Sequence[int], rooms: Sequence[int]) -> list[tuple[int, list[int]]]:
    """For each size of runs that are never jointed: how many are no smaller, and how many each room carries.

    Of sizes that rooms carry alike only the smallest is told, since it counts the most runs.
    """
    falling = sorted(sizes, reverse=True)
    found: dict[tuple[int, ...], int] = {}
    for number, size in enumerate(falling, start=1):
        found[tuple(room // size for room in rooms)] = number
    return [(number, list(carry)) for carry, number in found.items() if any(carry)]


def least_cost(costs: Sequence[int], carry: Sequence[int], need: int, enough: int | None = None) -> int:
    """The least cost of lengths that carry `need` together, or a lower bound on it.

    `enough` is the cost of a choice that is known to do, if there is one: nothing dearer is looked at.
    """
    kinds = sorted(
        ((cost, most) for cost, most in zip(costs, carry, strict=True) if most),
        key=lambda kind: kind[0] / kind[1],
    )
    best_cost, best_carry = kinds[0]
    floor = -(-need * best_cost // best_carry)
    tried = 0
    found = best_cost * -(-need // best_carry)
    if enough is not None:
        found = min(found, enough)

    def look(kind: int, spent: int, lacking: int) -> None:
        nonlocal tried, found
        tried += 1
        if tried > MOST_TRIED or found <= floor:
            return
        if lacking <= 0:
            found = min(found, spent)
            return
        # With only kinds from here on, each carries at most as much for its money as the first of them.
        cost, most = kinds[kind]
        if spent + -(-lacking * cost // most) >= found:
            return
        if kind == len(kinds) - 1:
            found = min(found, spent + cost * -(-lacking // most))
            return
        for count in range(-(-lacking // most), -1, -1):
            look(kind + 1, spent + count * cost, lacking - count * most)

    look(0, 0, need)
    return max(floor, found) if tried <= MOST_TRIED else floor
