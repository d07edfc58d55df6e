"""Straps against uplift: from rafters past the plate to the nearest stud, and from bearers to pads."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.fixing.findings import NO_UPLIFT
from soleplate.engine.fixing.joints import FoundJoint
from soleplate.engine.fixing.timbers import Framed
from soleplate.engine.layout import FloorOut, PartOut, SlopeOut, TieOut
from soleplate.engine.rules import Finding, JoinedPiece, Seat, Tie
from soleplate.engine.shapes import Point, Section, Vector, bounds, contains, dot, moved, rounded

UP: Final = (0.0, 0.0, 1.0)

UNDER: Final = 1.5
"""Breadths of a stud: one this near under a rafter is in line with it (common practice, no source)."""

STACKED: Final = 150.0
"""mm. So far below a rafter's seat the top of a stud lies at the most: plates."""

Asks = Callable[[Seat], Tie | None]
"""What says how something is tied down."""


def ties(
    parts: Sequence[PartOut], pieces: Sequence[Framed], seats: Sequence[FoundJoint], asks: Asks
) -> tuple[TieOut, ...]:
    """All straps: one for each rafter on a plate, with one from the plate where no stud is in line, and pads.

    Args:
        parts: of the layout.
        pieces: of all frames.
        seats: the joints of rafters with plates, as `is_seat` tells them.
        asks: the rules.
    """
    made: dict[tuple[str, str], TieOut] = {}
    for seat in sorted(seats, key=lambda joint: (joint.into, joint.through)):
        for each in _of_rafter(seat, pieces, asks):
            made.setdefault((each.from_, each.to), each)
    of_pads = (each for part in parts if isinstance(part, FloorOut) for each in _of_pads(part, pieces, asks))
    return (*made.values(), *of_pads)


def untied(parts: Sequence[PartOut], made: Sequence[TieOut]) -> Iterator[Finding]:
    """What there is that wind may lift, and that nothing ties down."""
    to_pads = any(each.to == PAD for each in made)
    slopes = [part for part in parts if isinstance(part, SlopeOut)]
    if slopes and all(each.to == PAD for each in made):
        yield NO_UPLIFT.of(what="the rafters", how="each to a stud, past the plates")
    if any(isinstance(part, FloorOut) and part.pads for part in parts) and not to_pads:
        yield NO_UPLIFT.of(what="the floor", how="its bearers to their pads")


PAD: Final = "pad"
"""What holds a strap that goes to no piece."""


@dataclass(frozen=True, slots=True)
class _Stud:
    framed: Framed
    middle: float
    top: float


def _of_rafter(seat: FoundJoint, pieces: Sequence[Framed], asks: Asks) -> Iterator[TieOut]:
    rafter, plate = (
        (pieces[seat.into], pieces[seat.through])
        if pieces[seat.through].kind == "wall"
        else (pieces[seat.through], pieces[seat.into])
    )
    place = seat.point(*seat.middle)
    at = dot(place, plate.view.right) - dot(plate.view.origin, plate.view.right)
    height = dot(place, UP) - plate.view.origin[2]
    studs = [
        _Stud(each, (left + right) / 2, top)
        for each in pieces
        if each.part == plate.part and each.lies == "upright"
        for left, right, _, top in [bounds(each.piece.outline)]
        if height - STACKED <= top <= height
    ]
    if not studs:
        return
    stud = min(studs, key=lambda each: (abs(each.middle - at), each.middle))
    tie = asks(Seat("rafter", _told(rafter), rounded(height - stud.top)))
    if tie is None:
        return
    if abs(stud.middle - at) <= UNDER * stud.framed.piece.section[0]:
        yield _tie(tie, rafter, plate, stud.framed.piece.mark, place)
        return
    yield _tie(tie, rafter, None, plate.piece.mark, place)
    below = moved(moved(place, plate.view.right, stud.middle - at), UP, stud.top - height)
    yield _tie(tie, plate, None, stud.framed.piece.mark, below)


def _of_pads(floor: FloorOut, pieces: Sequence[Framed], asks: Asks) -> Iterator[TieOut]:
    bearers = [each for each in pieces if each.part == floor.name]
    for pad in floor.pads:
        over = [each for each in bearers if _is_over(pad, each)]
        if over:
            lowest = min(over, key=lambda each: (each.extent(UP)[0], each.piece.mark))
            tie = asks(Seat("pad", _told(lowest), 0.0))
            if tie is not None:
                yield _tie(tie, lowest, None, PAD, (pad[0], pad[1], lowest.extent(UP)[0]))


def _is_over(place: Point, timber: Framed) -> bool:
    xs, ys = [corner[0] for corner in timber.corners], [corner[1] for corner in timber.corners]
    corners = ((min(xs), min(ys)), (max(xs), min(ys)), (max(xs), max(ys)), (min(xs), max(ys)))
    return contains(corners, place)


def _tie(tie: Tie, from_: Framed, over: Framed | None, to: str, place: Vector) -> TieOut:
    """A strap whose middle is at a place."""
    ends = tuple(moved(place, UP, tie.length / 2 * way) for way in (1.0, -1.0))
    upper, lower = (tuple(map(rounded, end)) for end in ends)
    return TieOut(
        kind=tie.name,
        from_=from_.piece.mark,
        over=over.piece.mark if over is not None else None,
        to=to,
        width=tie.width,
        thickness=tie.thickness,
        length=tie.length,
        line=((upper[0], upper[1], upper[2]), (lower[0], lower[1], lower[2])),
        nails=tie.each_end * (1 if to == PAD else 2),
        diameter=tie.fastener.diameter,
        nail_length=tie.fastener.length,
        shank=tie.fastener.shank,
        basis=tie.basis,
    )


def _told(framed: Framed) -> JoinedPiece:
    return JoinedPiece(framed.piece.role, Section(*framed.piece.section), framed.kind)
