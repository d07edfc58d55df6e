"""First stage: from a building file to walls ready to be framed, each with its top line, holes and rules."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from pydantic_core import PydanticCustomError

from soleplate.engine.building_file import (
    LOWEST_WALL,
    SIDES,
    STEEPEST,
    AnyOutline,
    Building,
    Fault,
    FrameSpec,
    LengthYield,
    LevelRoof,
    Mm,
    Opening,
    Panels,
    PlanWall,
    Reach,
    Rectangle,
    RoofPlanes,
    SingleWalls,
    Timber,
    UnbuildableError,
    WallBlock,
    at_least,
    carries_roof,
    in_each_other,
    partition_room,
    plan_walls,
    pointer_to,
    pointer_within,
    roof_planes,
    said_of,
    top_line,
    wall_names,
)
from soleplate.engine.framing.insulated import Insulated, insulated
from soleplate.engine.framing.measured_wall import as_measured
from soleplate.engine.framing.roof_shape import POINTER, roof_frame_of, roof_shape, slope_names
from soleplate.engine.framing.tasks import Chosen
from soleplate.engine.registry import Asked, Registry
from soleplate.engine.rules import EndJoin, Hole, OpeningRule, Rule, Wall, families, picked
from soleplate.engine.shapes import TOUCH, Section, TopLine

LAPS_WITHIN: Final = 2.0
"""mm. Plates of two walls that were drawn alike still lie on one level, and lap, where their measured
thicknesses differ by no more: each may be 1 mm off (EN 336, tolerance class 2, up to 100 mm)."""


@dataclass(frozen=True, slots=True)
class WallTask:
    """A wall ready to be framed, with all that its framing needs to know."""

    wall: Wall
    plan: PlanWall
    joins: tuple[EndJoin, EndJoin]
    rules: Chosen
    section: Section
    """Of studs and plates as it is sold; `wall.section` has their breadth as measured."""
    timber: Timber
    trim_allowance: float
    building: Building
    insulated: Insulated | None = None
    """What lies between its timbers."""

    @property
    def called(self) -> Mapping[str, str]:
        """A wall's pieces are called by their own names."""
        return {}

    @property
    def longest(self) -> LengthYield:
        """What the longest length of its plates' timber yields."""
        return self.building.stock.longest_of(self.section, self.timber.name)

    @property
    def panels(self) -> tuple[Panels | None, str]:
        """In which parts it is built, and the JSON pointer of where that is said."""
        says, pointer = self.building.who_says(self.wall.name, "panels")
        return says.panels, pointer

    def pointer(self, opening: int | None = None) -> str:
        """The JSON pointer of this wall's block, or of one of its openings."""
        openings = () if opening is None else ("openings", opening)
        return pointer_to("walls", self.wall.name, *openings)

    def pointer_to_height(self, opening: int) -> str:
        """The JSON pointer of what makes one of its openings as high as it is."""
        return _pointer_to_size(
            _block(self.building, self.wall.name).openings[opening], self.pointer(opening), "height"
        )

    def asked(self, registry: Registry) -> Asked:
        """Asks the rules of this wall."""
        return Asked(self.wall.name, "wall", self.pointer_to_rule, registry)

    @property
    def pointer_to_top(self) -> str:
        """The JSON pointer of what makes the wall as high as it is."""
        outline = self.building.outline
        if self.building.roof is None and isinstance(outline, SingleWalls):
            names = [wall.name for wall in outline.walls]
            return pointer_to("outline", "walls", names.index(self.wall.name), "heights")
        return "/roof"

    def pointer_to_rule(self, rule: Rule) -> str:
        """The JSON pointer of where a rule was chosen; of the wall, where it stands in for a choice."""
        block = _block(self.building, self.wall.name)
        for place, holder in ((self.pointer(), block), ("/defaults", self.building.defaults)):
            for _, pick in families.choices():
                chosen = getattr(holder, pick.member, None)
                if chosen is rule:
                    return f"{place}/{pick.member}"
                for index, each in enumerate(chosen if isinstance(chosen, tuple) else ()):
                    if each is rule:
                        return f"{place}/{pick.member}/{index}"
        return self.pointer()


