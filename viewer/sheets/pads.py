"""The setting-out sheet of a floor's pads: their centres from one corner, and the frame's diagonal."""

from __future__ import annotations

from typing import Final

import svg

from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import FloorOut, Layout
from soleplate.viewer.drawings import lettering
from soleplate.viewer.paper import PaperName, scale_text
from soleplate.viewer.sheets.blocks import Block, Column, SheetOf, drawing, listed, table
from soleplate.viewer.sheets.fitting import LETTERING, largest
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts

MARGIN: Final = 4.0
"""Beside the frame, in text sizes: room for a figure on a line that leads to it."""


def pad_sheets(floor: FloorOut, layout: Layout, paper: PaperName, texts: Texts) -> list[SheetOf]:
    """The sheet of a floor's pads, where it has some."""
    if not floor.pads:
        return []
    said, units = texts.sheets, layout.units
    told = _told(floor, layout, texts)
    sub = said.pads_sub.format(
        length=format_length(floor.length, units), width=format_length(floor.width, units)
    )
    drawn, scale, page = largest(lambda scale: _drawn(floor, layout, scale, texts), told, paper)
    return [
        SheetOf(
            f"{floor.name}-pads", said.pads, sub, said.pads, scale_text(scale), [drawing(drawn), *told],
            landscape=page.landscape,
        )
    ]  # fmt: skip


def _told(floor: FloorOut, layout: Layout, texts: Texts) -> list[Block]:
    said, units = texts.sheets, layout.units
    lines = [said.pads_square.format(diagonal=floor.diagonal_display)]
    if floor.pad_size is not None:
        lines.append(said.pads_size.format(size=format_length(floor.pad_size, units)))
    lines.append(said.pads_level.format(down=format_length(_down(floor), units)))
    columns = [
        Column(said.pads_row, "auto", "figure"),
        Column(said.pads_from_front, "auto", "figure"),
        Column(said.pads_from_left, "rest", "figure"),
    ]
    rows: dict[float, list[float]] = {}
    for x, y in floor.pads:
        rows.setdefault(y, []).append(x)
    cells = (
        (f"{number}", format_length(y, units), ", ".join(format_length(x, units) for x in sorted(xs)))
        for number, (y, xs) in enumerate(sorted(rows.items()), 1)
    )
    return [listed(lines), table(columns, cells)]


def _down(floor: FloorOut) -> float:
    """How far the underside of the lowest piece lies below the sole plates, mm."""
    return max(
        piece.depth[1] - floor.views[piece.view].origin[2] for piece in floor.pieces if piece.view is not None
    )


def _drawn(floor: FloorOut, layout: Layout, scale: int, texts: Texts) -> Picture:
    size, units = LETTERING * scale, layout.units
    half = (floor.pad_size or 0.0) / 2
    faint = 0.05 * size
    shapes: list[svg.Element] = [
        svg.Rect(
            x=0, y=-floor.width, width=floor.length, height=floor.width,
            fill="none", stroke="currentColor", stroke_width=0.09 * size,
        ),
        *(
            svg.Polyline(
                points=[svg.Point(0, -y0), svg.Point(floor.length, -y1)],
                fill="none",
                stroke="currentColor",
                stroke_width=faint,
                stroke_dasharray=[6 * faint, 6 * faint],
            )
            for y0, y1 in ((0.0, floor.width), (floor.width, 0.0))
        ),
        *(
            svg.Rect(x=x - half, y=-y - half, width=2 * half, height=2 * half, fill="#e6e4de",
                     stroke="currentColor", stroke_width=faint)
            for x, y in floor.pads
        ),
        *(
            svg.Line(x1=x + a, y1=-y + b, x2=x - a, y2=-y - b, stroke="currentColor", stroke_width=faint)
            for x, y in floor.pads
            for a, b in ((0.5 * size, 0.0), (0.0, 0.5 * size))
        ),
    ]  # fmt: skip
    reach = half + 0.6 * size
    for x in sorted({x for x, _ in floor.pads}):
        shapes += [
            svg.Line(x1=x, y1=0, x2=x, y2=reach, stroke="currentColor", stroke_width=faint),
            lettering(format_figure(x, units), x, reach + 0.2 * size, size, anchor="end", turned=True),
        ]
    for y in sorted({y for _, y in floor.pads}):
        shapes += [
            svg.Line(x1=0, y1=-y, x2=-reach, y2=-y, stroke="currentColor", stroke_width=faint),
            lettering(format_figure(y, units), -reach - 0.2 * size, -y, size, anchor="end"),
        ]
    beyond = reach + MARGIN * size
    view = (
        -beyond, -floor.width - half - 0.5 * size, floor.length + beyond + half + 0.5 * size,
        floor.width + beyond + half + 0.5 * size,
    )  # fmt: skip
    alt = texts.sheets.pads_alt.format(
        name=layout.name, scale=scale_text(scale), count=len(floor.pads), rows=len({y for _, y in floor.pads})
    )
    return picture(shapes, view, alt, scale=scale, defs=[])
