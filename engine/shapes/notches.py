"""Notches: what is cut into the sides of a piece, read off its outline."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from soleplate.engine.shapes.ends import before_notches
from soleplate.engine.shapes.members import ALONG, UPRIGHT
from soleplate.engine.shapes.outlines import Outline, Point, from_edge, is_convex, pairs
from soleplate.engine.shapes.tolerances import TOUCH

Edge = Literal["left", "right", "top", "bottom"]


@dataclass(frozen=True, slots=True)
class Notch:
    """One notch of a piece, mm.

    Of a raking piece it is a birdsmouth: `seat` is its level face, `heel` its plumb one, `hap` the plumb
    height from the seat's heel to the upper edge, and `from_low_end` where that plumb line meets the upper
    edge, measured along it from the low end. Of any other piece `seat` runs along it, `heel` goes into it,
    `hap` is what is left there, and `from_low_end` is from its left end or foot. `edge` is the one that it is
    cut into, as it lies in its view.
    """

    kind: Literal["birdsmouth", "notch"]
    from_low_end: float
    seat: float
    heel: float
    hap: float
    edge: Edge


def notches(outline: Outline, grain: float) -> tuple[Notch, ...]:
    """The notches of a piece whose length lies at `grain` degrees from level, from its low end on.

    Of each the faces are those that lie within the shape before notches were cut: two of a birdsmouth or of
    one in a corner, three of one in a side. Others, such as a long taper, are told by no notch.
    """
    if is_convex(outline):
        return ()
    if grain in (ALONG, UPRIGHT):
        turned = outline if grain == ALONG else tuple((z, -x) for x, z in outline)
        edges: tuple[Edge, Edge] = ("bottom", "top") if grain == ALONG else ("right", "left")
        return tuple(sorted(_square(turned, edges), key=_from_low_end))
    if grain < 0.0:
        outline = tuple((-x, z) for x, z in reversed(outline))
    return tuple(sorted(_birdsmouths(outline, math.radians(abs(grain))), key=_from_low_end))


def _from_low_end(notch: Notch) -> float:
    return notch.from_low_end


def _runs(outline: Outline) -> Iterator[tuple[Point, ...]]:
    """The corners of each notch: those within the shape before, with the one before and the one behind."""
    whole = before_notches(outline)
    inner = [from_edge(whole, point) > TOUCH for point in outline]
    count = len(outline)
    for start in range(count):
        if not inner[start] and inner[(start + 1) % count]:
            size = next(n for n in range(1, count) if not inner[(start + 1 + n) % count])
            yield tuple(outline[(start + n) % count] for n in range(size + 2))


def _birdsmouths(outline: Outline, pitch: float) -> Iterator[Notch]:
    """Of a piece that rises to the right."""
    low, high = max(
        ((one, other) for other, one in pairs(outline) if other[0] > one[0]),
        key=lambda edge: math.dist(*edge),
    )
    for run in _runs(outline):
        if len(run) != 3:
            continue
        before, (x, z), after = run
        faces = [(abs(x - other[0]), abs(z - other[1])) for other in (before, after)]
        level = [across for across, up in faces if up <= TOUCH]
        plumb = [up for across, up in faces if across <= TOUCH]
        if len(level) == 1 and len(plumb) == 1:
            over = low[1] + (x - low[0]) * (high[1] - low[1]) / (high[0] - low[0])
            yield Notch("birdsmouth", (x - low[0]) / math.cos(pitch), level[0], plumb[0], over - z, "bottom")


def _square(outline: Outline, edges: tuple[Edge, Edge]) -> Iterator[Notch]:
    """Of a piece that lies along the first coordinate, with faces along it and across it.

    `edges` are the names of its lower and its upper edge.
    """
    first = min(u for u, _ in outline)
    lowest, highest = min(v for _, v in outline), max(v for _, v in outline)
    for run in _runs(outline):
        inner = run[1:-1]
        along = {round(v, 6) for _, v in inner}
        if len(inner) > 2 or len(along) != 1:
            continue
        deep = inner[0][1]
        us = sorted(u for u, _ in (inner if len(inner) == 2 else _level_face(run)))
        depth = max(abs(deep - v) for _, v in (run[0], run[-1]))
        from_below = min(run[0][1], run[-1][1]) < deep - TOUCH
        left = highest - deep if from_below else deep - lowest
        yield Notch("notch", us[0] - first, us[-1] - us[0], depth, left, edges[not from_below])


def _level_face(run: tuple[Point, ...]) -> tuple[Point, Point]:
    """The face along the piece of a notch in a corner."""
    before, inner, after = run
    return (before, inner) if abs(before[1] - inner[1]) <= TOUCH else (inner, after)
