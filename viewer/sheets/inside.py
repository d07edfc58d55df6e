"""A wall seen from its inner side, told as if that were its outer: its lining is then its cladding."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from soleplate.engine.layout import CourseOut, OpeningOut, Piece, WallOut
from soleplate.engine.rules import Facing
from soleplate.engine.shapes import Point
from soleplate.viewer.sheets.parts import SheetPart


def from_inside(wall: WallOut) -> WallOut:
    """The wall turned round: x runs the other way, y from the inner face outwards; marks stay outside."""
    return replace(
        wall,
        pieces=tuple(_turned(piece, wall) for piece in wall.pieces),
        openings=tuple(_opening(opening, wall.length) for opening in reversed(wall.openings)),
        top_line=_points(wall.top_line, wall.length),
        cladding=wall.lining,
        lining=wall.cladding,
        panels=wall.panels
        and tuple(
            replace(panel, start=wall.length - panel.start - panel.length) for panel in reversed(wall.panels)
        ),
        courses=tuple(map(_course, wall.lining_courses)),
        lining_courses=tuple(map(_course, wall.courses)),
    )


def parts_from_inside(parts: Sequence[SheetPart], length: float) -> list[SheetPart]:
    """The parts of a wall in the order in which they come from inside."""
    return [
        SheetPart(length - part.right, length - part.left, part.count + 1 - part.number, part.count)
        for part in reversed(parts)
    ]


def _turned(piece: Piece, wall: WallOut) -> Piece:
    least, most = piece.depth
    sides: dict[Facing | None, Facing | None] = {"outside": "inside", "inside": "outside", None: None}
    return replace(
        piece,
        outline=_points(piece.outline, wall.length),
        seen=piece.seen and tuple(_points(outline, wall.length) for outline in piece.seen),
        depth=(wall.plan.depth - most, wall.plan.depth - least),
        face=sides[piece.face],
    )


def _points(outline: Sequence[Point], length: float) -> tuple[Point, ...]:
    return tuple((length - x, z) for x, z in reversed(outline))


def _opening(opening: OpeningOut, length: float) -> OpeningOut:
    return replace(opening, left=length - opening.right, right=length - opening.left)


def _course(course: CourseOut) -> CourseOut:
    return replace(course, boards=tuple(reversed(course.boards)))
