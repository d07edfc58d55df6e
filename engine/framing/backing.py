"""Backing: studs beside timbers that a sheet's edge only comes near to.

A stud rule's line may fall beside, or partly on, a king stud, a trimmer or a corner, where no stud of its own
has room. Where the edges of two sheets are to meet there, timber must lie behind both: so another stud is set
as near to the line as there is room.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from soleplate.engine.framing.filling import FilledRun, MissedStud
from soleplate.engine.rules import LEAST_CRIPPLE, EdgeLine, Wall
from soleplate.engine.shapes import TOUCH, Member, upright

Backing = tuple[MissedStud, Member]
"""A stud, and the one that stands for it, or one of them."""


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
            if abs(stud.centre - line.at) < TOUCH:
                taken = [(left, left + wall.breadth) for left in stud.studs]
                taken += [(m.left, m.right) for other, m in made if other.run == stud.run]
                made += [(stud, member) for member in _beside(stud, line, taken, wall)]
    return made


def with_backing(run: FilledRun, backing: Sequence[Backing]) -> FilledRun:
    """A run whose clear space ends at the backing studs beside its ends."""
    members = sorted((m for stud, m in backing if stud.run.place == "whole"), key=lambda m: m.left)
    for member in members:
        if abs(member.left - run.left) < TOUCH:
            run = replace(run, left=member.right)
    for member in reversed(members):
        if abs(member.right - run.right) < TOUCH:
            run = replace(run, right=member.left)
    return run


def _beside(
    stud: MissedStud, line: EdgeLine, taken: Sequence[tuple[float, float]], wall: Wall
) -> list[Member]:
    """Studs side by side from the timber in the way until they lie behind a line; none without room.

    They touch each other, so that nothing need be packed. `taken` is where others stand in the run, mm.
    """
    run, breadth = stud.run, wall.breadth
    from_left = line.at - run.left <= run.right - line.at
    reach = line.at - run.left if from_left else run.right - line.at
    count = math.ceil((reach + line.bearing) / breadth - TOUCH)
    if count < 1:
        return []
    first = run.left if from_left else run.right - count * breadth
    last = first + count * breadth
    if first < run.left - TOUCH or last > run.right + TOUCH:
        return []
    if any(near < last - TOUCH and far > first + TOUCH for near, far in taken):
        return []
    role = "backing stud" if run.place == "whole" else "cripple"
    members = [
        upright(role, wall.section, first + number * breadth, stud.bottom, stud.top)
        for number in range(count)
    ]
    return [m for m in members if m is not None and m.top - m.bottom >= LEAST_CRIPPLE - TOUCH]
