"""Given boards cut from lengths anew."""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterable, Sequence
from typing import Final, NamedTuple

from soleplate.engine.covering.heading_joints.task import Kinds
from soleplate.engine.covering.heading_joints.ways import GRID

FULL: Final = 60
"""Tenths of a millimetre of waste at which a length is full and no better sum is looked for."""


class Piece(NamedTuple):
    """A board on a length: its size, and the places of its run where it begins and ends."""

    size: int
    run: int
    start: int
    end: int


Cut = list[list[Piece]]
"""The boards of each length."""


def cost_of(cut: Cut, kinds: Kinds) -> int:
    """Of all lengths, each of the cheapest kind that holds its boards."""
    return sum(kinds.costs[kinds.cheapest(sum(piece.size for piece in pieces))] for pieces in cut)


def best_fit(pieces: Iterable[Piece], kinds: Kinds, order: Sequence[int]) -> Cut:
    """The longest first, each from the rest that it fits best or else from a new length.

    A new length is of the first kind in `order` that is long enough (best-fit decreasing; Johnson 1974).
    """
    cut: Cut = []
    rests: list[tuple[int, int]] = []
    for piece in sorted(pieces, reverse=True):
        at = bisect_left(rests, (piece.size, -1))
        if at < len(rests):
            room, length = rests.pop(at)
        else:
            room = next(kinds.rooms[kind] for kind in order if kinds.rooms[kind] >= piece.size)
            length = len(cut)
            cut.append([])
        cut[length].append(piece)
        insort(rests, (room - piece.size, length))
    return cut


def one_by_one(pieces: Iterable[Piece], kinds: Kinds) -> Cut:
    """One length after another, each filled as well as can be.

    The longest board left goes on first, with the sum of others that wastes least of some kind of length
    (repeated exhaustion; Gilmore and Gomory 1961). Sums are found in whole tenths of a millimetre as the bits
    of one long number; among equal ones that of the longest boards is taken.
    """
    left: dict[int, list[Piece]] = {}
    for piece in sorted(pieces, reverse=True):
        left.setdefault(piece.size, []).append(piece)
    cut: Cut = []
    while left:
        first = next(iter(left))
        length = []
        for size in (first, *_beside(first, left, kinds)):
            length.append(left[size].pop())
            if not left[size]:
                del left[size]
        cut.append(length)
    return cut


def _beside(first: int, left: dict[int, list[Piece]], kinds: Kinds) -> list[int]:
    """The sizes to cut beside `first`."""
    price, best = kinds.best
    taken = _tenths(first)
    spaces = [
        (room // GRID - taken, cost * best // price // GRID - taken)
        for room, cost in zip(kinds.rooms, kinds.costs, strict=True)
        if room >= first
    ]
    top = max(space for space, _ in spaces)
    within = (1 << (top + 1)) - 1
    full = [
        (max(worth - FULL, 0), (1 << (space - max(worth - FULL, 0) + 1)) - 1)
        for space, worth in spaces
        if worth - FULL <= space
    ]
    reached, sizes, before = 1, [], []
    for size, pieces in left.items():
        tenths = _tenths(size)
        if tenths > top:
            continue
        for _ in range(min(len(pieces) - (size == first), top // tenths)):
            before.append(reached)
            sizes.append(size)
            reached |= (reached << tenths) & within
        if any(reached >> lowest & those for lowest, those in full):
            break
    fills = [(_most(reached, space), worth) for space, worth in spaces]
    fill = min(fills, key=lambda each: (each[1] - each[0], -each[0]))[0]
    chosen = []
    for size, reached in zip(reversed(sizes), reversed(before), strict=True):
        if not reached >> fill & 1:
            chosen.append(size)
            fill -= _tenths(size)
    return chosen


def _most(reached: int, space: int) -> int:
    """The greatest sum within a space."""
    return (reached & ((1 << (space + 1)) - 1)).bit_length() - 1


def _tenths(size: int) -> int:
    return -(-size // GRID)
