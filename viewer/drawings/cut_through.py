"""Where the building is cut through, what that cuts, and what is seen beyond it.

Across, the plane goes through a rafter; along, through the rungs of verge ladders; both clear of openings
where they can be. A floor alone is cut along its joists.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from soleplate.engine.layout import FloorOut, Layout, PartOut, Piece, SlopeOut, WallOut, seen_solids
from soleplate.engine.shapes import TOUCH, Outline, Solid, Vector, View, clip, hull, section

BEYOND: Final = 1300.0
"""mm behind the plane: what is further off is not drawn."""

SHARES: Final = (0.5, 0.4, 0.6, 0.3, 0.7)
"""Of the depth or length of a building, where it may be cut that has nothing else to go by."""


SeenFrom = Literal["left", "right", "front", "back"]

SIDES: Final[tuple[tuple[SeenFrom, SeenFrom], ...]] = (("right", "left"), ("front", "back"))
"""By the axis that a plane is square to, the side that it is usually seen from, and the other."""


@dataclass(frozen=True, slots=True)
class ShownPiece:
    """A piece in a section: what is cut of it, or its outline beyond; u along the section, v up, mm."""

    piece: Piece
    part: PartOut
    outline: Outline


@dataclass(frozen=True, slots=True)
class CutThrough:
    """A section: its plane, upright and square to the walls, `at` mm along the other axis of the world."""

    kind: Literal["across", "along"]
    plane: View
    at: float
    seen_from: SeenFrom
    cut: tuple[ShownPiece, ...]
    beyond: tuple[ShownPiece, ...]
    pads: tuple[float, ...]
    """Middles of the nearest pads of each row, along the section."""


def cuts_through(layout: Layout) -> list[CutThrough]:
    """The sections of a building with a floor or a framed roof: across, and of a roof along too."""
    if not (layout.floors or layout.roofs):
        return []
    axis = _axis_along(layout)
    found = [_made(layout, "across", axis, _across(layout, axis))]
    if layout.roofs:
        found.append(_made(layout, "along", 1 - axis, _along(layout, 1 - axis)))
    return found


def _axis_along(layout: Layout) -> int:
    """The axis of the world, 0 or 1, along which the eaves run; without a roof, across the joists."""
    if layout.roofs:
        return 0 if abs(layout.roofs[0].views["eaves"].right[0]) > 0.5 else 1
    return 0 if layout.floors[0].runs == "front-back" else 1


def _across(layout: Layout, axis: int) -> float:
    """Within a whole rafter, the nearest to the middle of the building that is clear of openings.

    It is a quarter of its breadth off its middle, over which sheets of the deck are butted.
    """
    places: list[float] = []
    for slope in layout.roofs[:1]:
        whole = max(piece.length for piece in slope.pieces if piece.role == "rafter")
        rafters = [p for p in slope.pieces if p.role == "rafter" and p.length > whole - 0.01]
        places = [_middle(piece, slope)[axis] + piece.section[0] / 4 for piece in rafters]
    return _best(layout, axis, places)


def _along(layout: Layout, axis: int) -> float:
    """The middle of a rung of the first slope, the nearest to the middle of its run that is clear."""
    slope = layout.roofs[0]
    places = [_middle(piece, slope)[axis] for piece in slope.pieces if piece.role == "rung"]
    return _best(layout, axis, places)


def _best(layout: Layout, axis: int, places: Sequence[float]) -> float:
    low, high = _reach(layout, axis)
    wanted = (low + high) / 2
    choices = places or [low + share * (high - low) for share in SHARES]
    return min(choices, key=lambda at: (_through(layout, axis, at), abs(at - wanted), at))


def _through(layout: Layout, axis: int, at: float) -> int:
    """How many openings a plane goes through."""
    count = 0
    for wall in layout.walls:
        face = wall.views["face"]
        start, way = face.origin[axis], face.right[axis]
        for opening in wall.openings:
            edges = sorted((start + way * opening.left, start + way * opening.right))
            count += abs(way) > 0.5 and edges[0] < at < edges[1]
    return count


def _reach(layout: Layout, axis: int) -> tuple[float, float]:
    """From where to where walls stand along an axis of the world."""
    ends = [
        wall.views["face"].origin[axis] + share * wall.length * wall.views["face"].right[axis]
        for wall in layout.walls
        for share in (0.0, 1.0)
    ]
    return min(ends), max(ends)


def _middle(piece: Piece, part: PartOut) -> Vector:
    lows, highs = zip(*(solid.extent for solid in seen_solids(piece, part)), strict=True)
    x, y, z = (
        (min(low) + max(high)) / 2
        for low, high in zip(zip(*lows, strict=True), zip(*highs, strict=True), strict=True)
    )
    return x, y, z


def _made(layout: Layout, kind: Literal["across", "along"], axis: int, at: float) -> CutThrough:
    """Seen from the right or the front; from the other side where a tie is beyond from there alone."""
    usual, other = _plane(axis, at, turned=False), _plane(axis, at, turned=True)
    plane, turned = usual, False
    if _ties(layout, other) and not _ties(layout, usual):
        plane, turned = other, True
    cut = tuple(_cut(layout, plane))
    usual_side, other_side = SIDES[axis]
    return CutThrough(
        kind=kind,
        plane=plane,
        at=at,
        seen_from=other_side if turned else usual_side,
        cut=cut,
        beyond=tuple(_beyond(layout, plane, cut)),
        pads=tuple(_pads(layout, plane)),
    )


def _plane(axis: int, at: float, *, turned: bool) -> View:
    """An upright plane square to an axis of the world, seen from the right or the front unless turned."""
    origin = (at, 0.0, 0.0) if axis == 0 else (0.0, at, 0.0)
    way = -1.0 if turned else 1.0
    right = (0.0, way, 0.0) if axis == 0 else (way, 0.0, 0.0)
    return View("section", origin, right, (0.0, 0.0, 1.0))


def _cut(layout: Layout, plane: View) -> Iterator[ShownPiece]:
    for part in layout.parts:
        for piece in part.pieces:
            for solid in seen_solids(piece, part):
                for outline in section(solid, plane):
                    yield ShownPiece(piece, part, outline)


def _behind(solid: Solid, plane: View) -> float:
    """How far the near side of a solid lies behind a plane, mm."""
    corners = (solid.view.point(u, v, w) for u, v in solid.outline for w in solid.depth)
    return min(_depth(plane, corner) for corner in corners)


def _depth(plane: View, place: Vector) -> float:
    return sum((p - o) * a for p, o, a in zip(place, plane.origin, plane.inwards, strict=True))


def _ties(layout: Layout, plane: View) -> bool:
    return any(
        -TOUCH <= _behind(solid, plane) <= BEYOND / 4
        for slope in layout.roofs
        for _, solid in _solids(slope, {"tie"})
    )


def _beyond(layout: Layout, plane: View, cut: Sequence[ShownPiece]) -> Iterator[ShownPiece]:
    """Of each kind that goes on behind the plane the nearest, where none of it is cut; and raked plates."""
    walls = {id(shown.part) for shown in cut if isinstance(shown.part, WallOut)}
    for part in layout.parts:
        for roles in _kinds(part, layout, id(part) in walls):
            if any(shown.part is part and shown.piece.role in roles for shown in cut):
                continue
            found = [(_behind(solid, plane), piece, solid) for piece, solid in _solids(part, roles)]
            near = [each for each in found if -TOUCH <= each[0] <= BEYOND]
            nearest = min((far for far, _, _ in near), default=0.0)
            for far, piece, solid in near:
                if far < nearest + 0.5:
                    yield ShownPiece(piece, part, _projected(solid, plane))
        if id(part) in walls:
            for piece, solid in _solids(part, {"raked plate"}):
                if outline := _rest(solid, plane):
                    yield ShownPiece(piece, part, outline)


def _solids(part: PartOut, roles: set[str]) -> Iterator[tuple[Piece, Solid]]:
    for piece in part.pieces:
        if piece.role in roles:
            for solid in seen_solids(piece, part):
                yield piece, solid


def _rest(solid: Solid, plane: View) -> Outline:
    """What of a solid that stands square to a plane is seen behind it; `()` where nothing is."""
    view = solid.view
    a, b = (sum(p * q for p, q in zip(axis, plane.inwards, strict=True)) for axis in (view.right, view.up))
    away = _depth(plane, view.origin)
    size = a * a + b * b
    if size < TOUCH:
        return ()
    foot = (-away * a / size, -away * b / size)
    rest = clip(solid.outline, foot, (foot[0] + b, foot[1] - a))
    return _projected(Solid(rest, solid.depth, view), plane) if rest else ()


def _kinds(part: PartOut, layout: Layout, is_cut: bool) -> list[set[str]]:
    """The kinds of a part's pieces of which the nearest beyond is drawn, by their roles."""
    if isinstance(part, FloorOut):
        return [{"joist"}, {"bearer"}]
    if isinstance(part, SlopeOut):
        return [{"tie"}, {"post"}]
    stands = {piece.role for piece in part.pieces if layout.role_of(piece).full_height}
    return [stands] if is_cut else []


