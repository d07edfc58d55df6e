"""Housings: what is cut out of one face of a piece, so that another one lies flush in it."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from soleplate.engine.shapes.outlines import Outline, clip, convex_parts, pairs
from soleplate.engine.shapes.tolerances import TOUCH

BodyPart = tuple[Outline, tuple[float, float]]
"""An outline in the plane of a view, and the depths between which it lies."""


@dataclass(frozen=True, slots=True)
class Housing:
    """What is cut out of a piece: an outline in the plane of its view, convex, between two depths, mm.

    What is let in there lies at `grain` degrees from level and is `width` mm broad.
    """

    outline: Outline
    depth: tuple[float, float]
    grain: float
    width: float


def shared(outline: Outline, other: Outline) -> Outline:
    """What an outline has in common with another one, which must be convex; `()` where nothing."""
    for start, end in pairs(other):
        outline = clip(outline, start, end) if outline else ()
    return outline


def without(outline: Outline, other: Outline) -> Iterator[Outline]:
    """What is left of an outline outside of another one, both convex: convex parts side by side."""
    for start, end in pairs(other):
        if part := clip(outline, end, start):
            yield part
        outline = clip(outline, start, end)
        if not outline:
            return


def bodies(outline: Outline, depth: tuple[float, float], cut_out: Sequence[BodyPart]) -> tuple[BodyPart, ...]:
    """A prism less what is cut out of it, as prisms that lie against each other; else it is one."""
    if not cut_out:
        return ((outline, depth),)
    edges = {*depth, *(edge for _, reach in cut_out for edge in reach)}
    levels = sorted(edge for edge in edges if depth[0] <= edge <= depth[1])
    found: list[BodyPart] = []
    for near, far in itertools.pairwise(levels):
        parts = convex_parts(outline)
        for other, (start, end) in cut_out:
            if start < far - TOUCH and end > near + TOUCH:
                parts = [left for part in parts for left in without(part, other)]
        found += [(part, (near, far)) for part in parts]
    return tuple(found)
