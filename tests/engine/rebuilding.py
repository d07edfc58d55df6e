"""A piece's outline from what the cutting list says of it alone, as a person at the saw makes it."""

from __future__ import annotations

import math
from collections.abc import Sequence

from soleplate.engine.layout import CutEnd, CuttingRow, Piece
from soleplate.engine.shapes import Outline, Point, pairs
from soleplate.engine.shapes.outlines import tidy


def rakes(piece: Piece) -> bool:
    return not any(z0 == z1 for (_, z0), (_, z1) in pairs(piece.outline))


def laid_flat(piece: Piece, *, upright: bool) -> Outline:
    """The piece's outline at the saw: (along from its foot or left end, across from its right or lower side).

    The grain of a piece that rakes goes by an edge along which it has its length.
    """
    if upright:
        return shifted([(z, -x) for x, z in piece.outline])
    flat = shifted(piece.outline)
    # A raking piece may have level ends: then it is not as long as it lies.
    if not rakes(piece) and abs(max(u for u, _ in flat) - piece.length) < 0.01:
        return flat
    edges = [(one, other) for one, other in pairs(piece.outline) if one[0] < other[0]]
    turned = (_turned(piece.outline, one, other) for one, other in edges)
    return min(turned, key=lambda laid: abs(max(u for u, _ in laid) - piece.length))


def _turned(outline: Outline, one: Point, other: Point) -> Outline:
    (x0, z0), (x1, z1) = one, other
    size = math.dist(one, other)
    run, rise = (x1 - x0) / size, (z1 - z0) / size
    return shifted([(x * run + z * rise, z * run - x * rise) for x, z in outline])


def shifted(points: Sequence[Point]) -> Outline:
    """Moved so that it starts at nothing, along and across."""
    least, lowest = min(u for u, _ in points), min(v for _, v in points)
    return tuple((u - least, v - lowest) for u, v in points)


def _end(end: CutEnd, height: float, upright: bool) -> list[Point]:
    """An end as (short of the long point, over the lower side), upwards, up to `height`."""
    if end.cut == "point":
        return [(0.0, 0.0)]
    if end.cut == "square":
        return [(0.0, 0.0), (0.0, height)]
    if end.cut == "bevel":
        assert end.angle is not None
        back = height * math.tan(math.radians(end.angle))
        return (
            [(back, 0.0), (0.0, height)]
            if end.long_point in ("top", "left")
            else [(0.0, 0.0), (back, height)]
        )
    assert end.cut == "double bevel"
    assert end.angles is not None
    assert end.widths is not None
    faces = list(zip(end.angles, end.widths, strict=True))
    (low, low_width), (high, high_width) = faces[::-1] if upright else faces
    below, above = low_width * math.tan(math.radians(low)), high_width * math.tan(math.radians(high))
    if end.long_point == "middle":
        below = -below
    elif end.long_point in ("top", "left"):
        below, above = -below, -above
    line = [(0.0, 0.0), (below, low_width), (below + above, low_width + high_width)]
    furthest = min(back for back, _ in line)
    return [(back - furthest, over) for back, over in line]


def rebuilt(row: CuttingRow, width: float, *, upright: bool) -> Outline:
    """A piece of a row laid flat, from what the row says; `width` is its width at the widest, mm."""
    upper: list[Point] = []
    for rip in row.taper or ():
        upper += [(rip.from_, rip.from_width), (rip.to, rip.to_width)]
    first, last = (upper[0][1], upper[-1][1]) if upper else (width, width)
    start = _end(row.ends[0], first, upright)
    finish = _end(row.ends[1], last, upright)
    return tidy(
        [
            *reversed(start),
            *((row.length - back, over) for back, over in finish),
            *reversed(upper),
        ]
    )
