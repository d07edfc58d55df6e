"""A lower bound: what any choice of joints must buy.

Give each board a worth: its size in whole tenths of a millimetre, rounded down. A length carries at most the
greatest sum of such sizes that its room holds, however often each is used. A run takes up at least the worth
of its cheapest way. So the lengths bought must together carry the sum over all runs, and the cheapest numbers
of lengths that do are a bound (the argument by which a dual solution bounds cutting stock; Gilmore and Gomory
1961). What no boards can make up counts as no room: with supports 600 apart a length of 2.9 m carries 2.4 m.

Runs that are never jointed are counted besides. Of those of some size or more, a length carries no more
than that size goes into its room (the same argument: each of them is worth 1, and all others nothing).
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

    # The sums that sizes can make are the bits of one long number. Shifts by a size, twice and four times it
    # and so on give all its multiples.
    sums = 1
    for size in sorted({size // GRID for size in sizes} - {0}):
        step = size
        while step <= top:
            sums |= (sums << step) & within
            step *= 2

    return [(sums & ((1 << (room // GRID + 1)) - 1)).bit_length() - 1 for room in rooms]


def thresholds(sizes: Sequence[int], rooms: Sequence[int]) -> list[tuple[int, list[int]]]:
    """For each size of runs that are never jointed: how many are no smaller, and how many each room carries.

    Of sizes that rooms carry alike only the smallest is returned, since it counts the most runs.
    """
    falling = sorted(sizes, reverse=True)

    # Later ones are smaller and overwrite those that rooms carry alike.
    found: dict[tuple[int, ...], int] = {}
    for number, size in enumerate(falling, start=1):
        found[tuple(room // size for room in rooms)] = number
    return [(number, list(carry)) for carry, number in found.items() if any(carry)]


def least_cost(costs: Sequence[int], carry: Sequence[int], need: int, enough: int | None = None) -> int:
    """The least cost of lengths that carry `need` together, or a lower bound on it where that takes too long.

    `enough` is the cost of a choice that is known to do, if there is one: nothing dearer is looked at.
    """
    # Cheapest first for what they carry: then the first kind of any tail bounds the whole tail.
    kinds = sorted(
        ((cost, most) for cost, most in zip(costs, carry, strict=True) if most),
        key=lambda kind: kind[0] / kind[1],
    )
    best_cost, best_carry = kinds[0]

    # Below the floor is nothing, even if lengths could be bought in parts.
    floor = -(-need * best_cost // best_carry)

    # Whole lengths of the best kind alone are one choice.
    tried = 0
    found = best_cost * -(-need // best_carry)
    if enough is not None:
        found = min(found, enough)

    def look(kind: int, spent: int, lacking: int) -> None:
        """Try every number of this kind, then of the kinds after it (branch and bound)."""
        nonlocal tried, found
        tried += 1
        if tried > MOST_TRIED or found <= floor:
            return

        if lacking <= 0:
            found = min(found, spent)
            return

        # The kinds from here on carry at most as much for their money as the first of them.
        cost, most = kinds[kind]
        if spent + -(-lacking * cost // most) >= found:
            return

        # The last kind must carry all that is lacking.
        if kind == len(kinds) - 1:
            found = min(found, spent + cost * -(-lacking // most))
            return

        for count in range(-(-lacking // most), -1, -1):
            look(kind + 1, spent + count * cost, lacking - count * most)

    look(0, 0, need)

    # A search that was broken off proves no more than the floor.
    return max(floor, found) if tried <= MOST_TRIED else floor
