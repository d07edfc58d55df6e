"""Pieces of a frame in the world, each with its faces and the direction of its grain."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

from soleplate.engine.layout import PartOut, Piece, plane_of
from soleplate.engine.shapes import (
    Outline,
    Point,
    Roles,
    Vector,
    View,
    bounds,
    contains,
    dot,
    moved,
    pairs,
    turned,
)

FaceKind = Literal["end", "edge", "broad"]
"""An end across the grain; an edge of the outline along it; one of the two faces in its view's plane."""

ACROSS: Final = 0.5
"""Cosine between an end's normal and the grain: ends are cut up to 60 degrees off square."""

AT_END: Final = 0.5
"""mm by which an end may fall short of the furthest point of its piece."""

LOOKED_AT: Final = 2.0
"""mm between the places of a fixing at which it is asked whether the timber is cut out."""

SQUARE: Final = 1e-9
"""What is left in a view's plane of a direction that is square to it."""

ALIKE: Final = 0.01
"""mm by which a piece's length and its extent along its grain may differ: both are rounded."""


@dataclass(frozen=True)
class Framed:
    """A piece of the frame with its part, and where that is."""

    part: str
    kind: Literal["wall", "floor", "slope"]
    piece: Piece
    view: View
    lies: Literal["upright", "level", "raked"]

    @cached_property
    def direction(self) -> Point:
        """Of its grain in the plane of its view, a unit vector: that along which it is as long as it says."""
        for way in self._directions():
            along = [u * way[0] + v * way[1] for u, v in self.piece.outline]
            if abs(max(along) - min(along) - self.piece.length) < ALIKE:
                return way
        return next(self._directions())

    def _directions(self) -> Iterator[Point]:
        longest = max(pairs(self.piece.outline), key=lambda edge: round(math.dist(*edge), 3))
        (u0, v0), (u1, v1) = longest
        size = math.dist(*longest)
        raked = ((u1 - u0) / size, (v1 - v0) / size)
        usual = {"upright": (0.0, 1.0), "level": (1.0, 0.0), "raked": raked}
        yield usual[self.lies]
        yield from (way for lies, way in usual.items() if lies != self.lies)

    @cached_property
    def grain(self) -> Vector:
        """Its direction in the world."""
        u, v = self.direction
        right, up = self.view.right, self.view.up
        return u * right[0] + v * up[0], u * right[1] + v * up[1], u * right[2] + v * up[2]

    @cached_property
    def corners(self) -> tuple[Vector, ...]:
        """All of them in the world."""
        return tuple(self.view.point(u, v, w) for w in self.piece.depth for u, v in self.piece.outline)

    def extent(self, way: Vector) -> tuple[float, float]:
        """How far it reaches along a direction, least and greatest."""
        x, y, z = way
        along = [x * a + y * b + z * c for a, b, c in self.corners]
        return min(along), max(along)

    @cached_property
    def density(self) -> float:
        """Mean, kg/m3."""
        twice = sum(u0 * v1 - u1 * v0 for (u0, v0), (u1, v1) in pairs(self.piece.outline))
        low, high = self.piece.depth
        return self.piece.weight_kg / (twice / 2 * (high - low)) * 1e9

    @cached_property
    def cut_out(self) -> tuple[tuple[Outline, float, float], ...]:
        """What is cut out of its faces for others to lie flush in: outline, and from which depth to which."""
        left, _, bottom, _ = bounds(self.piece.outline)
        low, high = self.piece.depth
        return tuple(
            (
                tuple((left + x, bottom + z) for x, z in each.outline),
                *((low, low + each.deep) if each.face == "outside" else (high - each.deep, high)),
            )
            for each in self.piece.housings or ()
        )

    def is_cut_along(self, start: Vector, end: Vector) -> bool:
        """Whether a line from one place to another meets a housing of it."""
        if not self.piece.housings:
            return False
        right, up, inwards, (u0, v0, w0) = self._axes
        steps = max(int(math.dist(start, end) / LOOKED_AT), 1)
        for step in range(steps + 1):
            share = step / steps
            x, y, z = (a + (b - a) * share for a, b in zip(start, end, strict=True))
            at = (dot((x, y, z), right) - u0, dot((x, y, z), up) - v0)
            w = dot((x, y, z), inwards) - w0
            if any(low < w < high and contains(outline, at) for outline, low, high in self.cut_out):
                return True
        return False

    def holds(self, place: Vector) -> bool:
        """Whether a place is within it."""
        right, up, inwards, (u0, v0, w0) = self._axes
        low, high = self.piece.depth
        w = dot(place, inwards) - w0
        return low - 0.1 <= w <= high + 0.1 and contains(
            self.piece.outline, (dot(place, right) - u0, dot(place, up) - v0)
        )

    def way_out(self, start: Vector, way: Vector) -> float:
        """How far it is from a place within or on it until it is left along a direction, mm; 0 outside."""
        # This is asked of every candidate. So it is written out: calls and tuples would take twice the time.
        (rx, ry, rz), (ux, uy, uz), (ix, iy, iz), (u0, v0, w0) = self._axes
        (x, y, z), (dx, dy, dz) = start, way
        w, dw = x * ix + y * iy + z * iz - w0, dx * ix + dy * iy + dz * iz
        low, high = self.piece.depth
        if not low - 0.1 <= w <= high + 0.1:
            return 0.0
        out = math.inf if abs(dw) < SQUARE else max(((high if dw > 0 else low) - w) / dw, 0.0)
        place = (x * rx + y * ry + z * rz - u0, x * ux + y * uy + z * uz - v0)
        ahead = (dx * rx + dy * ry + dz * rz, dx * ux + dy * uy + dz * uz)
        return min(out, _out_of(self.piece.outline, place, ahead))

    @cached_property
    def _axes(self) -> tuple[Vector, Vector, Vector, Vector]:
        """Of its view: right, up, inwards, and its origin along each."""
        view = self.view
        right, up, inwards = view.right, view.up, view.inwards
        return right, up, inwards, (dot(view.origin, right), dot(view.origin, up), dot(view.origin, inwards))


