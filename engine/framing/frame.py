"""Second stage: a wall set out becomes a frame. The steps of `frame_wall` are the order of the work.

Each step asks one rule, through `Asked`, so that whatever goes wrong in a rule names plugin, rule and wall.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import ANY, Mm, MmList, Reach, Room, UnbuildableError, at_least
from soleplate.engine.framing.filling import FilledRun, cripples_of, fill_runs
from soleplate.engine.framing.findings import NOGGIN_CLOSE, NOGGIN_LEFT_OUT
from soleplate.engine.framing.part import Part, wall_view
from soleplate.engine.framing.plating import jointed_plates, plate
from soleplate.engine.framing.setting_out import WallTask
from soleplate.engine.framing.soundness import Envelope, meets, unsound
from soleplate.engine.registry import Asked, Registry
from soleplate.engine.rules import (
    NOGGIN_CLEAR,
    Adjustment,
    Bay,
    Corner,
    CornerRule,
    Finding,
    FramedOpening,
    Hole,
    NogginPlace,
    NogginRule,
    TopPlates,
    Wall,
)
from soleplate.engine.shapes import TOUCH, Member, level, rectangle, upright


@dataclass(frozen=True, slots=True)
class Frame:
    """A framed wall: its members, where openings' timbers are among them, and what is to be said of it."""

    task: WallTask
    wall: Wall
    plates: TopPlates
    openings: tuple[tuple[Hole, str, tuple[Member, ...]], ...]
    runs: tuple[FilledRun, ...]
    findings: tuple[Finding, ...]

    @property
    def part(self) -> Part:
        """The wall as every later stage takes it."""
        task, wall = self.task, self.wall
        return Part(
            name=wall.name,
            kind="wall",
            views=(wall_view(task.plan),),
            members=wall.members,
            timber=task.timber,
            section=wall.section,
            sold=task.section,
            foot=wall.sole_thickness,
            trim_allowance=task.trim_allowance,
            roles=wall.roles,
        )


def frame_wall(task: WallTask, registry: Registry, room: Room = ANY) -> Frame:
    """Frame a wall by its rules.

    Raises:
        UnbuildableError: something in it cannot be framed.
        TooManyPiecesError: it has more members than there is `room` for, before it is adjusted.
        RuleError: a rule failed, or returned what cannot be.
    """
    asked = task.asked(registry)
    wall, plates = plate(task, asked)
    room = room.after(len(plates.members))
    framings = _frame_openings(wall, task, asked, room)
    fixed = [*_ends(wall, task), *_corners_and_tees(wall, task, asked)]
    fixed = _without_doubles(fixed, framings)
    _refuse_meeting(fixed, framings, task)
    timbers = [member for framing in framings for member in framing.members]
    studs = fill_runs(wall, [*fixed, *timbers], framings, task, asked)
    cripples = cripples_of(wall, framings, task, asked)
    uprights = [*fixed, *timbers, *studs.members, *cripples.members]
    noggins, left_out = _noggins(wall, uprights, task, asked, room.after(len(uprights)))
    lying, joints = jointed_plates(wall, plates, uprights, task)
    members: tuple[Member, ...] = (*lying, *uprights, *noggins)
    framed = replace(wall, members=members, outline=_outline(wall, plates))
    envelope = Envelope(wall.length, wall.depth, plates.top or wall.top, plates.beyond)
    _refuse_unsound(members, envelope, registry, wall.name)
    for adjustment in task.rules.every("adjustments", Adjustment):
        changed = asked.several(adjustment, adjustment.adjust_wall, replace(framed, members=members))
        members = asked.members(adjustment, changed)
        _refuse_unsound(members, envelope, registry, wall.name, changed_by=asked.maker(adjustment))
    return Frame(
        task=task,
        wall=replace(framed, members=members),
        plates=plates,
        openings=tuple(
            (hole, rule.name, tuple(m for m in members if m in framing.members))
            for hole, rule, framing in zip(wall.holes, task.rules.framings, framings, strict=True)
        ),
        runs=studs.runs,
        findings=(
            *studs.findings,
            *cripples.findings,
            *left_out,
            *joints,
            *(
                found.on(wall.name).after(f"{hole.name}: ")
                for hole, framing in zip(wall.holes, framings, strict=True)
                for found in framing.findings
            ),
        ),
    )


