"""A roof framed: its rule lays it out, and the steps that frame walls fill its slopes in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import Building, Mm, Reach, Room, UnbuildableError, pointer_within
from soleplate.engine.framing import (
    FilledRun,
    Frame,
    found_of,
    frame_openings,
    framed_by_one,
    misshapen,
    noggins_among,
    places_in,
    refuse_rules_of_walls,
    roof_frame_of,
    roof_over,
    roof_shape,
    slope_name,
    slope_names,
)
from soleplate.engine.registry import Asked, Registry
from soleplate.engine.roofs.blocks import blocks_between
from soleplate.engine.roofs.clashes import without_clashes
from soleplate.engine.roofs.cutting import cut_at_windows
from soleplate.engine.roofs.jointing import jointed_pieces, too_long_rafters
from soleplate.engine.roofs.measured import as_measured
from soleplate.engine.roofs.setting_out import POINTER, SlopeTask
from soleplate.engine.roofs.slope import ROOF, SlopeFrame
from soleplate.engine.rules import (
    Against,
    CladdingEnd,
    Finding,
    FramedOpening,
    FramedSlope,
    RafterRun,
    RoofFrame,
    RoofRule,
    RoofShape,
    SlopeShape,
    Wall,
)
from soleplate.engine.shapes import TOUCH, Member


@dataclass(frozen=True, slots=True)
class FramedRoof:
    """A framed roof: its slopes, where cladding ends under it, and the walls that stand within it."""

    slopes: tuple[SlopeFrame, ...]
    ends: tuple[CladdingEnd, ...]
    against: tuple[tuple[str, float, float], ...]
    """Where something stands against the inside of a wall: its name, from and to along it, mm."""
    partitions: frozenset[str]
    findings: tuple[Finding, ...]


def frame_roof(
    building: Building, frames: Sequence[Frame], registry: Registry, room: Room, *, is_measured: bool
) -> FramedRoof | None:
    """Frame the roof over framed walls; `None` where the building file picks no rule for it.

    Measured slopes are framed as they were measured, or else as drawn.

    Raises:
        UnbuildableError: it cannot be framed so.
        TooManyPiecesError: it has more members than there is `room` for.
        RuleError: a rule failed, or returned what cannot be.
    """
    rule = roof_frame_of(building)
    plans = [frame.task.plan for frame in frames]
    planes = roof_over(building, plans) if rule is not None else None
    if rule is None or planes is None:
        return None
    _refuse_names(building, frames)
    asked = Asked(ROOF, ROOF, lambda rule: pointer_within(building, rule) or POINTER, registry)
    drawn = roof_shape(building, plans, planes, {frame.wall.name: frame for frame in frames})
    told = as_measured(drawn, building) if is_measured else drawn
    run, places, merged = _places(rule, told, building, asked)
    frame = asked.whole(rule, asked(rule, rule.lay_roof, told, places), RoofFrame)
    frame = replace(frame, slopes=tuple(_with_framings(slope, registry) for slope in frame.slopes))
    for slope in frame.slopes:
        deck = slope.deck.rule if slope.deck is not None else None
        refuse_rules_of_walls(slope.windows, deck, registry, POINTER, "roof window")
    slopes = [
        _framed(SlopeTask(building, frame, slope, run), of, rule, places, asked, registry, room)
        for slope, of in zip(frame.slopes, told.slopes, strict=True)
    ]
    if told == drawn:
        # Rafters cut to what was measured end elsewhere than what is still as drawn.
        slopes = without_clashes(slopes, asked)
    names = {wall.name for wall in told.along if wall.partition} | set(told.across)
    return FramedRoof(
        tuple(slopes),
        frame.ends,
        tuple(_along_wall(each, told, frames) for each in frame.against),
        frozenset(names),
        (*merged, *(f.on(f.part or slopes[0].name) for f in frame.findings)),
    )


def _refuse_names(building: Building, frames: Sequence[Frame]) -> None:
    """Refuse a wall that is called as a slope is."""
    slopes = slope_names(building)
    for frame in frames:
        if frame.wall.name in slopes:
            raise UnbuildableError.at(
                POINTER,
                f"a wall is called {frame.wall.name!r}, as a slope is; accepted is another name for it",
            )


def _along_wall(each: Against, told: RoofShape, frames: Sequence[Frame]) -> tuple[str, float, float]:
    """What stands against a wall, told along that."""
    plan = next(frame.task.plan for frame in frames if frame.wall.name == each.wall)
    eaves = told.slopes[0].eaves
    ends = sorted(
        sum((p - o) * way for p, o, way in zip(eaves.point(0.0, 0.0, r), plan.start, plan.run, strict=False))
        for r in (each.near, each.far)
    )
    return each.wall, ends[0], ends[1]


def _places(
    rule: RoofRule, told: RoofShape, building: Building, asked: Asked
) -> tuple[RafterRun | None, tuple[float, ...], list[Finding]]:
    """What spaces the rafters, their places, and what was found of them."""
    answer = asked(rule, rule.spaces, told)
    if not isinstance(answer, RafterRun):
        return None, tuple(float(place) for place in answer), []
    run = asked.whole(rule, answer, RafterRun)
    places = places_in(run.run, slope_name(told.slopes[0].wall), (False, False), run.rule, asked)
    return run, tuple(place + run.datum for place in places.kept), list(places.findings)


def _with_framings(slope: FramedSlope, registry: Registry) -> FramedSlope:
    """A slope whose windows each have a rule that frames them."""
    return replace(slope, windows=tuple(framed_by_one(each, registry, POINTER) for each in slope.windows))


def _framed(
    task: SlopeTask,
    of: SlopeShape,
    rule: RoofRule,
    places: Sequence[float],
    asked: Asked,
    registry: Registry,
    room: Room,
) -> SlopeFrame:
    """A slope with its windows framed, its rafters cut at them, its noggins set and long pieces jointed."""
    slope = task.slope
    name = slope_name(slope.wall)
    holes = tuple(window.hole for window in slope.windows)
    wall = replace(slope.lying, name=name, holes=holes, lies=True, roles=registry.roles)
    slope = replace(slope, rafters=asked.members(rule, slope.rafters))
    framings = frame_openings(wall, task, asked, room)
    _refuse_over_plates(wall, framings, task)
    cut = cut_at_windows(wall, slope, framings, task)
    noggins, left_out = noggins_among(wall, [each.seen for each in cut], task, asked, room)
    free = [noggin for noggin in noggins if not _over_plate(noggin, slope)]
    level = [_called(m, task) for m in (*(m for f in framings for m in f.members if not m.is_upright), *free)]
    lying = (*(each.seen for each in cut), *level)
    jointed, joints = jointed_pieces(asked.members(rule, slope.jointed), cut, task, name)
    timbers = [each.rafter for each in cut]
    members = [*timbers, *(_placed(m, slope) for m in level), *jointed, *asked.members(rule, slope.others)]
    patterns = asked.members(rule, [row.pattern for row in slope.blocks])
    rows = [replace(row, pattern=pattern) for row, pattern in zip(slope.blocks, patterns, strict=True)]
    members += blocks_between(rows, members, slope)
    for member in members:
        if message := misshapen(member):
            raise asked.fault(rule, message, "misshapen")
    whole = [(each.seen.left, each.rafter) for each in cut if each.is_whole]
    seen = {id(each.seen): each.rafter for each in cut} | {
        id(m): placed for m, placed in zip(level, members[len(timbers) :], strict=False)
    }
    return SlopeFrame(
        rule=rule,
        task=replace(task, slope=slope),
        shape=of,
        lying=replace(wall, members=lying),
        members=tuple(members),
        rafters=tuple(whole),
        openings=tuple(
            (
                hole,
                rule.name,
                tuple(
                    seen[id(m)]
                    for m in lying
                    if framing.left - TOUCH <= m.left
                    and m.right <= framing.right + TOUCH
                    and (m.role != "noggin")
                ),
            )
            for hole, rule, framing in zip(wall.holes, task.rules.framings, framings, strict=True)
        ),
        runs=_runs(whole, places, wall),
        asked=asked,
        findings=(
            *left_out,
            *joints,
            *too_long_rafters(timbers, task, name),
            *found_of(wall, framings),
        ),
    )


def _runs(
    whole: Sequence[tuple[float, Member]], places: Sequence[float], wall: Wall
) -> tuple[FilledRun, ...]:
    """The clear run between the outermost rafters and those in it; none where windows are in between."""
    lefts = sorted(left for left, _ in whole)
    if wall.holes or len(lefts) < 2:
        return ()
    return (FilledRun(lefts[0] + wall.breadth, lefts[-1], tuple(lefts[1:-1])),) if places else ()


def _over_plate(member: Member, slope: FramedSlope) -> bool:
    """Whether a piece square to the slope would stand in a plate under the rafters, or in a block on it."""
    bottom, top = member.bottom + slope.foot, member.top + slope.foot
    return any(bottom < end - TOUCH and start < top - TOUCH for start, end in slope.taken)


def _refuse_over_plates(wall: Wall, framings: Sequence[FramedOpening], task: SlopeTask) -> None:
    """Refuse a window whose trimmers would stand in a plate."""
    for index, framing in enumerate(framings):
        for member in framing.members:
            if not member.is_upright and _over_plate(member, task.slope):
                start, end = next(
                    (start, end)
                    for start, end in task.slope.taken
                    if member.bottom + task.slope.foot < end and start < member.top + task.slope.foot
                )
                raise UnbuildableError.at(
                    task.pointer(index),
                    "a trimmer across the slope at {place} would stand in the plate under the rafters, or in"
                    " a block on it; accepted is a window whose trimmers keep out of {taken} up the slope",
                    place=Mm(member.bottom + task.slope.foot, ".0f"),
                    taken=Reach(start, end, ".0f"),
                )


def _called(member: Member, task: SlopeTask) -> Member:
    return replace(member, role=task.called.get(member.role, member.role), view="slope")


def _placed(member: Member, slope: FramedSlope) -> Member:
    """A piece of the lying wall in the plane of the slope."""
    return member.moved(tuple((u, v + slope.foot) for u, v in member.outline))
