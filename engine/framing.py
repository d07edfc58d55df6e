"""Second stage: a wall set out becomes a frame. The steps of `frame_wall` are the order of the work.

Each step asks one rule, through `_asked`, so that whatever goes wrong in a rule names plugin, rule and wall.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields, replace
from typing import Final, TypeVar

from soleplate.engine.errors import RuleError, UnbuildableError
from soleplate.engine.geometry import TOUCH, TopLine, rectangle
from soleplate.engine.jointing import joint_over_studs
from soleplate.engine.layout import Finding
from soleplate.engine.members import Member, level, upright
from soleplate.engine.registry import Registry
from soleplate.engine.rules import (
    NAILING_ROOM,
    CannotFrame,
    Corner,
    Cripples,
    FramedOpening,
    FramedWall,
    Hole,
    NogginPlace,
    PlatedWall,
    Rule,
    StuddedWall,
    StudRun,
    TopPlates,
    Wall,
)
from soleplate.engine.setting_out import WallTask
from soleplate.engine.soundness import Envelope, meets, unsound

PRACTICE: Final = "common practice, no source"
LEAST_CRIPPLE: Final = 10.0
"""mm. A shorter gap is packed, not framed."""

Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class FilledRun:
    """A run from sole plate to top plate with the studs that stand in it (left faces), mm."""

    left: float
    right: float
    studs: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Frame:
    """A framed wall: its members, where openings' timbers are among them, and what is to be said of it."""

    task: WallTask
    wall: FramedWall
    plates: TopPlates
    members: tuple[Member, ...]
    openings: tuple[tuple[Hole, str, tuple[Member, ...]], ...]
    runs: tuple[FilledRun, ...]
    findings: tuple[Finding, ...]


def frame_wall(task: WallTask, registry: Registry) -> Frame:
    """Frame a wall by its rules.

    Raises:
        UnbuildableError: something in it cannot be framed.
        RuleError: a rule failed, or returned what cannot be.
    """
    asked = _Asked(task, registry)
    findings: list[Finding] = []
    wall, plates = _plate(task, asked)
    framings = _frame_openings(wall, task, asked)
    fixed = [*_ends(wall), *_corners_and_tees(wall, task, asked)]
    fixed = _without_doubles(fixed, framings)
    _refuse_meeting(fixed, framings, task)
    timbers = [member for framing in framings for member in framing.members]
    studs, runs = _fill_runs(wall, [*fixed, *timbers], framings, task, asked, findings)
    cripples = _cripples(wall, framings, task, asked, findings)
    uprights = [*fixed, *timbers, *studs, *cripples]
    noggins = _noggins(wall, uprights, task, asked, findings)
    lying = _jointed_plates(wall, plates, uprights, task, findings)
    members: tuple[Member, ...] = (*lying, *uprights, *noggins)
    framed = _widened(FramedWall, wall, members=members, outline=_outline(wall, plates))
    envelope = Envelope(wall.length, wall.depth, plates.top or wall.top, plates.beyond)
    _refuse_unsound(members, envelope, wall.name)
    for adjustment in task.rules.adjustments:
        given = replace(framed, members=members)
        changed = asked(adjustment, lambda: tuple(adjustment.adjust_wall(given)))  # noqa: B023 - asked at once
        members = asked.mark(adjustment, changed)
        _refuse_unsound(members, envelope, wall.name)
    for hole, framing in zip(wall.holes, framings, strict=True):
        findings += [
            Finding(
                level="warn",
                code=code,
                message=f"{hole.name}: {message}",
                wall=wall.name,
                value=value,
                basis=PRACTICE,
            )
            for code, message, value in framing.reported
        ]
    return Frame(
        task=task,
        wall=replace(framed, members=members),
        plates=plates,
        members=members,
        openings=tuple(
            (hole, rule.name, tuple(m for m in members if m in framing.members))
            for hole, rule, framing in zip(wall.holes, task.rules.framings, framings, strict=True)
        ),
        runs=runs,
        findings=tuple(findings),
    )


