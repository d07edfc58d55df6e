"""The order of raising: the cheapest sequence of panels, exactly, over the subsets that can stand.

Each step raises one more panel by its cheapest way; costs add up, so the best order is a shortest path from
no panel standing to all (Dijkstra 1959). Orders that cost the same are told apart by their sequence, so that
the order of the file never matters. A way along a route is looked for only once nothing cheaper is left.
"""

from __future__ import annotations

import heapq
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Final, Literal, Protocol

from soleplate.engine.raising.question import Cost, PlacedBrace, RaisingQuestion, RaisingWay

MOST_PANELS: Final = 16
"""More are not searched."""

MOST_STATES: Final = 70_000
"""Subsets looked at; 16 panels have 65,536."""

MOST_COUNTED: Final = 10
"""Panels up to which all orders are counted."""

Preference = Literal["from-deck", "braced-least"]


class Routes(Protocol):
    """What knows how panels are carried."""

    def way(
        self, carry: int, standing: int, braced: tuple[tuple[PlacedBrace, ...], ...] = ()
    ) -> Sequence[object] | None:
        """The way of a carry while panels stand, some of them by braces; `None` where none is found."""

    def known(self, carry: int, standing: int) -> bool | None:
        """Whether there is one, where that is known without looking."""


class NoRoutes:
    """Of a site on which nothing is carried."""

    def way(
        self, carry: int, standing: int, braced: tuple[tuple[PlacedBrace, ...], ...] = ()
    ) -> Sequence[object] | None:
        """None."""
        return None

    def known(self, carry: int, standing: int) -> bool | None:
        """None."""
        return False


class NotSearchedError(Exception):
    """There were too many states, or too little time."""

    def __init__(self, states: int) -> None:
        self.states = states
        super().__init__(f"given up after {states} states")


@dataclass(frozen=True, slots=True)
class Step:
    """A panel that is raised: its way, and those that stand before."""

    way: RaisingWay
    standing: int


@dataclass(frozen=True, slots=True)
class FoundOrder:
    """What the search found: the steps of the best order with its cost, or none; and all states reached."""

    steps: tuple[Step, ...]
    cost: Cost
    states: tuple[int, ...]


@dataclass(slots=True)
class Clock:
    """Gives up after so much processor time, s: a backstop behind the count of states."""

    seconds: float
    now: Callable[[], float] = time.process_time
    started: float = field(init=False)

    def __post_init__(self) -> None:
        """Start."""
        self.started = self.now()

    def is_over(self) -> bool:
        """Whether the time is used up."""
        return self.now() - self.started > self.seconds


