"""What stands between plates and ends: openings' timbers, studs, cripples and noggins, by their rules."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import Mm, Reach, Room, UnbuildableError, at_least
from soleplate.engine.framing.filling import FilledRun, cripples_of, fill_runs
from soleplate.engine.framing.noggins import noggins_among
from soleplate.engine.framing.tasks import FramingTask
from soleplate.engine.registry import Asked
from soleplate.engine.rules import Finding, FramedOpening, Wall
from soleplate.engine.shapes import TOUCH, Member


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


def frame_openings(wall: Wall, task: FramingTask, asked: Asked, room: Room) -> list[FramedOpening]:
    """The framing of each opening, as its rule makes it.

    Raises:
        TooManyPiecesError: there are more timbers than `room` for them.
        UnbuildableError: one cannot be framed, or two are too near to each other.
        RuleError: a rule failed, or returned what cannot be.
    """
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


def _refuse_crowding(wall: Wall, framings: Sequence[FramedOpening], task: FramingTask) -> None:
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
