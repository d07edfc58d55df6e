"""The timbers of a wall, their marks, and its openings, on an elevation."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import svg

from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import OpeningOut, Piece
from soleplate.engine.shapes import Point, bounds
from soleplate.viewer.drawings.face import Face, Side
from soleplate.viewer.drawings.laid import LaidFloor
from soleplate.viewer.drawings.laid_slopes import LaidSlope
from soleplate.viewer.drawings.lettering import LetteringBox, Places, lettering, shortened, text_width
from soleplate.viewer.drawings.tiers import left_edge
from soleplate.viewer.drawings.tones import drawn_as, fill_of, role_class
from soleplate.viewer.markup import figure
from soleplate.viewer.words import role_text, size_text

TAG_PAPER = "#fffdf8"
TAG_INK = "#1f2123"

_ALONG = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9, 0.46, 0.54, 0.38, 0.62, 0.3, 0.7)
"""Where along a piece its mark may stand, best first."""


def draw_pieces(face: Face, rows: Mapping[str, int], *, placed: bool = False) -> list[svg.Element]:
    """Each piece as a polygon of its outline; those further from the eye are drawn first.

    `data-mark` is the piece's, `data-cut` its row in the cutting list, counted from 0; where it is `placed`,
    `data-place` says where it sits.
    """
    return [
        svg.Polygon(
            points=face.points(piece.outline),
            class_=["piece", role_class(drawn_as(piece))],
            fill=fill_of(drawn_as(piece)),
            data={
                "mark": piece.mark,
                "role": piece.role,
                "cut": rows[piece.mark],
                **({"place": piece_place(face, piece)} if placed else {}),
            },
            elements=[svg.Title(text=_piece_title(face, piece))],
        )
        for piece in _back_to_front(face)
    ]


def _back_to_front(face: Face) -> list[Piece]:
    if face.side == "outside":
        return sorted(face.frame, key=lambda piece: -piece.depth[0])
    return sorted(face.frame, key=lambda piece: piece.depth[1])


def _piece_title(face: Face, piece: Piece) -> str:
    role = role_text(piece.role, face.texts)
    return face.texts.piece_title.format(mark=piece.mark, role=role, length=piece.display)


def piece_place(face: Face, piece: Piece) -> str:
    """Where a piece's lower left corner is, in words: of lining as it is seen from inside; and its panel."""
    facing: Side = piece.face or "outside"
    left, low = left_edge(face.wall, piece, facing), bounds(piece.outline)[2]
    said = face.texts.sits_at[facing]
    place = said.format(x=format_length(left, face.units), z=format_length(low, face.units))
    return place if piece.panel is None else face.texts.in_panel.format(place=place, number=piece.panel)


def draw_openings(face: Face) -> list[svg.Element]:
    """Each opening as its outline with both diagonals.

    `data-opening` is its name, `data-left` and `data-right` its edges along a wall `data-along` long, mm.
    """
    return [_hole(face, opening) for opening in face.wall.openings]


def _hole(face: Face, opening: OpeningOut) -> svg.G:
    left, right, bottom, top = opening.left, opening.right, opening.bottom, opening.top
    title = face.texts.opening_title.format(
        name=opening.name,
        kind=face.texts.opening_kinds[opening.kind],
        width=format_figure(right - left, face.units),
        height=format_figure(top - bottom, face.units),
    )
    diagonals = [((left, bottom), (right, top)), ((left, top), (right, bottom))]
    drawn: list[svg.Element] = [
        svg.Polygon(
            points=face.points(((left, bottom), (right, bottom), (right, top), (left, top))),
            class_=["opening"],
            fill="none",
            stroke="currentColor",
            stroke_width=5,
            elements=[svg.Title(text=title)],
        ),
        *(
            svg.Polyline(
                points=face.points(ends),
                fill="none",
                stroke="currentColor",
                stroke_width=3,
                stroke_opacity=0.6,
                stroke_dasharray=[36, 22],
            )
            for ends in diagonals
        ),
    ]
    sizes = {
        "opening": opening.name,
        "left": figure(left),
        "right": figure(right),
        "along": figure(face.length),
    }
    return svg.G(class_=["hole"], data=sizes, elements=drawn)


def label_openings(
    face: Face, places: Places, between: tuple[float, float] | None = None
) -> list[svg.Element]:
    """The name and size of each opening, and its sill's height, about its middle.

    Of a wall that is shown `between` two places alone, about the middle of what is seen of it.
    """
    return [part for opening in face.wall.openings for part in _opening_label(face, places, opening, between)]


