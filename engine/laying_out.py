"""The stages in order: a building file in, its layout out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from soleplate.engine.building_file import MOST_PIECES, Building, Room, read_only, telling
from soleplate.engine.covering import cover, storey_rod, wall_surfaces
from soleplate.engine.framing import Frame, WallTask, frame_wall, set_out
from soleplate.engine.layout import CAUTIONS, ENGLISH, BoardsOut, Layout, WallOut, gravest_first
from soleplate.engine.listing import (
    BuiltWall,
    buying_list,
    changes,
    cutting_list,
    laps_lost,
    off_the_drawing,
    prefixes,
    wall_out,
)
from soleplate.engine.registry import Registry, load_registry
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
    with telling(building.units):
        return _laid_out(building, registry or load_registry(), most_pieces, sentences)


def _laid_out(
    building: Building, registry: Registry, most_pieces: int, sentences: Mapping[str, str]
) -> Layout:
    built, bought = _built(set_out(building, registry), building, registry, most_pieces)
    drawn = _as_drawn(building, registry, most_pieces)
    walls = _walls(built, drawn, building)
    pieces, units = [piece for wall in walls for piece in wall.pieces], building.units
    names = {wall.name for wall in walls}
    found = tuple(each.told(units, names, sentences) for each in _findings(built, drawn, walls, building))
    layout = Layout.model_construct(
        format="soleplate.layout/1",
        name=building.name,
        units=units,
        building=read_only(building.model_dump(mode="json", exclude_none=True, context={"units": units})),
        walls=walls,
        storey_rod=storey_rod((each for wall in built for each in wall.surfaces(indoors=False)), units),
        lining_rod=storey_rod((each for wall in built for each in wall.surfaces(indoors=True)), units),
        boards=bought,
        cutting_list=cutting_list(pieces, units, building.stock.gang, registry.roles),
        buying_list=buying_list(pieces, units, bought),
        findings=found,
        cautions=CAUTIONS,
        roles=tuple(registry.roles[name] for name in sorted({p.role for p in pieces} - set(ROLES))) or None,
        weight_kg=rounded(sum(wall.weight_kg for wall in walls)),
    )
    checked = (each.told(units, names, sentences) for each in registry.findings(layout, building))
    return layout.model_copy(update={"findings": gravest_first(dict.fromkeys((*found, *checked)))})


def _built(
    tasks: Sequence[WallTask], building: Building, registry: Registry, most_pieces: int
) -> tuple[list[BuiltWall], tuple[BoardsOut, ...]]:
    """Every wall framed and covered, and what boards are cut from; given up where there are too many."""
    frames: list[Frame] = []
    room = Room(most_pieces)
    for task in tasks:
        frames.append(frame_wall(task, registry, room))
        room = room.after(len(frames[-1].wall.members))
    covered = cover(wall_surfaces(frames, registry), building.stock, room)
    room.after(sum(len(each.boards) for each in covered.claddings.values()))
    return [
        BuiltWall(
            frame,
            covered.claddings.get((frame.wall.name, "outside")),
            covered.claddings.get((frame.wall.name, "inside")),
        )
        for frame in frames
    ], covered.bought


def _as_drawn(building: Building, registry: Registry, most_pieces: int) -> dict[str, BuiltWall]:
    """Every wall as it was designed, where any was measured."""
    if not building.measured:
        return {}
    every, _ = _built(set_out(building, registry, measured=False), building, registry, most_pieces)
    return {each.name: each for each in every}


def _walls(
    built: Sequence[BuiltWall], drawn: Mapping[str, BuiltWall], building: Building
) -> tuple[WallOut, ...]:
    prefix = prefixes([each.name for each in built])
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
