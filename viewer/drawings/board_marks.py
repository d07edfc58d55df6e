"""The marks of boards and sheets: each on what is seen of its piece, as large as there is room for."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from typing import Final

import svg

from soleplate.engine.layout import OpeningOut, Piece
from soleplate.engine.shapes import Point, bounds, contains
from soleplate.viewer.drawings.face import Face
from soleplate.viewer.drawings.frame import TAG_INK, TAG_PAPER
from soleplate.viewer.drawings.lettering import LetteringBox, Places, lettering, text_width

LEAST: Final = 14.0
"""mm of lettering: what is smaller cannot be read however near the drawing is brought."""

SMALL: Final = 0.5
"""Of the drawing's lettering: what would be smaller on the edge of a board stands beside it."""

_TALL: Final = 1.1
_BESIDE: Final = 0.3
"""A tag's height, and how much wider than its text it is, in text sizes."""

_SHARES: Final = (0.5, 0.3, 0.7, 0.1, 0.9)
"""Of the room that a mark has on its board, where it may stand."""


def mark_boards(face: Face, pieces: Sequence[Piece], places: Places, *, covered: bool = False) -> svg.G:
    """The marks of pieces, kept clear of what is in `places`; one that finds no room is left out.

    A mark reads upwards on what is too narrow for it. Of what finishes an opening and shows no more than an
    edge it stands beside that, in the opening.
    """
    holes = {mark: each for each in face.wall.openings if each.finish for mark in each.finish.pieces}
    papers: list[svg.Element] = []
    marks: list[svg.Element] = []
    for piece in pieces:
        found = _place(face, piece, places)
        if piece.mark in holes and (found is None or found[1] < SMALL * face.size):
            found = _beside(face, piece, holes[piece.mark], places) or found
        if found is None:
            continue
        box, size, turned = found
        places.take([box])
        papers.append(
            svg.Rect(
                x=round(box.left, 1),
                y=round(box.top, 1),
                width=round(box.right - box.left, 1),
                height=round(box.bottom - box.top, 1),
            )
        )
        x, y = box.centre
        marks.append(lettering(piece.mark, round(x, 1), round(y, 1), round(size, 1), turned=turned))
    classes = ["layer", "marks", *(["covered"] if covered else [])]
    tags = svg.G(class_=["tags"], fill=TAG_PAPER, fill_opacity=0.9, elements=papers)
    return svg.G(class_=classes, fill=TAG_INK, pointer_events="none", elements=[tags, *marks])


def _place(face: Face, piece: Piece, places: Places) -> tuple[LetteringBox, float, bool] | None:
    """A free box on a piece with its lettering's size, and whether it reads upwards."""
    outline = _most_seen(piece)
    left, right, bottom, top = bounds(outline)
    along = text_width(piece.mark, 1.0) + _BESIDE
    turned = right - left < min(top - bottom, along * face.size)
    run, across = (top - bottom, right - left) if turned else (right - left, top - bottom)
    size = min(0.92 * face.size, across / _TALL, run / along)
    while size >= LEAST:
        wide, tall = (_TALL * size, along * size) if turned else (along * size, _TALL * size)
        for x, z in _middles((left, right, bottom, top), wide, tall):
            box = LetteringBox.around(face.x(x), -z, wide, tall)
            if _lies_on((x, z), wide, tall, outline) and places.is_free(box):
                return box, size, turned
        size *= 0.7
    return None


def _beside(
    face: Face, piece: Piece, hole: OpeningOut, places: Places
) -> tuple[LetteringBox, float, bool] | None:
    """The same in the opening, next to the edge of the piece that looks into it."""
    left, right, bottom, top = bounds(piece.outline)
    turned = right - left < top - bottom
    along = text_width(piece.mark, 1.0) + _BESIDE
    size = 0.92 * face.size
    while size >= LEAST:
        wide, tall = (_TALL * size, along * size) if turned else (along * size, _TALL * size)
        apart = _BESIDE * size
        if turned:
            is_left = left + right < hole.left + hole.right
            x = right + apart + wide / 2 if is_left else left - apart - wide / 2
            middles = [(x, bottom + share * (top - bottom)) for share in _SHARES]
        else:
            is_low = bottom + top < hole.bottom + hole.top
            z = top + apart + tall / 2 if is_low else bottom - apart - tall / 2
            middles = [(left + share * (right - left), z) for share in _SHARES]
        for x, z in middles:
            box = LetteringBox.around(face.x(x), -z, wide, tall)
            is_within = hole.left < x - wide / 2 and x + wide / 2 < hole.right
            if is_within and hole.bottom < z - tall / 2 and z + tall / 2 < hole.top and places.is_free(box):
                return box, size, turned
        size *= 0.7
    return None


def _middles(
    within: tuple[float, float, float, float], wide: float, tall: float
) -> Iterator[tuple[float, float]]:
    """Where a box may have its middle: that of the piece first, then beside and over what is cut out."""
    left, right, bottom, top = within
    for along, up in itertools.product(_SHARES, _SHARES):
        yield (
            left + wide / 2 + along * (right - left - wide),
            bottom + tall / 2 + up * (top - bottom - tall),
        )


def _lies_on(middle: tuple[float, float], wide: float, tall: float, outline: Sequence[Point]) -> bool:
    """By its corners, drawn in a little, since a point on an edge counts either way."""
    x, z = middle
    return all(
        contains(outline, (x + 0.48 * along * wide, z + 0.48 * up * tall))
        for along in (-1, 1)
        for up in (-1, 1)
    )


def _most_seen(piece: Piece) -> Sequence[Point]:
    """The largest outline that is seen of a piece, or its own."""

    def size(outline: Sequence[Point]) -> float:
        left, right, bottom, top = bounds(outline)
        return (right - left) * (top - bottom)

    return max(piece.seen or (piece.outline,), key=size)
