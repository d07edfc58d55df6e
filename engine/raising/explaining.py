"""Why there is no order: how far the walls come, what is in each way, and what would have to change."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import Final

from soleplate.engine.layout import BlockedWay, InTheWay
from soleplate.engine.raising.carrying import Carrying
from soleplate.engine.raising.obstacles import Obstruction
from soleplate.engine.raising.question import Carry, RaisingWay, short_of
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


def blocked_ways(yard: Yard, state: int) -> tuple[BlockedWay, ...]:
    """What is in each way of each panel that does not stand in a state."""
    question = yard.question
    routes = yard.routes(yard.obstructions)
    search = yard.search(routes=routes)
    found: list[BlockedWay] = []
    for index, panel in enumerate(question.panels):
        if state >> index & 1:
            continue
        for way in sorted(question.ways[index], key=lambda way: way.number):
            near = _obstacles_in(yard, way, state)
            walls = way.stands & state
            for bit, stands in way.spots if not _has_spot(yard, way, state) else ():
                # Of each place to stand in, what takes it.
                walls |= stands & state
                near |= {name: short for name, short in _short(yard, bit).items() if name not in near}
            width = None
            if (
                way.carry is not None
                and not near
                and not walls
                and routes.way(way.carry.number, state) is None
            ):
                width = _width(yard, way.carry, index, state)
            braces = search.unbraced(way, state) if not near and not walls else 0
            walls |= question.after[index] & ~state
            found.append(
                BlockedWay(
                    wall=panel.name,
                    way=way.rule,
                    how=way.movement.how or None,
                    walls=question.names(walls),
                    obstacles=near,
                    braces=question.names(braces),
                    width=width,
                )
            )
    return tuple(found)


def _has_spot(yard: Yard, way: RaisingWay, state: int) -> bool:
    blocked = yard.blocked(yard.obstructions)
    return not way.spots or any(not bit & blocked and not stands & state for bit, stands in way.spots)


def _obstacles_in(yard: Yard, way: RaisingWay, state: int) -> dict[str, float]:
    return _short(yard, way.bit)


def _short(yard: Yard, bit: int) -> dict[str, float]:
    """By how much each obstacle is too near to what has a bit, mm, by name."""
    held = yard.question.held[bit.bit_length() - 1]
    short = {each.name: rounded(short_of(held, each)) for each in yard.obstructions}
    return {name: by for name, by in short.items() if by > 0.0}


def _width(yard: Yard, carry: Carry, panel: int, state: int) -> float:
    """How broad what is carried may be for a way to be found, mm; 0 where none is, however narrow."""
    low, high = 0.0, carry.width

    def passes(width: float) -> bool:
        narrow = replace(carry, number=0, width=width)
        question = yard.question
        routes = Carrying([narrow], question.panels, yard.obstructions, yard.place, [panel])
        return routes.way(0, state) is not None

    for _ in range(WIDTH_FILLS):
        middle = (low + high) / 2
        low, high = (middle, high) if passes(middle) else (low, middle)
    return float(math.floor(low))


def in_the_way(yard: Yard, clock: Clock) -> tuple[InTheWay, ...]:
    """All smallest sets of obstacles without which there is an order, up to `LARGEST_SET` of them.

    None where there is no order without any obstacle either.

    Raises:
        NotSearchedError: it took too long.
    """
    there = yard.obstructions
    if not there or not _exists(yard, (), clock):
        return ()
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
            return tuple(_change(yard, chosen, clock) for chosen in sets)
    return ()


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
    pushes: list[tuple[float, int]] = []
    for index, depth in one.outermost():
        by = _least(partial(_pushed, helps, one, index), depth)
        pushes += [(by, index)] if by is not None else []
    push, edge = min(pushes) if pushes else (None, None)
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
