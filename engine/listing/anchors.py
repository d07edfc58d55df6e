"""What holds sole plates down, as it comes out."""

from __future__ import annotations

from collections.abc import Sequence

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.framing import HeldSole
from soleplate.engine.layout import AnchorOut
from soleplate.engine.listing.running_marks import Numbered
from soleplate.engine.shapes import rounded


def anchors_out(held: Sequence[HeldSole], members: Numbered, units: Units) -> tuple[AnchorOut, ...]:
    """What holds a wall's sole plates down, left to right, each with the plate's mark."""
    plates = [(member, piece.mark) for member, piece in members if member.role == "sole plate"]
    return tuple(
        AnchorOut(
            kind=anchor.kind.name,
            at=rounded(anchor.at),
            display=format_length(anchor.at, units),
            plate=next(mark for plate, mark in plates if plate.left <= anchor.at <= plate.right),
            diameter=rounded(anchor.diameter),
            length=rounded(anchor.length),
        )
        for each in held
        for anchor in each.down.anchors
    )
