"""The ways to make up one run of boards, in whole numbers.

Sizes and rooms are nanometres, with one saw kerf counted in each, as in a sawing job: boards fit a length if
their sizes add up to its room or less.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Final, NamedTuple

NANO: Final = 1_000_000
"""Nanometres in a millimetre."""

GRID: Final = 100_000
"""Nanometres in a tenth of a millimetre."""

AHEAD: Final = 3
"""Boards of a run chosen at once. A run that needs more is made up in stages of two."""

MOST_WAYS: Final = 120
"""Tried at each stage; of more, these are spread evenly over them all."""

MOST_LISTED: Final = 2_400
"""Ways listed before the choice among them."""


class Way(NamedTuple):
    """Boards end to end from one place of a span to another.

    `joints` has a bit for each support with a joint on it; `ends` are the places where the boards end,
    `sizes` the boards' sizes, longest first.
    """

    joints: int
    ends: tuple[int, ...]
    sizes: tuple[int, ...]


@dataclass(frozen=True)
class RunSpan:
    """A run's places, left to right, where boards may end: its left end, supports, its right end.

    `bits` tells the supports apart, 0 at the two ends. `onward` lists for each place the boards that may
    begin there: (place of the end, size).
    """

    places: tuple[float, ...]
    bits: tuple[int, ...]
    onward: tuple[tuple[tuple[int, int], ...], ...]

    @cached_property
    def size_of(self) -> tuple[dict[int, int], ...]:
        """For each place, the sizes of the boards that may begin there, by the place of their end."""
        return tuple(dict(boards) for boards in self.onward)

    @cached_property
    def fewest(self) -> tuple[int | None, ...]:
        """From each place to the right end, the fewest boards; `None` where no boards lead there."""
        found: list[int | None] = [None] * len(self.places)
        found[-1] = 0

        # From the right, so that what follows a board is known already.
        for place in range(len(self.places) - 2, -1, -1):
            counts = [1 + more for end, _ in self.onward[place] if (more := found[end]) is not None]
            found[place] = min(counts, default=None)
        return tuple(found)

    @cached_property
    def least_size(self) -> int:
        """The least that the sizes of its boards add up to: each board more adds a kerf."""
        return self._least(1)

    @cached_property
    def least_tenths(self) -> int:
        """The least that the sizes of its boards add up to, each rounded down to tenths of a millimetre."""
        return self._least(GRID)

    def _least(self, unit: int) -> int:
        """The least sum of sizes in whole units from end to end."""
        # The least sum up to each place; `None` where no boards lead to it (a shortest path, left to right).
        least: list[int | None] = [0, *[None] * (len(self.places) - 1)]
        for place, boards in enumerate(self.onward):
            so_far = least[place]
            if so_far is None:
                continue
            for end, size in boards:
                value, known = so_far + size // unit, least[end]
                if known is None or value < known:
                    least[end] = value

        total = least[-1]
        if total is None:
            raise ValueError("boards cannot make up this span")
        return total

    @cached_property
    def useful(self) -> tuple[int, ...]:
        """Sizes of all boards from which the right end can be reached."""
        return tuple(
            size
            for place, boards in enumerate(self.onward)
            if self.fewest[place] is not None
            for end, size in boards
            if self.fewest[end] is not None
        )

    @cached_property
    def _ways(self) -> dict[tuple[int, bool], tuple[Way, ...]]:
        return {}

    def ways(self, start: int, *, fewest: bool = False) -> tuple[Way, ...]:
        """Ways from `start`: to the right end with at most a board more than needed, or a stage of two.

        Of the `fewest` boards none has more than needed. They are at most `MOST_WAYS`, spread evenly over the
        first `MOST_LISTED`, fewest boards first, so that each sort of way is among them.
        """
        known = self._ways.get((start, fewest))
        if known is None:
            known = self._ways[start, fewest] = tuple(self._chosen(start, 0 if fewest else 1))
        return known

    def _chosen(self, start: int, spare: int) -> Iterator[Way]:
        fewest = self.fewest[start]
        if fewest is None:
            return

        # Near the right end all boards are chosen at once; far from it there would be too many ways.
        sorts: tuple[tuple[int, int | None], ...]
        sorts = tuple((fewest + more, None) for more in range(spare + 1))
        if fewest > AHEAD:
            sorts = ((2, fewest - 2 + spare),)

        # Ways are counted, and only those chosen are made: a long run has thousands.
        counts = [self._count(start, boards, after) for boards, after in sorts]
        listed = min(sum(counts), MOST_LISTED)
        number = min(listed, MOST_WAYS)
        for at in range(number):
            place = at * listed // number
            for (boards, after), count in zip(sorts, counts, strict=True):
                if place < count:
                    yield self._way(start, boards, after, place)
                    break
                place -= count

    def _count(self, start: int, boards: int, after: int | None) -> int:
        """How many ways of so many boards there are; see `_first_boards`."""
        if not boards:
            return 1
        key = (start, boards, after)
        known = self._counts.get(key)
        if known is None:
            known = self._counts[key] = sum(count for _, _, count in self._first_boards(*key))
        return known

    @cached_property
    def _counts(self) -> dict[tuple[int, int, int | None], int]:
        return {}

    @cached_property
    def _known_first(self) -> dict[tuple[int, int, int | None], list[tuple[int, int, int]]]:
        return {}

    def _first_boards(self, start: int, boards: int, after: int | None) -> list[tuple[int, int, int]]:
        """The boards that ways of so many boards begin with: (end, size, how many ways), long boards first.

        The ways lead to the right end, or, where `after` is given, end before it, with at most so many boards
        to follow.
        """
        key = (start, boards, after)
        known = self._known_first.get(key)
        if known is None:
            known = self._known_first[key] = list(self._begun(start, boards, after))
        return known

    def _begun(self, start: int, boards: int, after: int | None) -> Iterator[tuple[int, int, int]]:
        last = len(self.places) - 1
        if boards == 1 and after is None:
            if (whole := self.size_of[start].get(last)) is not None:
                yield last, whole, 1
            return

        # No board but the last of all may reach the right end, and the boards left must get far enough.
        most = boards - 1 + (after or 0)
        for end, size in reversed(self.onward[start]):
            if end != last and (more := self.fewest[end]) is not None and more <= most:
                count = self._count(end, boards - 1, after)
                if count:
                    yield end, size, count

    def _way(self, start: int, boards: int, after: int | None, place: int) -> Way:
        """The way at this place among those of so many boards."""
        ends: list[int] = []
        sizes: list[int] = []
        joints = 0
        for left in range(boards, 0, -1):
            for board in self._first_boards(start, left, after):
                end, size, count = board
                if place < count:
                    break
                place -= count
            ends.append(end)
            sizes.append(size)
            joints |= self.bits[end]
            start = end
        return Way(joints, tuple(ends), tuple(sorted(sizes, reverse=True)))

    def open_to_end(self, blocked: int) -> list[bool]:
        """For each place, whether boards lead on to the right end with no joint on a blocked support."""
        found = [False] * len(self.places)
        found[-1] = True

        # From the right, so that what follows a board is known already.
        for place in range(len(self.places) - 2, -1, -1):
            if not self.bits[place] & blocked:
                found[place] = any(found[end] for end, _ in self.onward[place])
        return found
