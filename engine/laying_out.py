"""The stages in order: a building file in, its layout out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from soleplate.engine.at_rest import collector_at_rest
from soleplate.engine.building_file import (
    MOST_PIECES,
    Building,
    Room,
    UnbuildableError,
    read_only,
    telling,
)
from soleplate.engine.covering import Covered, cover, sheet_edges, storey_rod, wall_surfaces
from soleplate.engine.finishing import finish_openings
from soleplate.engine.fixing import as_fixed, fix_joints
from soleplate.engine.floors import deck_of, frame_floor
from soleplate.engine.framing import (
    FilledWall,
    Frame,
    Part,
    Placed,
    WallTask,
    fill_wall,
    frame_filled,
    in_one_place,
    set_out,
)
from soleplate.engine.layout import (
    CAUTIONS,
    ENGLISH,
    BoardsOut,
    Layout,
    PartOut,
    SlopeOut,
    WallOut,
    gravest_first,
)
from soleplate.engine.listing import (
    PREFIX,
    BuiltFloor,
    BuiltSlope,
    BuiltWall,
    buying_list,
    changes,
    cutting_list,
    floor_out,
    goods_list,
    laps_lost,
    of_floor,
    of_slope,
    of_wall,
    off_the_drawing,
    panel_names,
    prefixes,
    run_off,
    slope_out,
    slope_prefix,
    wall_out,
)
from soleplate.engine.registry import Registry, load_registry
from soleplate.engine.roofs import FramedRoof, frame_roof, slope_deck
from soleplate.engine.rules import Finding
from soleplate.engine.shapes import ROLES, rounded


def lay_out(
    building: Building,
    registry: Registry | None = None,
    *,
    most_pieces: int = MOST_PIECES,
    sentences: Mapping[str, str] = ENGLISH,
) -> Layout:
    """Lay a building out: the same file with the same plugins gives the same layout to the byte.

    Args:
        building: as `Registry.read_building` reads it.
        registry: the installed rules; found and loaded where it is not given.
        most_pieces: in the building; a server sets it lower.
        sentences: of findings in another language, by ours.

    Raises:
        UnbuildableError: the building cannot be set out; every fault has its pointer.
        TooManyPiecesError: it has over `most_pieces`.
        RuleError: a plugin's rule failed, or returned what cannot be; names plugin, rule and wall.
    """
    installed = registry or load_registry()
    with telling(building.units), installed.keeping_time(), collector_at_rest():
        return _laid_out(building, installed, most_pieces, sentences)


def _laid_out(
    building: Building, registry: Registry, most_pieces: int, sentences: Mapping[str, str]
) -> Layout:
    whole = _built(set_out(building, registry), building, registry, most_pieces, is_measured=True)
    built, bought = whole.walls, whole.bought
    drawn = _as_drawn(building, registry, most_pieces)
    floors = tuple(floor_out(floor, building) for floor in whole.floors)
    roofs = tuple(_slope(slope, drawn.slopes, building) for slope in whole.slopes)
    taken = [PREFIX for _ in floors] + [slope_prefix(slope.framed) for slope in whole.slopes]
    walls = _walls(built, drawn.walls, building, taken)
    anchors = (anchor.kind for each in built for held in each.frame.held for anchor in held.down.anchors)
    spares = {kind.name: kind.spare for kind in anchors}
    fixed = fix_joints((*walls, *floors, *roofs), building, registry, spares)
    walls, floors, roofs = as_fixed(walls, fixed), as_fixed(floors, fixed), as_fixed(roofs, fixed)
    parts: tuple[PartOut, ...] = (*walls, *floors, *roofs)
    pieces, units = [piece for part in parts for piece in part.pieces], building.units
    names = {wall.name for wall in walls}
    of_floors = (f for floor, out in zip(whole.floors, floors, strict=True) for f in floor.findings(out))
    of_roofs = (f for slope, out in zip(whole.slopes, roofs, strict=True) for f in slope.findings(out))
    every = (
        *_findings(built, drawn.walls, walls, building),
        *_of_runs(whole.slopes, drawn.slopes, building),
        *of_floors,
        *whole.of_roof,
        *of_roofs,
        *fixed.findings,
    )
    found = tuple(each.told(units, names, sentences) for each in every)
    layout = Layout.model_construct(
        format="soleplate.layout/1",
        name=building.name,
        units=units,
        building=read_only(building.model_dump(mode="json", exclude_none=True, context={"units": units})),
        walls=walls,
        floors=floors,
        roofs=roofs,
        storey_rod=storey_rod((each for wall in built for each in wall.surfaces(indoors=False)), units),
        lining_rod=storey_rod((each for wall in built for each in wall.surfaces(indoors=True)), units),
        boards=bought,
        cutting_list=cutting_list(pieces, units, building.stock.gang, registry.roles, panel_names(walls)),
        buying_list=buying_list(pieces, units, bought),
        goods=goods_list(
            [
                *(
                    goods
                    for each, wall in zip(built, walls, strict=True)
                    for goods in of_wall(each, wall, joined=bool(fixed.fixings))
                ),
                *(goods for floor in floors for goods in of_floor(floor)),
                *(goods for slope in roofs for goods in of_slope(slope)),
                *fixed.goods,
            ],
            units,
            building.stock,
        ),
        fixings=fixed.fixings,
        ties=fixed.ties,
        fixings_list=fixed.fixings_list,
        findings=found,
        cautions=CAUTIONS,
        roles=tuple(registry.roles[name] for name in sorted({p.role for p in pieces} - set(ROLES))) or None,
        weight_kg=rounded(sum(part.weight_kg for part in parts)),
    )
    checked = (each.told(units, names, sentences) for each in registry.findings(layout, building))
    return layout.model_copy(update={"findings": gravest_first(dict.fromkeys((*found, *checked)))})


class _Built(NamedTuple):
    """All parts framed and covered, and what boards are cut from."""

    walls: list[BuiltWall]
    floors: list[BuiltFloor]
    slopes: list[BuiltSlope]
    of_roof: tuple[Finding, ...]
    bought: tuple[BoardsOut, ...]


class _Drawn(NamedTuple):
    """Walls and slopes as they were designed, by name, where any was measured."""

    walls: Mapping[str, BuiltWall]
    slopes: Mapping[str, BuiltSlope]


def _built(
    tasks: Sequence[WallTask], building: Building, registry: Registry, most_pieces: int, *, is_measured: bool
) -> _Built:
    """Every part framed and covered; given up where there are too many pieces."""
    filled: list[FilledWall] = []
    sure = Room(most_pieces)
    edges = sheet_edges(tasks, registry)
    for task in tasks:
        filled.append(fill_wall(task, registry, sure, edges))
        sure = sure.after(filled[-1].sure)
    frames: list[Frame] = []
    room = Room(most_pieces)
    for each in filled:
        frames.append(frame_filled(each, registry))
        room = room.after(len(frames[-1].wall.members))
    floor = frame_floor(building, frames, registry, room)
    floors = [floor] if floor is not None else []
    room = room.after(sum(len(floor.part.members) for floor in floors))
    roof = frame_roof(building, frames, registry, room, is_measured=is_measured)
    slopes = roof.slopes if roof is not None else ()
    room = room.after(sum(len(slope.members) for slope in slopes))
    decks = [deck for floor in floors if (deck := deck_of(floor)) is not None]
    decks += [deck for slope in slopes if (deck := slope_deck(slope)) is not None]
    ends = roof.ends if roof is not None else ()
    against = roof.against if roof is not None else ()
    surfaces = [*wall_surfaces(frames, registry, on_floor=bool(floors), ends=ends, against=against), *decks]
    covered = cover(surfaces, building.stock, room)
    room = room.after(sum(len(each.boards) for each in covered.claddings.values()))
    laid = [*(floor.part for floor in floors), *(slope.part for slope in slopes)]
    # What was measured is cut to fit what stands, not what was drawn.
    drawn = [part for part in laid if not (is_measured and part.name in building.measured)]
    if drawn:
        _refuse_meeting([*(frame.part for frame in frames), *drawn], covered, registry, roof)
    finishes = finish_openings(frames, laid, covered, registry, room)
    return _Built(
        [
            BuiltWall(
                frame,
                covered.claddings.get((frame.wall.name, "outside")),
                covered.claddings.get((frame.wall.name, "inside")),
                finishes.get(frame.wall.name, ()),
            )
            for frame in frames
        ],
        [BuiltFloor(floor, covered.claddings.get((floor.part.name, "outside"))) for floor in floors],
        [BuiltSlope(slope, covered.claddings.get((slope.name, "outside"))) for slope in slopes],
        roof.findings if roof is not None else (),
        covered.bought,
    )


def _refuse_meeting(
    parts: Sequence[Part], covered: Covered, registry: Registry, roof: FramedRoof | None
) -> None:
    """Refuse parts that stand in each other; to blame is the rule that made the piece of the later one.

    Raises:
        UnbuildableError: a partition and the roof take up the same place: who planned them is to blame.
        RuleError: two other pieces do.
    """
    views = {(part.name, view.name): view for part in parts for view in part.views}
    timbers = [Placed(part.name, m, views[part.name, m.view]) for part in parts for m in part.members]
    boards = [
        Placed(
            name,
            replace(board.member, made_by=(registry.plugin_of(cladding.rule), cladding.rule.name)),
            views[name, board.member.view],
            facing,
        )
        for (name, facing), cladding in covered.claddings.items()
        for board in cladding.boards
        if (name, board.member.view) in views
    ]
    # What stands out of a wall is told of the wall.
    others = {part.name for part in parts if part.kind != "wall"}
    found = in_one_place([*timbers, *boards], others)
    if found is None:
        return
    one, other = found
    if roof is not None and (inside := {one.part, other.part} & roof.partitions):
        raise UnbuildableError.at(
            "/roof/frame",
            f"a {other.member.role} would stand in a {one.member.role} of partition {min(inside)};"
            f" accepted is a"
            " partition clear of the roof's timbers, or a roof without them",
        )
    # Boards come last, and what covers a frame goes by it.
    plugin, rule = other.member.made_by
    message = (
        f"a {other.member.role} at {other.member.left:.1f} mm of {other.part} overlaps a {one.member.role} at"
        f" {one.member.left:.1f} mm of {one.part}"
    )
    raise registry.fault(plugin, rule, message, other.part, "overlap")


def _as_drawn(building: Building, registry: Registry, most_pieces: int) -> _Drawn:
    """Every wall and slope as it was designed, where any was measured."""
    if not building.measured:
        return _Drawn({}, {})
    tasks = set_out(building, registry, measured=False)
    whole = _built(tasks, building, registry, most_pieces, is_measured=False)
    return _Drawn(
        {each.name: each for each in whole.walls}, {each.framed.name: each for each in whole.slopes}
    )


def _slope(slope: BuiltSlope, drawn: Mapping[str, BuiltSlope], building: Building) -> SlopeOut:
    """A slope as it comes out, with what was changed by measuring it."""
    told = slope_out(slope, building)
    before = drawn.get(told.name)
    if before is None:
        return told
    changed = changes(slope_out(before, building).pieces, told.pieces, building.units)
    return replace(told, changes=changed)


def _of_runs(
    slopes: Sequence[BuiltSlope], drawn: Mapping[str, BuiltSlope], building: Building
) -> Iterator[Finding]:
    """That slopes do not run as drawn."""
    for slope in slopes:
        if slope.framed.name in drawn:
            shape, before = slope.framed.shape, drawn[slope.framed.name].framed.shape
            ends = (shape.run - shape.widens / 2, shape.run + shape.widens / 2)
            yield from run_off(
                slope.framed.name, before.run, ends, slope.framed.slope.card.pitch, building.units
            )


def _walls(
    built: Sequence[BuiltWall], drawn: Mapping[str, BuiltWall], building: Building, taken: Sequence[str]
) -> tuple[WallOut, ...]:
    prefix = prefixes([each.name for each in built], taken)
    walls: list[WallOut] = []
    for each in built:
        numbered = each.numbered(prefix[each.name], building)
        before = drawn.get(each.name)
        changed = (
            changes(before.numbered(prefix[each.name], building).pieces, numbered.pieces, building.units)
            if before is not None
            else ()
        )
        walls.append(wall_out(each, numbered, changed, building))
    return tuple(walls)


def _findings(
    built: Sequence[BuiltWall],
    drawn: Mapping[str, BuiltWall],
    walls: Sequence[WallOut],
    building: Building,
) -> Iterator[Finding]:
    """What was found in each wall; first that it is not as long as drawn, or that its plates lap no more."""
    breadths = {each.name: each.frame.wall.breadth for each in built}
    for each, wall in zip(built, walls, strict=True):
        if each.name in drawn:
            designed, measured = drawn[each.name].frame, each.frame
            yield from off_the_drawing(wall.name, designed.wall.length, measured.wall.length, building.units)
            yield from laps_lost(designed, measured, breadths, building.units)
        yield from each.findings(wall)


def layout_json(layout: Layout) -> bytes:
    """A layout as JSON text, the same bytes every time."""
    return f"{layout.model_dump_json(exclude_none=True, indent=1)}\n".encode()
