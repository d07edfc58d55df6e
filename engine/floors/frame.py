"""A floor framed: its rule lays it out, and the steps that frame walls fill it in, since it lies like one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import Building, Mm, MmList, Reach, Room, pointer_within
from soleplate.engine.floors.findings import BEARER_JOINT, BEARER_TOO_LONG
from soleplate.engine.floors.setting_out import FLOOR, FloorTask, floor_plan
from soleplate.engine.framing import (
    Envelope,
    FilledRun,
    Frame,
    Layer,
    Part,
    choose_joints,
    cut_at,
    fill,
    found_of,
    frame_openings,
    framed_by_one,
    jointed_plates,
    misshapen,
    refuse_rules_of_walls,
    refuse_unsound,
    stretch_of,
)
from soleplate.engine.registry import Asked, Registry
from soleplate.engine.rules import (
    Finding,
    FloorFrame,
    FloorPlan,
    FloorRule,
    Hole,
    Rule,
    TopPlates,
    Wall,
    picked,
)
from soleplate.engine.shapes import TOUCH, Member, Point


@dataclass(frozen=True, slots=True)
class FramedFloor:
    """A framed floor: `lying` has the members among the joists, `others` are bearers and thresholds."""

    rule: FloorRule
    task: FloorTask
    plan: FloorPlan
    lying: Wall
    others: tuple[Member, ...]
    openings: tuple[tuple[Hole, str, tuple[Member, ...]], ...]
    runs: tuple[FilledRun, ...]
    asked: Asked
    findings: tuple[Finding, ...]

    @property
    def frame(self) -> FloorFrame:
        """As its rule returned it."""
        return self.task.frame

    @property
    def part(self) -> Part:
        """The floor as every later stage takes it."""
        return Part(
            name=FLOOR,
            kind="floor",
            views=(self.frame.view,),
            members=(*self.lying.members, *self.others),
            timber=self.task.timber,
            section=self.lying.section,
            sold=self.lying.section,
            roles=self.lying.roles,
        )

    @property
    def pads(self) -> tuple[Point, ...]:
        """Centres of the pads in the world, X and Y, mm."""
        return tuple(self.frame.view.point(*pad)[:2] for pad in self.frame.pads)


def frame_floor(
    building: Building, frames: Sequence[Frame], registry: Registry, room: Room
) -> FramedFloor | None:
    """Frame the floor under framed walls; `None` where the building file has none.

    Raises:
        UnbuildableError: it cannot be framed so.
        TooManyPiecesError: it has more members than there is `room` for.
        RuleError: a rule failed, or returned what cannot be.
    """
    rule = next(iter(picked(FloorRule, building)), None)
    if rule is None:
        return None
    asked = Asked(FLOOR, FLOOR, lambda rule: _pointer_to(building, rule), registry)
    plan = floor_plan(building, frames)
    frame = asked.whole(rule, asked(rule, rule.lay_floor, plan), FloorFrame)
    hatches = tuple(framed_by_one(hatch, registry, f"/{FLOOR}") for hatch in frame.hatches)
    frame = replace(frame, hatches=hatches)
    refuse_rules_of_walls(hatches, frame.deck, registry, f"/{FLOOR}", "hatch")
    task = FloorTask(building, frame)
    holes = tuple(hatch.hole for hatch in frame.hatches)
    wall = replace(frame.lying, name=FLOOR, holes=holes, lies=True, roles=registry.roles)
    framings = frame_openings(wall, task, asked, room)
    infill = fill(wall, asked.members(rule, frame.ends), framings, task, asked, room)
    lower, upper = _by_edge(asked.members(rule, frame.plates))
    plates = TopPlates(tuple(upper), wall.underside)
    lying, joints = jointed_plates(wall, lower, plates, infill.uprights, task)
    members = {id(m): _called(m, task) for m in (*lying, *infill.uprights, *infill.noggins)}
    bearers, bearer_joints = _bearers(asked.members(rule, frame.bearers), task)
    others = [replace(m, view=frame.view.name) for m in (*bearers, *asked.members(rule, frame.others))]
    envelope = Envelope(wall.length, wall.depth, wall.top, (0.0, 0.0))
    refuse_unsound(tuple(members.values()), envelope, registry, FLOOR)
    for member in others:
        if message := misshapen(member):
            raise asked.fault(rule, message, "misshapen")
    return FramedFloor(
        rule=rule,
        task=task,
        plan=plan,
        lying=replace(wall, members=tuple(members.values())),
        others=tuple(others),
        openings=tuple(
            (hole, rule.name, tuple(members[id(m)] for m in framing.members if id(m) in members))
            for hole, rule, framing in zip(holes, task.rules.framings, framings, strict=True)
        ),
        runs=infill.runs,
        asked=asked,
        findings=(
            *(found.on(FLOOR) for found in frame.findings),
            *infill.findings,
            *joints,
            *bearer_joints,
            *found_of(wall, framings),
        ),
    )


def _pointer_to(building: Building, rule: Rule) -> str:
    return pointer_within(building, rule) or f"/{FLOOR}"


def _called(member: Member, task: FloorTask) -> Member:
    """A member of the frame by the floor's own name, in its plan."""
    role = task.called.get(member.role, member.role)
    return replace(member, role=role, view=task.frame.view.name)


def _by_edge(plates: Sequence[Member]) -> tuple[list[Member], list[Member]]:
    """What joists end at, along the lower edge of the plan and along the upper one."""
    lower = [plate for plate in plates if plate.bottom < TOUCH]
    return lower, [plate for plate in plates if plate not in lower]


def _bearers(bearers: Iterable[Member], task: FloorTask) -> tuple[list[Member], list[Finding]]:
    """Bearers cut to lengths that are on sale, with joints over pads; and what was found."""
    parts: list[Member] = []
    findings: list[Finding] = []
    for bearer in bearers:
        pads = sorted(u for u, v in task.frame.pads if bearer.bottom <= v <= bearer.top)
        material = bearer.material or task.timber.name
        longest = task.building.stock.longest_of(bearer.section, material)
        stretch = stretch_of(bearer, pads, longest)
        (joints,) = choose_joints([Layer((stretch,) if stretch is not None else (), is_sole=True)], 0.0)
        parts += cut_at(bearer, joints)
        if stretch is None:
            findings.append(
                BEARER_TOO_LONG.of(
                    part=FLOOR,
                    value=round(bearer.right - bearer.left, 3),
                    limit=longest.alone,
                    reach=Reach(bearer.left, bearer.right, ".0f"),
                    longest=Mm(longest.alone, ".0f"),
                )
            )
        elif joints:
            findings.append(BEARER_JOINT.of(part=FLOOR, limit=longest.alone, where=MmList(tuple(joints))))
    return parts, list(dict.fromkeys(findings))
