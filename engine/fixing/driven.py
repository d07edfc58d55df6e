"""What is driven so far: no two fixings may meet, and none is in the way of another."""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Iterator
from typing import Final

from soleplate.engine.fixing.distances import Spaced
from soleplate.engine.fixing.segments import apart
from soleplate.engine.shapes import Vector, cross, dot, unit

Line = tuple[Vector, Vector]
"""The axis of a fixing: head and point."""

CELL: Final = 100.0
"""mm. Axes are looked for in cubes of this size."""

BESIDE: Final = 0.7
"""Cosine between two directions that count as one."""

FINE: Final = 0.05
"""mm, for rounding."""

AXES_APART: Final = 2.0
"""Diameters between the axes of two fixings, at the least (common practice, no source)."""


class Driven:
    """Axes in space, each with its diameter."""

    def __init__(self) -> None:
        self._in: dict[tuple[int, int, int], list[tuple[Line, float]]] = defaultdict(list)
        self._thickest = 0.0

    def add(self, line: Line, diameter: float) -> None:
        """Take one more in."""
        self._thickest = max(self._thickest, diameter)
        for cell in _cells(line, 0.0):
            self._in[cell].append((line, diameter))

    def is_clear(self, line: Line, diameter: float) -> bool:
        """Whether an axis keeps clear of all of them."""
        return not any(
            apart(line, other) < AXES_APART * max(diameter, thick)
            for cell in _cells(line, AXES_APART * max(diameter, self._thickest))
            for other, thick in self._in.get(cell, ())
        )


def _between(start: Vector, end: Vector) -> Vector:
    return end[0] - start[0], end[1] - start[1], end[2] - start[2]


def _cells(line: Line, around: float) -> Iterator[tuple[int, int, int]]:
    """The cubes that the box round an axis meets."""
    xs, ys, zs = (
        range(math.floor((min(a, b) - around) / CELL), math.floor((max(a, b) + around) / CELL) + 1)
        for a, b in zip(*line, strict=True)
    )
    return itertools.product(xs, ys, zs)


class DrivenRows:
    """Straight fixings by the pieces that they go through across the grain."""

    def __init__(self) -> None:
        self._in: dict[int, list[Line]] = defaultdict(list)

    def add(self, piece: int, line: Line) -> None:
        """Take one more in."""
        self._in[piece].append(line)

    def are_apart(self, piece: int, grain: Vector, line: Line, least: Spaced) -> bool:
        """Whether an axis keeps its distance from those that run beside it in the same piece.

        Those in one line along the grain stand a1 apart, others a2 across it.
        """
        return next(self.too_near(piece, grain, line, least), None) is None

    def too_near(self, piece: int, grain: Vector, line: Line, least: Spaced) -> Iterator[float]:
        """How far along the grain those are that an axis does not keep its distance from, mm."""
        way = unit(_between(*line))
        if abs(dot(way, grain)) > BESIDE:
            return
        for other in self._in[piece]:
            off = _between(line[0], other[0])
            along = abs(dot(off, grain))
            if along >= least.along - FINE or abs(dot(unit(_between(*other)), way)) < BESIDE:
                continue
            sideways = dot(off, cross(way, grain))
            if abs(sideways) < least.across - FINE:
                yield along


class Order:
    """Which piece has to be fixed before which: a fixing is driven from where a later piece will be."""

    def __init__(self) -> None:
        self._after: dict[int, set[int]] = defaultdict(set)

    def allows(self, first: int, then: int) -> bool:
        """Whether a piece can come before another, by what was settled so far."""
        seen, open_ = {then}, [then]
        while open_:
            for each in self._after.get(open_.pop(), ()):
                if each == first:
                    return False
                if each not in seen:
                    seen.add(each)
                    open_.append(each)
        return first != then

    def settle(self, first: int, then: int) -> None:
        """Hold it."""
        self._after[first].add(then)
