"""Boards longer than can be had, which no support lets be jointed: told once for each face and kind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.covering.covering import Cladding
from soleplate.engine.covering.jointing import BASIS
from soleplate.engine.layout import Finding, Piece


def too_long(cladding: Cladding, pieces: Sequence[Piece], units: Units) -> Iterator[Finding]:
    """What is found; `pieces` are those of the face, as its boards are in order."""
    longest = {id(board): most for board, most in cladding.too_long}
    kinds: dict[tuple[str, float], list[Piece]] = {}
    for board, piece in zip(cladding.boards, pieces, strict=True):
        if id(board) in longest:
            kinds.setdefault((piece.role, longest[id(board)]), []).append(piece)
    for (role, most), long in kinds.items():
        length = max(piece.length for piece in long)
        one = len(long) == 1
        yield Finding(
            level="stop",
            code="board-too-long",
            message=f"{len(long)} {role}{'' if one else 's'} would be {'' if one else 'up to '}"
            f"{format_length(length, units)} long, and no support lies where {'it' if one else 'they'} could"
            f" be jointed; the longest to be had is {format_length(most, units)}",
            wall=cladding.surface.part,
            pieces=tuple(piece.mark for piece in long),
            value=length,
            limit=most,
            basis=BASIS,
        )
