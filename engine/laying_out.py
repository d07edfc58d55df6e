"""The stages in order: a building file in, its layout out."""

from __future__ import annotations

import json
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from soleplate.engine.building_file import Building, TooManyPiecesError, Units, format_length, telling, told
from soleplate.engine.covering import (
    Board,
    Cladding,
    clad_walls,
    cladding_out,
    courses_out,
    storey_rod,
    too_long,
)
from soleplate.engine.framing import Frame, WallTask, frame_wall, set_out
from soleplate.engine.layout import (
    CAUTIONS,
    BoardsOut,
    Finding,
    Layout,
    OpeningOut,
    Piece,
    PlanOut,
    WallOut,
    gravest_first,
)
from soleplate.engine.listing import (
    bays,
    buying_list,
    changes,
    cutting_list,
    number_boards,
    number_pieces,
    off_the_drawing,
    prefixes,
    running_marks,
    spacers,
)
from soleplate.engine.registry import Registry, load_registry
from soleplate.engine.rules import OpeningRule, choices
from soleplate.engine.shapes import Member, rounded

MOST_PIECES: Final = 40_000
"""In one building; a small timber building has some hundreds."""


def lay_out(
    building: Building, registry: Registry | None = None, *, most_pieces: int = MOST_PIECES
) -> Layout:
    """Lay a building out: the same file with the same plugins gives the same layout to the byte.

    Args:
        building: as `Registry.read_building` reads it.
        registry: the installed rules; found and loaded where it is not given.
        most_pieces: in the building; a server sets it lower.

    Raises:
        UnbuildableError: the building cannot be set out; every fault has its pointer.
        TooManyPiecesError: it has over `most_pieces`.
        RuleError: a plugin's rule failed, or returned what cannot be; names plugin, rule and wall.
    """
    with telling(building.units):
        return _laid_out(building, registry or load_registry(), most_pieces)


def _laid_out(building: Building, registry: Registry, most_pieces: int) -> Layout:
    built, boards = _built(set_out(building, registry), building, registry, most_pieces)
    designed: dict[str, Built] = {}
    if building.measured:
        tasks = set_out(building, registry, measured=False)
        every, _ = _built(tasks, building, registry, most_pieces)
        designed = {each.name: each for each in every if each.name in building.measured}
    walls = _walls(built, designed, building)
    pieces = [piece for wall in walls for piece in wall.pieces]
    layout = Layout.model_construct(
        format="soleplate.layout/1",
        name=building.name,
        units=building.units,
        building=building.model_dump(mode="json", exclude_none=True, context={"units": building.units}),
        walls=walls,
        storey_rod=storey_rod(_faces(built, indoors=False), building.units),
        lining_rod=storey_rod(_faces(built, indoors=True), building.units),
        boards=boards,
        cutting_list=cutting_list(pieces, building.units, building.stock.gang),
        buying_list=buying_list(pieces, building.units, boards),
        findings=tuple(
            finding
            for each, wall in zip(built, walls, strict=True)
            for finding in _findings(each, wall, designed)
        ),
        cautions=CAUTIONS,
        weight_kg=rounded(sum(wall.weight_kg for wall in walls)),
    )
    found = [
        finding.model_copy(update={"message": told(finding.message, building.units)})
        for finding in (*layout.findings, *registry.findings(layout, building))
    ]
    return layout.model_copy(update={"findings": gravest_first(dict.fromkeys(found))})


@dataclass(frozen=True, slots=True)
class Built:
    """A wall's frame, and its cladding and lining where it has any."""

    frame: Frame
    cladding: Cladding | None
    lining: Cladding | None

    @property
    def name(self) -> str:
        """Of the wall."""
        return self.frame.task.wall.name

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What was found while it was framed and clad."""
        clad = (each for each in (self.cladding, self.lining) if each)
        return (*self.frame.findings, *(finding for each in clad for finding in each.findings))

    def numbered(self, prefix: str, units: Units) -> NumberedWall:
        """The frame's members, the boards outside and those inside, each with its piece."""
        members = number_pieces(self.frame, prefix)
        outside = _numbered(self.cladding, prefix, len(members) + 1, units)
        inside = _numbered(self.lining, prefix, len(members) + len(outside) + 1, units)
        return NumberedWall(members, outside, inside)


def _faces(built: Sequence[Built], *, indoors: bool) -> Iterator[Cladding]:
    """The faces that are clad, those of partitions among the linings."""
    for each in built:
        for face, inside in ((each.cladding, each.frame.task.plan.is_partition), (each.lining, True)):
            if face is not None and inside == indoors:
                yield face


Boards = Sequence[tuple[Board, Piece]]


class NumberedWall(NamedTuple):
    """A wall's members and its boards, each with its piece."""

    members: Sequence[tuple[Member, Piece]]
    outside: Boards
    inside: Boards

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """All of them in the order of their marks."""
        return tuple(piece for group in self for _, piece in group)