def _projected(solid: Solid, plane: View) -> Outline:
    """A solid's outline as it is seen square to a plane: its own where it lies parallel, else its hull."""
    corners = [
        [_in(plane, solid.view.point(u, v, w)) for u, v in solid.outline] for w in solid.depth
    ]  # fmt: skip
    across = sum(a * b for a, b in zip(solid.view.inwards, plane.inwards, strict=True))
    if abs(across) > 1.0 - 1e-9:
        return tuple(corners[0])
    return hull([place for face in corners for place in face])


def _in(plane: View, place: Vector) -> tuple[float, float]:
    away = [p - o for p, o in zip(place, plane.origin, strict=True)]
    u, v = (sum(a * b for a, b in zip(away, axis, strict=True)) for axis in (plane.right, plane.up))
    return u, v


def _pads(layout: Layout, plane: View) -> Iterator[float]:
    """The middles along the section of pads that are cut, or of the nearest beyond in each row."""
    for floor in layout.floors:
        half = (floor.pad_size or 0.0) / 2
        rows: dict[float, float] = {}
        for x, y in floor.pads:
            u, _ = _in(plane, (x, y, 0.0))
            far = _depth(plane, (x, y, 0.0))
            if far > -half:
                rows[round(u, 3)] = min(far, rows.get(round(u, 3), far))
        nearest = min(rows.values(), default=0.0)
        yield from sorted(u for u, far in rows.items() if far < nearest + 0.5)
