"""Second stage: a wall set out becomes a frame.

The steps of `fill_wall` and `frame_filled` are the order of the work. All walls are filled before any is
framed, so that too many pieces are found early.

Each step asks one rule, through `Asked`, so that whatever goes wrong in a rule names plugin, rule and wall.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.building_file import ANY, Mm, Room, UnbuildableError
from soleplate.engine.framing.bracing import BracedBy, brace, found_in
from soleplate.engine.framing.filling import FilledRun
from soleplate.engine.framing.holding import HeldSole, found_under, held_soles
from soleplate.engine.framing.infill import Infill, fill, found_of
from soleplate.engine.framing.openings import frame_walls_openings
from soleplate.engine.framing.panels import in_panels
from soleplate.engine.framing.part import Part, Stretch, wall_view
from soleplate.engine.framing.plating import divided_plates, jointed_plates, plate, sole_plates
from soleplate.engine.framing.setting_out import WallTask
from soleplate.engine.framing.soundness import Envelope, refuse_unsound
from soleplate.engine.registry import Asked, Registry
from soleplate.engine.rules import (
    Adjustment,
    CladdingRule,
    Corner,
    CornerRule,
    EdgeLine,
    Finding,
    FramedOpening,
    Hole,
    TopPlates,
    Wall,
)
from soleplate.engine.shapes import Member, rectangle, upright


@dataclass(frozen=True, slots=True)
class Frame:
    """A framed wall: its members, where openings' timbers are among them, and what is to be said of it."""

    task: WallTask
    wall: Wall
    plates: TopPlates
    openings: tuple[tuple[Hole, str, tuple[Member, ...]], ...]
    runs: tuple[FilledRun, ...]
    findings: tuple[Finding, ...]
    held: tuple[HeldSole, ...] = ()
    """Its sole plates with what holds them down."""
    breaks: tuple[float, ...] = ()
    """Between its panels, mm from the left."""

    @property
    def panels(self) -> tuple[Stretch, ...]:
        """The stretch of each of its panels; none where it is in one piece."""
        return tuple(itertools.pairwise((0.0, *self.breaks, self.wall.length))) if self.breaks else ()

    braced: tuple[BracedBy, ...] = ()
    """What keeps it from racking, rule by rule."""

    @property
    def raised(self) -> float:
        """How far its plates lie over the line that the roof gives it, mm."""
        top = self.plates.top
        return 0.0 if top is None else top.at(0.0) - self.wall.top.at(0.0)

    @property
    def covered(self) -> tuple[float, float]:
        """How far what lies on its outside and on its inside stands off its frame, mm."""
        out, lining = (
            max((rule.build_out for rule in self.task.rules.every(member, CladdingRule)), default=0.0)
            for member in ("cladding", "lining")
        )
        return out, lining

    @property
    def part(self) -> Part:
        """The wall as every later stage takes it."""
        task, wall = self.task, self.wall
        return Part(
            name=wall.name,
            kind="wall",
            views=(wall_view(task.plan),),
            members=wall.members,
            timber=task.timber,
            section=wall.section,
            sold=task.section,
            foot=wall.sole_thickness,
            trim_allowance=task.trim_allowance,
            roles=wall.roles,
            panels=self.panels,
        )


SheetEdges = Callable[[WallTask, Wall, TopPlates], Sequence[EdgeLine]]
"""Tells where the edges of what covers a wall want timber: of a wall with its plates and uprights."""


@dataclass(frozen=True, slots=True)
class FilledWall:
    """A wall with its plates, its openings and what fills it, before anything is done that takes long."""

    task: WallTask
    wall: Wall
    plates: TopPlates
    soles: tuple[Member, ...]
    framings: tuple[FramedOpening, ...]
    infill: Infill

    @property
    def sure(self) -> int:
        """How many pieces are sure to come of it: an adjustment may leave some out, panels noggins."""
        if self.task.rules.every("adjustments", Adjustment):
            return 0
        noggins = 0 if self.task.panels[0] is not None else len(self.infill.noggins)
        return len(self.plates.members) + len(self.infill.uprights) + noggins


