"""Frames that are taller than published tables go."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.rules import Finding, FindingKind, Mm, Piece, WallOut

TALLEST: Final = 3048.0
"""mm: studs that carry a roof (IRC Table R602.3(5), 10 ft, from memory)."""

SAME: Final = 0.5
"""mm."""

STUD_TALL: Final = FindingKind(
    "stud-tall",
    "warn",
    "IRC Table R602.3(5), from memory: studs that carry a roof are at most 10 ft long between their supports",
    "studs are up to {length} long and carry a roof; one building code's table ends at {most}: ask what holds"
    " where you are",
)

KINDS: Final = (STUD_TALL,)


def tall(wall: WallOut, studs: Sequence[Piece]) -> Iterator[Finding]:
    """That studs of a wall that carries a roof are longer than a table goes."""
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