class _Asked:
    """Asks rules of one wall, and turns what goes wrong into an error that names plugin, rule and wall."""

    def __init__(self, task: WallTask, registry: Registry) -> None:
        self._task = task
        self._registry = registry

    def __call__(self, rule: Rule, ask: Callable[[], Answer], *, pointer: str | None = None) -> Answer:
        try:
            return ask()
        except CannotFrame as error:
            raise UnbuildableError.at(pointer or self._task.pointer(), str(error)) from None
        except Exception as error:
            raise self.fault(rule, f"{type(error).__name__}: {error}") from error

    def fault(self, rule: Rule, message: str) -> RuleError:
        """The error of a rule that returned what cannot be."""
        plugin, name = self.maker(rule)
        return RuleError(plugin, name, message, wall=self._task.wall.name)

    def maker(self, rule: Rule) -> tuple[str, str]:
        """(plugin, rule)."""
        return self._registry.plugin_of(rule), rule.name

    def mark(self, rule: Rule, members: Sequence[Member]) -> tuple[Member, ...]:
        """Members with their maker; those that have one keep it."""
        for member in members:
            if not isinstance(member, Member):
                raise self.fault(rule, f"returned {type(member).__name__} where a Member belongs")
        maker = self.maker(rule)
        return tuple(m if m.made_by != ("", "") else replace(m, made_by=maker) for m in members)


def _widened(kind: type[Answer], wall: Wall, **more: object) -> Answer:
    """A wall with what its next state knows besides."""
    known = {field.name: getattr(wall, field.name) for field in fields(wall)}
    return kind(**{**known, **more})


def _plate(task: WallTask, asked: _Asked) -> tuple[PlatedWall, TopPlates]:
    rule = task.rules.top_plates
    plates = asked(rule, lambda: rule.lay_plates(task.wall, task.joins))
    if not isinstance(plates, TopPlates):
        raise asked.fault(rule, f"returned {type(plates).__name__}, not TopPlates")
    plates = replace(plates, members=asked.mark(rule, plates.members))
    wall = _widened(PlatedWall, task.wall, underside=plates.underside)
    room = plates.underside.lowest(0.0, wall.length) - wall.sole_thickness
    if room < LEAST_CRIPPLE:
        raise UnbuildableError.at(
            "/roof", f"wall {wall.name} has {room:.0f} mm between its plates; accepted is a higher wall"
        )
    return wall, plates


def _frame_openings(wall: PlatedWall, task: WallTask, asked: _Asked) -> list[FramedOpening]:
    framings: list[FramedOpening] = []
    for index, (hole, rule) in enumerate(zip(wall.holes, task.rules.framings, strict=True)):
        pointer = task.pointer(index)
        lowest = wall.underside.lowest(hole.left, hole.right)
        if hole.top > lowest + TOUCH:
            raise UnbuildableError.at(
                f"{pointer}/height",
                f"its top at {hole.top:.0f} mm is over the underside of the top plate there, {lowest:.0f} mm",
            )
        framing = asked(rule, lambda: rule.frame_opening(hole, wall), pointer=pointer)  # noqa: B023 - asked at once
        if not isinstance(framing, FramedOpening):
            raise asked.fault(rule, f"returned {type(framing).__name__}, not FramedOpening")
        framings.append(replace(framing, members=asked.mark(rule, framing.members)))
    _refuse_crowding(wall, framings, task)
    return framings


def _refuse_crowding(wall: PlatedWall, framings: Sequence[FramedOpening], task: WallTask) -> None:
    placed = sorted(enumerate(framings), key=lambda pair: pair[1].left)
    for (_, before), (index, after) in itertools.pairwise(placed):
        if after.left < before.right - TOUCH:
            raise UnbuildableError.at(
                f"{task.pointer(index)}/at",
                f"its framing starts at {after.left:.0f} mm, and that of the opening to its left ends at"
                f" {before.right:.0f} mm; accepted is {before.right - after.left:.0f} mm more between them",
            )
    for tee in wall.tees:
        for index, framing in placed:
            if framing.left < tee.centre + tee.depth / 2 and tee.centre - tee.depth / 2 < framing.right:
                raise UnbuildableError.at(
                    f"{task.pointer(index)}/at",
                    f"{tee.partition} meets the wall at {tee.centre:.0f} mm, within the opening's framing"
                    f" ({framing.left:.0f} to {framing.right:.0f} mm)",
                )


