"""A wall's face as it is clad or lined: how far it reaches at corners, its holes, the studs behind it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from soleplate.engine.building_file import Tee, WallEnd
from soleplate.engine.rules import CladdingRule, Face, Facing, FramedWall, Hole, Support
from soleplate.engine.shapes import TOUCH, Member, TopLine

Claddings = Mapping[tuple[str, Facing], CladdingRule]
"""The rules of all faces that have one."""


def face_of(wall: FramedWall, top: TopLine, claddings: Claddings, facing: Facing) -> Face:
    """One face of a wall that has a rule; `top` is the wall's top line, plates that lie over it included."""
    rule = claddings[wall.name, facing]
    raised = top.raised(rule.over_plate)
    left, right = (_seen_from(end, facing) for end in wall.ends)
    others = [_neighbour(end, claddings, facing) for end in (left, right)]
    start = -_reach(left, rule, others[0])
    end = wall.length + _reach(right, rule, others[1])
    holes = [_cleared(hole, rule.clearance) for hole in wall.holes]
    if facing == "inside":
        holes += [_beside(tee) for tee in wall.tees]
    timbers = tuple(member for member in wall.members if _reaches(member, wall, facing))
    return Face(
        wall=wall,
        facing=facing,
        ends=(left, right),
        left=start,
        right=end,
        top=raised,
        holes=tuple(holes),
        timbers=timbers,
        studs=_studs(wall, timbers, (left, right)),
        behind=(start, end),
    )


def _seen_from(end: WallEnd, facing: Facing) -> WallEnd:
    """An end of a wall on one side: inside, the two walls of a corner lie the other way round."""
    return end if facing == "outside" else replace(end, reentrant=not end.reentrant)


def _reaches(member: Member, wall: FramedWall, facing: Facing) -> bool:
    return member.depth[0] < TOUCH if facing == "outside" else member.depth[1] > wall.depth - TOUCH


def corner_board_at(end: WallEnd, rule: CladdingRule, claddings: Claddings, facing: Facing) -> bool:
    """Whether the boards of a wall, whose `rule` it is, end at a corner board."""
    return _has_corner_board(end, rule, _neighbour(end, claddings, facing))


def _neighbour(end: WallEnd, claddings: Claddings, facing: Facing) -> CladdingRule | None:
    """The rule of what a face meets at an end, if any: a partition meets its host's lining."""
    side: Facing = "inside" if end.kind == "tee" else facing
    other = claddings.get((end.neighbour or "", side))
    return other if other is not None and other.build_out > 0.0 else None


def _covers_corner(end: WallEnd, rule: CladdingRule, other: CladdingRule | None) -> bool:
    """Whether a wall's cladding runs past at an outer corner and covers the end of its neighbour's."""
    return (end.kind == "through") == (_decider(end, rule, other).runs_past != "walls-between")


def _has_corner_board(end: WallEnd, rule: CladdingRule, other: CladdingRule | None) -> bool:
    is_corner = end.kind in ("through", "butts") and not end.reentrant and rule.build_out > 0.0
    return is_corner and _decider(end, rule, other).runs_past == "corner-boards"


def _decider(end: WallEnd, rule: CladdingRule, other: CladdingRule | None) -> CladdingRule:
    """The rule that decides at a corner: that of the wall that runs through, if it is clad."""
    return rule if end.kind == "through" or other is None else other


def _reach(end: WallEnd, rule: CladdingRule, other: CladdingRule | None) -> float:
    """How far cladding reaches past the end of the frame, mm.

    The frame of a wall between ends at its neighbour's inside: its cladding goes on to the corner. At a
    re-entrant corner the wall that runs through has its end hidden behind its neighbour and its boards. A
    partition's boards end at its host's lining.
    """
    stands_off = 0.0 if other is None else other.build_out
    if end.kind == "free":
        return 0.0
    if end.kind == "tee":
        return -stands_off
    if end.reentrant:
        return -end.neighbour_depth - stands_off if end.kind == "through" else 0.0
    to_corner = end.neighbour_depth if end.kind == "butts" else 0.0
    if not _covers_corner(end, rule, other):
        return to_corner
    if other is not None and _has_corner_board(end, rule, other):
        stands_off = other.cavity + other.corner_section.breadth
    return to_corner + stands_off


def _cleared(hole: Hole, clearance: float) -> Hole:
    """The hole that is left in the cladding; under a door there is none."""
    return replace(
        hole,
        left=hole.left - clearance,
        right=hole.right + clearance,
        bottom=-math.inf if hole.reaches_floor else hole.bottom - clearance,
        top=hole.top + clearance,
    )


def _beside(tee: Tee) -> Hole:
    """Where a partition stands against the wall, nothing lies on it."""
    left, right = tee.centre - tee.depth / 2, tee.centre + tee.depth / 2
    return Hole(tee.partition, "gap", left, right, -math.inf, math.inf)


def _studs(wall: FramedWall, timbers: Sequence[Member], ends: tuple[WallEnd, WallEnd]) -> tuple[Support, ...]:
    """The uprights of a face, and the end studs of neighbours that show beside it."""
    lying = [member for member in timbers if not member.is_upright]
    found = [
        Support((m.left + m.right) / 2, m.left, m.right, *_height(m, lying, wall))
        for m in timbers
        if m.is_upright
    ]
    for end, near in zip(ends, (-ends[0].neighbour_depth, wall.length), strict=True):
        if end.kind == "butts" and not end.reentrant:
            far = near + end.neighbour_depth
            found.append(Support((near + far) / 2, near, far, -math.inf, math.inf))
    return tuple(sorted(found, key=lambda support: (support.centre, support.start)))


def _height(member: Member, lying: Sequence[Member], wall: FramedWall) -> tuple[float, float]:
    """The height over which something can be fixed to an upright and the timbers that lie on or under it.

    One that stands on the sole plate, or reaches the top plate, goes on without end: what overhangs there is
    fixed to it all the same.
    """
    low, high = member.bottom, member.top
    middle = (member.left + member.right) / 2
    for other in sorted(lying, key=lambda other: other.bottom, reverse=True):
        if other.left <= middle <= other.right and abs(other.top - low) < 1.0:
            low = other.bottom
    for other in sorted(lying, key=lambda other: other.bottom):
        if other.left <= middle <= other.right and abs(other.bottom - high) < 1.0:
            high = other.top
    reaches_top = member.top > wall.underside.lowest(member.left, member.right) - 1.0
    return (-math.inf if low < TOUCH else low, math.inf if reaches_top else high)
