"""Boards longer than can be had, which no support lets be jointed: told once for each face and kind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from soleplate.engine.building_file import Count, Mm, said
from soleplate.engine.covering.covering import Cladding
from soleplate.engine.covering.findings import BOARD_TOO_LONG
from soleplate.engine.layout import Piece
from soleplate.engine.rules import Finding


def too_long(cladding: Cladding, pieces: Sequence[Piece]) -> Iterator[Finding]:
    """What is found; `pieces` are those of the face, as its boards are in order."""
    longest = {id(board): most for board, most in cladding.too_long}
    kinds: dict[tuple[str, float], list[Piece]] = {}
    for board, piece in zip(cladding.boards, pieces, strict=True):
        if id(board) in longest:
            kinds.setdefault((piece.role, longest[id(board)]), []).append(piece)
    for (role, most), long in kinds.items():
        length = max(piece.length for piece in long)
        one = len(long) == 1
        yield BOARD_TOO_LONG.of(
            part=cladding.surface.part,
            pieces=tuple(piece.mark for piece in long),
            value=length,
            limit=most,
            boards=Count(len(long), role, f"{role}s"),
            length=Mm(length, "tape") if one else said("up to {length}", length=Mm(length, "tape")),
            they="it" if one else "they",
            longest=Mm(most, "tape"),
        )