def _ends(wall: PlatedWall) -> Iterator[Member]:
    for left in (0.0, wall.length - wall.breadth):
        stud = upright("stud", wall.section, left, wall.sole_thickness, wall.underside)
        if stud is None:
            raise UnbuildableError.at(
                "/roof", f"wall {wall.name} has no room for its end stud at {left:.0f} mm"
            )
        yield stud


def _corners_and_tees(wall: PlatedWall, task: WallTask, asked: _Asked) -> Iterator[Member]:
    rule = task.rules.corners
    for side, end in zip(("left", "right"), wall.ends, strict=True):
        if end.kind in ("through", "butts"):
            corner = Corner(wall, "left" if side == "left" else "right", end)
            yield from asked.mark(rule, asked(rule, lambda: tuple(rule.lay_corner(corner))))  # noqa: B023
    for tee in wall.tees:
        yield from asked.mark(rule, asked(rule, lambda: tuple(rule.lay_tee(tee, wall))))  # noqa: B023


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


def _refuse_meeting(fixed: Sequence[Member], framings: Sequence[FramedOpening], task: WallTask) -> None:
    """Refuse an opening whose framing stands where an end stud, a corner or a tee does."""
    for index, framing in enumerate(framings):
        for member in fixed:
            if member.left < framing.right - TOUCH and framing.left < member.right - TOUCH:
                raise UnbuildableError.at(
                    f"{task.pointer(index)}/at",
                    f"its framing ({framing.left:.0f} to {framing.right:.0f} mm) meets the {member.role} at"
                    f" {member.left:.0f} to {member.right:.0f} mm; accepted is a place clear of it",
                )


def _full(other: Member, member: Member) -> bool:
    return other.bottom <= member.bottom + TOUCH and other.top >= member.top - TOUCH


def _fill_runs(
    wall: PlatedWall,
    standing: Sequence[Member],
    framings: Sequence[FramedOpening],
    task: WallTask,
    asked: _Asked,
    findings: list[Finding],
) -> tuple[list[Member], tuple[FilledRun, ...]]:
    """Studs in the clear runs between the timbers that stand already."""
    lines = tuple(line for framing in framings for line in framing.stud_lines)
    taken = sorted(
        [(m.left, m.right) for m in standing if m.is_upright] + [(f.left, f.right) for f in framings]
    )
    studs: list[Member] = []
    runs: list[FilledRun] = []
    reach = taken[0][1]
    for left, right in taken[1:]:
        if left - reach > TOUCH:
            run = StudRun(reach, left, "wall", wall, lines)
            beside_opening = (
                any(abs(framing.right - run.left) < TOUCH for framing in framings),
                any(abs(framing.left - run.right) < TOUCH for framing in framings),
            )
            places = _places(run, beside_opening, task, asked, findings)
            runs.append(FilledRun(run.left, run.right, tuple(places)))
            made = [
                upright("stud", wall.section, place, wall.sole_thickness, wall.underside) for place in places
            ]
            studs += asked.mark(task.rules.studs, [stud for stud in made if stud is not None])
        reach = max(reach, right)
    return studs, tuple(runs)


