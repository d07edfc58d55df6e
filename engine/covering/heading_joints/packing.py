"""Packing: given boards are cut from lengths anew, by two quick methods."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterable, Sequence
from typing import Final, NamedTuple

from soleplate.engine.covering.heading_joints.task import Kinds
from soleplate.engine.covering.heading_joints.ways import GRID

FULL: Final = 60
"""Tenths of a millimetre of waste at which a length is full and no better sum is looked for."""


class CutBoard(NamedTuple):
    """A board on a length: its size, its run, and the places of the run where it begins and ends."""

    size: int
    run: int
    start: int
    end: int


Packing = list[list[CutBoard]]
"""The boards of each length."""


def cost_of_all(packing: Packing, kinds: Kinds) -> int:
    """The cost of all lengths, each of the cheapest kind that holds its boards."""
    return sum(kinds.costs[kinds.cheapest(sum(board.size for board in boards))] for boards in packing)


def best_fit(boards: Iterable[CutBoard], kinds: Kinds, order: Sequence[int]) -> Packing:
    """Cut the longest board first, each from the rest that it fits best, or else from a new length.

    A new length is of the first kind in `order` that is long enough (best-fit decreasing; Johnson 1974).
    """
    packing: Packing = []
    # (room left, length), sorted, so that the first rest with enough room is the tightest.
    rests: list[tuple[int, int]] = []

    for board in sorted(boards, reverse=True):
        at = bisect_left(rests, (board.size, -1))
        if at < len(rests):
            room, length = rests.pop(at)
        else:
            room = next(kinds.rooms[kind] for kind in order if kinds.rooms[kind] >= board.size)
            length = len(packing)
            packing.append([])

        packing[length].append(board)
        insort(rests, (room - board.size, length))

    return packing


def one_by_one(boards: Iterable[CutBoard], kinds: Kinds) -> Packing:
    """Fill one length after another, each as well as can be.

    The longest board left goes on first, with the sum of others that wastes least of some kind of length
    (repeated exhaustion; Gilmore and Gomory 1961). Among equal sums that of the longest boards is taken.
    """
    # By size, the longest first: boards of one size may stand for each other.
    left: dict[int, list[CutBoard]] = {}
    for board in sorted(boards, reverse=True):
        left.setdefault(board.size, []).append(board)

    packing: Packing = []
    while left:
        first = next(iter(left))
        length = []
        for size in (first, *_beside(first, left, kinds)):
            length.append(left[size].pop())
            if not left[size]:
                del left[size]
        packing.append(length)
    return packing


def _beside(first: int, left: dict[int, list[CutBoard]], kinds: Kinds) -> list[int]:
    """The sizes to cut beside `first`; worked out in whole tenths of a millimetre.

    The sums that boards can make are the bits of one long number: bit 5 is set where they can make up 5.
    Adding a board shifts the number by its size, which gives all sums with it at once.
    """
    # For each kind of length: the space beside `first`, and the space that its price would buy at the
    # lowest price there is. A sum that comes up to the latter wastes nothing.
    price, best = kinds.best
    taken = _tenths(first)
    spaces = [
        (room // GRID - taken, cost * best // price // GRID - taken)
        for room, cost in zip(kinds.rooms, kinds.costs, strict=True)
        if room >= first
    ]
    top = max(space for space, _ in spaces)
    within = (1 << (top + 1)) - 1

    # Sums that are good enough to stop at, for each kind: (the least of them, a mask of how many follow).
    full = [
        (max(worth - FULL, 0), (1 << (space - max(worth - FULL, 0) + 1)) - 1)
        for space, worth in spaces
        if worth - FULL <= space
    ]

    # Boards are added longest first. `before` keeps the sums that there were without each, to read from them
    # afterwards which boards make up the chosen sum.
    sums, sizes, before = 1, [], []
    for size, boards in left.items():
        tenths = _tenths(size)
        if tenths > top:
            continue
        for _ in range(min(len(boards) - (size == first), top // tenths)):
            before.append(sums)
            sizes.append(size)
            sums |= (sums << tenths) & within
        if any(sums >> lowest & those for lowest, those in full):
            break

    # The sum that leaves least of some kind unused; of equal ones the greatest.
    fills = [(_most(sums, space), worth) for space, worth in spaces]
    fill = min(fills, key=lambda each: (each[1] - each[0], -each[0]))[0]

    # From the last board back: it was needed if the sum could not be made without it.
    chosen = []
    for size, without in zip(reversed(sizes), reversed(before), strict=True):
        if not without >> fill & 1:
            chosen.append(size)
            fill -= _tenths(size)
    return chosen


def _most(sums: int, space: int) -> int:
    """The greatest sum within a space."""
    return (sums & ((1 << (space + 1)) - 1)).bit_length() - 1


def _tenths(size: int) -> int:
    return -(-size // GRID)
