"""A drawing layer: the lines of the boards, and how high they are."""

from __future__ import annotations

from collections.abc import Sequence

from backing_boards.reading import boards, middle, span
from soleplate.engine.rules import DrawingLayer, Drawn, DrawnLine, DrawnText, Layout, WallOut


class BackingLines(DrawingLayer):
    """The centre line of each board, and the height of each row."""

    name = "backing-lines"

    def draw(self, wall: WallOut, layout: Layout) -> Sequence[Drawn]:
        """Return a line for each board, and a text on the first of each row, mm."""
        drawn: list[Drawn] = []
        named: set[float] = set()
        for piece in boards(wall):
            left, right = span(piece)
            height = middle(piece)
            drawn.append(DrawnLine(((left, height), (right, height)), f"backing board {piece.mark}"))
            if height not in named:
                named.add(height)
                drawn.append(DrawnText(((left + right) / 2, height), f"{height:g} up"))
        return drawn