def _places(
    run: StudRun, beside_opening: tuple[bool, bool], task: WallTask, asked: _Asked, findings: list[Finding]
) -> list[float]:
    """The left faces of a run's studs: what the rule says, less what overlaps or cannot be nailed."""
    rule, breadth = task.rules.studs, run.wall.breadth
    said = asked(rule, lambda: [float(place) for place in rule.place_studs(run)])
    kept: list[float] = []
    for place in said:
        if not -1e9 < place < 1e9:
            raise asked.fault(rule, "placed a stud at something that is not a number")
        gaps = (place - run.left, run.right - place - breadth)
        if min(gaps) < -TOUCH:
            continue
        if kept and place < kept[-1] + breadth - TOUCH:
            raise asked.fault(rule, f"placed studs at {kept[-1]:.1f} and {place:.1f} mm, which overlap")
        if any(beside and gap < NAILING_ROOM for beside, gap in zip(beside_opening, gaps, strict=True)):
            findings.append(_merged(run, place, min(gaps)))
            continue
        kept.append(place)
    return kept


def _merged(run: StudRun, place: float, gap: float) -> Finding:
    what = "stud" if run.place == "wall" else "cripple"
    return Finding(
        level="note",
        code="merged-stud",
        message=f"the {what} at {place:.0f} mm would stand {gap:.0f} mm from the opening's stud, too close"
        " to nail; the opening's stud serves for both",
        wall=run.wall.name,
        value=round(gap, 3),
        limit=NAILING_ROOM,
        basis=PRACTICE,
    )


def _cripples(
    wall: PlatedWall,
    framings: Sequence[FramedOpening],
    task: WallTask,
    asked: _Asked,
    findings: list[Finding],
) -> list[Member]:
    lines = tuple(line for framing in framings for line in framing.stud_lines)
    made: list[Member] = []
    for framing in framings:
        for cripples, place in ((framing.over, "over"), (framing.under, "under")):
            if cripples is None or cripples.right - cripples.left < wall.breadth:
                continue
            run = StudRun(cripples.left, cripples.right, "over" if place == "over" else "under", wall, lines)
            for left in _places(run, (True, True), task, asked, findings):
                cripple = _cripple(wall, left, cripples, over=place == "over")
                if cripple is None:
                    findings.append(_no_room(wall, left))
                else:
                    made.extend(asked.mark(task.rules.studs, (cripple,)))
    return made


def _cripple(wall: PlatedWall, left: float, cripples: Cripples, *, over: bool) -> Member | None:
    bottom = cripples.level if over else wall.sole_thickness
    line = wall.underside if over else TopLine(((0.0, cripples.level), (wall.length, cripples.level)))
    if line.lowest(left, left + wall.breadth) - bottom < LEAST_CRIPPLE:
        return None
    return upright("cripple", wall.section, left, bottom, line)


def _no_room(wall: PlatedWall, left: float) -> Finding:
    return Finding(
        level="note",
        code="cripple-left-out",
        message=f"there is no room for a cripple at {left:.0f} mm; pack the gap",
        wall=wall.name,
        limit=LEAST_CRIPPLE,
        basis=PRACTICE,
    )


def _noggins(
    wall: PlatedWall, members: Sequence[Member], task: WallTask, asked: _Asked, findings: list[Finding]
) -> list[Member]:
    rule = task.rules.noggins
    if rule is None:
        return []
    studded = _widened(StuddedWall, wall, members=tuple(members))
    places = asked(rule, lambda: tuple(rule.place_noggins(studded)))
    made: list[Member] = []
    left_out: list[NogginPlace] = []
    for place in places:
        if not isinstance(place, NogginPlace):
            raise asked.fault(rule, f"returned {type(place).__name__} where a NogginPlace belongs")
        noggin = level(
            "noggin",
            wall.section,
            (place.bay.left, place.bay.right, place.bottom, place.bottom + wall.breadth),
            (0.0, wall.section.depth),
            fixings=place.fixings,
        )
        if _fits(noggin, studded):
            made.append(noggin)
        else:
            left_out.append(place)
    if left_out:
        where = ", ".join(f"{place.bay.left:.0f}" for place in left_out[:12])
        findings.append(
            Finding(
                level="note",
                code="noggin-left-out",
                message=f"{len(left_out)} noggins have no room under the slope or against an opening's"
                f" timbers, in the bays from {where} mm; left out",
                wall=wall.name,
                value=float(len(left_out)),
                basis=PRACTICE,
            )
        )
    return list(asked.mark(rule, made))


