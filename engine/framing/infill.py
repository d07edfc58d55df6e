"""What stands between plates and ends: openings' timbers, studs, cripples and noggins, by their rules."""

from __future__ import annotations

from bisect import bisect
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import MmList, Reach, Room, UnbuildableError
from soleplate.engine.framing.filling import FilledRun, cripples_of, fill_runs
from soleplate.engine.framing.findings import NOGGIN_CLOSE, NOGGIN_LEFT_OUT
from soleplate.engine.framing.soundness import meets
from soleplate.engine.framing.tasks import FramingTask
from soleplate.engine.registry import Asked
from soleplate.engine.rules import NOGGIN_CLEAR, Bay, Finding, FramedOpening, NogginPlace, NogginRule, Wall
from soleplate.engine.shapes import TOUCH, Member, level


@dataclass(frozen=True, slots=True)
class Infill:
    """All uprights, the fixed ones first, noggins, the runs that studs stand in, and what was found."""

    uprights: tuple[Member, ...]
    noggins: tuple[Member, ...]
    runs: tuple[FilledRun, ...]
    findings: tuple[Finding, ...]


def fill(
    wall: Wall,
    fixed: Sequence[Member],
    framings: Sequence[FramedOpening],
    task: FramingTask,
    asked: Asked,
    room: Room,
) -> Infill:
    """Fill in what stands between the `fixed` uprights, at ends and corners, and framed openings.

    Raises:
        UnbuildableError: an opening's framing meets one of them.
        TooManyPiecesError: there are more than `room` for them.
        RuleError: a rule failed, or returned what cannot be.
    """
    fixed = _without_doubles(fixed, framings)
    _refuse_meeting(fixed, framings, task)
    timbers = [member for framing in framings for member in framing.members]
    studs = fill_runs(wall, [*fixed, *timbers], framings, task, asked)
    cripples = cripples_of(wall, framings, task, asked)
    uprights = (*fixed, *timbers, *studs.members, *cripples.members)
    noggins, left_out = noggins_among(wall, uprights, task, asked, room.after(len(uprights)))
    return Infill(uprights, tuple(noggins), studs.runs, (*studs.findings, *cripples.findings, *left_out))


def found_of(wall: Wall, framings: Sequence[FramedOpening]) -> Iterator[Finding]:
    """What was found while openings were framed, each with its opening's name before it."""
    for hole, framing in zip(wall.holes, framings, strict=True):
        yield from (found.on(wall.name).after(f"{hole.name}: ") for found in framing.findings)


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


def _refuse_meeting(fixed: Sequence[Member], framings: Sequence[FramedOpening], task: FramingTask) -> None:
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


def noggins_among(
    wall: Wall, members: Sequence[Member], task: FramingTask, asked: Asked, room: Room
) -> tuple[Sequence[Member], list[Finding]]:
    """The noggins between members that stand, by their rule, and that some have no room.

    Those are left out that would be too near to what lies level in their bay.
    """
    rule = task.rules.maybe("noggins", NogginRule)
    if rule is None:
        return (), []
    studded = replace(wall, members=tuple(members))
    asked_for = asked.several(rule, rule.place_noggins, studded)
    made: list[Member] = []
    left_out: list[NogginPlace] = []
    close: list[NogginPlace] = []
    near: dict[Bay, list[Member]] = {}
    level_near: dict[Bay, list[Member]] = {}
    heights: dict[Bay, list[float]] = {}  # of those made, upwards
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
            level_near[place.bay] = [m for m in near[place.bay] if not m.is_upright]
        if _fits(noggin, near[place.bay], studded):
            rows = heights.setdefault(place.bay, [])
            below = bisect(rows, place.bottom)
            beside = (abs(row - place.bottom) - wall.breadth for row in rows[max(below - 1, 0) : below + 1])
            # Two that overlap are the rule's fault, and are told as such.
            if any(-TOUCH < clear < NOGGIN_CLEAR - TOUCH for clear in beside) or any(
                _is_close(noggin, other) for other in level_near[place.bay]
            ):
                close.append(place)
                continue
            made.append(noggin)
            rows.insert(below, place.bottom)
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
    """Whether what lies level, and is no plate, is too near over or under a noggin."""
    over = min(noggin.right, other.right) - max(noggin.left, other.left) > TOUCH
    clear = max(other.bottom - noggin.top, noggin.bottom - other.top)
    return over and clear < NOGGIN_CLEAR - TOUCH


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
