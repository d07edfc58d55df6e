"""A grid of places and turns for something that is carried, as bits of one integer.

A cell is free where the carried rectangle meets nothing wherever in the cell its middle is; so a way from
cell to cell is free all along. Turning by one step is free where the hull of the rectangle at its start,
middle and end is. Bits run along x, then y, then turns, with a guard column and row that are never free.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.shapes import Outline, Point, Prism, hull, pairs

CELL: Final = 100.0
"""mm. A way with under 130 to spare may be missed: so much was spared by the narrowest that was found."""

TURNS: Final = 24
"""In half a turn, after which a rectangle lies as before."""


@dataclass(frozen=True, slots=True)
class Grid:
    """Cells over a stretch of the plan.

    `corner` is the middle of the first cell; `across` and `along` count them, the guards not among them.
    Turn 0 is along the unit vector `run`.
    """

    corner: Point
    across: int
    along: int
    run: Point

    @property
    def row(self) -> int:
        """Bits from a row to the next: whole bytes, with a guard column."""
        return (self.across + 8) // 8 * 8

    @property
    def turn(self) -> int:
        """Bits from a turn to the next, with a guard row."""
        return self.row * (self.along + 1)

    def bit(self, turn: int, point: Point) -> int:
        """The bit of the cell in which a point lies; 0 off the grid."""
        x, y = (round((p - c) / CELL) for p, c in zip(point, self.corner, strict=True))
        if not (0 <= x < self.across and 0 <= y < self.along):
            return 0
        return 1 << (turn * self.turn + y * self.row + x)

    def pose(self, place: int) -> tuple[int, Point]:
        """The turn and the middle of the cell of a bit, by its place."""
        turn, rest = divmod(place, self.turn)
        y, x = divmod(rest, self.row)
        return turn, (self.corner[0] + x * CELL, self.corner[1] + y * CELL)

    def covered(self, outlines: Iterable[Outline]) -> int:
        """The cells of one turn whose middles lie in convex outlines."""
        rows = [0] * (self.along + 1)
        for outline in outlines:
            for y, left, right in self._rows(outline):
                rows[y] |= (1 << (right - left + 1)) - 1 << left
        size = self.row // 8
        return int.from_bytes(b"".join(row.to_bytes(size, "little") for row in rows), "little")

    def _rows(self, outline: Outline) -> Iterator[tuple[int, int, int]]:
        """(row, first, last) of the cells whose middles lie in a convex outline."""
        (x0, y0), spans = self.corner, dict[int, list[float]]()
        for (ax, ay), (bx, by) in pairs([((x - x0) / CELL, (y - y0) / CELL) for x, y in outline]):
            low, high = (ay, by) if ay < by else (by, ay)
            slope = (bx - ax) / (by - ay) if by != ay else 0.0
            for y in range(max(math.ceil(low - EDGE), 0), min(math.floor(high + EDGE), self.along - 1) + 1):
                xs = [ax + (y - ay) * slope] if by != ay else [ax, bx]
                span = spans.setdefault(y, [math.inf, -math.inf])
                span[0], span[1] = min(span[0], *xs), max(span[1], *xs)
        for y, (left, right) in spans.items():
            first, last = max(math.ceil(left - EDGE), 0), min(math.floor(right + EDGE), self.across - 1)
            if first <= last:
                yield y, first, last

    @property
    def every(self) -> int:
        """All cells of one turn, without the guards."""
        row = (1 << self.across) - 1
        rows = row.to_bytes(self.row // 8, "little") * self.along
        return int.from_bytes(rows, "little")


EDGE: Final = 1e-9
"""In cells: so near to an edge counts as within, so that what touches is not free."""


class CarriedShape:
    """A rectangle of `length` and `width` mm with its cell about it, at every turn and between two turns."""

    def __init__(self, grid: Grid, length: float, width: float) -> None:
        self._grid = grid
        half = CELL / 2
        square = [(-half, -half), (half, -half), (half, half), (-half, half)]
        self._held: list[Outline] = []
        self._swept: list[Outline] = []
        for turn in range(TURNS):
            poses = [_turned(grid.run, turn + part, length, width) for part in (0.0, 0.5, 1.0)]
            self._held.append(_sum(poses[0], square))
            self._swept.append(_sum([point for pose in poses for point in pose], square))

    def blocked(self, prisms: Sequence[Prism]) -> tuple[int, int]:
        """The cells, over all turns, in which it meets prisms, and those in which turning on does."""
        held = swept = 0
        for turn in range(TURNS):
            for which, shape in enumerate((self._held[turn], self._swept[turn])):
                cells = self._grid.covered(_sum(prism.outline, shape) for prism in prisms)
                moved = cells << turn * self._grid.turn
                held, swept = (held | moved, swept) if which == 0 else (held, swept | moved)
        return held, swept


def _turned(run: Point, turn: float, length: float, width: float) -> list[Point]:
    angle = math.atan2(run[1], run[0]) + math.pi * turn / TURNS
    along, across = math.cos(angle), math.sin(angle)
    return [
        (u * length / 2 * along - v * width / 2 * across, u * length / 2 * across + v * width / 2 * along)
        for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]


def _sum(one: Sequence[Point], other: Sequence[Point]) -> Outline:
    """The Minkowski sum of two convex shapes; those that are carried are alike when turned by half a turn."""
    return hull([(ax + bx, ay + by) for ax, ay in one for bx, by in other])
