"""Plates longer than any length on sale: in which parts they can be had, and those that are cut."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from typing import Final

from soleplate.engine.building_file import LengthYield
from soleplate.engine.framing.joint_choice import EXACTLY, Stretch
from soleplate.engine.shapes import Member, clip, shape

LEAST_PART: Final = 300.0
"""mm. A shorter part of a plate ties nothing together (common practice, no source)."""

SHORTEST_PART: Final = 100.0
"""mm. A shorter part splits as it is nailed, and is never cut (common practice, no source)."""


def stretch_of(
    plate: Member, studs: Sequence[float], longest: LengthYield, breaks: Sequence[float] = ()
) -> Stretch | None:
    """A plate with the parts that it can be cut into, or `None` where no stud is within reach.

    A plate that one length just yields stays whole. Parts under `LEAST_PART`, and those that leave less than
    the margin of their length, are left out where it can do without; those under `SHORTEST_PART` always.

    Args:
        plate: the whole plate.
        studs: centre lines of the studs that it lies on, mm, in order.
        longest: what the longest length to be had yields.
        breaks: where it is cut whatever comes, mm, in order; then the same holds of each part between.
    """
    whole = shape(plate).length
    if whole <= longest.alone + EXACTLY and not breaks:
        return Stretch((), {(0, 1): whole})
    places = tuple(x for x in sorted({*studs, *breaks}) if plate.left + 1.0 < x < plate.right - 1.0)
    cuts = [number for number, x in enumerate(places, 1) if x in breaks]
    between = {*itertools.pairwise((0, *cuts, len(places) + 1))} if cuts else set()
    parts = {
        (i, j): size
        for (i, j), size in _blanks(plate, places).items()
        if size <= longest.alone + EXACTLY
        and (size >= SHORTEST_PART - EXACTLY or (i, j) in between)
        and not any(i < cut < j for cut in cuts)
    }
    spared = {
        ends: size for ends, size in parts.items() if size <= longest.together + EXACTLY or ends in between
    }
    sound = {ends: size for ends, size in spared.items() if size >= LEAST_PART - EXACTLY}
    for some in (sound, spared, parts):
        if _reaches(some, len(places) + 1):
            return Stretch(places, some)
    return None


def cut_at(plate: Member, joints: Sequence[float]) -> list[Member]:
    """The parts of a plate, from left to right."""
    edges = [plate.left - 1.0, *joints, plate.right + 1.0]
    return [_between(plate, left, right) for left, right in itertools.pairwise(edges)] if joints else [plate]


def _between(plate: Member, left: float, right: float) -> Member:
    """The part of a plate between two plumb cuts."""
    outline = clip(plate.outline, (left, 1.0), (left, 0.0))
    return plate.moved(clip(outline, (right, 0.0), (right, 1.0)))


def _reaches(parts: dict[tuple[int, int], float], end: int) -> bool:
    """Whether parts lead from the left end to the right one."""
    reached = {0}
    for i, j in sorted(parts):
        if i in reached:
            reached.add(j)
    return end in reached


def _blanks(plate: Member, places: Sequence[float]) -> dict[tuple[int, int], float]:
    """The length of the part between any two ends or places, mm, by their numbers.

    Between plumb cuts a plate is of one thickness, so that all parts with the same of the plate's own ends
    are longer than the run that they cover, along the grain, by the same.
    """
    nodes = [plate.left, *places, plate.right]
    end = len(nodes) - 1
    stretch = 1.0 / math.cos(math.radians(plate.grain))
    over: dict[tuple[bool, bool], float] = {}
    blanks: dict[tuple[int, int], float] = {}
    for i, j in itertools.combinations(range(len(nodes)), 2):
        kind, run = (i == 0, j == end), (nodes[j] - nodes[i]) * stretch
        if kind not in over:
            part = _between(plate, nodes[i] - (i == 0), nodes[j] + (j == end))
            over[kind] = shape(part).length - run
        blanks[i, j] = run + over[kind]
    return blanks
