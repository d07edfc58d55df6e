"""Backing: studs beside timbers that a sheet's edge only comes near to.

A stud rule's line may fall beside, or partly on, a king stud, a trimmer or a corner, where no stud of its own
has room. Where the edges of two sheets are to meet there, timber must lie behind both: so another stud is set
as near to the line as there is room.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from soleplate.engine.framing.filling import FilledRun, MissedStud
from soleplate.engine.rules import LEAST_CRIPPLE, EdgeLine, Wall
from soleplate.engine.shapes import TOUCH, Member, upright

Backing = tuple[MissedStud, Member]
"""A stud, and the one that it stands for."""


def backing_at(lines: Sequence[EdgeLine], missed: Sequence[MissedStud], wall: Wall) -> list[Backing]:
    """The studs that go behind some lines, where there is room for them.

    Args:
        lines: where edges meet that have no timber behind them.
        missed: the studs that were left out.
        wall: with its top plates.
    """
    made: list[Backing] = []
    for line in lines:
        for stud in missed:
            if abs(stud.centre - line.at) < TOUCH and _is_wanted(line, stud):
                member = _beside(stud, [m for _, m in made], wall)
                if member is not None:
                    made.append((stud, member))
    return made


def with_backing(run: FilledRun, backing: Sequence[Backing]) -> FilledRun:
    """A run whose clear space ends at the backing studs beside its ends; others stand among its studs."""
    for stud, member in backing:
        if stud.run.place != "whole" or (stud.run.left, stud.run.right) != (run.left, run.right):
            continue
        if abs(member.left - run.left) < TOUCH:
            run = replace(run, left=member.right)
        elif abs(member.right - run.right) < TOUCH:
            run = replace(run, right=member.left)
        else:
            run = replace(run, studs=tuple(sorted((*run.studs, member.left))))
    return run


def _is_wanted(line: EdgeLine, stud: MissedStud) -> bool:
    """Whether what must lie behind the edges reaches into the run, beyond the timber that stands there."""
    return stud.run.left - line.bearing < line.at < stud.run.right + line.bearing


def _beside(stud: MissedStud, made: Sequence[Member], wall: Wall) -> Member | None:
    """A stud as near to where one was missed as it has room, or `None` where it has none."""
    run, breadth = stud.run, wall.breadth
    if run.clear < breadth - TOUCH:
        return None
    left = min(max(stud.place, run.left), run.right - breadth)
    if any(
        left < right - TOUCH and near < left + breadth - TOUCH for near, right in _taken(stud, made, breadth)
    ):
        return None
    role = "backing stud" if run.place == "whole" else "cripple"
    member = upright(role, wall.section, left, stud.bottom, stud.top)
    return member if member is not None and member.top - member.bottom >= LEAST_CRIPPLE else None


def _taken(stud: MissedStud, made: Sequence[Member], breadth: float) -> Iterator[tuple[float, float]]:
    """Where others stand already: the studs of the run, and backing."""
    yield from ((left, left + breadth) for left in stud.studs)
    yield from ((member.left, member.right) for member in made if member.bottom < stud.top.at(member.left))