def _fits(noggin: Member, wall: StuddedWall) -> bool:
    """Whether a noggin is clear of the plates and of all else, with uprights at both ends."""
    if noggin.bottom < wall.sole_thickness - TOUCH:
        return False
    if noggin.top > wall.underside.lowest(noggin.left, noggin.right) + TOUCH:
        return False
    sides = [False, False]
    for member in wall.members:
        if member.is_upright and member.bottom <= noggin.bottom + TOUCH and member.top >= noggin.top - TOUCH:
            sides[0] |= abs(member.right - noggin.left) < TOUCH
            sides[1] |= abs(member.left - noggin.right) < TOUCH
        if meets(member, noggin):
            return False
    return all(sides)


def _jointed_plates(
    wall: PlatedWall,
    plates: TopPlates,
    uprights: Sequence[Member],
    task: WallTask,
    findings: list[Finding],
) -> list[Member]:
    """Sole and top plates, cut to lengths that are on sale, with joints over studs."""
    longest = task.building.stock.longest_of(wall.section)
    standing = [
        m for m in uprights if m.is_upright and m.bottom <= wall.sole_thickness + TOUCH and m.role != "packer"
    ]
    feet = sorted({round((m.left + m.right) / 2, 6) for m in standing})
    reaching = sorted(
        {round((m.left + m.right) / 2, 6) for m in standing if m.role not in ("trimmer", "cripple")}
    )
    lying: list[Member] = []
    joints: list[float] = []
    for plate in [*_sole_plates(wall), *sorted(plates.members, key=lambda m: (m.layer, m.left))]:
        is_sole = plate.role == "sole plate"
        jointed = joint_over_studs(
            plate, feet if is_sole else reaching, longest, [] if is_sole else joints, plates.joints_apart
        )
        lying.extend(jointed.parts)
        joints.extend([] if is_sole else jointed.joints)
        findings.extend(_joint_findings(wall, plate, jointed.joints, longest, too_long=jointed.too_long))
    return lying


def _joint_findings(
    wall: PlatedWall, plate: Member, joints: Sequence[float], longest: float, *, too_long: bool
) -> Iterator[Finding]:
    if too_long:
        yield Finding(
            level="stop",
            code="plate-too-long",
            message=f"the {plate.role} from {plate.left:.0f} to {plate.right:.0f} mm is longer than any"
            f" length on sale ({longest:.0f} mm), and no stud stands where it could be jointed",
            wall=wall.name,
            value=round(plate.right - plate.left, 3),
            limit=longest,
            basis=PRACTICE,
        )
    if joints:
        where = ", ".join(f"{joint:.0f}" for joint in joints)
        yield Finding(
            level="note",
            code="plate-joint",
            message=f"the {plate.role} is jointed over the studs at {where} mm",
            wall=wall.name,
            limit=longest,
            basis=PRACTICE,
        )


def _sole_plates(wall: PlatedWall) -> Iterator[Member]:
    """The sole plate, cut out at openings that reach the floor."""
    cuts = sorted((hole.left, hole.right) for hole in wall.holes if hole.reaches_floor)
    start = 0.0
    for left, right in [*cuts, (wall.length, wall.length)]:
        if left - start > TOUCH:
            yield level(
                "sole plate", wall.section, (start, left, 0.0, wall.sole_thickness), (0.0, wall.section.depth)
            )
        start = right


def _outline(wall: Wall, plates: TopPlates) -> tuple[tuple[float, float], ...]:
    top = (plates.top or wall.top).between(0.0, wall.length)
    return (*rectangle(0.0, wall.length, 0.0, 1.0)[:2], *reversed(top))


def _refuse_unsound(members: Sequence[Member], envelope: Envelope, wall: str) -> None:
    found = unsound(members, envelope)
    if found is not None:
        plugin, rule = found.member.made_by
        raise RuleError(plugin or "(engine)", rule or "(engine)", found.message, wall=wall)