class OrderSearch:
    """The search of one question, `blocked` being the bits that obstacles hit."""

    def __init__(
        self,
        question: RaisingQuestion,
        blocked: int,
        routes: Routes,
        *,
        preference: Preference = "from-deck",
        clock: Clock | None = None,
    ) -> None:
        self._question = question
        self._blocked = blocked
        self._routes = routes
        self._swapped = preference == "braced-least"
        self._clock = clock
        self.alone = cache(self._alone)
        alive = [[way for way in ways if not way.bit & blocked] for ways in question.ways]
        self._ways = [
            sorted(ways, key=lambda w: (self._ordered(w.cost), w.carry is not None, w.number))
            for ways in alive
        ]
        self._spots = {
            way.number: tuple(stands for bit, stands in way.spots if not bit & blocked)
            for ways in alive
            for way in ways
            if way.spots
        }
        self._braces = [
            tuple((brace.bit, brace.stands) for brace in braces if not brace.bit & blocked)
            for braces in question.braces
        ]

    def best(self) -> FoundOrder:
        """The best order.

        Raises:
            NotSearchedError: it took too much.
        """
        question, everything = self._question, self._question.everything
        size = len(question.panels).bit_length()
        settled: dict[int, tuple[int, RaisingWay | None]] = {}
        # (cost, sequence as digits, state, from where, by which way of the panel)
        queue: list[tuple[int, int, int, int, int, int]] = [(0, 0, 0, 0, -1, -1)]
        while queue:
            cost, sequence, state, before, panel, place = heapq.heappop(queue)
            if state in settled:
                continue
            way = self._ways[panel][place] if panel >= 0 else None
            if (
                way is not None
                and way.carry is not None
                and self._routes.way(way.carry.number, before, self.braced(way, before)) is None
            ):
                # No way to carry it there: the next way of this panel may cost more.
                self._push(
                    queue, settled, before, sequence >> size, panel, place + 1, cost - self._price(way, state)
                )
                continue
            settled[state] = (before, way)
            self._count(len(settled))
            if state == everything:
                return self._found(settled, state)
            for index in range(len(question.panels)):
                if not state >> index & 1 and question.after[index] & state == question.after[index]:
                    self._push(queue, settled, state, sequence, index, 0, cost)
        return FoundOrder((), _NONE, tuple(sorted(settled)))

    def _push(
        self,
        queue: list[tuple[int, int, int, int, int, int]],
        settled: dict[int, tuple[int, RaisingWay | None]],
        state: int,
        sequence: int,
        panel: int,
        first: int,
        cost: int,
    ) -> None:
        """Queue the cheapest way of raising a panel from a state, from one place of its ways on."""
        after = state | 1 << panel
        if after in settled:
            return
        for place in range(first, len(self._ways[panel])):
            way = self._ways[panel][place]
            if self.is_free(way, state):
                size = len(self._question.panels).bit_length()
                digits = sequence << size | panel
                heapq.heappush(queue, (cost + self._price(way, after), digits, after, state, panel, place))
                return

    def is_free(self, way: RaisingWay, standing: int) -> bool:
        """Whether a way is free of the panels that stand and of their braces; its route is not looked at."""
        if way.stands & standing:
            return False
        if way.spots and all(stands & standing for stands in self._spots[way.number]):
            return False
        return not self.unbraced(way, standing)

    def unbraced(self, way: RaisingWay, standing: int) -> int:
        """The panels for which no brace is clear while a panel is raised, itself among them; 0 for none."""
        missing = 0
        for index in _bits(self.alone(standing)):
            if not any(not stands & standing and not bit & way.braces for bit, stands in self._braces[index]):
                missing |= 1 << index
        after = standing | 1 << way.panel
        if self.alone(after) >> way.panel & 1 and not any(
            not stands & after for _, stands in self._braces[way.panel]
        ):
            missing |= 1 << way.panel
        return missing

    def braced(self, way: RaisingWay, standing: int) -> tuple[tuple[PlacedBrace, ...], ...]:
        """For each panel that stands by a brace alone those that are clear while a panel is raised."""
        return tuple(
            tuple(
                brace
                for brace in self._question.braces[index]
                if not brace.bit & (self._blocked | way.braces) and not brace.stands & standing
            )
            for index in _bits(self.alone(standing))
        )

    def can(self, panel: int, standing: int) -> bool:
        """Whether a panel can be raised in some way while others stand."""
        return any(
            self.is_free(way, standing)
            and (
                way.carry is None
                or self._routes.way(way.carry.number, standing, self.braced(way, standing)) is not None
            )
            for way in self._ways[panel]
        )

    def exists(self) -> bool:
        """Whether there is an order at all, depth first.

        Raises:
            NotSearchedError: it took too much.
        """
        question, everything = self._question, self._question.everything
        # What can't be raised with nothing else standing never can; that is soon seen.
        if not all(self._reaches(index) for index in range(len(question.panels))):
            return False
        seen = {0}
        stack = [0]
        while stack:
            state = stack.pop()
            if state == everything:
                return True
            for index in range(len(question.panels)):
                after = state | 1 << index
                if (
                    after not in seen
                    and question.after[index] & state == question.after[index]
                    and self.can(index, state)
                ):
                    seen.add(after)
                    self._count(len(seen))
                    stack.append(after)
        return False

    def _reaches(self, panel: int) -> bool:
        """Whether there is a way for a panel at all, past obstacles alone."""
        return any(
            way.carry is None or self._routes.way(way.carry.number, 0) is not None
            for way in self._ways[panel]
        )

    def orders(self) -> int | None:
        """How many sequences of panels are possible; `None` where it is not counted.

        Not counted are those of many panels, and those that depend on routes not looked for yet.
        """
        question, everything = self._question, self._question.everything
        if len(question.panels) > MOST_COUNTED:
            return None
        counts = {0: 1}
        for state in range(everything + 1):
            for index in range(len(question.panels)) if state in counts else ():
                if state >> index & 1 or question.after[index] & state != question.after[index]:
                    continue
                can = self._known(index, state)
                if can is None:
                    return None
                if can:
                    after = state | 1 << index
                    counts[after] = counts.get(after, 0) + counts[state]
        return counts.get(everything, 0)

    def _known(self, panel: int, standing: int) -> bool | None:
        """Whether a panel can be raised, as far as is known without looking for routes."""
        found: bool | None = False
        for way in self._ways[panel]:
            if not self.is_free(way, standing):
                continue
            if way.carry is None:
                return True
            known = self._routes.known(way.carry.number, standing)
            if known and self.alone(standing):
                # Whether braces leave that way free is not known.
                known = None
            if known:
                return True
            if known is None:
                found = None
        return found

    def _alone(self, standing: int) -> int:
        """The panels that stand by their braces alone: in no group with two across each other."""
        question, left, alone = self._question, standing, 0
        while left:
            group = left & -left
            grown = 0
            while grown != group:
                grown = group
                for index in _bits(grown):
                    group |= question.touching[index] & standing
            left &= ~group
            if not any(question.across[index] & group for index in _bits(group)):
                alone |= group
        return alone

    def _price(self, way: RaisingWay, after: int) -> int:
        """A way's cost with that of the panels that stand alone after it, in one number."""
        over, standing, off, _, carried, early = way.cost
        return _packed(self._ordered((over, standing, off, self.alone(after).bit_count(), carried, early)))

    def _ordered(self, cost: Cost) -> Cost:
        over, standing, off, braced, carried, early = cost
        return (over, standing, braced, off, carried, early) if self._swapped else cost

    def _count(self, states: int) -> None:
        if states > MOST_STATES or (states % 256 == 0 and self._clock is not None and self._clock.is_over()):
            raise NotSearchedError(states)

    def _found(self, settled: dict[int, tuple[int, RaisingWay | None]], state: int) -> FoundOrder:
        steps: list[Step] = []
        cost = [0] * 6
        states = tuple(sorted(settled))
        while state:
            before, way = settled[state]
            assert way is not None  # noqa: S101 - each state but the first has been come to
            steps.append(Step(way, before))
            each = (*way.cost[:3], self.alone(state).bit_count(), *way.cost[4:])
            cost = [a + b for a, b in zip(cost, each, strict=True)]
            state = before
        over, standing, off, braced, carried, early = cost
        return FoundOrder(tuple(reversed(steps)), (over, standing, off, braced, carried, early), states)


_NONE: Final[Cost] = (0, 0, 0, 0, 0, 0)
_ROOM: Final = 44
"""Bits for each figure of a cost; none comes near filling them."""


def _packed(cost: Cost) -> int:
    """A cost as one number that is compared, and added up, as its figures are."""
    packed = 0
    for figure in cost:
        packed = packed << _ROOM | figure
    return packed


def _bits(mask: int) -> Iterator[int]:
    """The places of the bits that are set."""
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low
