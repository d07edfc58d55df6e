"""What is needed to put a wall together on the floor: its diagonals, its bays, its noggins' heights."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import groupby

from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import Layout, Piece, WallOut
from soleplate.engine.shapes import Point, bounds
from soleplate.viewer.sheets.blocks import Block, head, running_marks, words
from soleplate.viewer.words import Texts

_LEVEL = 0.01
"""mm. An outline that fills its bounds but for this is level: outlines are rounded."""

_AT_AN_END = 0.5
"""mm. A corner this near to the end of a panel is there."""

_MOST_MARKS = 8
"""Marks told beside one height; a bay's noggins are found on the elevation in any case."""


def assembly(wall: WallOut, layout: Layout, texts: Texts) -> list[list[Block]]:
    """How to know that it is square, bays and heights of noggins, by headings."""
    said = texts.sheets
    groups: list[list[Block]] = [[words(told) for told in _square(wall, layout, texts)]]
    if wall.bays:
        groups.append([head(said.bays), running_marks(_bays(wall))])
    if noggins := _noggins(wall):
        told = [(_marks(pieces), format_figure(height, layout.units)) for height, pieces in noggins]
        groups.append([head(said.noggins), running_marks(told)])
    return groups


def _square(wall: WallOut, layout: Layout, texts: Texts) -> Iterator[str]:
    """How to know that a wall is square, or each of its panels."""
    said = texts.sheets
    if not wall.panels:
        ends = (wall.top_line[0][1], wall.top_line[-1][1])
        yield _both(diagonals(wall.length, *ends), layout, texts)
    for panel in wall.panels or ():
        left, right = panel.start, panel.start + panel.length
        corners = [
            p for each in wall.pieces if each.panel == panel.number and each.is_frame for p in each.outline
        ]
        ends = (_highest(corners, left), _highest(corners, right))
        square = _both(diagonals(panel.length, *ends), layout, texts)
        yield said.square_panel.format(number=panel.number, square=square)


def _highest(corners: Sequence[Point], x: float) -> float:
    """The highest of some corners at a place along the wall, mm."""
    return max(z for at, z in corners if abs(at - x) < _AT_AN_END)


def _both(diagonals: tuple[float, float], layout: Layout, texts: Texts) -> str:
    rising, falling = (format_length(diagonal, layout.units) for diagonal in diagonals)
    square = texts.sheets.square if rising == falling else texts.sheets.square_raked
    return square.format(rising=rising, falling=falling)


def diagonals(length: float, left: float, right: float) -> tuple[float, float]:
    """From the lower left corner to the upper right, and from the lower right to the upper left, mm.

    Corners are those of a frame so long, and so high at its left and its right: a level one is square where
    both are alike (Pythagoras).
    """
    return math.hypot(length, right), math.hypot(length, left)


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
