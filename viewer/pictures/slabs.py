"""The covering of a roof in a picture: a plain slab, since its sheets and strips are counted and not cut."""

from __future__ import annotations

from typing import Final

from soleplate.engine.layout import CutEnd, Piece, SlopeOut
from soleplate.engine.shapes import Outline, rectangle, without

THICK: Final = 20.0
"""mm; common practice, no source: about what sheets with their ribs take, or battens under them."""

UNMARKED: Final = ""
"""The mark of what is in no list."""


def slab_of(slope: SlopeOut) -> Piece | None:
    """What stands for a slope's covering: a slab on its deck, or on its rafters, round its windows."""
    covering = slope.covering
    if covering is None:
        return None
    left, right = min(part.left for part in covering.parts), max(part.right for part in covering.parts)
    whole = rectangle(left, right, covering.parts[0].bottom, covering.parts[-1].top)
    outlines: list[Outline] = [whole]
    for hole in slope.openings:
        window = rectangle(hole.left, hole.right, hole.bottom, hole.top)
        outlines = [rest for each in outlines for rest in without(each, window)]
    under = min((piece.depth[0] for piece in slope.pieces if piece.view == "deck"), default=0.0)
    square = CutEnd(cut="square")
    return Piece(
        mark=UNMARKED,
        role="covering",
        section=(THICK, covering.width),
        material="",
        length=0.0,
        short_length=0.0,
        display="",
        ends=(square, square),
        outline=whole,
        depth=(under - THICK, under),
        view="slope",
        grade="straight",
        weight_kg=0.0,
        seen=tuple(outlines),
    )
