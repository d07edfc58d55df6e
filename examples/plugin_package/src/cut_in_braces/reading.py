"""What a layout tells of its braces."""

from __future__ import annotations

import math
from collections.abc import Iterator

from cut_in_braces.brace import ROLE
from soleplate.engine.rules import Piece, WallOut

Line = tuple[tuple[float, float], tuple[float, float]]


def braces(wall: WallOut) -> Iterator[Piece]:
    """The pieces of a wall's braces, left to right."""
    return (piece for piece in wall.pieces if piece.role == ROLE)


def centre_line(piece: Piece) -> Line:
    """From the lower to the upper end of a piece, mm: along its longest edge, through its middle."""
    edges = zip(piece.outline, (*piece.outline[1:], piece.outline[0]), strict=True)
    (x0, z0), (x1, z1) = max(edges, key=lambda edge: math.dist(*edge))
    if z1 < z0:
        (x0, z0), (x1, z1) = (x1, z1), (x0, z0)
    middle = [sum(values) / len(piece.outline) for values in zip(*piece.outline, strict=True)]
    half_x, half_z = (x1 - x0) / 2, (z1 - z0) / 2
    return (middle[0] - half_x, middle[1] - half_z), (middle[0] + half_x, middle[1] + half_z)


def angle(piece: Piece) -> float:
    """How steep a piece is, degrees off level: over 90 where it rises to the left."""
    (x0, z0), (x1, z1) = centre_line(piece)
    return math.degrees(math.atan2(z1 - z0, x1 - x0))
