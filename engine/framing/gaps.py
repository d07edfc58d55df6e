"""Gaps: the clear spaces over and under openings that cripples fill."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from soleplate.engine.rules import Cripples, FramedOpening, Wall
from soleplate.engine.shapes import TOUCH, Member, TopLine


@dataclass(frozen=True, slots=True)
class Gap:
    """A clear space from `left` to `right`, from `bottom` up to a line, mm.

    `between` has what lies under it and over it, where both belong to openings.
    """

    left: float
    right: float
    place: Literal["over", "under"]
    bottom: float
    line: TopLine
    between: tuple[Member, Member] | None = None


def gaps(wall: Wall, framings: Sequence[FramedOpening]) -> Iterator[Gap]:
    """The gaps over and under each opening, parted by the uprights of others above and below it."""
    for index, framing in enumerate(framings):
        others = [member for i, other in enumerate(framings) if i != index for member in other.members]
        if framing.over is not None:
            yield from _over(framing.over, framing, others, wall)
        if framing.under is not None:
            yield from _under(framing.under, framing, others, framings, wall)


def _over(cripples: Cripples, framing: FramedOpening, others: Sequence[Member], wall: Wall) -> Iterator[Gap]:
    level = cripples.level
    standing = [m for m in others if m.is_upright and m.bottom <= level + TOUCH < m.top]
    for left, right in _runs(cripples.left, cripples.right, standing):
        lids = [m for m in _lying(others, left, right) if m.bottom >= level - TOUCH]
        if not lids:
            yield Gap(left, right, "over", level, wall.underside)
            continue
        lid = min(lids, key=lambda member: member.bottom)
        beds = [m for m in _lying(framing.members, left, right) if abs(m.top - level) < TOUCH]
        yield Gap(left, right, "over", level, _level(lid.bottom, wall), (beds[0], lid) if beds else None)


def _under(
    cripples: Cripples,
    framing: FramedOpening,
    others: Sequence[Member],
    framings: Sequence[FramedOpening],
    wall: Wall,
) -> Iterator[Gap]:
    level = cripples.level
    standing = [m for m in others if m.is_upright and m.bottom < level - TOUCH <= m.top]
    for left, right in _runs(cripples.left, cripples.right, standing):
        beds = [m for m in _lying(others, left, right) if m.top <= level + TOUCH]
        if not beds:
            yield Gap(left, right, "under", wall.sole_thickness, _level(level, wall))
            continue
        bed = max(beds, key=lambda member: member.top)
        if not any(_is_over(f.over, bed, left, right) for f in framings):
            lids = [m for m in _lying(framing.members, left, right) if abs(m.bottom - level) < TOUCH]
            yield Gap(left, right, "under", bed.top, _level(level, wall), (bed, lids[0]) if lids else None)


def _is_over(cripples: Cripples | None, bed: Member, left: float, right: float) -> bool:
    """Whether what lies over an opening below has this gap over it already."""
    return (
        cripples is not None
        and abs(cripples.level - bed.top) < TOUCH
        and cripples.left <= left + TOUCH
        and cripples.right >= right - TOUCH
    )


def _runs(left: float, right: float, standing: Sequence[Member]) -> Iterator[tuple[float, float]]:
    """The clear runs between uprights, from left to right."""
    reach = left
    for member in sorted(standing, key=lambda member: member.left):
        if member.right <= left + TOUCH or member.left >= right - TOUCH:
            continue
        if member.left > reach + TOUCH:
            yield reach, member.left
        reach = max(reach, member.right)
    if right > reach + TOUCH:
        yield reach, right


def _lying(members: Sequence[Member], left: float, right: float) -> list[Member]:
    return [m for m in members if not m.is_upright and m.left < right - TOUCH and left < m.right - TOUCH]


def _level(height: float, wall: Wall) -> TopLine:
    return TopLine(((0.0, height), (wall.length, height)))