def _frame_openings(wall: Wall, task: WallTask, asked: Asked, room: Room) -> list[FramedOpening]:
    framings: list[FramedOpening] = []
    for index, (hole, rule) in enumerate(zip(wall.holes, task.rules.framings, strict=True)):
        pointer = task.pointer(index)
        lowest = wall.underside.lowest(hole.left, hole.right)
        if hole.top > lowest + TOUCH:
            raise UnbuildableError.at(
                task.pointer_to_height(index),
                "its top at {top} is over the underside of the top plate there, {lowest}",
                top=Mm(hole.top, ".0f"),
                lowest=Mm(lowest, ".0f"),
            )
        framing = asked(rule, rule.frame_opening, hole, wall, pointer=pointer)
        framing = asked.whole(rule, framing, FramedOpening)
        room = room.after(len(framing.members))
        framings.append(replace(framing, members=asked.mark(rule, framing.members)))
    _refuse_crowding(wall, framings, task)
    return framings


def _refuse_crowding(wall: Wall, framings: Sequence[FramedOpening], task: WallTask) -> None:
    placed = sorted(enumerate(framings), key=lambda pair: pair[1].left)
    for (_, before), (index, after) in itertools.pairwise(placed):
        if after.left < before.right - TOUCH:
            raise UnbuildableError.at(
                f"{task.pointer(index)}/at",
                "its framing starts at {left}, and that of the opening to its left ends at {right};"
                " accepted is {more} more between them",
                left=Mm(after.left, ".0f"),
                right=Mm(before.right, ".0f"),
                more=at_least(before.right - after.left, ".0f"),
            )
    for tee in wall.tees:
        for index, framing in placed:
            if framing.left < tee.centre + tee.depth / 2 and tee.centre - tee.depth / 2 < framing.right:
                raise UnbuildableError.at(
                    f"{task.pointer(index)}/at",
                    "{partition} meets the wall at {centre}, within the opening's framing ({framing})",
                    partition=tee.partition,
                    centre=Mm(tee.centre, ".0f"),
                    framing=Reach(framing.left, framing.right, ".0f"),
                )


def _ends(wall: Wall, task: WallTask) -> Iterator[Member]:
    for left in (0.0, wall.length - wall.breadth):
        stud = upright("stud", wall.section, left, wall.sole_thickness, wall.underside)
        if stud is None:
            raise UnbuildableError.at(
                task.pointer_to_top,
                "wall {name} has no room for its end stud at {left}",
                name=wall.name,
                left=Mm(left, ".0f"),
            )
        yield stud


def _corners_and_tees(wall: Wall, task: WallTask, asked: Asked) -> Iterator[Member]:
    rule = task.rules.one("corners", CornerRule)
    for side, end in zip(("left", "right"), wall.ends, strict=True):
        if end.kind in ("through", "butts"):
            corner = Corner(wall, "left" if side == "left" else "right", end)
            yield from asked.members(rule, asked.several(rule, rule.lay_corner, corner))
    for tee in wall.tees:
        yield from asked.members(rule, asked.several(rule, rule.lay_tee, tee, wall))


def _without_doubles(fixed: Sequence[Member], framings: Sequence[FramedOpening]) -> list[Member]:
    """End and corner studs less those whose place an opening's stud takes exactly."""
    taken = [m for framing in framings for m in framing.members if m.is_upright]
    return [
        member
        for member in fixed
        if not any(
            abs(member.left - other.left) < TOUCH
            and abs(member.right - other.right) < TOUCH
            and _full(other, member)
            for other in taken
        )
    ]


def _refuse_meeting(fixed: Sequence[Member], framings: Sequence[FramedOpening], task: WallTask) -> None:
    """Refuse an opening whose framing stands where an end stud, a corner or a tee does."""
    for index, framing in enumerate(framings):
        for member in fixed:
            if member.left < framing.right - TOUCH and framing.left < member.right - TOUCH:
                raise UnbuildableError.at(
                    f"{task.pointer(index)}/at",
                    "its framing ({framing}) meets the {role} at {place}; accepted is a place clear of it",
                    framing=Reach(framing.left, framing.right, ".0f"),
                    role=member.role,
                    place=Reach(member.left, member.right, ".0f"),
                )


def _full(other: Member, member: Member) -> bool:
    return other.bottom <= member.bottom + TOUCH and other.top >= member.top - TOUCH


