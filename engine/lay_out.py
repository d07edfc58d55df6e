"""The stages in order: a building file in, its layout out."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from typing import Final

from soleplate.engine.building import Building
from soleplate.engine.cautions import CAUTIONS
from soleplate.engine.errors import UnbuildableError
from soleplate.engine.framing import Frame, frame_wall
from soleplate.engine.layout import Layout, OpeningOut, PlanOut, WallOut
from soleplate.engine.lists import buying_list, cutting_list
from soleplate.engine.measuring import changes
from soleplate.engine.numbering import number_pieces, prefixes, rounded
from soleplate.engine.plugin_loading import load_registry
from soleplate.engine.registry import Registry
from soleplate.engine.running_marks import bays, running_marks, spacers
from soleplate.engine.setting_out import WallTask, set_out
from soleplate.engine.units import format_length

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
        RuleError: a plugin's rule failed, or returned what cannot be; names plugin, rule and wall.
    """
    registry = registry or load_registry()
    frames = _framed(set_out(building, registry), registry, most_pieces)
    designed: dict[str, Frame] = {}
    if building.measured:
        tasks = set_out(building, registry, measured=False)
        designed = {
            task.wall.name: frame_wall(task, registry)
            for task in tasks
            if task.wall.name in building.measured
        }
    walls = _walls(frames, designed, building)
    pieces = [piece for wall in walls for piece in wall.pieces]
    layout = Layout.model_construct(
        format="soleplate.layout/1",
        name=building.name,
        units=building.units,
        building=building.model_dump(mode="json", exclude_none=True, context={"units": building.units}),
        walls=walls,
        cutting_list=cutting_list(pieces, building.units, building.stock.gang),
        buying_list=buying_list(pieces, building.units),
        findings=tuple(finding for frame in frames for finding in frame.findings),
        cautions=CAUTIONS,
        weight_kg=rounded(sum(wall.weight_kg for wall in walls)),
    )
    found = registry.findings(layout, building)
    return layout.model_copy(update={"findings": (*layout.findings, *found)})


def _framed(tasks: Sequence[WallTask], registry: Registry, most_pieces: int) -> list[Frame]:
    """Every wall's frame, given up as soon as there are too many pieces."""
    frames: list[Frame] = []
    count = 0
    for task in tasks:
        frames.append(frame_wall(task, registry))
        count += len(frames[-1].members)
        if count > most_pieces:
            raise UnbuildableError.at(
                "", f"over {most_pieces} pieces; accepted are up to that: fewer walls, or wider spacing"
            )
    return frames


def layout_json(layout: Layout) -> bytes:
    """A layout as JSON text, the same bytes every time."""
    text = json.dumps(layout.model_dump(mode="json", exclude_none=True), ensure_ascii=False, indent=1)
    return f"{text}\n".encode()


def _walls(frames: list[Frame], designed: Mapping[str, Frame], building: Building) -> tuple[WallOut, ...]:
    marks = prefixes([frame.task.wall.name for frame in frames])
    return tuple(
        _wall(frame, designed.get(frame.task.wall.name), marks[frame.task.wall.name], building)
        for frame in frames
    )


def _wall(frame: Frame, designed: Frame | None, prefix: str, building: Building) -> WallOut:
    task, wall = frame.task, frame.wall
    numbered = number_pieces(frame, prefix)
    pieces = tuple(piece for _, piece in numbered)
    mark_of = {id(member): piece.mark for member, piece in numbered}
    start, run = task.plan.start, task.plan.run
    changed = (
        changes([piece for _, piece in number_pieces(designed, prefix)], pieces, building.units)
        if designed
        else ()
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
        marks=running_marks(frame, numbered),
        bays=bays(frame, numbered),
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
                pieces=tuple(mark_of[id(member)] for member in members if id(member) in mark_of),
            )
            for hole, framing, members in frame.openings
        ),
        changes=changed,
        weight_kg=rounded(sum(piece.weight_kg for piece in pieces)),
    )


def _rules(frame: Frame) -> dict[str, str]:
    rules = frame.task.rules
    used = {"studs": rules.studs.name, "top_plates": rules.top_plates.name, "corners": rules.corners.name}
    return used | ({"noggins": rules.noggins.name} if rules.noggins else {})
