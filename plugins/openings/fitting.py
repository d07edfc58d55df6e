"""What every framed opening meets: full studs, refusals of what does not fit, cripples and sills."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from soleplate.engine.rules import (
    LEAST_CRIPPLE,
    LEAST_GAP,
    PRACTICE,
    TOUCH,
    UPRIGHT,
    CannotFrame,
    Cripples,
    Finding,
    FindingKind,
    Hole,
    Member,
    Mm,
    Wall,
    at_least,
    level,
    rectangle,
    upright,
)

PACKED_OVER: Final = FindingKind(
    "packed-over-lintel",
    "warn",
    PRACTICE,
    "pack the {room} between it and the top plate above; it is too low for cripples",
)
PACKED_UNDER: Final = FindingKind(
    "packed-under-sill",
    "warn",
    PRACTICE,
    "pack the {room} between the sill and the sole plate; it is too low for cripples",
)


PACKED_BESIDE: Final = FindingKind(
    "packed-beside-trimmers",
    "note",
    PRACTICE,
    "pack the {room} between its {timbers} and the studs of the other opening that it is framed up to",
)

JAMB_STUD: Final = "jamb stud"
"""Beside a hole that is framed up to uprights further away: it carries nothing but the door or window."""


@dataclass(frozen=True, slots=True)
class Bearing:
    """What stands at one side of a hole, mm along the wall.

    What lies over the hole ends at `end`. `trimmers` and `jamb` are left faces; there is a jamb stud where
    the hole begins further from the upright that it is framed up to. A gap is left between that and the
    trimmers where it is too narrow for one.
    """

    end: float
    trimmers: tuple[float, ...]
    jamb: float | None = None
    gap: float = 0.0


def bearings(hole: Hole, trimmers: int, breadth: float) -> tuple[Bearing, Bearing]:
    """What stands at the left and at the right of a hole, with so many trimmers.

    Raises:
        CannotFrame: without trimmers, there is no room for a jamb stud beside a hole that needs one.
    """
    left, right = hole.reach
    return (
        _turned(_bearing(hole.left, left, trimmers, breadth), 0.0),
        _turned(_bearing(-hole.right, None if right is None else -right, trimmers, breadth), breadth),
    )


def _bearing(edge: float, reach: float | None, count: int, breadth: float) -> Bearing:
    """At the left of a hole whose edge is there; places are those of left faces."""
    bearing = count * breadth
    inwards = tuple(edge - (step + 1) * breadth for step in range(count))
    if reach is None:
        return Bearing(edge - bearing, inwards)
    room = edge - bearing - reach
    if room <= TOUCH:
        return Bearing(reach, inwards)
    if room >= breadth - TOUCH:
        return Bearing(reach, tuple(reach + step * breadth for step in range(count)), edge - breadth)
    if count == 0:
        raise CannotFrame(
            "its edge is {room} from a stud of the opening above or below it, with no room for one of"
            " {breadth} beside it; accepted is an edge at that stud, or at least {least} from it",
            room=Mm(room, ".1f"),
            breadth=Mm(breadth),
            least=at_least(breadth),
        )
    return Bearing(reach, inwards, None, room)


def _turned(bearing: Bearing, breadth: float) -> Bearing:
    """As it is at the right, where a breadth is given: places were turned round there."""
    if breadth == 0.0:
        return bearing
    jamb = None if bearing.jamb is None else -bearing.jamb - breadth
    return Bearing(-bearing.end, tuple(-left - breadth for left in bearing.trimmers), jamb, bearing.gap)


def gaps_beside(sides: Iterable[Bearing], timbers: str) -> list[Finding]:
    """What is to be packed beside the trimmers."""
    gaps = dict.fromkeys(round(side.gap, 3) for side in sides if side.gap > LEAST_GAP)
    return [PACKED_BESIDE.of(value=gap, room=Mm(gap, ".1f"), timbers=timbers) for gap in gaps]


def short_upright(role: str, left: float, hole: Hole, wall: Wall) -> Member:
    """An upright from the sole plate to the top of a hole, its left face at `left` mm."""
    outline = rectangle(left, left + wall.breadth, wall.sole_thickness, hole.top)
    return Member(role, wall.section, outline, wall.through_wall, UPRIGHT)


def is_at_plate(hole: Hole, wall: Wall) -> bool:
    """Whether a hole reaches up to a level top plate, which is its head then."""
    line = wall.underside
    return not wall.lies and line.highest(hole.left, hole.right) - hole.top <= LEAST_GAP


def or_at_plate(hole: Hole, wall: Wall, let_in: str = "") -> str:
    """What else would be accepted where a head or lintel has no room: an opening up to a level plate.

    `let_in` is what would be where the roof rests on the wall.
    """
    line = wall.underside
    if wall.lies or line.highest(hole.left, hole.right) - line.lowest(hole.left, hole.right) > LEAST_GAP:
        return ""
    return let_in if wall.carries_roof else ", or one up to the plate that has neither lintel nor head"


def full_stud(role: str, left: float, wall: Wall) -> Member:
    """A stud from the sole plate to the top plate, its left face at `left` mm."""
    stud = upright(role, wall.section, left, wall.sole_thickness, wall.underside)
    if stud is None:
        raise CannotFrame(
            "the wall is too low for a {role} at {left}; accepted is a higher wall",
            role=role,
            left=Mm(left, ".0f"),
        )
    return stud


def refuse_ends(hole: Hole, wall: Wall, beside: float, timbers: str) -> None:
    """Refuse timbers, `beside` mm along the wall at each side of the hole, that don't fit in beside the end.

    They may stand in the end stud's very place: then one timber serves for both. Where the hole is framed up
    to another opening's uprights there are none.
    """
    breadth = wall.breadth
    rooms = (("left", hole.left - beside), ("right", wall.length - hole.right - beside))
    for (side, room), reach in zip(rooms, hole.reach, strict=True):
        if reach is not None or abs(room) <= TOUCH or room >= breadth - TOUCH:
            continue
        raise CannotFrame(
            "there are {room} from the opening to the wall's {side} end for the {timbers}"
            " ({beside}) and the end stud; accepted is {beside} exactly, where they take the end"
            " stud's place, or at least {least}",
            room=Mm(room + beside, ".1f"),
            side=side,
            timbers=timbers,
            beside=Mm(beside),
            least=at_least(beside + breadth),
        )


def refuse_low(what: str, top: float, left: float, right: float, wall: Wall, or_else: str = "") -> None:
    """Refuse a piece whose top is over the underside of the top plate somewhere on its length.

    `or_else` is what would be accepted too.
    """
    lowest = wall.underside.lowest(max(left, 0.0), min(right, wall.length))
    if top > lowest + TOUCH:
        raise CannotFrame(
            "the {what} would reach {top} and the underside of the top plate is at {lowest} there;"
            f" accepted is an opening or {{what}} {{lower}} lower{or_else}",
            what=what,
            top=Mm(top, ".1f"),
            lowest=Mm(lowest, ".1f"),
            lower=at_least(top - lowest, ".1f"),
        )


def refuse_no_head(height: float, wall: Wall) -> None:
    """Refuse a hole up to a top plate that the roof rests on; what is to lie over it is `height` mm high."""
    if wall.carries_roof:
        raise CannotFrame(
            "its top is at the underside of the top plate, and the roof rests on this wall; accepted is an"
            " opening {lower} lower, or the rule trimmed with a lintel that is let_in under the plate",
            lower=at_least(height),
        )


def refuse_flat(hole: Hole, wall: Wall) -> None:
    """Refuse a hole that ends below the top of the sole plate."""
    if hole.top <= wall.sole_thickness + TOUCH:
        raise CannotFrame(
            "its top at {top} is within the sole plate; accepted is over {sole_thickness}",
            top=Mm(hole.top, ".1f"),
            sole_thickness=at_least(wall.sole_thickness),
        )


def over_head(left: float, right: float, bottom: float, wall: Wall) -> tuple[Cripples | None, list[Finding]]:
    """The cripples over a lintel or head, and what is to be said where the gap is too low for them."""
    room = wall.underside.highest(left, right) - bottom
    if room >= LEAST_CRIPPLE - TOUCH:
        return Cripples(left, right, bottom), []
    if room <= LEAST_GAP:
        return None, []
    return None, [PACKED_OVER.of(value=room, room=Mm(room, ".1f"))]


def sill_of(hole: Hole, wall: Wall) -> tuple[list[Member], Cripples | None, list[Finding]]:
    """The flat sill of a hole, the cripples under it, and what is to be said of the gap there.

    Raises:
        CannotFrame: the hole's underside leaves no room for a sill over the sole plate.
    """
    sole, thick = wall.sole_thickness, wall.breadth
    if hole.ground is not None:
        return _sill_over_opening(hole, hole.ground, wall)
    if hole.reaches_floor or abs(hole.bottom - sole) <= TOUCH:
        return [], None, []
    if hole.bottom < sole + thick - TOUCH:
        raise CannotFrame(
            "its underside at {bottom} leaves no room for a sill over the sole plate; accepted is 0"
            " (down to the floor), {sole} (on the sole plate), or at least {least}",
            bottom=Mm(hole.bottom, ".1f"),
            sole=Mm(sole),
            least=at_least(sole + thick),
        )
    sill = _flat_sill(hole, wall)
    room = sill.bottom - sole
    if room >= LEAST_CRIPPLE - TOUCH:
        return [sill], Cripples(hole.left, hole.right, sill.bottom), []
    if room <= LEAST_GAP:
        return [sill], None, []
    return [sill], None, [PACKED_UNDER.of(value=room, room=Mm(room, ".1f"))]


def _sill_over_opening(
    hole: Hole, ground: float, wall: Wall
) -> tuple[list[Member], Cripples | None, list[Finding]]:
    """The same over the timbers of an opening below, whose top is at `ground` mm."""
    if abs(hole.bottom - ground) <= TOUCH:
        return [], None, []
    thick = wall.breadth
    if hole.bottom < ground + thick - TOUCH:
        raise CannotFrame(
            "its underside at {bottom} leaves no room for a sill over the timbers of the opening below;"
            " accepted is {ground}, on those timbers, or at least {least}",
            bottom=Mm(hole.bottom, ".1f"),
            ground=Mm(ground),
            least=at_least(ground + thick),
        )
    sill = _flat_sill(hole, wall)
    return [sill], Cripples(hole.left, hole.right, sill.bottom), []


def _flat_sill(hole: Hole, wall: Wall) -> Member:
    """The sill that lies flat under a hole."""
    box = (hole.left, hole.right, hole.bottom - wall.breadth, hole.bottom)
    return level("sill", wall.section, box, wall.through_wall)
