"""Verges: ladders out before the gables, or fly rafters on their walls; barge boards; where rungs lie."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.rules import ALONG, TOUCH, Member, rectangle
from soleplate.plugins.roofs.pitched import Pitched

SPARE: Final = 5.0
"""mm between the outermost rungs and the plumb cuts."""


def rung_places(
    rafter: Pitched,
    largest: float,
    taken: Sequence[tuple[float, float]],
    joints: Sequence[float] = (),
) -> tuple[float, ...]:
    """The middles of the rungs up the slope: equally spaced, moved off the stretches `taken` by plates.

    One stands behind each of the `joints` of sheets that has room for it. One that has no room between its
    neighbours is left out.
    """
    half = rafter.section.breadth / 2
    start, end = rafter.inner
    first, last = start + half + SPARE, end - half - SPARE
    if last < first:
        return ()
    fixed = [first]
    for joint in joints:
        free = _moved(joint, half, (first, last), taken) == joint
        if free and fixed[-1] + 2 * half <= joint <= last - 2 * half:
            fixed.append(joint)
    places = fixed[1:]
    for low, high in itertools.pairwise((*fixed, last)):
        bays = max(math.ceil((high - low) / largest - 1e-9), 1)
        for number in range(bays + 1):
            at = _moved(low + (high - low) * number / bays, half, (first, last), taken)
            if at is not None and all(abs(at - other) >= 2 * half for other in places):
                places.append(at)
    return tuple(sorted(places))


def _moved(
    at: float, half: float, room: tuple[float, float], taken: Sequence[tuple[float, float]]
) -> float | None:
    """The place, or the nearer end of the stretch that it may not be in; `None` where neither is in room."""
    for start, end in taken:
        low, high = start - half, end + half
        if low < at < high:
            ways = [place for place in (low, high) if room[0] <= place <= room[1]]
            return min(ways, key=lambda place: abs(place - at)) if ways else None
    return at


def rungs(
    rafter: Pitched, places: Sequence[float], left: float, right: float, plate: tuple[float, float] | None
) -> Iterator[Member]:
    """The rungs from x = `left` to `right`, square to the slope.

    On a wall that is not dropped each is notched over its `plate`, from and to x, as deep as its heel.
    """
    breadth, depth = rafter.section
    for at in places:
        if plate is None:
            outline = rectangle(left, right, at - breadth / 2, at + breadth / 2)
            yield Member("rung", rafter.section, outline, (0.0, depth), ALONG, view="slope")
            continue
        start, end = max(plate[0], left), min(plate[1], right)
        cut = rafter.seat * rafter.sin - depth
        stretches = ((left, start, -depth), (start, end, cut), (end, right, -depth))
        under = [(x, w) for a, b, w in stretches if b - a > TOUCH for x in (a, b)]
        outline = (*dict.fromkeys(under), (right, 0.0), (left, 0.0))
        yield Member(
            "rung", rafter.section, outline, (at - breadth / 2, at + breadth / 2), ALONG, view="ladder"
        )
