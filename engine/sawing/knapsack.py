"""The most valuable bar: a bounded knapsack for every capacity at once, in whole numbers.

Dynamic programming in which 1, 2, 4, ... copies of a part type are one article (Martello and Toth, Knapsack
Problems, Wiley 1990, section 3.2). The table has a layer for each article: the greatest value for each room
with the articles so far. One pass serves every stock length of both grades: part types that may be short come
first, so that the layer after the last of them is that of the short stock.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

from soleplate.engine.sawing.job import SawJob

Values = npt.NDArray[np.int64]

LARGEST_VALUE: Final = 2**30
"""No bar's value may reach this, for the table has 32 bits for each."""


class Knapsack:
    """Best patterns of a job's stock types, for whole-number values of its part types."""

    def __init__(self, job: SawJob) -> None:
        self.job = job
        self._sizes = np.array([part.size for part in job.parts], dtype=np.int64)
        self._rooms = [stock.room for stock in job.stocks]
        self._largest = max(self._rooms)
        self._table = np.zeros((1, self._largest + 1), dtype=np.int32)
        self._spare = np.zeros(self._largest + 1, dtype=np.int32)
        self._layers: list[tuple[int, int]] = []
        self._worth: list[int] = []
        self._short_layer = 0

    def whole(self, values: Sequence[float] | npt.NDArray[np.float64]) -> Values:
        """Part values as non-negative integers in proportion, as fine as the tables can hold.

        Any non-negative integers make a valid bound, so rounding here weakens it at most.
        """
        worth = np.maximum(np.asarray(values, dtype=np.float64), 0.0)

        # No bar can be worth more than the longest length filled with the part of most value for its size.
        densest = float((worth / self._sizes).max(initial=0.0)) * self._largest
        if densest <= 0.0:
            return np.zeros(len(worth), dtype=np.int64)
        return np.floor(worth * ((LARGEST_VALUE - 1) / densest)).astype(np.int64)

    def best(self, values: Values, limits: Sequence[int]) -> list[int]:
        """The greatest value of a bar of each stock type, at most `limits[i]` of part type i.

        `values` come from `whole`. The patterns can be read with `pattern` until the next call.
        """
        articles = self._articles(values, limits)

        # The table is kept from call to call, and grows where there are more articles than ever before.
        if len(articles) + 1 > len(self._table):
            self._table = np.zeros((2 * len(articles) + 2, self._largest + 1), dtype=np.int32)
        table, spare = self._table, self._spare
        self._layers = [(part, copies) for part, copies, _, _ in articles]
        self._worth = [value for _, _, _, value in articles]
        self._short_layer = sum(part < self.job.shorts for part, _ in self._layers)

        # For each room the better of two: without the article, or with it on top of what the room left holds.
        for layer, (_, _, size, value) in enumerate(articles):
            below, above = table[layer], table[layer + 1]
            above[:size] = below[:size]
            shifted = spare[size:]
            np.add(below[:-size], value, out=shifted)
            np.maximum(below[size:], shifted, out=above[size:])

        return [int(table[self._top(stock), room]) for stock, room in enumerate(self._rooms)]

    def pattern(self, stock: int) -> tuple[int, ...]:
        """A pattern of the value that `best` returned for this stock type."""
        counts = [0] * len(self.job.parts)
        room = self._rooms[stock]
        column = self._table

        # From the last layer back: an article was taken where the value changes with it.
        for layer in range(self._top(stock), 0, -1):
            if column[layer, room] != column[layer - 1, room]:
                part, copies = self._layers[layer - 1]
                counts[part] += copies
                room -= copies * self.job.parts[part].size
        return tuple(counts)

    def _top(self, stock: int) -> int:
        """The layer that holds every article this stock type may use."""
        return self._short_layer if self.job.stocks[stock].short else len(self._layers)

    def _articles(self, values: Values, limits: Sequence[int]) -> list[tuple[int, int, int, int]]:
        """Part type, copies, size and value of each article, short part types first."""
        articles: list[tuple[int, int, int, int]] = []
        for part, (value, limit) in enumerate(zip(values.tolist(), limits, strict=True)):
            if value <= 0:
                continue

            # 1 + 2 + 4 + ... and a remainder: any number up to the limit is a sum of some of them.
            size = self.job.parts[part].size
            left = min(limit, self._largest // size)
            copies = 1
            while left > 0:
                taken = min(copies, left)
                articles.append((part, taken, taken * size, taken * value))
                left -= taken
                copies *= 2
        return articles

    def listing(self, stock: int, value: int, most: int) -> npt.NDArray[np.int64] | None:
        """Every pattern of a stock type worth `value` or more at the values last given to `best`.

        One pattern a row; None where there are more than `most` on the way. Only part types of positive
        value appear.
        """
        # Of each part type: its first layer, the copies of all its articles together, and the worth of one.
        starts: dict[int, int] = {}
        copies: dict[int, int] = {}
        worth: dict[int, int] = {}
        for layer in range(self._top(stock)):
            part, count = self._layers[layer]
            starts.setdefault(part, layer)
            copies[part] = copies.get(part, 0) + count
            worth[part] = self._worth[layer] // count

        # Beginnings of patterns, all at once: room left, value so far, counts. They are followed part type by
        # part type, from the last layer down; of each the table tells the most that the layers below can add.
        rooms = np.array([self._rooms[stock]], dtype=np.int64)
        gained = np.zeros(1, dtype=np.int64)
        patterns = np.zeros((1, len(self.job.parts)), dtype=np.int64)
        for part in reversed(starts):
            size = self.job.parts[part].size
            below = self._table[starts[part]]
            grown_rooms, grown_gains, grown_patterns = [], [], []
            for count in range(copies[part] + 1):
                # Kept only if there is room, and if what is to come can still reach the value.
                left = rooms - count * size
                gain = gained + count * worth[part]
                keep = np.flatnonzero(left >= 0)
                keep = keep[gain[keep] + below[left[keep]] >= value]
                if count and not len(keep) and not (left >= 0).any():
                    break

                taken = patterns[keep].copy()
                taken[:, part] = count
                grown_rooms.append(left[keep])
                grown_gains.append(gain[keep])
                grown_patterns.append(taken)

            rooms, gained = np.concatenate(grown_rooms), np.concatenate(grown_gains)
            patterns = np.concatenate(grown_patterns)
            if len(rooms) > most:
                return None
        return patterns
