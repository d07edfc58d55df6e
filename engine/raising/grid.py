"""A grid of places and turns for something that is carried, as bits of one integer.

Its middle is at a place of the grid, or on its way to the next along x or y, or turns there by one step. Each
of these is free where all that the rectangle takes up meanwhile meets nothing, so that a way from place to
place is free all along. Bits run along x, then y, then turns, with a guard column and row that are never
free.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from soleplate.engine.shapes import Outline, Point, Prism, hull, pairs

CELL: Final = 80.0
"""mm from a place to the next."""

SWAY: Final = 25.5
"""mm kept free on each side of what is carried (common practice, no source). A straight way along the
grid with `CELL + 2 * SWAY`, about 130, to spare is always found, and none with less than `2 * SWAY`.
"""

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

    def covered(self, outlines: Iterable[Outline]) -> tuple[int, int, int]:
        """The places of one turn that convex outlines cover, and whence a step right, or up, meets them."""
        held, right, up = ([0] * self.along for _ in range(3))
        for spans in self._spans(outlines):
            for y, low, high, strip_low, strip_high in spans.rows():
                first, last = self._between(low, high)
                if first <= last:
                    held[y] |= (1 << last + 1) - (1 << max(first, 0))
                    right[y] |= (1 << last + 1) - (1 << max(first - 1, 0))
                elif first - 1 <= last:
                    right[y] |= 1 << last
                first, last = self._between(strip_low, strip_high)
                if first <= last:
                    up[y] |= (1 << last + 1) - (1 << max(first, 0))
        return self._joined(held), self._joined(right), self._joined(up)

    def held(self, outlines: Iterable[Outline]) -> int:
        """The places of one turn that convex outlines cover."""
        held = [0] * self.along
        for spans in self._spans(outlines):
            for y, low, high, _, _ in spans.rows():
                first, last = self._between(low, high)
                if first <= last:
                    held[y] |= (1 << last + 1) - (1 << max(first, 0))
        return self._joined(held)

    def _spans(self, outlines: Iterable[Outline]) -> Iterator[_Spans]:
        x0, y0 = self.corner
        for outline in outlines:
            yield _Spans([((x - x0) / CELL, (y - y0) / CELL) for x, y in outline], self.along)

    def _between(self, left: float, right: float) -> tuple[int, int]:
        """The first place of a row from one x, in steps, and the last up to another; none if they cross."""
        if left > right or right < -EDGE:
            return 0, -2
        return math.ceil(left - EDGE), min(math.floor(right + EDGE), self.across - 1)

    def _joined(self, rows: Sequence[int]) -> int:
        size, first = self.row // 8, next((y for y, row in enumerate(rows) if row), 0)
        joined = b"".join([row.to_bytes(size, "little") for row in rows[first:]]).rstrip(b"\0")
        return int.from_bytes(joined, "little") << first * self.row

    @property
    def every(self) -> int:
        """All cells of one turn, without the guards."""
        row = (1 << self.across) - 1
        rows = row.to_bytes(self.row // 8, "little") * self.along
        return int.from_bytes(rows, "little")


class _Spans:
    """The stretches of x that an anticlockwise convex outline covers at each row, and in the strip on it."""

    def __init__(self, points: Sequence[Point], rows: int) -> None:
        ys = [y for _, y in points]
        self._first = max(math.floor(min(ys) - EDGE), 0) - 1
        self._last = min(math.floor(max(ys) + EDGE), rows - 1)
        count = max(self._last - self._first + 3, 0)
        self._left, self._right = [math.inf] * count, [-math.inf] * count
        self._corners_left, self._corners_right = [math.inf] * count, [-math.inf] * count
        for (ax, ay), (bx, by) in pairs(points):
            self._side(ax, ay, bx, by)
            self._corner(ax, ay)

    def rows(self) -> Iterator[tuple[int, float, float, float, float]]:
        """(row, from, to, and from, to in the strip over it)."""
        left, right = self._left, self._right
        for y in range(max(self._first, 0), self._last + 1):
            at = y - self._first
            yield (
                y,
                left[at],
                right[at],
                min(left[at], left[at + 1], self._corners_left[at]),
                max(right[at], right[at + 1], self._corners_right[at]),
            )

    def _side(self, ax: float, ay: float, bx: float, by: float) -> None:
        """Take in what a side crosses: sides that rise are on the right, those that fall on the left."""
        rises = by > ay
        if not rises:
            ax, ay, bx, by = bx, by, ax, ay
        if by - ay <= EDGE:
            return
        slope, first = (bx - ax) / (by - ay), self._first
        low, high = max(math.ceil(ay - EDGE), first), min(math.floor(by + EDGE), self._last + 1)
        if rises:
            for y in range(low, high + 1):
                self._right[y - first] = max(self._right[y - first], ax + (y - ay) * slope)
        else:
            for y in range(low, high + 1):
                self._left[y - first] = min(self._left[y - first], ax + (y - ay) * slope)

    def _corner(self, x: float, y: float) -> None:
        """Take in a corner: in the strip in which it lies, and at its row where it lies at one."""
        nearest = round(y)
        if abs(y - nearest) <= EDGE:
            at = nearest - self._first
            if 0 <= at < len(self._left):
                self._left[at], self._right[at] = min(self._left[at], x), max(self._right[at], x)
            return
        at = math.floor(y) - self._first
        if 0 <= at < len(self._left):
            self._corners_left[at] = min(self._corners_left[at], x)
            self._corners_right[at] = max(self._corners_right[at], x)


BULGE: Final = 1.0 / math.cos(math.pi / TURNS / 4)
"""By how much larger a rectangle is turned in three poses, so that their hull has those between in it."""

EDGE: Final = 1e-9
"""In cells: so near to an edge counts as within, so that what touches is not free."""


class Cells(NamedTuple):
    """Places over all turns: where it is, or on its way to the next along x, or along y, or turns on."""

    held: int
    right: int
    up: int
    on: int

    def with_those_of(self, other: Cells) -> Cells:
        """Those of both."""
        held, right, up, on = other
        return Cells(self.held | held, self.right | right, self.up | up, self.on | on)

    def without(self, other: Cells) -> Cells:
        """Those that the other has not."""
        held, right, up, on = other
        return Cells(self.held & ~held, self.right & ~right, self.up & ~up, self.on & ~on)


class CarriedShape:
    """A rectangle of `length` and `width` mm at every turn, and all that it takes up on its way to the next.

    It is kept `SWAY` off everything.
    """

    def __init__(self, grid: Grid, length: float, width: float) -> None:
        self._grid = grid
        length, width = length + 2 * SWAY, width + 2 * SWAY
        self._held = [_turned(grid.run, turn, length, width) for turn in range(TURNS)]
        self._swept = [
            hull(
                [
                    point
                    for part in (0.0, 0.5, 1.0)
                    for point in _turned(grid.run, turn + part, length * BULGE, width * BULGE)
                ]
            )
            for turn in range(TURNS)
        ]

    def blocked(self, prisms: Sequence[Prism]) -> Cells:
        """The places at which it meets prisms."""
        found = [0, 0, 0, 0]
        for turn in range(TURNS):
            # Turned by half, as its outline would have to be for the sum, a rectangle is as it was.
            cells = self._grid.covered(_sum(prism.outline, self._held[turn]) for prism in prisms)
            on = self._grid.held(_sum(prism.outline, self._swept[turn]) for prism in prisms)
            for which, each in enumerate((*cells, on)):
                found[which] |= each << turn * self._grid.turn
        return Cells(*found)


def _turned(run: Point, turn: float, length: float, width: float) -> list[Point]:
    angle = math.atan2(run[1], run[0]) + math.pi * turn / TURNS
    along, across = math.cos(angle), math.sin(angle)
    return [
        (u * length / 2 * along - v * width / 2 * across, u * length / 2 * across + v * width / 2 * along)
        for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]


def _sum(one: Sequence[Point], other: Sequence[Point]) -> Outline:
    """The Minkowski sum of two convex outlines, anticlockwise: their sides, ordered by their directions."""
    sides = [*pairs(one), *pairs(other)]
    turns = sorted((math.atan2(by - ay, bx - ax), bx - ax, by - ay) for (ax, ay), (bx, by) in sides)
    # From where each is lowest, and of these leftmost, a side to the right comes first.
    low, low2 = (min(each, key=lambda point: (point[1], point[0])) for each in (one, other))
    x, y = low[0] + low2[0], low[1] + low2[1]
    first = next((index for index, (angle, _, _) in enumerate(turns) if angle >= 0.0), 0)
    corners: list[Point] = []
    for _, along, up in (*turns[first:], *turns[:first]):
        corners.append((x, y))
        x, y = x + along, y + up
    return tuple(corners)
