"""Floors as what draws walls takes them: seen from above, joists upright, the first rim joist at the foot."""

from __future__ import annotations

import math
from dataclasses import dataclass

from soleplate.engine.layout import FloorOut, Layout, PlanOut, WallOut
from soleplate.viewer.drawings.laid_slopes import LaidSlope, laid_slope
from soleplate.viewer.words import Texts


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidFloor(WallOut):
    """A floor told like a wall that lies on its face; its deck is what a wall's cladding is."""

    floor: FloorOut
    """The floor itself."""


def laid(floor: FloorOut) -> LaidFloor:
    """A floor as a wall in the plane of its frame."""
    across, along = floor.length, floor.width
    if floor.runs == "left-right":
        across, along = along, across
    view = next(iter(floor.views.values()))
    x, y, _ = view.origin
    joists = (piece.depth[1] for piece in floor.pieces if piece.role == "joist")
    return LaidFloor(
        floor=floor,
        name=floor.name,
        length=across,
        display=floor.display,
        plan=PlanOut(
            start=(x, y),
            direction=math.degrees(math.atan2(view.right[1], view.right[0])) % 360.0,
            depth=max(joists, default=0.0),
        ),
        views=floor.views,
        top_line=((0.0, along), (across, along)),
        rules=floor.rules,
        pieces=floor.pieces,
        marks=floor.marks,
        plate_lengths=floor.plate_lengths,
        bays=floor.bays,
        spacers=floor.spacers,
        openings=floor.openings,
        cladding=floor.deck,
        courses=floor.courses,
        lining=None,
        lining_courses=(),
        changes=(),
        insulation=floor.insulation,
        insulation_m2=floor.insulation_m2,
        weight_kg=floor.weight_kg,
    )


def told_of(wall: WallOut, texts: Texts) -> Texts:
    """The texts by which a part is told: of a floor, a slope and a partition their own ones."""
    if isinstance(wall, LaidSlope):
        return texts.told_of_slope()
    if isinstance(wall, LaidFloor):
        return texts.told_of_floor(wall.floor.runs)
    return texts if wall.faces is None else texts.told_of_partition(*wall.faces)


def drawn_parts(layout: Layout) -> tuple[WallOut, ...]:
    """All that is drawn in its own plane: the walls, then floors and slopes as they lie."""
    return (*layout.walls, *(laid(floor) for floor in layout.floors), *map(laid_slope, layout.roofs))
