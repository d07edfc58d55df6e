"""Slopes as what draws walls takes them: pieces as they are seen square to the slope, the eaves below."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from soleplate.engine.layout import Piece, PlanOut, SlopeOut, WallOut, plane_of
from soleplate.engine.shapes import Outline, Vector, View, clip, hull


@dataclass(frozen=True, slots=True, kw_only=True)
class LaidSlope(WallOut):
    """A slope told like a wall that lies on its face; its deck is what a wall's cladding is."""

    slope: SlopeOut
    """The slope itself."""


def laid_slope(slope: SlopeOut) -> LaidSlope:
    """A slope as a wall in its plane, from the lowest of its pieces up; ties end at its high end."""
    views = {name: plane_of(slope, name) for name in slope.views}
    across = views["slope"]
    seen = {piece.mark: _seen(piece, views, across) for piece in slope.pieces}
    rafters = [v for piece in slope.pieces if piece.role == "rafter" for _, v in seen[piece.mark][0]]
    top = max(rafters)
    own = [p for p in slope.pieces if p.role not in ("tie", "post")]
    foot = min(v for piece in own for _, v in seen[piece.mark][0])
    x, y, _ = across.origin
    height = top - foot
    return LaidSlope(
        slope=slope,
        name=slope.name,
        length=slope.length,
        display=slope.display,
        plan=PlanOut(
            start=(x, y),
            direction=math.degrees(math.atan2(across.right[1], across.right[0])) % 360.0,
            depth=max(piece.section[1] for piece in slope.pieces if piece.role == "rafter"),
        ),
        views=slope.views,
        top_line=((0.0, height), (slope.length, height)),
        rules=slope.rules,
        pieces=tuple(_drawn(piece, *seen[piece.mark], views, across, foot, top) for piece in slope.pieces),
        marks=slope.marks,
        plate_lengths=slope.plate_lengths,
        bays=slope.bays,
        spacers=slope.spacers,
        openings=tuple(
            replace(opening, bottom=opening.bottom - foot, top=opening.top - foot)
            for opening in slope.openings
        ),
        cladding=slope.deck,
        courses=slope.courses,
        lining=None,
        lining_courses=(),
        changes=slope.changes,
        insulation=slope.insulation,
        insulation_m2=slope.insulation_m2,
        vapour_m2=slope.vapour_m2,
        weight_kg=slope.weight_kg,
    )


def _drawn(
    piece: Piece,
    outline: Outline,
    depth: tuple[float, float],
    views: dict[str, View],
    across: View,
    foot: float,
    top: float,
) -> Piece:
    """A piece as it is seen, v from the foot of the drawing up.

    Battens are told with the deck that they lie on.
    """
    cut = clip(outline, (1.0, top), (0.0, top)) if piece.role == "tie" else outline
    own = views[piece.view or "slope"]
    up = _in(across, own.origin)[1] - foot

    def moved(points: Outline) -> Outline:
        return tuple((u, v + up) for u, v in points)

    return replace(
        piece,
        outline=tuple((round(u, 3), round(v - foot, 3)) for u, v in cut),
        depth=(round(depth[0], 3), round(depth[1], 3)),
        face="outside" if piece.role == "batten" else piece.face,
        seen=tuple(map(moved, piece.seen)) if piece.seen is not None else None,
        fixed_at=moved(piece.fixed_at) if piece.fixed_at is not None else None,
    )


def _seen(piece: Piece, views: dict[str, View], across: View) -> tuple[Outline, tuple[float, float]]:
    """A piece as it is seen square to the slope, and how deep it lies; of a post its head alone."""
    view = views[piece.view or "slope"]
    corners = [(u, v, w) for u, v in piece.outline for w in piece.depth]
    if piece.role == "post":
        highest = max(v for _, v, _ in corners)
        corners = [corner for corner in corners if corner[1] > highest - 1.0]
    places = [_in(across, view.point(*corner)) for corner in corners]
    depths = [w for _, _, w in places]
    if view.name in ("slope", "deck"):
        up = _in(across, view.origin)[1]
        return tuple((u, v + up) for u, v in piece.outline), (min(depths), max(depths))
    return hull([(u, v) for u, v, _ in places]), (min(depths), max(depths))


def verges(wall: WallOut) -> tuple[float, float]:
    """How far a slope's pieces lie past its walls at its left and right; 0 of a wall."""
    if not isinstance(wall, LaidSlope):
        return 0.0, 0.0
    edges = [u for piece in wall.pieces for u, _ in piece.outline]
    return max(0.0, -min(edges)), max(0.0, max(edges) - wall.length)


def _in(view: View, place: Vector) -> Vector:
    """A place of the world in a view: u, v and depth."""
    u, v, w = (
        sum((p - o) * a for p, o, a in zip(place, view.origin, axis, strict=True))
        for axis in (view.right, view.up, view.inwards)
    )
    return u, v, w
