"""The runs, stock and rules in whole numbers: what the search works on."""

from __future__ import annotations

import itertools
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final, NamedTuple

from soleplate.engine.building_file import yield_of
from soleplate.engine.covering.heading_joints.job import BoardOnSale, CourseRun, JointRules
from soleplate.engine.covering.heading_joints.ways import NANO, RunSpan

SAME: Final = 0.5
"""mm. Supports no further apart than this are one."""

NEAR: Final = 1.0
"""mm from the end of a run within which no joint stands."""


@dataclass(frozen=True, slots=True)
class PlacedRun:
    """A run with its places; `index` is its place among those asked for."""

    index: int
    wall: str
    course: int
    span: RunSpan


class Longest(NamedTuple):
    """What the longest length on sale holds, in nm with a kerf: boards together, and one by itself."""

    room: int
    alone: int


@dataclass(frozen=True)
class Kinds:
    """The stock in whole numbers, by falling room."""

    rooms: tuple[int, ...]
    costs: tuple[int, ...]
    stock: tuple[BoardOnSale, ...]
    longest: Longest

    @cached_property
    def best(self) -> tuple[int, int]:
        """(cost, room) of the kind with the lowest price for its room."""
        return min(zip(self.costs, self.rooms, strict=True), key=lambda kind: (kind[0] / kind[1], kind))

    @cached_property
    def _rising(self) -> tuple[list[int], list[int]]:
        """Rooms from the smallest, and with each the cheapest kind that has as much."""
        order = range(len(self.rooms) - 1, -1, -1)
        cheapest = [min(range(kind + 1), key=lambda each: (self.costs[each], -each)) for kind in order]
        return [self.rooms[kind] for kind in order], cheapest

    def cheapest(self, filled: int) -> int:
        """The kind to buy for boards that take up so much room."""
        rooms, cheapest = self._rising
        return cheapest[bisect_left(rooms, filled)]


def kinds_of(stock: Sequence[BoardOnSale], rules: JointRules) -> Kinds:
    """Rooms in nm, a kerf counted in; costs in hundredths of money, or in micrometres without prices."""
    kerf = round(rules.kerf * NANO)
    yields = [(yield_of(each.length, rules.trim, rules.margin), cost_of(each), each) for each in stock]
    kinds = sorted(
        ((round(of.together * NANO) + kerf, cost, each) for of, cost, each in yields if of.alone),
        key=lambda kind: (-kind[0], kind[1]),
    )
    rooms, costs, lengths = zip(*kinds, strict=True) if kinds else ((), (), ())
    alone = max(round(of.alone * NANO) for of, _, _ in yields) + kerf
    return Kinds(rooms, costs, lengths, Longest(max(rooms, default=0), alone))


def cost_of(length: BoardOnSale) -> int:
    """What one counts for: hundredths of money, or micrometres."""
    return round(length.length * 1000) if length.price is None else round(length.price * 100)


def runs_of(runs: Sequence[CourseRun], longest: Longest, rules: JointRules) -> list[PlacedRun]:
    """The runs wall by wall and upwards; alike ones share their span.

    Supports are told apart wall by wall; alike walls number theirs alike.
    """
    supports: dict[str, set[float]] = {}
    for run in runs:
        supports.setdefault(run.wall, set()).update(_inside(run))
    numbered = {wall: _numbered(sorted(places)) for wall, places in supports.items()}

    # What a span works out serves all runs that share it.
    spans: dict[tuple[object, ...], RunSpan] = {}
    made = []
    for index, run in enumerate(runs):
        number = numbered[run.wall]
        inside = {number[place]: place for place in sorted(_inside(run))}
        key = (run.left, run.right, *inside.items())
        span = spans.get(key)
        if span is None:
            span = spans[key] = span_of(run.left, run.right, inside, longest, rules)
        made.append(PlacedRun(index, run.wall, run.course, span))

    return sorted(made, key=lambda run: (run.wall, run.course, run.span.places[0], run.index))


def span_of(
    left: float, right: float, inside: dict[int, float], longest: Longest, rules: JointRules
) -> RunSpan:
    """A span between two ends; `inside` are its supports by number."""
    kerf = round(rules.kerf * NANO)
    least = round(rules.least_board * NANO) + kerf
    places = (left, *inside.values(), right)
    last = len(places) - 1

    # From each place, the boards up to the longest; a whole run may be under the least length. What could
    # be no shorter, or is whole, may take up the margin too: it has the room of the longest to itself.
    onward: list[tuple[tuple[int, int], ...]] = []
    for start, place in enumerate(places):
        ends = []
        for end in range(start + 1, last + 1):
            size = round((places[end] - place) * NANO) + kerf
            if size > longest.alone:
                break
            is_whole = (start, end) == (0, last)
            if size > longest.room and (is_whole or end == start + 1):
                size = longest.room
            if size <= longest.room and (size >= least or is_whole):
                ends.append((end, size))
        onward.append(tuple(ends))

    return RunSpan(places, (0, *(1 << number for number in inside), 0), tuple(onward))


def _inside(run: CourseRun) -> list[float]:
    return [place for place in run.supports if run.left + NEAR < place < run.right - NEAR]


def _numbered(places: Sequence[float]) -> dict[float, int]:
    """A number for each support of a wall; those nearly in the same place have the same."""
    number, numbers = 0, {}
    for before, place in itertools.pairwise((-1e9, *places)):
        number += place - before > SAME
        numbers[place] = number
    return numbers
