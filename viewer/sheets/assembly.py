"""What is needed to put a wall together on the floor: its diagonals, its bays, its noggins' heights."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import groupby

from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import Layout, Piece, WallOut
from soleplate.engine.shapes import bounds
from soleplate.viewer.sheets.blocks import Block, head, running_marks, words
from soleplate.viewer.words import Texts

_LEVEL = 0.01
"""mm. An outline that fills its bounds but for this is level: outlines are rounded."""

_MOST_MARKS = 8
"""Marks told beside one height; a bay's noggins are found on the elevation in any case."""


def assembly(wall: WallOut, layout: Layout, texts: Texts) -> list[list[Block]]:
    """How to know that it is square, bays and heights of noggins, by headings."""
    said, units = texts.sheets, layout.units
    rising, falling = (format_length(diagonal, units) for diagonal in diagonals(wall))
    square = said.square if rising == falling else said.square_raked
    groups: list[list[Block]] = [[words(square.format(rising=rising, falling=falling))]]
    if wall.bays:
        groups.append([head(said.bays), running_marks(_bays(wall))])
    if noggins := _noggins(wall):
        told = [(_marks(pieces), format_figure(height, units)) for height, pieces in noggins]
        groups.append([head(said.noggins), running_marks(told)])
    return groups


def diagonals(wall: WallOut) -> tuple[float, float]:
    """From the lower left corner to the upper right, and from the lower right to the upper left, mm.

    Corners are those of the frame: a level wall is square where both are alike (Pythagoras).
    """
    return math.hypot(wall.length, wall.top_line[-1][1]), math.hypot(wall.length, wall.top_line[0][1])


def plan_diagonal(layout: Layout) -> float | None:
    """Of the rectangle that four walls enclose, over their outer faces, mm; `None` for any other plan."""
    starts = [wall.plan.start for wall in layout.walls]
    turns = {round(wall.plan.direction) % 360 for wall in layout.walls}
    if len(starts) != 4 or turns != {0, 90, 180, 270}:
        return None
    corners = []
    for wall in layout.walls:
        angle = math.radians(wall.plan.direction)
        x, y = wall.plan.start
        corners += [(x, y), (x + wall.length * math.cos(angle), y + wall.length * math.sin(angle))]
    left, right, front, back = bounds(corners)
    return math.hypot(right - left, back - front)


def _bays(wall: WallOut) -> list[tuple[str, str]]:
    """Those alike in a row together: their numbers from the left, and how wide each is."""
    runs, first = [], 1
    for display, run in groupby(wall.bays, key=lambda bay: bay.display):
        count = len(list(run))
        last = first + count - 1
        runs.append((f"{first}" if count == 1 else f"{first}–{last}", display))
        first += count
    return runs


def _noggins(wall: WallOut) -> list[tuple[float, list[Piece]]]:
    """Level noggins by the height of their lower edge, the lowest first."""
    rows: dict[float, list[Piece]] = {}
    for piece in wall.pieces:
        if piece.role == "noggin" and _is_level(piece):
            rows.setdefault(bounds(piece.outline)[2], []).append(piece)
    return sorted(rows.items())


def _is_level(piece: Piece) -> bool:
    left, right, bottom, top = bounds(piece.outline)
    return all(
        min(abs(x - left), abs(x - right)) < _LEVEL and min(abs(z - bottom), abs(z - top)) < _LEVEL
        for x, z in piece.outline
    )


def _marks(pieces: Sequence[Piece]) -> str:
    marks = [piece.mark for piece in pieces]
    return " ".join(marks if len(marks) <= _MOST_MARKS else [*marks[: _MOST_MARKS - 1], "…"])
