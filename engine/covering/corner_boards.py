"""Corner boards: a pair of upright boards at an outer corner, which level boards end at."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from soleplate.engine.covering.corners import Claddings, has_corner_board, neighbour_at
from soleplate.engine.rules import CladdingRule, Span, Strip, Surface
from soleplate.engine.shapes import TOUCH


def within_corner_boards(face: Surface, rule: CladdingRule, claddings: Claddings) -> Surface:
    """The face that is left between its corner boards."""
    left, right = _widths(face, rule, claddings)
    return replace(face, left=face.left + left, right=face.right - right) if left or right else face


def corner_strips(whole: Surface, rule: CladdingRule, claddings: Claddings, bottom: float) -> Iterator[Strip]:
    """The corner boards of a face, from `bottom` up to the roof."""
    left, right = _widths(whole, rule, claddings)
    for width, near in ((left, whole.left), (right, whole.right - right)):
        if width > TOUCH:
            span = Span(near, near + width, bottom, whole.highest)
            out = rule.cavity
            yield Strip(
                "corner board",
                rule.corner_board,
                rule.material,
                whole=span,
                seen=span,
                depth=(-out - rule.corner_board.breadth, -out),
                upright=True,
            )


def _widths(face: Surface, rule: CladdingRule, claddings: Claddings) -> tuple[float, float]:
    """Of the corner boards at the left and the right end, mm; 0 where there is none.

    A face shorter than four of them has none.
    """
    width = rule.corner_board.depth
    if face.length < 4 * width:
        return 0.0, 0.0
    left, right = (
        width if has_corner_board(end, rule, neighbour_at(end, claddings, face.facing)) else 0.0
        for end in face.ends
    )
    return left, right
