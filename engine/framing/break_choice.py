"""Where a wall is broken into panels: as few as there can be, then as even as may be, then the leftmost.

What can be reached with each number of breaks is worked out as stretches, from the left and from the right,
and a break lies where both agree. So the fewest are found exactly, wherever in its place a break may lie, and
none is chosen from which the rest could not be done. How even panels are is told by the sum of the squares of
their lengths, of all ways over the best spot of each stretch.
"""

from __future__ import annotations

import itertools
from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from operator import attrgetter
from typing import Final

from soleplate.engine.building_file import LEAST_PANEL
from soleplate.engine.framing.break_places import BreakPlace

Fits = Callable[[float, float], bool]
"""Whether the panel from one place to another is within its limits; then every part of it is."""

HALVINGS: Final = 40
"""Of a stretch, to find how far a panel may reach: what is left of it is under all tolerances."""

Stage = list[BreakPlace]
"""Where a break may lie."""

Ways = dict[float, tuple[float, tuple[float, ...]]]
"""By the last break: the sum of the squares of the panels before it, mm2, and all breaks up to it."""


def choose_breaks(places: Sequence[BreakPlace], length: float, fits: Fits) -> tuple[float, ...] | None:
    """The breaks of a wall, mm from its left end; `None` where no breaks keep all panels within limits."""
    if fits(0.0, length):
        return ()
    from_left: list[Stage] = []
    for stage in _stages(places, fits):
        from_left.append(stage)
        if any(fits(place.right, length) for place in stage):
            break
    else:
        return None
    mirrored = [_mirrored(place, length) for place in reversed(places)]
    stages = _stages(mirrored, lambda left, right: fits(length - right, length - left))
    from_right = [*itertools.islice(stages, len(from_left))]
    agreed = [
        _shared(left, [_mirrored(place, length) for place in right])
        for left, right in zip(from_left, reversed(from_right), strict=False)
    ]
    return _most_even(agreed, length, fits)


def reach(places: Sequence[BreakPlace], fits: Fits) -> float:
    """How far along a wall its last break may lie with all panels before it within limits, mm."""
    return max((place.right for stage in _stages(places, fits) for place in stage), default=0.0)


def _stages(places: Sequence[BreakPlace], fits: Fits) -> Iterator[Stage]:
    """Where the first, the second, ... break may lie with all panels before it within limits."""
    stage = [BreakPlace(0.0, 0.0)]
    while stage := _next_stage(stage, places, fits):
        yield stage


def _next_stage(stage: Stage, places: Sequence[BreakPlace], fits: Fits) -> Stage:
    """Where the next break may lie, from left to right as both are.

    What is too far behind one place is so behind all that follow, and is looked at no more.
    """
    found: Stage = []
    first = 0
    for place in places:
        while first < len(stage) and _is_behind(stage[first], place, fits):
            first += 1
        last = bisect_right(stage, place.right, lo=first, key=lambda before: before.left + LEAST_PANEL)
        found.extend(_onwards(stage[first:last], place, fits))
    return found


def _is_behind(before: BreakPlace, place: BreakPlace, fits: Fits) -> bool:
    """Whether a panel from anywhere in one place to the nearest of another is over its limits."""
    return before.right <= place.left - LEAST_PANEL and not fits(before.right, place.left)


def _shared(some: Stage, others: Stage) -> Stage:
    """What both stages have."""
    shared = (one.within(other.left, other.right) for one in some for other in others)
    return [part for part in shared if part is not None]


def _onwards(stage: Stage, place: BreakPlace, fits: Fits) -> Stage:
    """What of a place the next break may take, after one that lies anywhere in a stage."""
    found: Stage = []
    for before in stage:
        left = max(place.left, before.left + LEAST_PANEL)
        if left <= place.right:

            def reaches(x: float, last: float = before.right) -> bool:
                return fits(min(last, x - LEAST_PANEL), x)

            right = _last(left, place.right, reaches)
            if right is not None:
                found.append(BreakPlace(left, right, place.best))
            if right == place.right and left == place.left:
                break  # All of it.
    return _merged(found)


def _merged(stage: Stage) -> Stage:
    """The same spots of one place, none told twice: else stages would grow without end."""
    merged: Stage = []
    for part in sorted(stage, key=attrgetter("left")):
        if merged and part.left <= merged[-1].right:
            merged[-1] = replace(merged[-1], right=max(part.right, merged[-1].right))
        else:
            merged.append(part)
    return merged


def _last(left: float, right: float, reaches: Callable[[float], bool]) -> float | None:
    """The last spot of a stretch that is reached; `None` where not even its first is."""
    if reaches(right):
        return right
    if not reaches(left):
        return None
    for _ in range(HALVINGS):
        middle = (left + right) / 2
        left, right = (middle, right) if reaches(middle) else (left, middle)
    return left


def _mirrored(place: BreakPlace, length: float) -> BreakPlace:
    """Seen from the other side of a wall."""
    best = None if place.best is None else length - place.best
    return BreakPlace(length - place.right, length - place.left, best)


def _most_even(stages: Sequence[Stage], length: float, fits: Fits) -> tuple[float, ...] | None:
    """One break of each stage in turn, so that the panels between are as even as may be."""
    ways: Ways = {0.0: (0.0, ())}
    steady = 0.0
    for number, stage in enumerate(stages, 1):
        wanted = length * number / (len(stages) + 1)
        # The best spots alone may not follow on each other; one break after the other always can.
        steady = _next(stage, steady, wanted, fits)
        ways = _onward(ways, {steady, *(place.nearest(wanted) for place in stage)}, fits)
    _, breaks = _onward(ways, {length}, fits).get(length, (0.0, ()))
    return breaks[:-1] or None


def _next(stage: Stage, before: float, wanted: float, fits: Fits) -> float:
    """The break of a stage that follows on another, the nearest to the place wanted."""
    follow = [part for place in stage for part in _onwards([BreakPlace(before, before)], place, fits)]
    return min((part.nearest(wanted) for part in follow), key=lambda x: (abs(x - wanted), x), default=before)


def _onward(ways: Ways, breaks: Iterable[float], fits: Fits) -> Ways:
    """The most even way to each of some breaks."""
    onward: Ways = {}
    for x in breaks:
        found = [
            (round(squares + (x - before) ** 2, 3), (*earlier, x))
            for before, (squares, earlier) in ways.items()
            if x - before >= LEAST_PANEL and fits(before, x)
        ]
        if found:
            onward[x] = min(found)
    return onward
