"""Where anchors go along a sole plate: near its ends, never too far apart, clear of what stands on it."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

FINE: Final = 1e-6
"""mm. Two places nearer than this are one."""

Reach = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Spacing:
    """How anchors may stand, mm: `centres` apart at the most, one within `from_end` of each end.

    None is nearer to an end than `least_end`, nor its axis nearer than `clear` to a foot on the plate, nor
    than twice that to the next.
    """

    centres: float
    from_end: float
    least_end: float
    clear: float

    @property
    def apart(self) -> float:
        """The least from one to the next, mm."""
        return 2 * self.clear


def free(left: float, right: float, taken: Sequence[Reach], spacing: Spacing) -> tuple[Reach, ...]:
    """Where an anchor's axis may stand, left to right."""
    start, end = left + spacing.least_end, right - spacing.least_end
    found: list[Reach] = []
    for low, high in sorted((low - spacing.clear, high + spacing.clear) for low, high in taken):
        if low >= start - FINE:
            found.append((start, min(low, end)))
        start = max(start, high)
    found.append((start, end))
    return tuple((low, high) for low, high in found if high >= low - FINE and low <= end + FINE)


def anchor_places(left: float, right: float, taken: Sequence[Reach], spacing: Spacing) -> tuple[float, ...]:
    """The fewest places that keep the spacing, as even as they can be; none where there is no place at all.

    Two at the least, where they have room. Where what stands on the plate leaves no place soon enough, the
    next one is taken.
    """
    where = free(left, right, taken, spacing)
    if not where:
        return ()
    fewest = _fewest(left, right, where, spacing)
    first, last = left + spacing.from_end, right - spacing.from_end
    if len(fewest) == 1:
        pair = (_nearest(where, first), _nearest(where, last))
        return pair if pair[1] - pair[0] > spacing.apart + FINE else fewest
    step = (last - first) / (len(fewest) - 1)
    even = tuple(_nearest(where, first + index * step) for index in range(len(fewest)))
    is_apart = all(other - one >= spacing.apart - FINE for one, other in itertools.pairwise(even))
    return even if is_apart and not list(over(left, right, even, spacing)) else fewest


def over(left: float, right: float, places: Sequence[float], spacing: Spacing) -> Iterator[Reach]:
    """Stretches longer than the spacing has it: up to the first place, between two, from the last."""
    edges = [(left, places[0], spacing.from_end), (places[-1], right, spacing.from_end)]
    edges += [(one, other, spacing.centres) for one, other in itertools.pairwise(places)]
    return ((one, other) for one, other, most in sorted(edges) if other - one > most + FINE)


def _fewest(left: float, right: float, where: Sequence[Reach], spacing: Spacing) -> tuple[float, ...]:
    """The fewest places from the left: where each may stand, then one of each from the right backwards."""
    last = right - spacing.from_end
    # Where what stands there leaves no place in time, the nearest.
    steps = [_meet(where, [(left, left + spacing.from_end)]) or [(where[0][0], where[0][0])]]
    while steps[-1][-1][1] < last - FINE:
        furthest = steps[-1][-1][1]
        beyond = _meet(where, [(low + spacing.apart, high + spacing.centres) for low, high in steps[-1]])
        if not beyond or beyond[-1][1] < furthest + FINE:
            least = furthest + spacing.apart
            # What stands there leaves no place in time: the next one, if there is any.
            beyond = [(max(low, least), high) for low, high in where if high >= least - FINE][:1]
            if not beyond:
                break
        steps.append(beyond)
    places = [max(steps[-1][0][0], min(steps[-1][-1][1], max(last, steps[-1][-1][0])))]
    for step in reversed(steps[:-1]):
        near, far = places[0] - spacing.centres, places[0] - spacing.apart
        # Before a stretch that nothing holds in time there is no such place: then the last one.
        within = _meet(step, [(near, far)]) or _meet(step, [(left, far)])
        places.insert(0, within[-1][1])
    return tuple(places)


def _meet(some: Sequence[Reach], others: Sequence[Reach]) -> list[Reach]:
    """What stretches of two lists share, left to right."""
    found = [
        (max(low, least), min(high, most))
        for low, high in some
        for least, most in others
        if max(low, least) <= min(high, most) + FINE
    ]
    return sorted(set(found))


def _nearest(where: Sequence[Reach], wanted: float) -> float:
    """The place nearest to one that is wanted, the left one of two."""
    return min((min(max(wanted, low), high) for low, high in where), key=lambda at: (abs(at - wanted), at))