def _numbered(cladding: Cladding | None, prefix: str, first: int, units: Units) -> Boards:
    return number_boards(cladding, prefix, first, units) if cladding else ()


def _findings(built: Built, wall_out: WallOut, designed: Mapping[str, Built]) -> Iterator[Finding]:
    """What was found in a wall, that it is not as long as drawn first."""
    if built.name in designed:
        drawn, wall = designed[built.name].frame.task.wall, built.frame.task.wall
        yield from off_the_drawing(wall.name, drawn.length, wall.length, built.frame.task.building.units)
    yield from built.findings
    for clad in (built.cladding, built.lining):
        if clad is not None and clad.too_long:
            pieces = [piece for piece in wall_out.pieces if piece.face == clad.face.facing]
            yield from too_long(clad, pieces, built.frame.task.building.units)


def _built(
    tasks: Sequence[WallTask], building: Building, registry: Registry, most_pieces: int
) -> tuple[list[Built], tuple[BoardsOut, ...]]:
    """Every wall framed and clad, and what boards are cut from; given up where there are too many pieces."""
    frames: list[Frame] = []
    count = 0
    for task in tasks:
        frames.append(frame_wall(task, registry))
        count += len(frames[-1].members)
        _refuse_many(count, most_pieces)
    clad = clad_walls(frames, building, registry)
    _refuse_many(count + sum(len(cladding.boards) for cladding in clad.by_face.values()), most_pieces)
    built = [
        Built(frame, clad.by_face.get((name, "outside")), clad.by_face.get((name, "inside")))
        for frame in frames
        for name in (frame.task.wall.name,)
    ]
    return built, clad.boards


def _refuse_many(count: int, most_pieces: int) -> None:
    if count > most_pieces:
        raise TooManyPiecesError.at(
            "", f"over {most_pieces} pieces; accepted are up to that: fewer walls, or wider spacing"
        )


def layout_json(layout: Layout) -> bytes:
    """A layout as JSON text, the same bytes every time."""
    text = json.dumps(layout.model_dump(mode="json", exclude_none=True), ensure_ascii=False, indent=1)
    return f"{text}\n".encode()


def _walls(built: Sequence[Built], designed: Mapping[str, Built], building: Building) -> tuple[WallOut, ...]:
    marks = prefixes([each.name for each in built])
    return tuple(_wall(each, designed.get(each.name), marks[each.name], building) for each in built)


def _wall(built: Built, designed: Built | None, prefix: str, building: Building) -> WallOut:
    frame = built.frame
    task, wall = frame.task, frame.wall
    numbered = built.numbered(prefix, building.units)
    pieces, members = numbered.pieces, numbered.members
    mark_of = {id(member): piece.mark for member, piece in members}
    start, run = task.plan.start, task.plan.run
    changed = (
        changes(designed.numbered(prefix, building.units).pieces, pieces, building.units) if designed else ()
    )
    return WallOut.model_construct(
        name=wall.name,
        length=rounded(wall.length),
        display=format_length(wall.length, building.units),
        plan=PlanOut(
            start=(rounded(start[0]), rounded(start[1])),
            direction=rounded(math.degrees(math.atan2(run[1], run[0])) % 360.0),
            depth=rounded(wall.depth),
        ),
        top_line=tuple((rounded(x), rounded(z)) for x, z in (frame.plates.top or wall.top).points),
        rules=_rules(frame),
        pieces=pieces,
        marks=running_marks(frame, members),
        bays=bays(frame, members),
        spacers=spacers(frame),
        openings=tuple(
            OpeningOut.model_construct(
                name=hole.name,
                kind=hole.kind,
                left=rounded(hole.left),
                right=rounded(hole.right),
                bottom=rounded(hole.bottom),
                top=rounded(hole.top),
                framing=framing,
                pieces=tuple(mark_of[id(member)] for member in framed if id(member) in mark_of),
            )
            for hole, framing, framed in frame.openings
        ),
        cladding=cladding_out(built.cladding, building.site.moisture_swing) if built.cladding else None,
        courses=courses_out(built.cladding, numbered.outside, building.units) if built.cladding else (),
        lining=cladding_out(built.lining, building.site.moisture_swing) if built.lining else None,
        lining_courses=courses_out(built.lining, numbered.inside, building.units) if built.lining else (),
        changes=changed,
        weight_kg=rounded(sum(piece.weight_kg for piece in pieces)),
    )


def _rules(frame: Frame) -> dict[str, str]:
    """The rule that a member picks, by its name; each opening tells its own."""
    told = [pick.member for family, pick in choices() if pick.most is None and family.base is not OpeningRule]
    return {member: rule.name for member in told for rule in frame.task.rules.by_member[member]}
