"""The plates of a wall: what its rule lays on top, the sole plate, and joints where either is too long."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from soleplate.engine.building_file import Mm, MmList, Reach, UnbuildableError
from soleplate.engine.framing.findings import PLATE_JOINT, PLATE_TOO_LONG
from soleplate.engine.framing.jointing import joint_over_studs
from soleplate.engine.framing.setting_out import WallTask
from soleplate.engine.framing.tasks import FramingTask
from soleplate.engine.registry import Asked
from soleplate.engine.rules import LEAST_CRIPPLE, Finding, TopPlateRule, TopPlates, Wall
from soleplate.engine.shapes import TOUCH, Member, level


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
    if room < LEAST_CRIPPLE:
        raise UnbuildableError.at(
            task.pointer_to_top,
            "wall {name} has {room} between its plates; accepted is a higher wall",
            name=wall.name,
            room=Mm(room, ".0f"),
        )
    return wall, plates


def jointed_plates(
    wall: Wall,
    plates: tuple[Sequence[Member], Sequence[Member]],
    uprights: Sequence[Member],
    task: FramingTask,
    *,
    apart: float = 0.0,
) -> tuple[list[Member], list[Finding]]:
    """Sole and top plates, cut to lengths that are on sale, with joints over studs; and what was found.

    `plates` are the sole plates, then those on top, whose joints in different layers are kept `apart`.
    """
    soles, tops = plates
    standing = [m for m in uprights if wall.roles[m.role].stands and m.bottom <= wall.sole_thickness + TOUCH]
    feet = sorted({round((m.left + m.right) / 2, 6) for m in standing})
    reaching = sorted({round((m.left + m.right) / 2, 6) for m in standing if wall.roles[m.role].full_height})
    lying: list[Member] = []
    findings: list[Finding] = []
    joints: list[float] = []
    for is_sole, plate in [
        *((True, plate) for plate in soles),
        *((False, plate) for plate in sorted(tops, key=lambda m: (m.layer, m.left))),
    ]:
        jointed = joint_over_studs(
            plate, feet if is_sole else reaching, task.longest, [] if is_sole else joints, apart
        )
        lying.extend(jointed.parts)
        joints.extend([] if is_sole else jointed.joints)
        findings.extend(_joint_findings(wall, plate, jointed.joints, task, too_long=jointed.too_long))
    return lying, findings


def _joint_findings(
    wall: Wall, plate: Member, joints: Sequence[float], task: FramingTask, *, too_long: bool
) -> Iterator[Finding]:
    longest, upright = task.longest, task.called.get("stud", "stud")
    if too_long:
        yield PLATE_TOO_LONG.of(
            part=wall.name,
            value=round(plate.right - plate.left, 3),
            limit=longest,
            role=plate.role,
            reach=Reach(plate.left, plate.right, ".0f"),
            longest=Mm(longest, ".0f"),
            upright=upright,
        )
    if joints:
        yield PLATE_JOINT.of(
            part=wall.name, limit=longest, role=plate.role, upright=upright, where=MmList(tuple(joints))
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
