"""What every framed opening meets: full studs, refusals of what does not fit, cripples and sills."""

from __future__ import annotations

from typing import Final

from soleplate.engine.rules import (
    LEAST_CRIPPLE,
    PRACTICE,
    TOUCH,
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

LEAST_GAP: Final = 0.5
"""mm. A lower gap over a lintel is not worth a packer (common practice, no source)."""


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

    They may stand in the end stud's very place: then one timber serves for both.
    """
    breadth = wall.breadth
    for side, room in (("left", hole.left - beside), ("right", wall.length - hole.right - beside)):
        if abs(room) <= TOUCH or room >= breadth - TOUCH:
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


def refuse_low(what: str, top: float, left: float, right: float, wall: Wall) -> None:
    """Refuse a piece whose top is over the underside of the top plate somewhere on its length."""
    lowest = wall.underside.lowest(max(left, 0.0), min(right, wall.length))
    if top > lowest + TOUCH:
        raise CannotFrame(
            "the {what} would reach {top} and the underside of the top plate is at {lowest} there;"
            " accepted is an opening or {what} {lower} lower",
            what=what,
            top=Mm(top, ".1f"),
            lowest=Mm(lowest, ".1f"),
            lower=at_least(top - lowest, ".1f"),
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
    underside = hole.bottom - thick
    sill = level("sill", wall.section, (hole.left, hole.right, underside, hole.bottom), wall.through_wall)
    room = underside - sole
    if room >= LEAST_CRIPPLE - TOUCH:
        return [sill], Cripples(hole.left, hole.right, underside), []
    if room <= LEAST_GAP:
        return [sill], None, []
    return [sill], None, [PACKED_UNDER.of(value=room, room=Mm(room, ".1f"))]
