"""The plates of a wall: what its rule lays on top, the sole plate, and joints where either is too long."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from soleplate.engine.building_file import Mm, MmList, Reach, UnbuildableError
from soleplate.engine.framing.findings import (
    PLATE_JOINT,
    PLATE_JOINTS_CLOSE,
    PLATE_TOO_LONG,
    SOLE_JOINT_CLOSE,
)
from soleplate.engine.framing.joint_choice import EXACTLY, OFF_A_STUD, Layer, choose_joints, least_apart
from soleplate.engine.framing.jointing import cut_at, stretch_of
from soleplate.engine.framing.setting_out import WallTask
from soleplate.engine.framing.tasks import FramingTask
from soleplate.engine.registry import Asked
from soleplate.engine.rules import Finding, TopPlateRule, TopPlates, Wall
from soleplate.engine.shapes import TOUCH, Member, level

LEAST_BETWEEN: Final = 10.0
"""mm between sole plate and top plates; less is a slip of the unit (common practice, no source)."""


def plate(task: WallTask, asked: Asked) -> tuple[Wall, TopPlates]:
    """The wall with its top plates, whole ones as the rule lays them.

    Raises:
        UnbuildableError: there is no room between sole plate and top plates.
        RuleError: the rule failed, or returned something else.
    """
    rule = task.rules.one("top_plates", TopPlateRule)
    plates = asked(rule, rule.lay_plates, task.wall, task.joins)
    plates = asked.whole(rule, plates, TopPlates)
    plates = replace(plates, members=asked.mark(rule, plates.members))
    wall = replace(task.wall, underside=plates.underside)
    room = plates.underside.lowest(0.0, wall.length) - wall.sole_thickness
    if room < LEAST_BETWEEN:
        raise UnbuildableError.at(
            task.pointer_to_top,
            "wall {name} has {room} between its plates; accepted is a higher wall",
            name=wall.name,
            room=Mm(room, ".0f"),
        )
    return wall, plates


def divided_plates(wall: Wall, plates: TopPlates) -> tuple[Member, ...]:
    """The top plates that are divided where a wall is broken into panels: those that lie on the studs.

    Without its own, level or raked, the studs of a panel would hang loose while it is raised. Upper plates
    bridge the breaks, and so do plates that run over the neighbours: they go on once all panels stand.
    """
    lowest = tuple(plate for plate in plates.members if plate.layer == 0)
    loose = any(plate.left < -TOUCH or plate.right > wall.length + TOUCH for plate in lowest)
    return () if loose else lowest


def jointed_plates(
    wall: Wall,
    soles: Sequence[Member],
    plates: TopPlates,
    uprights: Sequence[Member],
    task: FramingTask,
    breaks: Sequence[float] = (),
) -> tuple[list[Member], list[Finding]]:
    """Sole and top plates, cut to lengths that are on sale, with joints over studs; and what was found.

    At the `breaks` between panels, mm from the left, the sole plate and those of `divided_plates` end, and
    joints of upper plates keep off them as they do off joints.
    """
    longest = task.longest
    standing = [m for m in uprights if wall.roles[m.role].stands and m.bottom <= wall.sole_thickness + TOUCH]
    feet = sorted({round((m.left + m.right) / 2, 6) for m in standing})
    reaching = sorted({round((m.left + m.right) / 2, 6) for m in standing if wall.roles[m.role].full_height})
    soles = [part for sole in soles for part in cut_at(sole, _within(sole, breaks))]
    divided = divided_plates(wall, plates)
    layers = [
        [
            (
                plate,
                stretch_of(plate, feet, longest)
                if plate in soles
                else stretch_of(plate, reaching, longest, _within(plate, breaks) if plate in divided else ()),
            )
            for plate in layer
        ]
        for layer in _layers(soles, plates.members)
    ]
    chosen = choose_joints(
        [
            Layer(tuple(stretch for _, stretch in layer if stretch is not None), layer[0][0] in soles)
            for layer in layers
        ],
        plates.joints_apart,
    )
    lying: list[Member] = []
    findings: list[Finding] = []
    for layer, joints in zip(layers, chosen, strict=True):
        for plate, stretch in layer:
            ends = _within(plate, breaks) if plate in divided else ()
            here = ends if stretch is None else [x for x in joints if plate.left < x < plate.right]
            lying.extend(cut_at(plate, here))
            over_studs = [x for x in here if x not in ends]
            findings.extend(_joint_findings(wall, plate, over_studs, task, too_long=stretch is None))
    lines = [(layer[0][0], joints) for layer, joints in zip(layers, chosen, strict=True) if joints]
    under = [line for line in lines if line[0] in soles]
    over = [line for line in lines if line[0] not in soles]
    findings.extend(_close_joints(wall, under, over, plates.joints_apart))
    return lying, findings


def _within(plate: Member, breaks: Sequence[float]) -> tuple[float, ...]:
    """The breaks that divide a plate."""
    return tuple(x for x in breaks if plate.left + TOUCH < x < plate.right - TOUCH)


def _layers(soles: Sequence[Member], tops: Sequence[Member]) -> list[list[Member]]:
    """Plates that lie in one line, from left to right; the lowest line first."""
    lines: dict[tuple[bool, int, float], list[Member]] = {}
    every = [*((False, plate) for plate in soles), *((True, plate) for plate in tops)]
    for is_top, plate in sorted(every, key=lambda each: each[1].left):
        lines.setdefault((is_top, plate.layer, plate.depth[0]), []).append(plate)
    return [lines[line] for line in sorted(lines)]


Line = tuple[Member, Sequence[float]]
"""The first plate of a line, and where it is jointed, mm."""


def _close_joints(
    wall: Wall, under: Sequence[Line], tops: Sequence[Line], wanted: float
) -> Iterator[Finding]:
    """Where joints are nearer than wanted: of two top plates, and of the sole plate and any above."""
    for (lower, some), (upper, others) in itertools.combinations(tops, 2):
        apart, place = least_apart(some, others)
        if apart < wanted - EXACTLY:
            yield PLATE_JOINTS_CLOSE.of(
                part=wall.name,
                value=round(apart, 3),
                limit=wanted,
                lower=lower.role,
                upper=upper.role,
                place=Mm(place, ".0f"),
                apart=Mm(apart, ".0f"),
                wanted=Mm(wanted, ".0f"),
            )
    soles = [x for _, joints in under for x in joints]
    above = [x for _, joints in tops for x in joints]
    if not soles or not above:
        return
    apart, place = least_apart(soles, above)
    if apart < wanted - EXACTLY:
        yield SOLE_JOINT_CLOSE.of(
            part=wall.name,
            level="warn" if apart < OFF_A_STUD else "note",
            value=round(apart, 3),
            limit=wanted,
            place=Mm(place, ".0f"),
            apart=Mm(apart, ".0f"),
            wanted=Mm(wanted, ".0f"),
        )


def _joint_findings(
    wall: Wall, plate: Member, joints: Sequence[float], task: FramingTask, *, too_long: bool
) -> Iterator[Finding]:
    longest, upright = task.longest, task.called.get("stud", "stud")
    if too_long:
        yield PLATE_TOO_LONG.of(
            part=wall.name,
            value=round(plate.right - plate.left, 3),
            limit=longest.alone,
            role=plate.role,
            reach=Reach(plate.left, plate.right, ".0f"),
            longest=Mm(longest.alone, ".0f"),
            upright=upright,
        )
    if joints:
        yield PLATE_JOINT.of(
            part=wall.name, limit=longest.alone, role=plate.role, upright=upright, where=MmList(tuple(joints))
        )


def sole_plates(wall: Wall) -> Iterator[Member]:
    """The sole plate, cut out at openings that reach the floor."""
    cuts = sorted((hole.left, hole.right) for hole in wall.holes if hole.reaches_floor)
    start = 0.0
    for left, right in [*cuts, (wall.length, wall.length)]:
        if left - start > TOUCH:
            yield level(
                "sole plate", wall.section, (start, left, 0.0, wall.sole_thickness), (0.0, wall.section.depth)
            )
        start = right