def fill_wall(
    task: WallTask, registry: Registry, room: Room = ANY, edges: SheetEdges | None = None
) -> FilledWall:
    """Fill a wall by its rules, with backing behind the `edges` of sheets.

    Raises:
        UnbuildableError: something in it cannot be framed.
        TooManyPiecesError: it has more members than there is `room` for.
        RuleError: a rule failed, or returned what cannot be.
    """
    asked = task.asked(registry)
    wall, plates = plate(task, asked)
    room = room.after(len(plates.members))
    wall, framings = frame_walls_openings(wall, task, asked, registry, room)
    fixed = [*_ends(wall, task), *_corners_and_tees(wall, task, asked)]
    soles = tuple(sole_plates(wall))

    def wanted(studded: Wall) -> Sequence[EdgeLine]:
        standing = replace(studded, members=(*soles, *plates.members, *studded.members))
        return edges(task, standing, plates) if edges is not None and studded.missed else ()

    whole = fill(wall, fixed, framings, task, asked, room, wanted)
    return FilledWall(task, wall, plates, soles, tuple(framings), whole)


def frame_wall(
    task: WallTask, registry: Registry, room: Room = ANY, edges: SheetEdges | None = None
) -> Frame:
    """Frame a wall by its rules: `fill_wall`, then `frame_filled`."""
    return frame_filled(fill_wall(task, registry, room, edges), registry)


def frame_filled(filled: FilledWall, registry: Registry) -> Frame:
    """The frame of a wall that is filled: in panels, its plates jointed, adjusted, braced and held down.

    Raises:
        UnbuildableError: something in it cannot be framed.
        RuleError: a rule failed, or returned what cannot be.
    """
    task, wall, plates, soles = filled.task, filled.wall, filled.plates, filled.soles
    framings, whole = filled.framings, filled.infill
    asked = task.asked(registry)
    infill, breaks = in_panels(wall, whole, framings, (*soles, *divided_plates(wall, plates)), task)
    lying, joints = jointed_plates(wall, soles, plates, infill.uprights, task, breaks)
    members: tuple[Member, ...] = (*lying, *infill.uprights, *infill.noggins)
    framed = replace(wall, members=members, outline=_outline(wall, plates), missed=infill.missed)
    envelope = Envelope(wall.length, wall.depth, plates.top or wall.top, plates.beyond)
    refuse_unsound(members, envelope, registry, wall.name)
    for adjustment in task.rules.every("adjustments", Adjustment):
        changed = asked.several(adjustment, adjustment.adjust_wall, framed)
        members = asked.members(adjustment, changed)
        framed = replace(framed, members=members)
        refuse_unsound(members, envelope, registry, wall.name, changed_by=asked.maker(adjustment))
    framed, braced = brace(framed, envelope, task, asked, registry)
    members = framed.members
    held = held_soles(framed, members, task, asked)
    return Frame(
        task=task,
        wall=framed,
        plates=plates,
        openings=tuple(
            (hole, rule.name, _of(framing, members))
            for hole, rule, framing in zip(wall.holes, task.rules.framings, framings, strict=True)
        ),
        runs=infill.runs,
        findings=(
            *infill.findings,
            *joints,
            *found_of(wall, framings),
            *found_in(wall, braced),
            *found_under(wall, held),
        ),
        held=held,
        breaks=breaks,
        braced=braced,
    )


def _of(framing: FramedOpening, members: Sequence[Member]) -> tuple[Member, ...]:
    """Those of a wall's members that frame an opening: an adjustment may have left some out."""
    timbers = frozenset(framing.members)
    return tuple(member for member in members if member in timbers)


def _ends(wall: Wall, task: WallTask) -> Iterator[Member]:
    for left in (0.0, wall.length - wall.breadth):
        stud = upright("stud", wall.section, left, wall.sole_thickness, wall.underside)
        if stud is None:
            raise UnbuildableError.at(
                task.pointer_to_top,
                "wall {name} has no room for its end stud at {left}",
                name=wall.name,
                left=Mm(left, ".0f"),
            )
        yield stud


def _corners_and_tees(wall: Wall, task: WallTask, asked: Asked) -> Iterator[Member]:
    rule = task.rules.one("corners", CornerRule)
    for side, end in zip(("left", "right"), wall.ends, strict=True):
        if end.kind in ("through", "butts"):
            corner = Corner(wall, "left" if side == "left" else "right", end)
            yield from asked.members(rule, asked.several(rule, rule.lay_corner, corner))
    for tee in wall.tees:
        yield from asked.members(rule, asked.several(rule, rule.lay_tee, tee, wall))


def _outline(wall: Wall, plates: TopPlates) -> tuple[tuple[float, float], ...]:
    top = (plates.top or wall.top).between(0.0, wall.length)
    return (*rectangle(0.0, wall.length, 0.0, 1.0)[:2], *reversed(top))
