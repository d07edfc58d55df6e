"""Plates longer than any length on sale are jointed over studs."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass

from soleplate.engine.shapes import Member, clip, shape


@dataclass(frozen=True, slots=True)
class JointedPlate:
    """The parts of a plate, and where its joints are, mm; `too_long` where no stud is within reach."""

    parts: tuple[Member, ...]
    joints: tuple[float, ...]
    too_long: bool


def joint_over_studs(
    plate: Member, studs: Sequence[float], longest: float, avoid: Sequence[float], apart: float
) -> JointedPlate:
    """Split a plate into parts no longer than `longest`, at centres of studs.

    As few parts as will do, of those the most even ones, and of several such the leftmost joints. Joints
    keep `apart` from those in `avoid` where that can be.

    Args:
        plate: the whole plate.
        studs: centre lines of the studs that it lies on, mm, in order.
        longest: of a blank, mm.
        avoid: joints in the other plates, mm.
        apart: least distance to those, mm.
    """
    if shape(plate).length <= longest + 1e-6:
        return JointedPlate((plate,), (), too_long=False)
    inside = [x for x in studs if plate.left + 1.0 < x < plate.right - 1.0]
    clear = [x for x in inside if all(abs(x - other) >= apart - 1e-6 for other in avoid)]
    for places in (clear, inside):
        joints = _joints(plate, places, longest)
        if joints is not None:
            return JointedPlate(tuple(_split(plate, joints)), joints, too_long=False)
    return JointedPlate((plate,), (), too_long=True)


def _split(plate: Member, joints: Sequence[float]) -> list[Member]:
    edges = [plate.left - 1.0, *joints, plate.right + 1.0]
    return [
        _between(plate, left, right) for left, right in itertools.pairwise(edges)
    ]  # fmt: skip


def _between(plate: Member, left: float, right: float) -> Member:
    """The part of a plate between two plumb cuts."""
    outline = clip(plate.outline, (left, 1.0), (left, 0.0))
    return plate.moved(clip(outline, (right, 0.0), (right, 1.0)))


def _joints(plate: Member, places: Sequence[float], longest: float) -> tuple[float, ...] | None:
    """The joints that give the fewest and then the most even parts; `None` where there are none."""
    nodes = [plate.left, *places, plate.right]
    end = len(nodes) - 1
    stretch = 1.0 / math.cos(math.radians(plate.grain))
    over = {
        ends: _blank(plate, nodes, i, j) - (nodes[j] - nodes[i]) * stretch
        for ends, (i, j) in _samples(end).items()
    }
    best: dict[int, tuple[int, float, tuple[float, ...]]] = {0: (0, 0.0, ())}
    for j in range(1, len(nodes)):
        options = []
        for i in range(j - 1, -1, -1):
            length = (nodes[j] - nodes[i]) * stretch + over[i == 0, j == end]
            if length > longest + 1e-6 and i > 0:
                break
            if i in best and length <= longest + 1e-6:
                options.append((best[i][0] + 1, best[i][1] + round(length**2, 3), (*best[i][2], nodes[j])))
        if options:
            best[j] = min(options)
    last = best.get(end)
    return last[2][:-1] if last is not None else None


def _samples(end: int) -> dict[tuple[bool, bool], tuple[int, int]]:
    """A part of each kind, by whether it has the plate's own left and right end.

    Between plumb cuts a plate is of one thickness, so that all parts of a kind are longer than the run that
    they cover, along the grain, by the same.
    """
    kinds = {(True, True): (0, end), (True, False): (0, end - 1), (False, True): (1, end)}
    kinds[False, False] = (1, end - 1)
    return {ends: (i, j) for ends, (i, j) in kinds.items() if i < j}


def _blank(plate: Member, nodes: Sequence[float], i: int, j: int) -> float:
    """The length of the part between two nodes, mm."""
    left, right = nodes[i] - (i == 0), nodes[j] + (j == len(nodes) - 1)
    return shape(_between(plate, left, right)).length
