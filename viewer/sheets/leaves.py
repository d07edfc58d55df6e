"""The sheet of a door's or shutter's leaves: seen from behind, with the places of ledges and all marks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import svg

from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import Layout, LeafOut, OpeningOut, Piece, WallOut
from soleplate.engine.shapes import bounds
from soleplate.viewer.drawings import fill_of, lettering, text_width, tone_patterns
from soleplate.viewer.paper import FIGURES, SCALES, Page, PaperName, scale_text
from soleplate.viewer.sheets.blocks import Block, Column, SheetOf, blocks_height, drawing, table
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts, role_text, section_text, size_text

LETTERING: Final = FIGURES / 0.9
"""On the sheet, mm."""

BESIDE: Final = 4.0
"""Left of the leaves, in text sizes: room for the heights of ledges."""


def leaf_sheets(layout: Layout, paper: PaperName, texts: Texts) -> list[SheetOf]:
    """A sheet for each opening that leaves hang in."""
    return [
        _sheet(wall, number, opening, opening.finish.leaves, layout, paper, texts)
        for number, wall in enumerate(layout.walls, 1)
        for opening in wall.openings
        if opening.finish is not None and opening.finish.leaves
    ]


def _sheet(
    wall: WallOut,
    number: int,
    opening: OpeningOut,
    leaves: Sequence[LeafOut],
    layout: Layout,
    paper: PaperName,
    texts: Texts,
) -> SheetOf:
    said = texts.sheets
    pieces = {piece.mark: piece for piece in wall.pieces}
    told = [_table(leaves, pieces, layout, texts)]
    alt = said.leaves_alt.format(opening=opening.name, wall=wall.name)
    drawn, scale, page = _largest(leaves, pieces, layout, told, paper, alt)
    index = [each.name for each in wall.openings].index(opening.name) + 1
    return SheetOf(
        f"wall-{number}-leaves-{index}", f"{opening.name}, {wall.name}", said.leaves_sub, said.leaves,
        scale_text(scale), [drawing(drawn), *told], landscape=page.landscape, of=wall.name,
    )  # fmt: skip


def _table(leaves: Sequence[LeafOut], pieces: dict[str, Piece], layout: Layout, texts: Texts) -> Block:
    """Under the size of each leaf its pieces, alike ones together."""
    said, units = texts.sheets, layout.units
    columns = [
        Column(texts.piece, "rest"),
        Column(texts.length, "auto", "figure"),
        Column(said.marks, 70.0, "figure"),
    ]
    rows: list[Sequence[str] | str] = []
    for leaf in leaves:
        size = size_text(leaf.right - leaf.left, leaf.top - leaf.bottom, units)
        hung = said.leaf_on_left if leaf.hinged == "left" else said.leaf_on_right
        rows.append(hung.format(size=size))
        alike: dict[tuple[str, str], list[str]] = {}
        for mark in leaf.pieces:
            piece = pieces[mark]
            width = piece.section[1] if piece.rip is None else piece.rip
            what = f"{role_text(piece.role, texts)}, {section_text((piece.section[0], width), units)}"
            alike.setdefault((what, piece.display), []).append(mark)
        rows += [(what, length, " ".join(marks)) for (what, length), marks in alike.items()]
    return table(columns, rows)


def _largest(
    leaves: Sequence[LeafOut],
    pieces: dict[str, Piece],
    layout: Layout,
    told: list[Block],
    paper: PaperName,
    alt: str,
) -> tuple[Picture, int, Page]:
    """The picture at the largest scale that leaves room for what is told under it."""
    for scale in SCALES:
        for landscape in (False, True):
            page = Page(paper, landscape=landscape)
            drawn = _drawn(leaves, pieces, layout, scale, alt)
            width, height = page.room
            if drawn.width <= width and drawn.height + blocks_height(told, width) + 4.0 <= height:
                return drawn, scale, page
    page = Page(paper, landscape=False)
    return _drawn(leaves, pieces, layout, SCALES[-1], alt), SCALES[-1], page


def _drawn(
    leaves: Sequence[LeafOut], pieces: dict[str, Piece], layout: Layout, scale: int, alt: str
) -> Picture:
    """Seen from behind, so that what is on the right outside is on the left here."""
    size = LETTERING * scale
    right = max(leaf.right for leaf in leaves)
    wide = right - min(leaf.left for leaf in leaves)
    shown = sorted((pieces[mark] for leaf in leaves for mark in leaf.pieces), key=lambda piece: piece.depth)
    parts: list[svg.Element] = [
        svg.Polygon(
            points=[svg.Point(right - x, -z) for x, z in piece.outline],
            fill=fill_of(piece.role), stroke="currentColor", stroke_width=0.05 * size,
        )
        for piece in shown
    ]  # fmt: skip
    for leaf in leaves:
        parts += _marks(leaf, [pieces[mark] for mark in leaf.pieces], right, size)
        parts += _width(leaf, right, size, layout)
    parts += _heights(leaves[-1], pieces, size, layout)
    low, high = leaves[0].bottom, leaves[0].top
    view = (-BESIDE * size, -high - 0.6 * size, wide + (BESIDE + 0.5) * size, high - low + 2.6 * size)
    return picture(parts, view, alt, scale=scale, defs=[tone_patterns([piece.role for piece in shown])])


def _marks(leaf: LeafOut, pieces: Sequence[Piece], right: float, size: float) -> Iterator[svg.Element]:
    """Of boards at their feet, under the lowest ledge; of what lies on them in its middle.

    A meeting strip is on the other side: the table has it.
    """
    ledges = [bounds(piece.outline)[2] for piece in pieces if piece.role == "leaf ledge"]
    foot = (leaf.bottom + min(ledges, default=leaf.top)) / 2
    for piece in (piece for piece in pieces if piece.role != "meeting strip"):
        start, end, low, high = bounds(piece.outline)
        x = right - (start + end) / 2
        z = foot if piece.role == "leaf board" else (low + high) / 2
        turned = text_width(piece.mark, size) > end - start
        tall, across = (
            (text_width(piece.mark, size), size) if turned else (size, text_width(piece.mark, size))
        )
        yield svg.Rect(
            x=x - across / 2, y=-z - tall / 2, width=across, height=tall, fill="#fffdf8", fill_opacity=0.85
        )
        yield lettering(piece.mark, x, -z, size, turned=turned)


def _width(leaf: LeafOut, right: float, size: float, layout: Layout) -> Iterator[svg.Element]:
    """How wide a leaf is, on a line beneath it."""
    y = -leaf.bottom + 0.7 * size
    start, end = right - leaf.right, right - leaf.left
    yield svg.Line(x1=start, y1=y, x2=end, y2=y, stroke="currentColor", stroke_width=0.05 * size)
    for x in (start, end):
        yield svg.Line(
            x1=x, y1=y - 0.3 * size, x2=x, y2=y + 0.3 * size, stroke="currentColor", stroke_width=0.05 * size
        )
    yield lettering(
        format_length(leaf.right - leaf.left, layout.units), (start + end) / 2, y + 0.8 * size, size
    )


def _heights(leaf: LeafOut, pieces: dict[str, Piece], size: float, layout: Layout) -> Iterator[svg.Element]:
    """The lower edges of ledges and the head of a leaf, from its foot, beside it."""
    lows = [bounds(pieces[mark].outline)[2] for mark in leaf.pieces if pieces[mark].role == "leaf ledge"]
    for z in (*lows, leaf.top):
        yield svg.Line(x1=-0.6 * size, y1=-z, x2=0, y2=-z, stroke="currentColor", stroke_width=0.05 * size)
        yield lettering(format_figure(z - leaf.bottom, layout.units), -0.8 * size, -z, size, anchor="end")
