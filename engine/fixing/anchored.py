"""Anchors that hold sole plates down, as the fixings of their joints with the base or the floor."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.fixing.driven import Driven
from soleplate.engine.fixing.timbers import Framed
from soleplate.engine.layout import FixingPlace, JointFixingOut, PartOut, WallOut
from soleplate.engine.shapes import Vector, rounded

BASE: Final = "base"
AFTER_RAISING: Final = "after raising"
BASIS: Final = "the wall's holding-down rule"


def anchored(parts: Sequence[PartOut], pieces: Sequence[Framed], driven: Driven) -> Iterator[JointFixingOut]:
    """The anchors of each sole plate, by what lies below; taken in by `driven`."""
    framed = {each.piece.mark: each for each in pieces}
    floors = [each for each in pieces if each.kind == "floor"]
    for wall in parts:
        if not isinstance(wall, WallOut):
            continue
        sorts: dict[tuple[str, str, str, float, float], list[FixingPlace]] = {}
        for anchor in wall.anchors:
            plate = framed[anchor.plate]
            top = max(v for _, v in plate.piece.outline)
            middle = sum(plate.piece.depth) / 2
            over = plate.view.point(anchor.at, top, middle)
            below = (over[0], over[1], over[2] - anchor.length)
            driven.add((over, below), anchor.diameter)
            sort = (anchor.plate, _below(over, floors), anchor.kind, anchor.diameter, anchor.length)
            sorts.setdefault(sort, []).append(FixingPlace(head=_place(over), point=_place(below)))
        for (plate_mark, into, kind, diameter, length), places in sorts.items():
            yield JointFixingOut(
                joint="base",
                through=plate_mark,
                into=into,
                kind=kind,
                diameter=diameter,
                length=length,
                shank="thread",
                way="face",
                when=AFTER_RAISING,
                places=tuple(places),
                basis=BASIS,
            )


def _below(over: Vector, floors: Sequence[Framed]) -> str:
    """The mark of the highest timber of a floor under a place; `base` where there is none."""
    under = [
        (max(corner[2] for corner in each.corners), each.piece.mark)
        for each in floors
        if _is_over(over, each)
    ]
    return max(under)[1] if under else BASE


def _is_over(over: Vector, timber: Framed) -> bool:
    xs, ys = [corner[0] for corner in timber.corners], [corner[1] for corner in timber.corners]
    return min(xs) <= over[0] <= max(xs) and min(ys) <= over[1] <= max(ys)


def _place(place: Vector) -> Vector:
    return rounded(place[0]), rounded(place[1]), rounded(place[2])
