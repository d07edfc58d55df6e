"""The surfaces of walls: how far each reaches at corners, its holes, the studs behind it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from soleplate.engine.building_file import Mm, Tee, UnbuildableError, WallEnd
from soleplate.engine.covering.corner_boards import within_corner_boards
from soleplate.engine.covering.corners import Claddings, covers_corner, has_corner_board, neighbour_at
from soleplate.engine.covering.covering import ToCover
from soleplate.engine.framing import Frame, WallTask
from soleplate.engine.registry import Registry
from soleplate.engine.rules import (
    CladdingEnd,
    CladdingRule,
    EdgeLine,
    Facing,
    Hole,
    Support,
    Surface,
    TopPlates,
    Wall,
)
from soleplate.engine.shapes import TOUCH, Member, TopLine

MEMBERS: Final[tuple[tuple[Facing, str], ...]] = (("outside", "cladding"), ("inside", "lining"))
"""The sides of a wall, and the members of the building file that say what covers them."""


def wall_surfaces(
    frames: Sequence[Frame],
    registry: Registry,
    *,
    on_floor: bool = False,
    ends: Sequence[CladdingEnd] = (),
    against: Sequence[tuple[str, float, float]] = (),
) -> list[ToCover]:
    """What is to be covered of framed walls: the outsides that have a rule, then the insides.

    What lies indoors ends at the floor, where the walls stand `on_floor`. Under a framed roof what covers a
    face ends where `ends` say, and there is a gap where something stands `against` the inside of a wall: its
    name, from and to along it, mm.

    Raises:
        UnbuildableError: it is to reach over the top of a wall that a framed roof rests on.
    """
    under = {(end.wall, end.facing): end for end in ends}
    chosen = {
        (frame.wall.name, side): (frame, rule)
        for side, member in MEMBERS
        for frame in frames
        for rule in frame.task.rules.every(member, CladdingRule)
    }
    claddings = {key: rule for key, (_, rule) in chosen.items()}
    tasks: list[ToCover] = []
    for (_, side), (frame, rule) in chosen.items():
        indoors = side == "inside" or frame.task.plan.is_partition
        top = frame.plates.top or frame.wall.top
        if (end := under.get((frame.wall.name, side))) is not None:
            _refuse_over_plate(frame, rule)
            top = top.raised(-end.under_top(rule.build_out))
        surface = surface_of(frame.wall, top, claddings, side, bounded=indoors and on_floor)
        if side == "inside":
            surface = replace(surface, holes=(*surface.holes, *_standing(frame.wall.name, against)))
        group = "indoors" if indoors else "outdoors"
        tasks.append(ToCover(rule, surface, frame.task.asked(registry), group))
    return tasks


def sheet_edges(
    tasks: Sequence[WallTask], registry: Registry
) -> Callable[[WallTask, Wall, TopPlates], list[EdgeLine]]:
    """What tells, while one of the walls is framed, where edges on its faces want timber."""
    claddings: dict[tuple[str, Facing], CladdingRule] = {
        (task.wall.name, side): rule
        for side, member in MEMBERS
        for task in tasks
        for rule in task.rules.every(member, CladdingRule)
    }

    def wanted(task: WallTask, wall: Wall, plates: TopPlates) -> list[EdgeLine]:
        asked, found = task.asked(registry), list[EdgeLine]()
        for side, _ in MEMBERS:
            rule = claddings.get((wall.name, side))
            if rule is not None:
                whole = surface_of(wall, plates.top or wall.top, claddings, side)
                face = within_corner_boards(whole, rule, claddings)
                lines = asked.several(rule, rule.edge_lines, face)
                found += [asked.whole(rule, line, EdgeLine) for line in lines]
        return found

    return wanted


def _refuse_over_plate(frame: Frame, rule: CladdingRule) -> None:
    if rule.over_plate > TOUCH:
        raise UnbuildableError.at(
            f"{frame.task.pointer_to_rule(rule)}/over_plate",
            "{over_plate} over the top of wall {wall}, where rafters or rungs cross; accepted under a"
            " roof frame"
            " is 0: what covers it ends at their undersides",
            over_plate=Mm(rule.over_plate),
            wall=frame.wall.name,
        )


def surface_of(
    wall: Wall,
    top: TopLine,
    claddings: Claddings,
    facing: Facing,
    *,
    view: str = "face",
    upright: str = "stud",
    bounded: bool = False,
) -> Surface:
    """One face of a wall that has a rule, or of a floor that lies like one.

    `top` is its top line, plates that lie over it included; `view`, `upright` and `bounded` are those of a
    `Surface`.
    """
    rule = claddings[wall.name, facing]
    raised = top.raised(rule.over_plate)
    left, right = (_seen_from(end, facing) for end in wall.ends)
    others = [neighbour_at(end, claddings, facing) for end in (left, right)]
    start = -_reach(left, rule, others[0])
    end = wall.length + _reach(right, rule, others[1])
    holes = [_cleared(hole, rule.clearance) for hole in wall.holes]
    if facing == "inside":
        holes += [_beside(tee) for tee in wall.tees]
    timbers = tuple(member for member in wall.members if _reaches(member, wall, facing))
    return Surface(
        part=wall.name,
        facing=facing,
        ends=(left, right),
        left=start,
        right=end,
        top=raised,
        holes=tuple(holes),
        timbers=timbers,
        supports=_studs(wall, timbers, (left, right)),
        behind=(start, end),
        underside=wall.underside,
        depth=wall.depth,
        view=view,
        upright=upright,
        bounded=bounded,
        missed=wall.missed,
        roles=wall.roles,
    )


def _seen_from(end: WallEnd, facing: Facing) -> WallEnd:
    """An end of a wall on one side: inside, the two walls of a corner lie the other way round."""
    return end if facing == "outside" else replace(end, reentrant=not end.reentrant)


def _reaches(member: Member, wall: Wall, facing: Facing) -> bool:
    return member.depth[0] < TOUCH if facing == "outside" else member.depth[1] > wall.depth - TOUCH


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
    if not covers_corner(end, rule, other):
        return to_corner
    if other is not None and has_corner_board(end, rule, other):
        stands_off = other.cavity + other.corner_board.breadth
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


def _standing(wall: str, against: Sequence[tuple[str, float, float]]) -> list[Hole]:
    """Where something stands against a wall, nothing lies on it."""
    return [Hole("post", "gap", a, b, -math.inf, math.inf) for name, a, b in against if name == wall]


def _beside(tee: Tee) -> Hole:
    """Where a partition stands against the wall, nothing lies on it."""
    left, right = tee.centre - tee.depth / 2, tee.centre + tee.depth / 2
    return Hole(tee.partition, "gap", left, right, -math.inf, math.inf)


def _studs(wall: Wall, timbers: Sequence[Member], ends: tuple[WallEnd, WallEnd]) -> tuple[Support, ...]:
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


def _height(member: Member, lying: Sequence[Member], wall: Wall) -> tuple[float, float]:
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
