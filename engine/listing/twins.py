"""Mirror twins: pieces that are one cut, and become each other's mirror image by being turned.

A piece of the frame is a prism. So an upright that is turned over, its other face out, is the mirror image
that stands in the opposite wall, and so is anything else turned end for end. What has a face of its own, a
board or a sheet that is not all square, is another piece in the mirror.
"""

from __future__ import annotations

from functools import lru_cache

from soleplate.engine.layout import CutEnd, Piece, Turn, mirrored_ends
from soleplate.engine.shapes import Roles

Ends = tuple[CutEnd, CutEnd]


def turn_of(piece: Piece, roles: Roles) -> Turn | None:
    """How a piece is turned to be its mirror image; `None` of one that has no twin.

    The mirror image of a notch is told by no row; a birdsmouth is cut from below, and told from the low end.
    A housed piece has a face of its own.
    """
    has_face = piece.face is not None and not roles[piece.role].carries
    if has_face or piece.housings or piece.notched or piece.taper:
        return None
    if any(each.kind == "notch" for each in piece.notches or ()):
        return None
    sides = {end.long_point for end in piece.ends}
    if sides & {"left", "right"}:
        return "over"
    if sides & {"top", "bottom"}:
        return "end for end"
    return "over" if roles[piece.role].lies == "upright" else "end for end"


@lru_cache(maxsize=1024)
def in_mirror(ends: Ends, turn: Turn) -> Ends:
    """The ends of a turned piece; thousands of pieces share a few."""
    return mirrored_ends(ends, turn)