def set_out(building: Building, registry: Registry, *, measured: bool = True) -> tuple[WallTask, ...]:
    """Set the walls of a building out.

    Args:
        building: what is asked for.
        registry: brings the rules used where the building chooses none.
        measured: lay measured walls out as they were measured; else as designed.

    Raises:
        UnbuildableError: it cannot be set out; every fault has its pointer.
    """
    names = wall_names(building.outline)
    _refuse_names(building, names)
    frames = {name: _block(building, name).frame or building.frame for name in names}
    plans = plan_walls(building.outline, {name: frame.section[1] for name, frame in frames.items()})
    short = [plan for plan in plans if plan.length < 3 * frames[plan.name].section[0]]
    if short:
        raise UnbuildableError.at(
            "/outline",
            "wall {name} would be {length} long; make the outline larger",
            name=short[0].name,
            length=Mm(short[0].length, ".0f"),
        )
    _refuse_places(building.outline, plans)
    roof = roof_over(building, plans)
    drop = _drop(building, plans, roof, registry)
    walls = [_wall(building, index, plan, frames[plan.name], roof, drop) for index, plan in enumerate(plans)]
    if measured:
        walls = [as_measured(wall, building.measured.get(wall.name)) for wall in walls]
    chosen = {plan.name: _chosen(building, plan, registry) for plan in plans}
    by_name = {wall.name: wall for wall in walls}
    return tuple(
        WallTask(
            wall=replace(wall, holes=tuple(_holes(building, wall)), roles=registry.roles),
            plan=plan,
            joins=(_join(wall, 0, by_name, frames, chosen), _join(wall, 1, by_name, frames, chosen)),
            rules=chosen[wall.name],
            section=frames[wall.name].section,
            timber=Timber.named(frames[wall.name].material, frames[wall.name].density),
            trim_allowance=frames[wall.name].trim_allowance,
            building=building,
            insulated=insulated(building, plan, wall.depth),
        )
        for wall, plan in zip(walls, plans, strict=True)
    )


def _block(building: Building, name: str) -> WallBlock:
    return building.walls.get(name) or WallBlock()


def _refuse_names(building: Building, names: Sequence[str]) -> None:
    faults = [
        Fault(pointer_to(*places, name), f"there is no wall {name!r}; the walls are {', '.join(names[:20])}")
        for places, said in ((("walls",), building.walls), (("site", "room"), building.site.room))
        for name in said
        if name not in names
    ]
    faults += _of_measured(building, names)
    faults += _of_obstacles(building, names)
    first = {name: index for index, name in reversed(list(enumerate(names)))}
    faults += [
        Fault(_place_of(building.outline, index), f"two walls are called {name!r}; give each its own")
        for index, name in enumerate(names)
        if first[name] != index
    ]
    if faults:
        raise UnbuildableError(faults)


def _of_measured(building: Building, names: Sequence[str]) -> Iterator[Fault]:
    """What was measured of walls and slopes that there are not, and what they have no such measure of."""
    slopes = slope_names(building)
    for name, measured in building.measured.items():
        place = pointer_to("measured", name)
        if name in slopes and not measured.is_of_slope:
            yield Fault(place, f"slope {name!r} has a run alone; accepted is run")
        elif name in names and measured.is_of_slope:
            yield Fault(place, "a wall has no run; accepted are length, clear_length and breadth")
        elif name not in names and name not in slopes:
            among = f"the walls are {', '.join(names[:20])}"
            if slopes:
                among += f", the slopes {' and '.join(slopes)}"
            yield Fault(place, f"there is no wall {name!r}; {among}")


def _of_obstacles(building: Building, names: Sequence[str]) -> Iterator[Fault]:
    """Obstacles beside a wall that there is not, and those with the name of another or of a wall's room."""
    taken = {f"room {wall}" for wall in building.site.room}
    for index, each in enumerate(building.site.obstacles):
        place = ("site", "obstacles", index)
        if each.beside is not None and each.beside not in names:
            said = f"there is no wall {each.beside!r}; the walls are {', '.join(names[:20])}"
            yield Fault(pointer_to(*place, "beside"), said)
        if each.name in taken:
            yield Fault(
                pointer_to(*place, "name"), f"two obstacles are called {each.name!r}; give each its own"
            )
        taken.add(each.name)


def _place_of(outline: AnyOutline, index: int) -> str:
    """The JSON pointer of what names the wall that is laid out at `index`."""
    if isinstance(outline, SingleWalls):
        return pointer_to("outline", "walls", index, "name")
    if isinstance(outline, Rectangle):
        return pointer_to("outline", "partitions", index - len(SIDES), "name")
    return "/outline/names"


