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
    def _ways(self) -> dict[int, tuple[Way, ...]]:
        return {}

    def ways(self, start: int) -> tuple[Way, ...]:
        """Ways from `start`: to the right end with at most a board more than needed, or a stage of two."""
        known = self._ways.get(start)
        if known is None:
            known = self._ways[start] = tuple(_spread(list(self._listed(start))))
        return known

    def _listed(self, start: int) -> Iterator[Way]:
        """The first `MOST_LISTED` of them, those with fewest boards first."""
        fewest = self.fewest[start]
        if fewest is None:
            return

        # Near the right end all boards are chosen at once; far from it there would be too many ways.
        count = 0
        numbers = (fewest, fewest + 1) if fewest <= AHEAD else (2,)
        for boards in numbers:
            for way in self._of(start, boards, fewest + 1 - boards):
                yield way
                count += 1
                if count >= MOST_LISTED:
                    return

    def _of(self, start: int, boards: int, after: int) -> Iterator[Way]:
        """Ways of so many boards: to the right end if that can be, else leaving at most `after` more."""
        fewest = self.fewest
        last = len(self.places) - 1
        to_end = boards >= (fewest[start] or 0)
        path: list[tuple[int, int]] = []

        def extended(place: int, joints: int) -> Iterator[Way]:
            """Ways that begin with the boards in `path`, which ends at `place`; depth first."""
            if len(path) == boards:
                ends, sizes = zip(*path, strict=True)
                yield Way(joints, ends, tuple(sorted(sizes, reverse=True)))
                return

            # Long boards first. A board is passed over if the boards left cannot get from its end as far as
            # they must, or if it reaches the right end too early or, as the last one, not at all.
            left = boards - len(path) - 1
            for end, size in reversed(self.onward[place]):
                more = fewest[end]
                if (
                    more is None
                    or more > left + (0 if to_end else after)
                    or (end == last) != (left == 0 and to_end)
                ):
                    continue

                path.append((end, size))
                yield from extended(end, joints | self.bits[end])
                path.pop()

        return extended(start, 0)

    def open_to_end(self, blocked: int) -> list[bool]:
        """For each place, whether boards lead on to the right end with no joint on a blocked support."""
        found = [False] * len(self.places)
        found[-1] = True

        # From the right, so that what follows a board is known already.
        for place in range(len(self.places) - 2, -1, -1):
            if not self.bits[place] & blocked:
                found[place] = any(found[end] for end, _ in self.onward[place])
        return found


def _spread(ways: list[Way]) -> list[Way]:
    """At most `MOST_WAYS` of them, evenly over all, so that each sort of way is among those tried."""
    if len(ways) <= MOST_WAYS:
        return ways
    return [ways[at * len(ways) // MOST_WAYS] for at in range(MOST_WAYS)]
