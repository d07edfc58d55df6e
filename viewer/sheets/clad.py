"""A wall's cladding on sheets: the boards at the scale and in the parts of its frame's elevation."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import svg

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import Layout, Piece, WallOut
from soleplate.engine.shapes import bounds, contains
from soleplate.viewer.drawings import (
    TAG_INK,
    TAG_PAPER,
    Face,
    LetteringBox,
    Places,
    draw_boards,
    draw_openings,
    drawn_as,
    lettering,
    text_width,
    tone_patterns,
)
from soleplate.viewer.paper import scale_text
from soleplate.viewer.sheets.blocks import Block, Column, table
from soleplate.viewer.sheets.elevation import LETTERING, cut_off, level_strings, match_lines
from soleplate.viewer.sheets.parts import SheetPart, within
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.sheets.strings import BESIDE
from soleplate.viewer.words import Texts

_SHARES: Final = (0.5, 0.2, 0.8, 0.05, 0.95)
"""Of the room that a mark has on its board, where it may stand."""


def clad_pictures(
    wall: WallOut,
    parts: Sequence[SheetPart],
    layout: Layout,
    rows: Mapping[str, int],
    scale: int,
    kind: str,
    texts: Texts,
) -> list[tuple[SheetPart, Picture]]:
    """What lies on the outside, of a `kind` as texts call it, part by part; nothing for a bare wall."""
    if not any(piece.face == "outside" for piece in wall.pieces):
        return []
    alt = texts.sheets.boarded_alt.format(wall=wall.name, kind=kind, scale=scale_text(scale))
    # Cover strips alone may leave a part of a wall bare.
    covered = [p for p in parts if any(piece.face == "outside" for piece in within(wall, p).pieces)]
    return [(part, _draw(wall, layout, rows, scale, part, alt, texts)) for part in covered]


def _draw(
    wall: WallOut,
    layout: Layout,
    rows: Mapping[str, int],
    scale: int,
    part: SheetPart,
    alt: str,
    texts: Texts,
) -> Picture:
    face = Face(within(wall, part), "outside", layout.units, texts, LETTERING * scale)
    size = face.size
    outlines = [bounds(piece.outline) for piece in face.cladding]
    tall = max(top for _, _, _, top in outlines)
    drop = max(0.0, -min(bottom for _, _, bottom, _ in outlines))
    top = -tall - 0.7 * size
    shapes: list[svg.Element] = [
        svg.G(stroke=TAG_INK, stroke_width=0.05 * size, elements=draw_boards(face, face.on("outside"), rows)),
        svg.G(elements=draw_openings(face)),
    ]
    cut = [] if part.count == 1 else [cut_off(face, part)]
    strings, foot = level_strings(face, part, drop)
    parts: list[svg.Element] = [
        *cut,
        svg.G(clip_path="url(#part)" if cut else None, elements=shapes),
        *_marks(face),
        *(_numbers(face, part) if part.begins else []),
        *strings,
        *match_lines(face, part, top, foot),
    ]
    left = min(part.left, *(left for left, _, _, _ in outlines)) - BESIDE * size
    right = max(part.right, *(right for _, right, _, _ in outlines)) + (0.6 if part.ends else BESIDE) * size
    patterns = tone_patterns([drawn_as(piece) for piece in face.cladding])
    return picture(parts, (left, top, right - left, foot - top), alt, scale=scale, defs=[patterns])


def _marks(face: Face) -> list[svg.Element]:
    """Each board's mark on what is seen of it, where that is tall or wide enough and not taken yet."""
    size, places = 0.9 * face.size, Places(4 * face.size)
    papers: list[svg.Element] = []
    marks: list[svg.Element] = []
    for piece in face.cladding:
        left, right, bottom, top = _seen(piece)
        wide, tall = text_width(piece.mark, size), 0.95 * size
        turned = right - left < wide
        if turned:
            wide, tall = tall, wide
        if right - left < wide or top - bottom < tall:
            continue
        before = [other for other in face.cladding if other.depth[0] < piece.depth[0]]
        box = next(
            (
                box
                for box in _boxes((left, right, bottom, top), wide, tall)
                if _lies_on(box, piece) and not any(_lies_on(box, other) for other in before)
            ),
            None,
        )
        if box is not None and places.is_free(box):
            places.take([box])
            papers.append(svg.Rect(x=box.left, y=box.top, width=wide, height=tall))
            marks.append(lettering(piece.mark, *box.centre, size, turned=turned))
    return [
        svg.G(fill=TAG_PAPER, fill_opacity=0.9, elements=papers),
        svg.G(fill=TAG_INK, extra={"font-weight": "bold"}, elements=marks),
    ]


def _boxes(within: tuple[float, float, float, float], wide: float, tall: float) -> Iterator[LetteringBox]:
    """Places for a mark, the middle first, then those beside and over what may be cut out of it."""
    left, right, bottom, top = within
    for along, up in itertools.product(_SHARES, _SHARES):
        x = left + wide / 2 + along * (right - left - wide)
        z = bottom + tall / 2 + up * (top - bottom - tall)
        yield LetteringBox.around(x, -z, wide, tall)


def _lies_on(box: LetteringBox, piece: Piece) -> bool:
    x, y = box.centre
    return contains(piece.outline, (x, -y))


def _seen(piece: Piece) -> tuple[float, float, float, float]:
    """Of the largest outline that is seen of a piece, or of its own."""
    outlines = [bounds(outline) for outline in piece.seen or (piece.outline,)]
    return max(outlines, key=lambda box: (box[1] - box[0]) * (box[3] - box[2]))


def _numbers(face: Face, part: SheetPart) -> list[svg.Element]:
    """The courses' numbers beside the wall's left end, as many as have room over each other."""
    size, courses = 0.9 * face.size, face.wall.courses
    if not courses:
        return []
    x = min(part.left, *(bounds(piece.outline)[0] for piece in face.cladding)) - 0.4 * size
    numbers: list[svg.Element] = []
    below = -math.inf
    for course in courses:
        middle = (course.bottom + course.top) / 2
        if middle - below >= 1.2 * size:
            numbers.append(lettering(f"{course.number}", x, -middle, size, anchor="end"))
            below = middle
    return numbers


def course_table(wall: WallOut, layout: Layout, texts: Texts) -> Block:
    """The wall's courses, from the lowest: where each begins, and its boards."""
    said = texts.sheets
    columns = [
        Column(said.course, "auto", "figure", right=True),
        Column(said.lower_edge, "auto", "figure", right=True),
        Column(said.ripped_to, "auto", "figure", right=True),
        Column(said.boards, "rest", "figure"),
    ]
    return table(
        columns,
        (
            (
                f"{course.number}",
                course.display,
                "" if course.rip is None else format_length(course.rip, layout.units),
                " ".join(course.boards),
            )
            for course in wall.courses
        ),
    )
