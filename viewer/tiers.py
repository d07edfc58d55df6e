"""What lies on one face of a frame, tier by tier, as it is put up: battens, boards upon them, sheets."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from soleplate.engine.layout import Piece, WallOut
from soleplate.engine.shapes import ROLES, Role, bounds
from soleplate.viewer.face import Side
from soleplate.viewer.tones import drawn_as


@dataclass(frozen=True, slots=True)
class Tier:
    """Pieces of one role at one depth, in the order in which they are put up; `kind` is what as."""

    facing: Side
    role: str
    kind: Role
    pieces: tuple[Piece, ...]
    number: int
    """Counted from the frame, from 1."""
    count: int
    """Of the tiers on this face."""
    is_behind: bool
    """Whether others of its kind lie over it, or it is there to carry them."""


def tiers(wall: WallOut, facing: Side) -> list[Tier]:
    """All tiers on one face, from the frame outwards; at one depth boards come after what they run up to.

    Uprights and sheets are put up from the left as that face is seen, what lies level from the lowest.
    """
    found: dict[tuple[float, bool, str], list[Piece]] = defaultdict(list)
    for piece in wall.pieces:
        if piece.face == facing:
            found[_from_frame(piece), kind_of(piece).covers, piece.role].append(piece)
    outermost = {role: depth for depth, _, role in sorted(found)}
    return [
        Tier(
            facing,
            role,
            kind_of(pieces[0]),
            tuple(sorted(pieces, key=lambda piece: _turn(wall, piece, facing, level=_lies_level(pieces)))),
            number,
            len(found),
            kind_of(pieces[0]).carries or depth < outermost[role],
        )
        for number, ((depth, _, role), pieces) in enumerate(sorted(found.items()), 1)
    ]


def kind_of(piece: Piece) -> Role:
    """What a piece goes up as: one of the roles that ship, or else nothing special."""
    return ROLES.get(drawn_as(piece)) or Role(piece.role, "level")


def left_edge(wall: WallOut, piece: Piece, facing: Side) -> float:
    """From the wall's left end as that face is seen, mm; left of it where negative."""
    left, right, _, _ = bounds(piece.outline)
    return left if facing == "outside" else wall.length - right


def _from_frame(piece: Piece) -> float:
    """How far its near side is from the frame, mm, but for a constant."""
    return -piece.depth[1] if piece.face == "outside" else piece.depth[0]


def _lies_level(pieces: Sequence[Piece]) -> bool:
    if kind_of(pieces[0]).sheet:
        return False
    boxes = [bounds(piece.outline) for piece in pieces]
    return sum(right - left > top - bottom for left, right, bottom, top in boxes) * 2 > len(boxes)


def _turn(wall: WallOut, piece: Piece, facing: Side, *, level: bool) -> tuple[float, float]:
    along, bottom = left_edge(wall, piece, facing), bounds(piece.outline)[2]
    return (bottom, along) if level else (along, bottom)
