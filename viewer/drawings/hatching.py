"""Hatching as lines of its own: it needs no pattern, so it is the same on any page, in any colour of ink."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from soleplate.engine.shapes import Point, pairs

SLOPE = math.sqrt(0.5)
"""Lines rise at 45 degrees."""


def hatched(outline: Sequence[Point], apart: float) -> Iterator[tuple[Point, Point]]:
    """The lines that hatch an outline, convex or not, `apart` mm from each other; alike for all outlines."""
    turned = [((x + y) * SLOPE, (y - x) * SLOPE) for x, y in outline]
    across = [v for _, v in turned]
    first, last = math.ceil(min(across) / apart), math.floor(max(across) / apart)
    for number in range(first, last + 1):
        v = number * apart
        # Each side counts its lower end and not its upper one: so they come in pairs.
        meets = sorted(
            u0 + (v - v0) / (v1 - v0) * (u1 - u0)
            for (u0, v0), (u1, v1) in pairs(turned)
            if min(v0, v1) <= v < max(v0, v1)
        )
        for start, end in zip(meets[::2], meets[1::2], strict=True):
            yield tuple(((u - v) * SLOPE, (u + v) * SLOPE) for u in (start, end))  # type: ignore[misc]
