"""Whether a frame can stand: nothing outside the wall, no overlap, every upright bearing on a piece.

Judged by how a piece lies, and by what its role lets it do. The one statement of these invariants: used on
every rule's result, by tests and by the contract of rules.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain
from typing import Final

from soleplate.engine.registry import Breakage, Registry
from soleplate.engine.shapes import (
    NOBODY,
    TOUCH,
    Member,
    Role,
    Roles,
    TopLine,
    contains,
    interlock,
    overlap,
)

PROBE: Final = 0.5
"""mm beyond an end at which the piece that it bears on is looked for."""


@dataclass(frozen=True, slots=True)
class Unsound:
    """What is wrong, in words, and the member that it is wrong with; of an overlap, the other one too."""

    member: Member
    message: str
    fault: Breakage
    other: Member | None = None


@dataclass(frozen=True, slots=True)
class Envelope:
    """Where the members of a wall may be: under `top`, from 0 to `length`, plates also `beyond` the ends."""

    length: float
    depth: float
    top: TopLine
    beyond: tuple[float, float]

    @property
    def lowest_top(self) -> float:
        """What lies under this is under the top everywhere, mm."""
        before, after = self.beyond
        return self.top.lowest(-before, self.length + after)


def unsound(members: Sequence[Member], envelope: Envelope, roles: Roles) -> Unsound | None:
    """The first thing that is wrong with a frame, or `None`."""
    lowest_top = envelope.lowest_top
    for member in members:
        if message := misshapen(member):
            return Unsound(member, message, "misshapen")
        if message := _outside(member, envelope, lowest_top, roles[member.role]):
            return Unsound(member, message, "outside the wall")
    return _overlapping(members) or _unsupported(members, roles)


def misshapen(member: Member) -> str | None:
    """What is wrong with a member by itself, in words."""
    # A sum is finite only where all that it adds up is.
    if not math.isfinite(sum(chain(*member.outline, member.depth, (member.grain,)))):
        return f"a {member.role} has a coordinate that is not a finite number"
    if len(member.outline) < 3 or member.area < 1.0:
        return f"a {member.role} has no area, or its outline runs clockwise"
    if member.depth[1] - member.depth[0] < TOUCH:
        return f"a {member.role} has no thickness"
    return None


def _outside(member: Member, envelope: Envelope, lowest_top: float, role: Role) -> str | None:
    left, right, bottom = member.left, member.right, member.bottom
    before, after = envelope.beyond if role.past_ends else (0.0, 0.0)
    if left < -before - TOUCH or right > envelope.length + after + TOUCH:
        return f"{_told(member)} leaves the wall, which is {envelope.length:.1f} mm long"
    if bottom < -TOUCH:
        return f"{_told(member)} reaches {-bottom:.1f} mm below the wall"
    for x, z in member.outline if member.top > lowest_top else ():
        if z > envelope.top.at(x) + TOUCH:
            return f"{_told(member)} reaches {z - envelope.top.at(x):.1f} mm over the top of the wall"
    if member.depth[0] < -TOUCH or (not role.proud and member.depth[1] > envelope.depth + TOUCH):
        return f"{_told(member)} is not within the wall's depth of {envelope.depth:g} mm"
    return None


def _told(member: Member) -> str:
    return f"a {member.role} from {member.left:.1f} to {member.right:.1f} mm"


def meets(one: Member, other: Member) -> bool:
    """Whether two members take up the same place in the wall's face, whatever their depths."""
    return (
        one.left < other.right - TOUCH
        and other.left < one.right - TOUCH
        and one.bottom < other.top - TOUCH
        and other.bottom < one.top - TOUCH
        and ((one.is_box and other.is_box) or interlock(one.outline, other.outline))
    )


def _collide(one: Member, other: Member) -> bool:
    """Whether two members whose outlines and depths meet are in one place, their housings cut out."""
    if not (one.housings or other.housings):
        return True
    return any(
        min(depth[1], depth2[1]) - max(depth[0], depth2[0]) > TOUCH and overlap(outline, outline2)
        for outline, depth in one.bodies
        for outline2, depth2 in other.bodies
    )


def _overlapping(members: Sequence[Member]) -> Unsound | None:
    """Sweep from left to right; only members that share a stretch of the wall are compared."""
    active: list[Member] = []
    for member in sorted(members, key=lambda member: member.left):
        active = [other for other in active if other.right > member.left + TOUCH]
        for other in active:
            shared = min(member.depth[1], other.depth[1]) - max(member.depth[0], other.depth[0])
            if shared > TOUCH and meets(member, other) and _collide(member, other):
                return Unsound(
                    member,
                    f"a {member.role} at {member.left:.1f} mm overlaps a {other.role} at {other.left:.1f} mm",
                    "overlap",
                    other,
                )
        active.append(member)
    return None


def _unsupported(members: Sequence[Member], roles: Roles) -> Unsound | None:
    bearers = [m for m in members if roles[m.role].carries and not m.is_upright]
    for member in members:
        # What stands plumb is held to it, whatever its role says; a block may hang on its neighbour instead.
        if not roles[member.role].stands and (not member.is_upright or _is_held(member, members)):
            continue
        left, right = member.left, member.right
        places = [left + (right - left) * share for share in (0.5, 0.2, 0.8)]
        if not any(_bears(bearers, x, member.span(x)[0] - PROBE) for x in places):
            return Unsound(
                member, f"the foot of a {member.role} at {left:.1f} mm stands on nothing", "unsupported end"
            )
        if not any(_bears(bearers, x, member.span(x)[1] + PROBE) for x in places):
            return Unsound(
                member, f"the top of a {member.role} at {left:.1f} mm meets nothing", "unsupported end"
            )
    return None


def _is_held(member: Member, members: Sequence[Member]) -> bool:
    """Whether a piece lies against another: with a side in the face of the wall, or flat in its depth."""
    return any(_lies_against(member, other) for other in members if other is not member)


def _lies_against(member: Member, other: Member) -> bool:
    shared = min(member.depth[1], other.depth[1]) - max(member.depth[0], other.depth[0])
    if shared > TOUCH:
        beside = min(abs(member.left - other.right), abs(member.right - other.left)) < TOUCH
        return beside and min(member.top, other.top) - max(member.bottom, other.bottom) > PROBE
    return shared > -TOUCH and meets(member, other)


def _bears(bearers: Sequence[Member], x: float, z: float) -> bool:
    return any(
        member.left <= x <= member.right
        and member.bottom <= z <= member.top
        and (member.is_box or contains(member.outline, (x, z)))
        for member in bearers
    )


def refuse_unsound(
    members: Sequence[Member],
    envelope: Envelope,
    registry: Registry,
    wall: str,
    *,
    changed_by: tuple[str, str] | None = None,
) -> None:
    """Refuse a frame that cannot stand; to blame is who changed it last, or made the piece that came last."""
    found = unsound(members, envelope, registry.roles)
    if found is None:
        return
    plugin, rule = (
        changed_by
        or max(
            (member for member in (found.member, found.other) if member is not None),
            key=lambda member: (member.made_by != NOBODY, members.index(member)),
        ).made_by
    )
    if not plugin:
        raise RuntimeError(f"wall {wall}: {found.message}, and no rule made them")
    raise registry.fault(plugin, rule, found.message, wall, found.fault)
