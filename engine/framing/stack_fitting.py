"""Framings of openings above each other, fitted together: uprights end at another opening's timbers."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from soleplate.engine.building_file import Mm, Reach, UnbuildableError, at_least
from soleplate.engine.framing.findings import STANDS_ON_OPENING
from soleplate.engine.framing.soundness import meets
from soleplate.engine.framing.stacks import above_each_other
from soleplate.engine.framing.tasks import FramingTask
from soleplate.engine.rules import Finding, FramedOpening, Hole, Wall
from soleplate.engine.shapes import TOUCH, Member, Roles, Section, clip, level

JAMB_STUD = "jamb stud"
"""What an upright of full height is called where it ends at another opening's timbers."""


def ground_of(hole: Hole, below: Sequence[FramedOpening]) -> float | None:
    """The top of the timbers over openings below a hole, where they lie under its whole width, mm."""
    tops = [
        member.top
        for framing in below
        for member in framing.members
        if not member.is_upright
        and member.top <= hole.bottom + TOUCH
        and member.left <= hole.left + TOUCH
        and member.right >= hole.right - TOUCH
    ]
    return max(tops, default=None)


def fitted(
    wall: Wall, framings: Sequence[FramedOpening], stack: Sequence[int], task: FramingTask
) -> list[FramedOpening]:
    """The framings, those of the stack with uprights that end at the others' timbers.

    Raises:
        UnbuildableError: two take up the same place all the same.
    """
    made = list(framings)
    for index in stack:
        others = [member for i in stack if i != index for member in framings[i].members]
        lying = [member for member in others if not member.is_upright]
        members = tuple(
            _ended(m, wall.holes[index], lying, wall.roles) if m.is_upright else m
            for m in framings[index].members
        )
        made[index] = replace(framings[index], members=members)
    for one, other in itertools.combinations(sorted(stack, key=lambda i: wall.holes[i].bottom), 2):
        if above_each_other(wall.holes[one], wall.holes[other]):
            _refuse_meeting(wall.holes[one], made[one], wall.holes[other], made[other], task.pointer(other))
            found = tuple(_standing_on(wall.holes[one].name, made[one], made[other], wall.holes[other].top))
            made[other] = replace(made[other], findings=(*made[other].findings, *found))
    return made


def _ended(member: Member, hole: Hole, lying: Sequence[Member], roles: Roles) -> Member:
    """An upright of an opening, between what lies under and over the middle of its hole of others."""
    middle = (hole.bottom + hole.top) / 2
    across = [m for m in lying if m.left < member.right - TOUCH and member.left < m.right - TOUCH]
    foot = max((m.top for m in across if m.top <= middle), default=-math.inf)
    head = min((m.bottom for m in across if m.bottom >= middle), default=math.inf)
    if foot <= member.bottom + TOUCH and head >= member.top - TOUCH:
        return member
    outline = member.outline
    if foot > member.bottom:
        outline = clip(outline, (member.left, foot), (member.right, foot))
    if head < member.top:
        outline = clip(outline, (member.right, head), (member.left, head))
    # What comes to nothing stands where it was, and is refused there.
    ended = member.moved(outline) if outline else member
    return replace(ended, role=JAMB_STUD) if roles[member.role].full_height else ended


def _refuse_meeting(low: Hole, lower: FramedOpening, high: Hole, upper: FramedOpening, pointer: str) -> None:
    """Refuse an opening whose timbers lie in those of one below it, or one in the other's hole."""
    beds, lids = [*_lying(lower), _as_piece(low)], [*_lying(upper), _as_piece(high)]
    clashes = [
        (lid, bed)
        for lid, bed in itertools.product(lids, beds)
        if lid.left < bed.right - TOUCH and bed.left < lid.right - TOUCH and lid.bottom < bed.top - TOUCH
    ]
    if clashes:
        lid, bed = max(clashes, key=lambda pair: pair[1].top - pair[0].bottom)
        raise UnbuildableError.at(
            f"{pointer}/sill",
            "its underside at {bottom} and the top of {lower} at {top} leave {between} between them for the"
            " timbers that lie there; accepted is {more} more",
            bottom=Mm(high.bottom, ".1f"),
            lower=low.name,
            top=Mm(low.top, ".1f"),
            between=Mm(high.bottom - low.top, ".1f"),
            more=at_least(bed.top - lid.bottom, ".1f"),
        )
    for one, other in itertools.product(upper.members, lower.members):
        shared = min(one.depth[1], other.depth[1]) - max(one.depth[0], other.depth[0])
        if shared > TOUCH and meets(one, other):
            raise UnbuildableError.at(
                f"{pointer}/at",
                "its {role} ({place}) would stand in the {other} ({taken}) of {lower}; accepted are openings"
                " whose edges are in line, or further from each other",
                role=one.role,
                place=Reach(one.left, one.right, ".0f"),
                other=other.role,
                taken=Reach(other.left, other.right, ".0f"),
                lower=low.name,
            )


def _lying(framing: FramedOpening) -> list[Member]:
    return [member for member in framing.members if not member.is_upright]


def _as_piece(hole: Hole) -> Member:
    """A hole as if something lay there."""
    box = (hole.left, hole.right, hole.bottom, hole.top)
    return level("hole", Section(hole.width, hole.top - hole.bottom), box, (0.0, 1.0))


def _standing_on(name: str, lower: FramedOpening, upper: FramedOpening, top: float) -> Iterator[Finding]:
    """That uprights which go on over the upper one's `top` stand on what lies over the lower one."""
    standing = [
        (stud, bed)
        for stud, bed in itertools.product(upper.members, lower.members)
        if stud.role == JAMB_STUD
        and stud.top > top + TOUCH
        and not bed.is_upright
        and abs(stud.bottom - bed.top) < TOUCH
        and bed.left < stud.right - TOUCH
        and stud.left < bed.right - TOUCH
    ]
    if standing:
        bed = standing[0][1]
        yield STANDS_ON_OPENING.of(
            value=round(bed.right - bed.left, 3),
            beam=bed.role,
            lower=name,
            length=Mm(bed.right - bed.left, ".0f"),
        )
