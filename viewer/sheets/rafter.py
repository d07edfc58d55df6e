"""The rafter card: a rafter with its upper edge level, figures from its low plumb cut, and the steps."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import svg

from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import Layout, Piece, SlopeOut
from soleplate.engine.shapes import Point, bounds
from soleplate.viewer.drawings import lettering
from soleplate.viewer.lists import card_marks, card_rows, card_steps
from soleplate.viewer.paper import PaperName, scale_text
from soleplate.viewer.sheets.blocks import Block, Column, SheetOf, drawing, listed, table
from soleplate.viewer.sheets.fitting import LETTERING, largest
from soleplate.viewer.sheets.heel import heel_picture
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts

FIGURES_APART: Final = 1.2
"""Heights of letters from one upright figure to the next, at the least."""


def rafter_sheets(layout: Layout, paper: PaperName, texts: Texts) -> list[SheetOf]:
    """A card for each kind of rafter: one of two slopes that have alike ones."""
    cards: dict[tuple[float, ...], SlopeOut] = {}
    for slope in layout.roofs:
        card = slope.card
        cards.setdefault((card.blank, card.pitch, *card.marks), slope)
    return [_sheet(slope, layout, paper, texts) for slope in cards.values()]


def _sheet(slope: SlopeOut, layout: Layout, paper: PaperName, texts: Texts) -> SheetOf:
    told = [drawing(heel_picture(slope, lying(slope), layout, texts)), *_told(slope, layout, texts)]
    drawn, scale, page = largest(
        lambda scale: _drawn(slope, layout, scale, texts), told, paper, ways=(True, False)
    )
    whole = [piece.mark for piece in slope.pieces if piece.role == "rafter" and _is_whole(piece, slope)]
    sub = texts.card_sub.format(slope=slope.name, first=whole[0], last=whole[-1])
    name, said = f"{slope.name.replace(' ', '-')}-rafter", texts.rafter_card
    blocks = [drawing(drawn), *told]
    return SheetOf(name, said, sub, said, scale_text(scale), blocks, landscape=page.landscape)


def _is_whole(piece: Piece, slope: SlopeOut) -> bool:
    return abs(piece.length - slope.card.blank) < 0.01


def _told(slope: SlopeOut, layout: Layout, texts: Texts) -> list[Block]:
    columns = [Column(texts.card_figures, "rest"), Column(texts.card_value, "auto", "figure")]
    rows = [*card_rows(slope.card, layout.units, texts), *card_marks(slope, layout.units, texts)]
    return [table(columns, rows), listed(card_steps(slope.card, texts))]


def lying(slope: SlopeOut) -> list[Point]:
    """A whole rafter with its upper edge level: along it from the low plumb cut, and down from it, mm."""
    rafter = next(piece for piece in slope.pieces if piece.role == "rafter" and _is_whole(piece, slope))
    pitch = math.radians(slope.card.pitch)
    # In its view it falls to the right: its low end is there.
    turned = [
        (-u * math.cos(pitch) + z * math.sin(pitch), z * math.cos(pitch) + u * math.sin(pitch))
        for u, z in rafter.outline
    ]
    top = max(v for _, v in turned)
    low = min(u for u, v in turned if v > top - 0.01)
    return [(u - low, v - top) for u, v in turned]


def _drawn(slope: SlopeOut, layout: Layout, scale: int, texts: Texts) -> Picture:
    size, units, card = LETTERING * scale, layout.units, slope.card
    outline = lying(slope)
    left, right, bottom, _ = bounds(outline)
    thin = 0.05 * size
    shapes: list[svg.Element] = [
        svg.Polygon(
            points=[svg.Point(u, -v) for u, v in outline],
            fill="#f2e6cf", stroke="currentColor", stroke_width=0.09 * size,
        )
    ]  # fmt: skip
    pitch = math.radians(card.pitch)
    beside = _apart(card.marks, FIGURES_APART * size)
    for mark, at in zip(card.marks, beside, strict=True):
        # A plumb line leans by the pitch where the upper edge lies level.
        deep = -bottom
        shapes += [
            svg.Polyline(
                points=[svg.Point(mark, 0), svg.Point(mark + deep * math.tan(pitch) * -1.0, deep)],
                fill="none", stroke="currentColor", stroke_width=thin, stroke_dasharray=[6 * thin, 4 * thin],
            ),
            svg.Line(x1=at, y1=-0.6 * size, x2=mark, y2=0, stroke="currentColor", stroke_width=thin),
            lettering(format_figure(mark, units), at, -0.8 * size, size, anchor="start", turned=True),
        ]  # fmt: skip
    longest = max(len(format_figure(mark, units)) for mark in card.marks)
    above = (1.2 + 0.7 * longest) * size
    far = max(right, *beside)
    view = (left - 0.6 * size, -above, far - left + 1.2 * size, above - bottom + 0.5 * size)
    alt = texts.card_alt.format(
        slope=slope.name, scale=scale_text(scale), length=format_length(card.blank, units)
    )
    return picture(shapes, view, alt, scale=scale, defs=[])


def _apart(places: Sequence[float], least: float) -> list[float]:
    """The places of figures: each at what it tells, or moved on from the one before it."""
    moved: list[float] = []
    for place in places:
        moved.append(max(place, moved[-1] + least) if moved else place)
    return moved
