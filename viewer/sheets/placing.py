"""Where each board, batten and sheet of a face goes: by layers, from the frame outwards."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import Layout, Piece, WallOut
from soleplate.engine.shapes import bounds
from soleplate.viewer.drawings import tiers
from soleplate.viewer.sheets.blocks import Block, Column, table
from soleplate.viewer.words import Texts, role_text

_PAIR = "\N{NO-BREAK SPACE}"
"""Between a mark and its figure, so that they stay on one line."""


def to_place(wall: WallOut) -> list[Piece]:
    """What lies on the outside but boards in courses, which the table of courses tells."""
    return [piece for piece in wall.pieces if piece.face == "outside" and piece.course is None]


def placing_table(wall: WallOut, layout: Layout, texts: Texts) -> Block:
    """By layer and lower edge the left edge of each piece, from the frame's left end, below 0 beyond it."""
    said = texts.sheets
    columns = [
        Column(said.layer, 27.0),
        Column(said.lower_edge, "auto", "figure"),
        Column(said.left_edges, "rest", "figure"),
    ]
    rows: list[list[str]] = []
    for tier in tiers(wall, "outside"):
        first = said.layer_of.format(number=tier.number, role=role_text(tier.role, texts))
        for low, pieces in _by_lower_edge([piece for piece in tier.pieces if piece.course is None], layout):
            rows.append([first, low, "  ".join(_edge(piece, layout) for piece in pieces)])
            first = ""
    return table(columns, rows)


def _by_lower_edge(layer: Sequence[Piece], layout: Layout) -> Iterator[tuple[str, list[Piece]]]:
    """The pieces of each height as it is told, the lowest first, and each row from the left."""

    def low(piece: Piece) -> float:
        return bounds(piece.outline)[2]

    told = itertools.groupby(
        sorted(layer, key=low), key=lambda piece: format_length(low(piece), layout.units)
    )
    for text, pieces in told:
        yield text, sorted(pieces, key=lambda piece: bounds(piece.outline)[0])


def _edge(piece: Piece, layout: Layout) -> str:
    figure = format_figure(bounds(piece.outline)[0], layout.units).replace(" ", _PAIR)
    return f"{piece.mark}{_PAIR}{figure}"