def _noggins(
    wall: Wall, members: Sequence[Member], task: WallTask, asked: Asked, room: Room
) -> tuple[Sequence[Member], list[Finding]]:
    """The noggins, and that some have no room, or would be too near to what lies level in their bay."""
    rule = task.rules.maybe("noggins", NogginRule)
    if rule is None:
        return (), []
    studded = replace(wall, members=tuple(members))
    asked_for = asked.several(rule, rule.place_noggins, studded)
    made: list[Member] = []
    left_out: list[NogginPlace] = []
    close: list[NogginPlace] = []
    near: dict[Bay, list[Member]] = {}
    for answer in asked_for:
        place = asked.whole(rule, answer, NogginPlace)
        noggin = level(
            "noggin",
            wall.section,
            (place.bay.left, place.bay.right, place.bottom, place.bottom + wall.breadth),
            (0.0, wall.section.depth),
            fixings=place.fixings,
        )
        if place.bay not in near:
            # Many rows have the same bays, each between a few of all members.
            near[place.bay] = [m for m in members if _shares(m, noggin)]
        if _fits(noggin, near[place.bay], studded):
            if any(_is_close(noggin, other) for other in near[place.bay]):
                close.append(place)
                continue
            made.append(noggin)
            near[place.bay].append(noggin)
            room = room.after(1)
        elif _hangs(place.bay, members):
            raise asked.fault(
                rule,
                f"set a noggin from {place.bay.left:.1f} to {place.bay.right:.1f} mm, where it has no upright"
                " at both ends",
                "unsupported end",
            )
        else:
            left_out.append(place)
    found: list[Finding] = []
    for kind, places, limit in ((NOGGIN_LEFT_OUT, left_out, None), (NOGGIN_CLOSE, close, NOGGIN_CLEAR)):
        if places:
            where = MmList(tuple(place.bay.left for place in places[:12]))
            count = len(places)
            found.append(
                kind.of(
                    part=wall.name, value=float(count), limit=limit, number=count, rule=rule.name, where=where
                )
            )
    return asked.mark(rule, made), found


def _hangs(bay: Bay, members: Sequence[Member]) -> bool:
    """Whether a bay is none: it has no upright at one of its ends, at whatever height."""
    uprights = [member for member in members if member.is_upright]
    return not (
        any(abs(member.right - bay.left) < TOUCH for member in uprights)
        and any(abs(member.left - bay.right) < TOUCH for member in uprights)
    )


def _shares(member: Member, noggin: Member) -> bool:
    """Whether a member is over, under or beside a noggin, or in its place."""
    return member.left < noggin.right + TOUCH and member.right > noggin.left - TOUCH


def _is_close(noggin: Member, other: Member) -> bool:
    """Whether what lies over or under a noggin is too near to it; plates are not among the others."""
    over = min(noggin.right, other.right) - max(noggin.left, other.left) > TOUCH
    clear = max(other.bottom - noggin.top, noggin.bottom - other.top)
    return not other.is_upright and over and clear < NOGGIN_CLEAR - TOUCH


def _fits(noggin: Member, near: Sequence[Member], wall: Wall) -> bool:
    """Whether a noggin is clear of the plates and of all that is `near`, with uprights at both ends."""
    if noggin.bottom < wall.sole_thickness - TOUCH:
        return False
    if noggin.top > wall.underside.lowest(noggin.left, noggin.right) + TOUCH:
        return False
    sides = [False, False]
    for member in near:
        if member.is_upright and member.bottom <= noggin.bottom + TOUCH and member.top >= noggin.top - TOUCH:
            sides[0] |= abs(member.right - noggin.left) < TOUCH
            sides[1] |= abs(member.left - noggin.right) < TOUCH
        if meets(member, noggin):
            return False
    return all(sides)


def _outline(wall: Wall, plates: TopPlates) -> tuple[tuple[float, float], ...]:
    top = (plates.top or wall.top).between(0.0, wall.length)
    return (*rectangle(0.0, wall.length, 0.0, 1.0)[:2], *reversed(top))


def _refuse_unsound(
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
            key=lambda member: (member.made_by != ("", ""), members.index(member)),
        ).made_by
    )
    if not plugin:
        raise RuntimeError(f"wall {wall}: {found.message}, and no rule made them")
    raise registry.fault(plugin, rule, found.message, wall, found.fault)
