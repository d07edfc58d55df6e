"""Pieces of a layout as solids in the world."""

from __future__ import annotations

from soleplate.engine.layout.layout import PartOut
from soleplate.engine.layout.pieces import Piece
from soleplate.engine.shapes import Solid, View, bodies, bounds, is_sliver


def solids_of(piece: Piece, part: PartOut) -> tuple[Solid, ...]:
    """A piece in the world: one solid, or where it has housings what is left of it in several.

    Boards are told as they are bought, so those of one face overlap where they lap; `seen_solids` do not.
    """
    left, _, bottom, _ = bounds(piece.outline)
    near, far = piece.depth
    cut_out = [
        (
            tuple((left + x, bottom + z) for x, z in each.outline),
            (near, near + each.deep) if each.face == "outside" else (far - each.deep, far),
        )
        for each in piece.housings or ()
    ]
    view = plane_of(part, piece.view)
    return tuple(
        Solid(outline, depth, view) for outline, depth in bodies(piece.outline, piece.depth, cut_out)
    )


def seen_solids(piece: Piece, part: PartOut) -> tuple[Solid, ...]:
    """The same for a picture: of a board what no other board of its face laps over.

    Slivers that rounded places leave beside a housing are left out.
    """
    if not piece.seen:
        solids = solids_of(piece, part)
        return tuple(each for each in solids if not is_sliver(each.outline)) if piece.housings else solids
    view = plane_of(part, piece.view)
    return tuple(Solid(outline, piece.depth, view) for outline in piece.seen)


def plane_of(part: PartOut, name: str | None = None) -> View:
    """One of the planes in the world in which pieces of a part are told: its `face` unless it is named."""
    called = name or "face"
    told = part.views[called]
    return View(called, told.origin, told.right, told.up)
