"""What a layout tells of its backing boards."""

from __future__ import annotations

from collections.abc import Iterator

from backing_boards.board import ROLE
from soleplate.engine.rules import Piece, WallOut


def boards(wall: WallOut) -> Iterator[Piece]:
    """The backing boards of a wall, left to right."""
    return (piece for piece in wall.pieces if piece.role == ROLE)


def span(piece: Piece) -> tuple[float, float]:
    """From where to where a piece reaches along its wall, mm."""
    return min(x for x, _ in piece.outline), max(x for x, _ in piece.outline)


def middle(piece: Piece) -> float:
    """How high the centre line of a level piece is, mm."""
    return (min(z for _, z in piece.outline) + max(z for _, z in piece.outline)) / 2
