"""Why there is no order: how far the walls come, what is in each way, and what would have to change."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from functools import partial
from typing import Final

from soleplate.engine.layout import BlockedWay, InTheWay
from soleplate.engine.raising.carrying import Carrying
from soleplate.engine.raising.obstacles import Obstruction
from soleplate.engine.raising.question import Carry, RaisingQuestion, RaisingWay, short_of
from soleplate.engine.raising.search import Clock, NotSearchedError
from soleplate.engine.raising.yard import Yard
from soleplate.engine.shapes import rounded

LARGEST_SET: Final = 3
"""Obstacles in the largest sets that are tried."""

MOST_SETS: Final = 2_000
"""Sets that are tried."""

STEP: Final = 1.0
"""mm. So near the least change is found."""

WIDTH_FILLS: Final = 6
"""Widths tried on a route."""


def furthest(states: Sequence[int]) -> list[int]:
    """The states of the most panels."""
    most = max(state.bit_count() for state in states)
    return [state for state in states if state.bit_count() == most]


def ways_of(question: RaisingQuestion, panel: int) -> list[RaisingWay]:
    """The ways of a panel in the order in which they are told."""
    return sorted(question.ways[panel], key=lambda way: way.number)


def blocked_ways(yard: Yard, state: int, clock: Clock) -> tuple[BlockedWay, ...]:
    """What is in each way of each panel that does not stand in a state.

    How broad what is carried may be is looked for once, of the first route that has no way.
    """
    question = yard.question
    routes = yard.routes(yard.obstructions)
    search = yard.search(routes=routes)
    found: list[BlockedWay] = []
    is_measured = False
    for index, panel in enumerate(question.panels):
        for way in ways_of(question, index) if not state >> index & 1 else ():
            near, walls = _in(yard, way, state)
            width = None
            braces = search.unbraced(way, state) if not near and not walls else 0
            if way.carry is not None and not (near or walls or braces or clock.is_over()):
                # A way past what stands may meet every brace of what stands by braces alone.
                number, braced = way.carry.number, search.braced(way, state)
                is_past = routes.way(number, state) is not None
                braces = search.alone(state) if is_past and routes.way(number, state, braced) is None else 0
            if way.carry is not None and not (near or walls or braces or is_measured or clock.is_over()):
                is_measured = routes.way(way.carry.number, state) is None
                width = _width(yard, way.carry, state) if is_measured else None
            found.append(
                BlockedWay(
                    wall=panel.wall.name,
                    panel=panel.part,
                    way=way.rule,
                    how=way.movement.how or None,
                    walls=question.names(walls | question.after[index] & ~state),
                    obstacles=near,
                    braces=question.names(braces),
                    width=width,
                )
            )
    return tuple(found)


def _in(yard: Yard, way: RaisingWay, state: int) -> tuple[dict[str, float], int]:
    """The obstacles that are in a way, by how much each is too near, and the panels that are."""
    near, walls = _short(yard, way.bit), way.stands & state
    blocked = yard.blocked(yard.obstructions)
    if way.spots and all(bit & blocked or stands & state for bit, stands in way.spots):
        # None of the places to stand in is free: of each, what takes it.
        for bit, stands in way.spots:
            walls |= stands & state
            near = _short(yard, bit) | near
    return near, walls


def _short(yard: Yard, bit: int) -> dict[str, float]:
    """By how much each obstacle is too near to what has a bit, mm, by name."""
    held = yard.question.held[bit.bit_length() - 1]
    short = {each.name: rounded(short_of(held, each)) for each in yard.obstructions}
    return {name: by for name, by in short.items() if by > 0.0}


def _width(yard: Yard, carry: Carry, state: int) -> float:
    """How broad what is carried may be for a way to be found, mm; 0 where none is, however narrow."""
    low, high = 0.0, carry.width
    for _ in range(WIDTH_FILLS):
        middle = (low + high) / 2
        narrow = Carrying(yard.ground.narrowed(carry.number, middle), yard.obstructions)
        low, high = (middle, high) if narrow.way(0, state) is not None else (low, middle)
    return float(math.floor(low))


def in_the_way(yard: Yard, clock: Clock) -> tuple[tuple[InTheWay, ...], bool]:
    """All smallest sets of obstacles without which there is an order, and whether all was tried in time.

    Sets have up to `LARGEST_SET` obstacles. There are none where there is no order without any obstacle
    either, or where the time was over before all sets of a size were tried.
    """
    sets: list[tuple[Obstruction, ...]] = []
    changes: list[InTheWay] = []
    try:
        sets = _smallest(yard, clock)
        for chosen in sets:
            changes.append(_change(yard, chosen, clock))  # noqa: PERF401 - those so far are kept
    except NotSearchedError:
        left = (InTheWay(obstacles=tuple(o.name for o in each)) for each in sets[len(changes) :])
        return (*changes, *left), False
    return tuple(changes), True


def _smallest(yard: Yard, clock: Clock) -> list[tuple[Obstruction, ...]]:
    there = yard.obstructions
    if not there or not _exists(yard, (), clock):
        return []
    tried = 0
    for size in range(1, LARGEST_SET + 1):
        sets: list[tuple[Obstruction, ...]] = []
        for chosen in itertools.combinations(there, size):
            tried += 1
            if tried > MOST_SETS:
                raise NotSearchedError(tried)
            if _exists(yard, [each for each in there if each not in chosen], clock):
                sets.append(chosen)
        if sets:
            return sets
    return []


def _exists(yard: Yard, obstructions: Sequence[Obstruction], clock: Clock) -> bool:
    if clock.is_over():
        raise NotSearchedError(0)
    return yard.search(obstructions, clock).exists()


def _change(yard: Yard, chosen: tuple[Obstruction, ...], clock: Clock) -> InTheWay:
    """Obstacles, and of one alone the least change of it that is enough."""
    names = tuple(each.name for each in chosen)
    if len(chosen) > 1:
        return InTheWay(obstacles=names)
    (one,) = chosen
    others = [each for each in yard.obstructions if each is not one]

    def helps(changed: Obstruction) -> bool:
        return _exists(yard, [*others, changed], clock)

    height = one.top - one.bottom
    raised = _least(lambda by: helps(one.between(one.bottom + by, one.top)), height) if one.hangs else None
    lowered = _least(lambda by: helps(one.between(one.bottom, one.top - by)), height)
    push, edge = None, None
    for index, depth in one.outermost():
        # Another edge is of interest if it needs less than the best so far.
        by = _least(partial(_pushed, helps, one, index), depth if push is None else min(push, depth))
        push, edge = (by, index) if by is not None else (push, edge)
    return InTheWay(
        obstacles=names,
        raise_=raised,
        lower=lowered,
        push=push,
        edge=edge,
        remove=raised is None and lowered is None and push is None,
    )


def _pushed(helps: Callable[[Obstruction], bool], one: Obstruction, edge: int, by: float) -> bool:
    return helps(one.pushed(edge, by))


def _least(helps: Callable[[float], bool], most: float) -> float | None:
    """The least change under `most` that helps, to `STEP`; `None` where none does."""
    low, high = 0.0, math.floor(most - STEP)
    if high <= 0.0 or not helps(high):
        return None
    while high - low > STEP:
        middle = math.floor((low + high) / 2)
        low, high = (low, middle) if helps(middle) else (middle, high)
    return float(high)
