"""Studs that are long for want of anything between them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.rules import Finding, FindingKind, Mm, Piece, WallOut
from soleplate.plugins.cautions.limits import SAME

TALLEST: Final = 3048.0
"""mm: studs that nothing bridges between their ends (10 ft, Cleveland Codified Ordinances 3127.08)."""

STUD_TALL: Final = FindingKind(
    "stud-tall",
    "warn",
    "Cleveland Codified Ordinances 3127.08 (bridging where a stud is unsupported over 10 ft)",
    "studs are up to {length} long and carry a roof, with no noggins between them; one building code wants"
    " them bridged over {most}: set a row of noggins, and ask what holds where you are",
)

KINDS: Final = (STUD_TALL,)


def tall(wall: WallOut, studs: Sequence[Piece]) -> Iterator[Finding]:
    """That studs of a wall that carries a roof are longer than is usual, with nothing between them."""
    if any(piece.role == "noggin" for piece in wall.pieces):
        return
    longest = max(studs, key=lambda stud: stud.length, default=None)
    if longest is not None and longest.length > TALLEST + SAME:
        yield STUD_TALL.of(
            part=wall.name,
            pieces=(longest.mark,),
            value=longest.length,
            limit=TALLEST,
            length=Mm(longest.length, ".0f"),
            most=Mm(TALLEST, ".0f"),
        )
