"""Blocks between rafters: a row of them, less what other pieces of the slope take up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from soleplate.engine.rules import BlockRow, FramedSlope
from soleplate.engine.shapes import TOUCH, Member, Solid, overlap_in_space, rectangle


def blocks_between(
    rows: Sequence[BlockRow], members: Sequence[Member], slope: FramedSlope
) -> Iterator[Member]:
    """The blocks of all rows between the other members of a slope, left to right in their views."""
    solids = [Solid(m.outline, m.depth, slope.view(m.view)) for m in members]
    for row in rows:
        pattern, view = row.pattern, slope.view(row.pattern.view)
        whole = Solid(pattern.outline, pattern.depth, view)
        taken = [_along(solid, whole) for solid in solids if overlap_in_space(whole, solid)]
        reach = pattern.left
        for left, right in [*sorted(taken), (pattern.right, pattern.right)]:
            if left - reach > max(row.least, TOUCH):
                yield replace(pattern, outline=rectangle(reach, left, pattern.bottom, pattern.top))
            reach = max(reach, right)


def _along(solid: Solid, row: Solid) -> tuple[float, float]:
    """What a solid takes up along a row, mm."""
    view = row.view
    places = [
        sum((p - o) * a for p, o, a in zip(solid.view.point(u, v, w), view.origin, view.right, strict=True))
        for u, v in solid.outline
        for w in solid.depth
    ]
    return min(places), max(places)