def _refuse_places(outline: AnyOutline, plans: Sequence[PlanWall]) -> None:
    """Refuse partitions that are not between the outer walls, and walls that stand in each other."""
    if isinstance(outline, SingleWalls):
        return
    depths = {plan.name: plan.depth for plan in plans}
    places: dict[str, str] = {}
    if isinstance(outline, Rectangle):
        for index, partition in enumerate(outline.partitions):
            places[partition.name] = pointer_to("outline", "partitions", index, "at")
            least, most = partition_room(outline, partition, depths)
            if not least - TOUCH <= partition.at <= most + TOUCH:
                raise UnbuildableError.at(
                    places[partition.name],
                    "{place}; accepted is {room}, between the outer walls",
                    place=Mm(partition.at),
                    room=Reach(least, most),
                )
    pair = in_each_other(plans)
    if pair is not None:
        raise UnbuildableError.at(
            places.get(pair[1].name, "/outline"),
            f"walls {pair[0].name} and {pair[1].name} stand in the same place;"
            " accepted are walls that only meet",
        )


def roof_over(building: Building, plans: Sequence[PlanWall]) -> RoofPlanes | None:
    """The planes of the roof; `None` where single walls bring their own heights."""
    outline, roof = building.outline, building.roof
    if isinstance(outline, SingleWalls):
        if roof is not None and not isinstance(roof, LevelRoof):
            raise UnbuildableError.at(
                "/roof/form",
                "walls on their own have no slope between them; accepted is level, or their heights",
            )
        if roof is None and any(wall.heights is None for wall in outline.walls):
            raise UnbuildableError.at("/roof", "missing; accepted is a level roof, or heights for every wall")
        if roof is None:
            return None
    if roof is None:
        raise UnbuildableError.at("/roof", "missing; accepted is a level, mono-pitch or duo-pitch roof")
    inside = {p.name for p in outline.partitions} if isinstance(outline, Rectangle) else set()
    try:
        return roof_planes(roof, [plan for plan in plans if plan.name not in inside])
    except PydanticCustomError as error:
        raise UnbuildableError.at("/roof", said_of(error.context or {}) or error.message()) from None


def _drop(
    building: Building, plans: Sequence[PlanWall], roof: RoofPlanes | None, registry: Registry
) -> float:
    """How far walls under a framed roof end below its line, those that rafters rest on excepted, mm."""
    rule = roof_frame_of(building)
    if rule is None or roof is None:
        return 0.0
    shape = roof_shape(building, plans, roof)
    asked = Asked("roof", "roof", lambda rule: pointer_within(building, rule) or POINTER, registry)
    drop = asked(rule, rule.drop, shape)
    if not isinstance(drop, float) or not 0.0 <= drop < LOWEST_WALL:
        raise asked.fault(rule, f"drops walls by {drop!r}; accepted is a length in mm from 0 on")
    return drop


def _wall(
    building: Building, index: int, plan: PlanWall, frame: FrameSpec, roof: RoofPlanes | None, drop: float
) -> Wall:
    outline = building.outline
    if isinstance(outline, SingleWalls):
        single = outline.walls[index]
        if single.heights is not None:
            left, right = single.heights
            line = TopLine(((0.0, left), (plan.length, right)))
            if line.steepest > STEEPEST:
                raise UnbuildableError.at(
                    pointer_to("outline", "walls", index, "heights"),
                    f"its top slopes by {line.steepest:.1f} degrees; accepted is up to {STEEPEST:g}",
                )
        else:
            assert roof is not None  # noqa: S101 - `roof_over` asks for one where heights are missing
            line = top_line(plan, roof)
        bears = single.carries_roof
    else:
        assert roof is not None  # noqa: S101 - `roof_over` asks for one
        line, bears = top_line(plan, roof), carries_roof(plan, roof)
        if drop and (plan.is_partition or not bears):
            line = line.raised(-drop)
    lowest = line.lowest(0.0, plan.length)
    if lowest < LOWEST_WALL:
        raise UnbuildableError.at(
            "/roof",
            "wall {name} would be {lowest} high; accepted is at least {least}",
            name=plan.name,
            lowest=Mm(lowest, ".0f"),
            least=at_least(LOWEST_WALL, ".0f"),
        )
    return Wall(
        name=plan.name,
        length=plan.length,
        depth=plan.depth,
        section=frame.section,
        top=line,
        ends=plan.ends,
        tees=plan.tees,
        carries_roof=bears,
    )


