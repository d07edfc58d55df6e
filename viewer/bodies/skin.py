"""The faces of a body: flat and convex, and edge to edge, so that no gap is between them."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.shapes import (
    BodyPart,
    Outline,
    Point,
    Vector,
    area,
    clip,
    contains,
    convex_parts,
    pairs,
)

Face = tuple[tuple[Vector, ...], Vector]
"""Corners, anticlockwise as seen from outside, and the normal: along, up, and outwards from the near face."""

LEAST: Final = 1e-6
"""mm2. A cell of less is none."""

DIGITS: Final = 6
"""Corners are rounded to a millionth of a mm, so that those of neighbours are one."""


def skin(outline: Outline, depth: float, cut_out: Sequence[BodyPart] = ()) -> Iterator[Face]:
    """The faces of a prism less convex prisms, mm.

    It is parted along the line of every edge of what is cut out, and at every depth where that begins or
    ends. Each block then is there or is not, and a face lies where one that is there has no neighbour.
    """
    cells = _cells(outline, [edge for other, _ in cut_out for edge in pairs(other)])
    beside = {edge: number for number, cell in enumerate(cells) for edge in pairs(cell)}
    edges = {round(each, DIGITS) for each in (0.0, depth, *(each for _, reach in cut_out for each in reach))}
    slabs = list(itertools.pairwise(sorted(each for each in edges if 0.0 <= each <= depth)))
    there = {
        (number, index)
        for number, cell in enumerate(cells)
        for index, slab in enumerate(slabs)
        if not _is_cut_out(cell, slab, cut_out)
    }
    for number, index in sorted(there):
        cell, (near, far) = cells[number], slabs[index]
        if (number, index - 1) not in there:
            yield tuple((x, z, 0.0 - near) for x, z in cell), (0.0, 0.0, 1.0)
        if (number, index + 1) not in there:
            yield tuple((x, z, -far) for x, z in reversed(cell)), (0.0, 0.0, -1.0)
        for start, end in pairs(cell):
            if (beside.get((end, start)), index) not in there:
                yield _side(start, end, 0.0 - near, -far)


def _cells(outline: Outline, lines: Sequence[tuple[Point, Point]]) -> list[Outline]:
    """An outline in convex parts, parted along lines that go on for ever, so that they meet edge to edge."""
    cells: list[Outline] = list(convex_parts(outline))
    for start, end in lines:
        cells = [part for cell in cells for part in _parted(cell, start, end)]
    return cells


def _parted(cell: Outline, start: Point, end: Point) -> Iterator[Outline]:
    halves = clip(cell, start, end), clip(cell, end, start)
    if any(not half or area(half) < LEAST for half in halves):
        yield cell
        return
    for half in halves:
        yield tuple((round(x, DIGITS), round(z, DIGITS)) for x, z in half)


def _is_cut_out(cell: Outline, slab: tuple[float, float], cut_out: Sequence[BodyPart]) -> bool:
    middle = sum(x for x, _ in cell) / len(cell), sum(z for _, z in cell) / len(cell)
    half = sum(slab) / 2
    return any(near < half < far and contains(other, middle) for other, (near, far) in cut_out)


def _side(start: Point, end: Point, near: float, deep: float) -> Face:
    (x0, z0), (x1, z1) = start, end
    size = ((x1 - x0) ** 2 + (z1 - z0) ** 2) ** 0.5
    corners = ((x0, z0, near), (x0, z0, deep), (x1, z1, deep), (x1, z1, near))
    return corners, ((z1 - z0) / size, (x0 - x1) / size, 0.0)