def _out_of(outline: Outline, start: Point, way: Point) -> float:
    """How far along a direction an outline is left for the first time, in multiples of the direction."""
    (u, v), (du, dv) = start, way
    if math.hypot(du, dv) < SQUARE:
        return math.inf
    least = math.inf
    for (u0, v0), (u1, v1) in pairs(outline):
        eu, ev = u1 - u0, v1 - v0
        # Anticlockwise: the edge is crossed outwards where the way turns right of it.
        crossing = du * ev - dv * eu
        if crossing > SQUARE * (abs(eu) + abs(ev)):
            out = ((u0 - u) * ev - (v0 - v) * eu) / crossing
            along = ((u + du * out - u0) * eu + (v + dv * out - v0) * ev) / (eu * eu + ev * ev)
            if out > -0.1 and -1e-6 <= along <= 1 + 1e-6 and out < least:
                least = out
    return max(least, 0.0) if least < math.inf else 0.0


@dataclass(frozen=True, slots=True)
class TimberFace:
    """A flat face of a piece: its outward normal and its corners in the world."""

    of: int
    kind: FaceKind
    normal: Vector
    corners: tuple[Vector, ...]


def framed_pieces(parts: Sequence[PartOut], roles: Roles) -> tuple[Framed, ...]:
    """All pieces of the frames of all parts, in their order."""
    return tuple(
        Framed(part.name, _kind_of(part), piece, planes[piece.view or "face"], roles[piece.role].lies)
        for part in parts
        for planes in [{name: plane_of(part, name) for name in part.views}]
        for piece in part.pieces
        if piece.is_frame
    )


def _kind_of(part: PartOut) -> Literal["wall", "floor", "slope"]:
    return getattr(part, "kind", "wall")


def faces_of(index: int, framed: Framed) -> Iterator[TimberFace]:
    """The faces of a piece; `index` tells it from others."""
    view, outline = framed.view, framed.piece.outline
    inwards, grain = view.inwards, framed.grain
    low, high = framed.extent(grain)
    near, far = framed.corners[: len(outline)], framed.corners[len(outline) :]
    yield TimberFace(index, "broad", (-inwards[0], -inwards[1], -inwards[2]), near)
    yield TimberFace(index, "broad", inwards, far)
    for cut, near_face, far_face in framed.cut_out:
        # The floor of a housing, on which lies what is let in: it looks out of the timber.
        is_outer = near_face < framed.piece.depth[0] + AT_END
        floor = tuple(view.point(u, v, far_face if is_outer else near_face) for u, v in cut)
        yield TimberFace(index, "broad", turned(inwards) if is_outer else inwards, floor)
    for number, ((u0, v0), (u1, v1)) in enumerate(pairs(outline)):
        size = math.hypot(u1 - u0, v1 - v0)
        across, along = (v1 - v0) / size, (u0 - u1) / size
        normal = moved(
            (across * view.right[0], across * view.right[1], across * view.right[2]), view.up, along
        )
        after = (number + 1) % len(outline)
        corners = (near[number], near[after], far[after], far[number])
        cosine = dot(normal, grain)
        reach = [dot(corner, grain) for corner in corners]
        is_end = (cosine > ACROSS and max(reach) > high - AT_END) or (
            cosine < -ACROSS and min(reach) < low + AT_END
        )
        yield TimberFace(index, "end" if is_end else "edge", normal, corners)
