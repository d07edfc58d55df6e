"""What becomes of a wall's studs, noggins and runs where it is broken into panels.

Joined again the panels are the wall as it was, but for the end studs at each break: they take the place of
the stud that stood there, if any, and noggins beside them end at their faces.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from soleplate.engine.framing.break_places import may_give_way
from soleplate.engine.framing.filling import FilledRun
from soleplate.engine.framing.infill import Infill
from soleplate.engine.rules import Wall
from soleplate.engine.shapes import TOUCH, Member, rectangle, upright


def broken(wall: Wall, infill: Infill, breaks: Sequence[float]) -> Infill:
    """What stands in a wall that is broken, with an end stud on either side of each break."""
    breadth = wall.breadth
    ends = [left for x in breaks for left in (x - breadth, x)]
    uprights = [
        member
        for member in infill.uprights
        if not any(_overlaps(member, left, breadth) for left in ends)
        or any(abs(member.left - left) < TOUCH for left in ends)
        or not may_give_way(wall, member)
    ]
    standing = [member.left for member in uprights if wall.roles[member.role].full_height]
    made = (
        upright("stud", wall.section, left, wall.sole_thickness, wall.underside)
        for left in ends
        if not any(abs(left - other) < TOUCH for other in standing)
    )
    return replace(
        infill,
        uprights=(*uprights, *(stud for stud in made if stud is not None)),
        noggins=tuple(part for noggin in infill.noggins for part in _beside(noggin, breaks, breadth)),
        runs=tuple(part for run in infill.runs for part in _parted(run, breaks, breadth)),
    )


def _overlaps(member: Member, left: float, breadth: float) -> bool:
    return member.left < left + breadth - TOUCH and left < member.right - TOUCH


def _beside(noggin: Member, breaks: Sequence[float], breadth: float) -> Iterator[Member]:
    """What of a noggin is clear of end studs."""
    for left, right in _clear_of(noggin.left, noggin.right, breaks, breadth):
        if (left, right) == (noggin.left, noggin.right):
            yield noggin
        else:
            yield noggin.moved(rectangle(left, right, noggin.bottom, noggin.top))


def _parted(run: FilledRun, breaks: Sequence[float], breadth: float) -> Iterator[FilledRun]:
    """The parts of a run between end studs, with the studs that stand in each."""
    for left, right in _clear_of(run.left, run.right, breaks, breadth):
        studs = (stud for stud in run.studs if left < stud + TOUCH and stud + breadth < right + TOUCH)
        yield FilledRun(left, right, tuple(studs))


def _clear_of(
    left: float, right: float, breaks: Sequence[float], breadth: float
) -> Iterator[tuple[float, float]]:
    """The parts of a stretch that end studs at the breaks leave free."""
    for x in breaks:
        if left < x + breadth - TOUCH and x - breadth < right - TOUCH:
            if x - breadth - left > TOUCH:
                yield left, x - breadth
            left = x + breadth
    if right - left > TOUCH:
        yield left, right
