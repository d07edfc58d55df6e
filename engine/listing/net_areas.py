"""What timbers and openings leave of a part's face, for what is laid between or over them."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from soleplate.engine.rules import Hole
from soleplate.engine.shapes import Member, TopLine, area, span_at, under


def between_timbers(length: float, top: TopLine, holes: Sequence[Hole], members: Sequence[Member]) -> float:
    """The area up to `top` that neither timbers nor openings take up, mm2.

    Timbers that lie behind others count once. Between two places at which anything has a corner all edges are
    straight, so that what is taken up half way between them is the mean.
    """
    corners = {0.0, length, *(x for x, _ in top.points)}
    corners |= {x for member in members for x, _ in member.outline}
    corners |= {x for hole in holes for x in (hole.left, hole.right)}
    free = 0.0
    for left, right in itertools.pairwise(sorted(x for x in corners if 0.0 <= x <= length)):
        middle = (left + right) / 2
        taken = [span_at(m.outline, middle) for m in members if m.left < middle < m.right]
        taken += [(hole.bottom, hole.top) for hole in holes if hole.left < middle < hole.right]
        high = top.at(middle)
        free += (right - left) * (high - _covered(taken, high))
    return free


def net_face(length: float, top: TopLine, holes: Sequence[Hole]) -> float:
    """The whole face up to `top` but its openings, mm2."""
    return area(under(top, 0.0, length, 0.0)) - sum(hole.width * (hole.top - hole.bottom) for hole in holes)


def _covered(stretches: Iterable[tuple[float, float]], most: float) -> float:
    """How much of the height from 0 to `most` the stretches take up, mm."""
    covered, reach = 0.0, 0.0
    for low, high in sorted(stretches):
        end = min(high, most)
        covered += max(end - max(low, reach), 0.0)
        reach = max(reach, end)
    return covered
