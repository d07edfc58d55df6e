"""What stands between plates and ends: openings' timbers, studs, cripples and noggins, by their rules."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import Reach, Room, UnbuildableError
from soleplate.engine.framing.backing import backing_at, with_backing
from soleplate.engine.framing.filling import FilledRun, cripples_of, fill_runs
from soleplate.engine.framing.noggins import noggins_among
from soleplate.engine.framing.tasks import FramingTask
from soleplate.engine.registry import Asked
from soleplate.engine.rules import EdgeLine, Finding, FramedOpening, Wall
from soleplate.engine.shapes import TOUCH, Member


@dataclass(frozen=True, slots=True)
class Infill:
    """All uprights, the fixed ones first, noggins, the runs that studs stand in, and what was found.

    `missed` are the centre lines of studs that were left out, left to right, mm.
    """

    uprights: tuple[Member, ...]
    noggins: tuple[Member, ...]
    runs: tuple[FilledRun, ...]
    missed: tuple[float, ...]
    findings: tuple[Finding, ...]


EdgesWanted = Callable[[Wall], Sequence[EdgeLine]]
"""Tells where the edges of sheets want timber behind them, of a wall with its uprights."""


def no_edges(wall: Wall) -> Sequence[EdgeLine]:
    """Tell that none do."""
    del wall
    return ()


def fill(
    wall: Wall,
    fixed: Sequence[Member],
    framings: Sequence[FramedOpening],
    task: FramingTask,
    asked: Asked,
    room: Room,
    edges: EdgesWanted = no_edges,
) -> Infill:
    """Fill in what stands between the `fixed` uprights, at ends and corners, and framed openings.

    Behind `edges` go backing studs.

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
    standing = (*fixed, *timbers, *studs.members, *cripples.members)
    missed = (*studs.missed, *cripples.missed)
    lines = tuple(sorted({round(stud.centre, 6) for stud in missed}))
    wanted = edges(replace(wall, members=standing, missed=lines))
    backing = backing_at(wanted, missed, wall)
    uprights = (*standing, *(member for _, member in backing))
    noggins, left_out = noggins_among(wall, uprights, task, asked, room.after(len(uprights)))
    backed = {id(stud) for stud, _ in backing}
    close = (stud.finding for stud in missed if stud.finding is not None and id(stud) not in backed)
    return Infill(
        uprights,
        tuple(noggins),
        tuple(with_backing(run, backing) for run in studs.runs),
        lines,
        (*close, *cripples.findings, *left_out),
    )


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
