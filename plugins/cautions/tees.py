"""How a partition's ends are nailed to the walls that they meet, and what their lining finds beside them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.rules import (
    PRACTICE,
    TOUCH,
    Finding,
    FindingKind,
    Layout,
    Mm,
    Piece,
    Said,
    WallOut,
    said,
)

LEDGE: Final = 20.0
"""mm of timber that a lining needs beside a partition's face (common practice, no source)."""

TEE_NAILED: Final = FindingKind(
    "tee-nailed", "note", PRACTICE, "its {end} end meets wall {host}: {how}; plumb it before it is nailed"
)

TEE_UNPACKED: Final = FindingKind(
    "tee-unpacked",
    "warn",
    PRACTICE,
    "where {partition} meets it at {centre}, its lining finds {ledge} of timber to be nailed to beside one of"
    " the partition's faces: pack there with blocks or an upright to at least {least}, or line this wall"
    " before the partition goes up",
)


def tees(partition: WallOut, layout: Layout) -> Iterator[Finding]:
    """How both ends of a partition are nailed, and where the walls that they meet want packing."""
    for end, along in (("left", 0.0), ("right", partition.length)):
        for host in layout.walls:
            centre = _meets(partition, along, host)
            if centre is not None:
                yield from _tee(partition, end, host, centre, layout)


def _meets(partition: WallOut, along: float, host: WallOut) -> float | None:
    """Where a partition's end lies against a wall's inside, mm from that wall's left end; else `None`."""
    if host.faces is not None:
        return None
    x, y = _world(partition, along, partition.plan.depth / 2)
    angle = math.radians(host.plan.direction)
    run = (math.cos(angle), math.sin(angle))
    dx, dy = x - host.plan.start[0], y - host.plan.start[1]
    centre, inwards = dx * run[0] + dy * run[1], dy * run[0] - dx * run[1]
    is_there = abs(inwards - host.plan.depth) < 0.5 and 0.0 <= centre <= host.length
    return centre if is_there else None


def _world(wall: WallOut, along: float, inwards: float) -> tuple[float, float]:
    angle = math.radians(wall.plan.direction)
    (x, y), run = wall.plan.start, (math.cos(angle), math.sin(angle))
    return x + along * run[0] - inwards * run[1], y + along * run[1] + inwards * run[0]


def _tee(partition: WallOut, end: str, host: WallOut, centre: float, layout: Layout) -> Iterator[Finding]:
    left, right = centre - partition.plan.depth / 2, centre + partition.plan.depth / 2
    standing = [piece for piece in host.pieces if layout.role_of(piece).full_height]
    behind = [piece for piece in standing if _is_behind(piece, left, right)]
    yield TEE_NAILED.of(
        part=partition.name,
        pieces=tuple(piece.mark for piece in behind),
        end=end,
        host=host.name,
        how=_how(behind),
    )
    if host.lining is None:
        return
    ledge = max(0.0, min(_ledge(standing, left, -1), _ledge(standing, right, 1)))
    if ledge < LEDGE - TOUCH:
        yield TEE_UNPACKED.of(
            part=host.name,
            value=round(ledge, 3),
            limit=LEDGE,
            partition=partition.name,
            centre=Mm(centre, ".0f"),
            ledge=Mm(ledge, ".0f"),
            least=Mm(LEDGE),
        )


def _is_behind(piece: Piece, left: float, right: float) -> bool:
    first, last = _span(piece)
    return first < right - TOUCH and last > left + TOUCH


def _how(behind: Sequence[Piece]) -> Said:
    marks = ", ".join(piece.mark for piece in behind)
    if not behind:
        return said(
            "nothing stands behind it; set blocks between the studs at both sides of it, at the foot, in the"
            " middle and at the top, and nail it to them"
        )
    if len(behind) == 1:
        return said("nail its end stud through to {mark} behind it, down the height", mark=marks)
    how = "nail its end stud through near both edges to {marks} behind it, down the height"
    return said(how, marks=marks)


def _ledge(standing: Sequence[Piece], face: float, way: int) -> float:
    """How far timber reaches beyond a partition's face, without a gap from it; 0 where none does, mm."""
    reaches = [
        max((x - face) * way for x in _span(piece))
        for piece in standing
        if min((x - face) * way for x in _span(piece)) < TOUCH
    ]
    return max(reaches, default=0.0)


def _span(piece: Piece) -> tuple[float, float]:
    """Along its wall, mm."""
    along = [x for x, _ in piece.outline]
    return min(along), max(along)