def _chosen(building: Building, plan: PlanWall, registry: Registry) -> Chosen:
    """The wall's own choices, then the building's, then the rules that stand in."""
    block, usual = _block(building, plan.name), building.defaults
    if plan.is_partition:
        # Both faces of a partition are indoors: what lines the building clads it too.
        usual = usual.model_copy(update={"cladding": getattr(usual, "lining", None)})
    by_member: dict[str, tuple[Rule, ...]] = {}
    for family, pick in families.choices():
        # What a wall says itself holds, null too: then there is none.
        holder = block if pick.member in block.model_fields_set else usual
        chosen = picked(family.base, holder, member=pick.member)
        if family.needs_one and not chosen:
            if family.name in registry.stand_ins:
                chosen = (registry.stand_ins[family.name],)
            elif block.openings or family.base is not OpeningRule:
                said = f"no installed rule stands in for {pick.member.replace('_', ' ')}"
                raise UnbuildableError.at(
                    f"/defaults/{pick.member}", f"{said}; install a plugin that brings one"
                )
        by_member[pick.member] = chosen
    framings = [picked(OpeningRule, each) or by_member["openings_framing"] for each in block.openings]
    return Chosen(by_member, tuple(rule for (rule,) in framings if isinstance(rule, OpeningRule)))


def _join(
    wall: Wall,
    index: int,
    walls: Mapping[str, Wall],
    frames: Mapping[str, FrameSpec],
    chosen: Mapping[str, Chosen],
) -> EndJoin:
    end = wall.ends[index]
    if end.kind not in ("through", "butts") or end.neighbour is None:
        return EndJoin(runs_through=True, lap=0.0, neighbour_depth=0.0)
    other = walls[end.neighbour]
    alike = (
        wall.top.is_level
        and other.top.is_level
        and abs(wall.top.at(0.0) - other.top.at(0.0)) < 1e-6
        and frames[wall.name].section[0] == frames[other.name].section[0]
        and abs(wall.section.breadth - other.section.breadth) <= LAPS_WITHIN + TOUCH
        and chosen[wall.name].by_member["top_plates"] == chosen[other.name].by_member["top_plates"]
    )
    return EndJoin(end.kind == "through", end.neighbour_depth if alike else 0.0, end.neighbour_depth)


def _holes(building: Building, wall: Wall) -> Iterator[Hole]:
    """The wall's openings with their places worked out, in the file's order."""
    done: list[Hole] = []
    for index, opening in enumerate(_block(building, wall.name).openings):
        pointer = pointer_to("walls", wall.name, "openings", index)
        if opening.name in [other.name for other in done]:
            raise UnbuildableError.at(
                f"{pointer}/name", f"two openings are called {opening.name!r}; give each its own"
            )
        hole = _hole(opening, wall)
        _refuse_place(hole, opening, wall, pointer)
        for other in done:
            beside = hole.left >= other.right or other.left >= hole.right
            if not beside and hole.bottom < other.top and other.bottom < hole.top:
                raise UnbuildableError.at(
                    f"{pointer}/at",
                    "{name} ({place}) overlaps {other} ({taken}); accepted are openings beside or above each"
                    " other",
                    name=hole.name,
                    place=Reach(hole.left, hole.right, ".0f"),
                    other=other.name,
                    taken=Reach(other.left, other.right, ".0f"),
                )
        done.append(hole)
        yield hole


def _hole(opening: Opening, wall: Wall) -> Hole:
    width, height = opening.structural_width, opening.structural_height
    left, right = opening.at.edges(width, wall.length)
    return Hole(opening.name, opening.kind, left, right, opening.sill, opening.sill + height)


def _pointer_to_size(opening: Opening, pointer: str, side: Literal["width", "height"]) -> str:
    return f"{pointer}/{side}" if opening.unit is None else f"{pointer}/unit/{side}"


def _refuse_place(hole: Hole, opening: Opening, wall: Wall, pointer: str) -> None:
    if hole.width > wall.length:
        raise UnbuildableError.at(
            _pointer_to_size(opening, pointer, "width"),
            "{width} is wider than wall {name}, which is {length} long",
            width=Mm(hole.width, ".0f"),
            name=wall.name,
            length=Mm(wall.length, ".0f"),
        )
    if hole.left < -1e-6 or hole.right > wall.length + 1e-6:
        raise UnbuildableError.at(
            f"{pointer}/at",
            "it would reach from {place}; accepted is {room}",
            place=Reach(hole.left, hole.right, ".0f"),
            room=Reach(0.0, wall.length, ".0f"),
        )
    lowest = wall.top.lowest(max(hole.left, 0.0), min(hole.right, wall.length))
    if hole.top >= lowest:
        raise UnbuildableError.at(
            _pointer_to_size(opening, pointer, "height"),
            "its top at {top} is over the top of the wall there, {lowest}",
            top=Mm(hole.top, ".0f"),
            lowest=Mm(lowest, ".0f"),
        )
    if opening.kind == "door" and not hole.reaches_floor:
        raise UnbuildableError.at(
            f"{pointer}/sill", "{bottom}; accepted for a door is 0", bottom=Mm(hole.bottom)
        )
