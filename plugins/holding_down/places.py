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

    None is nearer to an end than `least_end`, nor its axis nearer than `clear` to a foot on the plate.
    """

    centres: float
    from_end: float
    least_end: float
    clear: float


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
        return pair if pair[1] - pair[0] > 2 * spacing.clear + FINE else fewest
    step = (last - first) / (len(fewest) - 1)
    even = tuple(_nearest(where, first + index * step) for index in range(len(fewest)))
    return even if _worst(left, right, even, spacing) <= _worst(left, right, fewest, spacing) else fewest


def over(left: float, right: float, places: Sequence[float], spacing: Spacing) -> Iterator[Reach]:
    """Stretches longer than the spacing has it: up to the first place, between two, from the last."""
    edges = [(left, places[0], spacing.from_end), (places[-1], right, spacing.from_end)]
    edges += [(one, other, spacing.centres) for one, other in itertools.pairwise(places)]
    return ((one, other) for one, other, most in sorted(edges) if other - one > most + FINE)


def _worst(left: float, right: float, places: Sequence[float], spacing: Spacing) -> tuple[float, bool]:
    """By how much the spacing is missed in all, mm, and whether two places fall together."""
    missed = sum(other - one for one, other in over(left, right, places, spacing))
    return missed, any(other - one < 2 * spacing.clear for one, other in itertools.pairwise(places))


def _fewest(left: float, right: float, where: Sequence[Reach], spacing: Spacing) -> tuple[float, ...]:
    """From the left, each as far on as it may be: no other choice takes fewer."""
    places = [_as_far_as(where, left + spacing.from_end) or where[0][0]]
    while right - places[-1] > spacing.from_end + FINE:
        beyond = _as_far_as(where, places[-1] + spacing.centres)
        if beyond is None or beyond <= places[-1] + FINE:
            # What stands there leaves no place in time: the next one, if there is any.
            later = [low for low, _ in where if low > places[-1] + FINE]
            if not later:
                break
            beyond = later[0]
        places.append(beyond)
    return tuple(places)


def _as_far_as(where: Sequence[Reach], most: float) -> float | None:
    """The furthest place up to `most`."""
    return max((min(high, most) for low, high in where if low <= most + FINE), default=None)


def _nearest(where: Sequence[Reach], wanted: float) -> float:
    """The place nearest to one that is wanted, the left one of two."""
    return min((min(max(wanted, low), high) for low, high in where), key=lambda at: (abs(at - wanted), at))
