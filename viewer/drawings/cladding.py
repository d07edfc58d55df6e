"""Cladding or lining of a wall on an elevation: battens, boards and sheets, and the courses' numbers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import svg

from soleplate.engine.layout import Piece
from soleplate.viewer.drawings.face import Face, Side
from soleplate.viewer.drawings.frame import piece_place
from soleplate.viewer.drawings.lettering import LetteringBox, Places, lettering
from soleplate.viewer.drawings.tones import drawn_as, fill_of, role_class
from soleplate.viewer.words import role_text

PAPER: Final = "#fffdf8"
LEAST_TALL: Final = 25.0
"""mm. A lower strip of a course has no room for its number."""


def draw_boards(
    face: Face, pieces: Sequence[Piece], rows: Mapping[str, int], *, placed: bool = False
) -> list[svg.Element]:
    """Pieces that lie on a frame, a polygon each, the hidden ones first, as laps lie.

    `data-mark` is the piece's, `data-cut` its row in the cutting list, counted from 0, `data-course` the
    course that it lies in; where it is `placed`, `data-place` says where it sits.
    """
    drawn: list[svg.Element] = []
    for piece in _as_laid(face, pieces):
        course = {} if piece.course is None else {"course": piece.course}
        place = {"place": piece_place(face, piece)} if placed else {}
        said = face.texts.board_title if piece.course else face.texts.piece_title
        title = said.format(
            mark=piece.mark, role=role_text(piece.role, face.texts), length=piece.display, course=piece.course
        )
        drawn.append(
            svg.Polygon(
                points=face.points(piece.outline),
                class_=["piece", role_class(drawn_as(piece))],
                fill=fill_of(drawn_as(piece)),
                data={"mark": piece.mark, "role": piece.role, "cut": rows[piece.mark], **course, **place},
                elements=[svg.Title(text=title)],
            )
        )
    return drawn


def _as_laid(face: Face, pieces: Sequence[Piece]) -> list[Piece]:
    """What is furthest from the eye first, and lower courses before upper ones."""
    return sorted(
        pieces,
        key=lambda p: (-p.depth[1] if face.side == "outside" else p.depth[0], p.course or 0),
    )


def label_courses(face: Face, facing: Side, places: Places) -> list[svg.Element]:
    """The number of each course at the left end of its boards, in their place under a slope too."""
    labels: list[svg.Element] = []
    boards = {piece.mark: piece for piece in face.on(facing)}
    for course in face.wall.courses if facing == "outside" else face.wall.lining_courses:
        tall = course.top - course.bottom
        there = [boards[mark] for mark in course.boards if mark in boards]
        start = min((x for piece in there for x, _ in piece.outline), default=0.0)
        if tall < LEAST_TALL:
            continue
        size = min(0.8 * face.size, 0.8 * tall)
        x, y = face.x(max(start, 0.0) + face.size), -(course.bottom + course.top) / 2
        box = places.take([LetteringBox.around(x, y, 1.6 * size, 1.1 * size)])
        labels.append(svg.Rect(x=box.left, y=box.top, width=1.6 * size, height=1.1 * size, fill=PAPER))
        labels.append(lettering(f"{course.number}", x, y, size))
    return labels