def _opening_label(
    face: Face, places: Places, opening: OpeningOut, between: tuple[float, float] | None
) -> list[svg.Element]:
    size = face.size if face.lettering is None else 0.9 * face.size
    least, most = between or (opening.left, opening.right)
    left, right = max(opening.left, least), min(opening.right, most)
    width, height = right - left, opening.top - opening.bottom
    room, said = (
        max(width - 0.4 * size, 3 * size),
        size_text(opening.right - opening.left, height, face.units),
    )
    lines = [shortened(opening.name, size, room)]
    if text_width(said, size) <= room:
        lines.append(said)
    else:
        lines += said.replace("× ", "×\n").split("\n")
    if opening.bottom > 0:
        lines.append(face.texts.sill_height.format(height=format_figure(opening.bottom, face.units)))
    if face.lettering is not None and not _fit(lines, size, width, height):
        # On paper a list beside the drawing tells the sizes.
        lines = [shortened(opening.name, size, width)]
        if not _fit(lines, size, width, height):
            return []
    wide = max(text_width(line, size) for line in lines) + 0.6 * size
    tall = (1.25 * len(lines) + 0.3) * size
    x = face.x((left + right) / 2)
    choices = [
        LetteringBox.around(x + across * width, -(opening.bottom + up * height), wide, tall)
        for up in (0.5, 0.65, 0.35, 0.8)
        for across in (0.0, 0.17, -0.17)
    ]
    box = places.take(choices)
    middle, top = box.centre[0], box.top + 0.15 * size
    return [
        _tags([box], size),
        *(
            lettering(line, middle, top + (0.625 + 1.25 * index) * size, size)
            for index, line in enumerate(lines)
        ),
    ]


def _fit(lines: Sequence[str], size: float, width: float, height: float) -> bool:
    """Whether lines stay within an opening."""
    return max(text_width(line, size) for line in lines) <= width and 1.25 * len(lines) * size <= height


def label_pieces(face: Face, places: Places, between: tuple[float, float] | None = None) -> list[svg.Element]:
    """Each piece's mark on a tag, kept clear of the others; the pieces with least room choose first.

    Tags stay `between` two places along the wall, or within it but for a little.
    """
    size = 0.92 * face.size
    chosen: dict[str, LetteringBox] = {}
    texts = _mark_texts(face)
    tagged = [piece for piece in face.frame if piece.mark in texts]
    for piece in sorted(tagged, key=lambda piece: piece.length):
        wide = text_width(texts[piece.mark], size) + 0.35 * size
        chosen[piece.mark] = places.take(_tag_places(face, piece, wide, 1.2 * size, between))
    return [
        _tags([chosen[piece.mark] for piece in tagged], size),
        *(lettering(texts[piece.mark], *chosen[piece.mark].centre, size) for piece in tagged),
    ]


def _mark_texts(face: Face) -> dict[str, str]:
    """What stands on each tag: a piece that another one hides has its mark in brackets.

    Where a piece has no room for the tags of all those behind it, its own tells how many they are.
    """
    texts: dict[str, str] = {}
    alike: dict[tuple[Point, ...], list[str]] = {}
    for piece in reversed(_back_to_front(face)):
        alike.setdefault(piece.outline, []).append(piece.mark)
    for outline, (first, *hidden) in alike.items():
        brackets = {mark: face.texts.hidden_mark.format(mark=mark) for mark in hidden}
        left, right, bottom, top = bounds(outline)
        wanted = sum(text_width(text, face.size) + 0.5 * face.size for text in (first, *brackets.values()))
        if hidden and right - left > top - bottom and wanted > right - left:
            texts[first] = face.texts.alike.format(mark=first, others=len(hidden))
        else:
            texts |= {first: first, **brackets}
    return texts


def _tag_places(
    face: Face, piece: Piece, wide: float, tall: float, between: tuple[float, float] | None
) -> Sequence[LetteringBox]:
    """On the line between the middles of the piece's ends, found as the longest edge and the one opposite.

    In a floor or a slope a tag that is wider than its piece may stand over or under it too.
    """
    left, right, bottom, top = bounds(piece.outline)
    count = len(piece.outline)
    middle = sum(x for x, _ in piece.outline) / count, sum(z for _, z in piece.outline) / count
    if top - bottom > right - left:
        run = 0.0, max(top - bottom - tall, 0.0)
    else:
        edges = zip(piece.outline, (*piece.outline[1:], piece.outline[0]), strict=True)
        (x0, z0), (x1, z1) = max(edges, key=lambda edge: abs(edge[1][0] - edge[0][0]))
        across = max(right - left - wide, 0.0)
        run = across, across * (z1 - z0) / (x1 - x0)
    places = [
        (face.x(middle[0] + (share - 0.5) * run[0]), -(middle[1] + (share - 0.5) * run[1]))
        for share in _ALONG
    ]
    if isinstance(face.wall, LaidFloor | LaidSlope) and right - left < wide and top - bottom < tall:
        places += [(places[0][0], places[0][1] + way * tall) for way in (-1.0, 1.0)]
    if face.lettering is not None:
        # Beside the wall stand its heights, close to it.
        over = 0.6 * face.size
        left, right = between or (-over, face.length + over)
        least, most = left + 0.5 * wide, right - 0.5 * wide
        places = [(min(max(x, least), max(most, least)), y) for x, y in places]
    return [LetteringBox.around(x, y, wide, tall) for x, y in places]


def _tags(boxes: Sequence[LetteringBox], size: float) -> svg.G:
    """Paper under texts that stand on timber."""
    papers: list[svg.Element] = [
        svg.Rect(
            x=box.left,
            y=box.top,
            width=box.right - box.left,
            height=box.bottom - box.top,
            rx=0.2 * size,
        )
        for box in boxes
    ]
    return svg.G(class_=["tags"], fill=TAG_PAPER, fill_opacity=0.9, elements=papers)
