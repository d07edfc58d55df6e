"""Which ends of noggins nails can reach, where no joints are fixed: seen from the pieces around them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from soleplate.engine.fixing.driven import Order
from soleplate.engine.layout import Fixing, Piece
from soleplate.engine.shapes import bounds, pairs

ALIKE: Final = 0.05
"""mm. Edges nearer than this lie on each other."""


def within_reach(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The same pieces; an end whose nails another piece would lie over is nailed before that, or skewed.

    Pieces whose rules plan no fixings are left as they are.
    """
    if not any(piece.fixings for piece in pieces):
        return tuple(pieces)
    faces = _Faces(pieces)
    order = Order()
    told: list[Piece] = []
    for index, piece in enumerate(pieces):
        if piece.fixings is None:
            told.append(piece)
            continue
        left, right = (
            _reached(index, end, is_left, faces, order)
            for end, is_left in zip(piece.fixings, (True, False), strict=True)
        )
        told.append(replace(piece, fixings=(left, right)))
    return tuple(told)


def _reached(index: int, end: Fixing, is_left: bool, faces: _Faces, order: Order) -> Fixing:
    """How one end is fixed: as planned, unless what it is nailed through is covered behind."""
    if end.way == "skew":
        return end
    over = next(
        (
            cover
            for upright in faces.beside(index, index, is_left)
            for cover in faces.beside(upright, index, is_left)
        ),
        None,
    )
    if over is None:
        return end
    if not order.allows(index, over):
        return replace(end, way="skew")
    order.settle(index, over)
    return replace(end, when=f"before {faces.pieces[over].mark}")


class _Faces:
    """The plumb edges of a frame's pieces in their view."""

    def __init__(self, pieces: Sequence[Piece]) -> None:
        self.pieces = pieces
        self._boxes = [bounds(piece.outline) for piece in pieces]
        self._edges: dict[tuple[str | None, bool, int], list[tuple[float, float, float, int]]]
        self._edges = defaultdict(list)
        for index, piece in enumerate(pieces):
            for (u0, v0), (u1, v1) in pairs(piece.outline) if piece.is_frame else ():
                if abs(u1 - u0) < ALIKE:
                    # Anticlockwise: an edge goes down at the left.
                    edge = (u0, min(v0, v1), max(v0, v1), index)
                    self._edges[piece.view, v1 < v0, round(u0)].append(edge)

    def beside(self, index: int, level: int, is_left: bool) -> Iterator[int]:
        """The pieces that lie on the left or the right edge of one, at the height and depth of another."""
        at = self._boxes[index][0 if is_left else 1]
        _, _, bottom, top = self._boxes[level]
        height, depth = (bottom + top) / 2, sum(self.pieces[level].depth) / 2
        for near in (round(at) - 1, round(at), round(at) + 1):
            for u, low, high, other in self._edges.get((self.pieces[index].view, not is_left, near), ()):
                front, back = self.pieces[other].depth
                if abs(u - at) < ALIKE and low < height < high and front < depth < back:
                    yield other
