"""Solids: pieces in the world, as convex parts with flat faces; overlaps, volumes, centres and sections."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from soleplate.engine.shapes.outlines import Outline, Point, area, convex_parts, left_parts, pairs
from soleplate.engine.shapes.tolerances import STRAIGHT, TOUCH
from soleplate.engine.shapes.vectors import cross, dot, minus, scaled
from soleplate.engine.shapes.views import Vector, View

PARALLEL = 1e-9
"""Length of the cross product of two unit vectors below which they count as parallel."""


@dataclass(frozen=True, slots=True)
class ConvexPart:
    """A convex prism: its corners, the unit normals of its faces and the directions of its edges.

    Of parallel faces, and of parallel edges, there is one.
    """

    corners: tuple[Vector, ...]
    normals: tuple[Vector, ...]
    edges: tuple[Vector, ...]


@dataclass(frozen=True)
class Solid:
    """A prism in the world: `outline` in the plane of `view`, between the depths of `depth`, mm."""

    outline: Outline
    depth: tuple[float, float]
    view: View

    @cached_property
    def parts(self) -> tuple[ConvexPart, ...]:
        """Its convex parts: one of a convex outline, else triangles."""
        return tuple(_part(outline, self.depth, self.view) for outline in convex_parts(self.outline))

    @cached_property
    def extent(self) -> tuple[Vector, Vector]:
        """Its least and its greatest X, Y and Z, mm."""
        corners = [self.view.point(u, v, w) for u, v in self.outline for w in self.depth]
        xs, ys, zs = zip(*corners, strict=True)
        return (min(xs), min(ys), min(zs)), (max(xs), max(ys), max(zs))

    @property
    def volume(self) -> float:
        """mm3."""
        return area(self.outline) * (self.depth[1] - self.depth[0])

    @property
    def centre_of_gravity(self) -> Vector:
        """In the world, mm."""
        twice = moment_u = moment_v = 0.0
        # About its first corner: far from the origin the moments of a small outline would cancel.
        (u, v), *_ = self.outline
        for (u0, v0), (u1, v1) in pairs([(a - u, b - v) for a, b in self.outline]):
            cross = u0 * v1 - u1 * v0
            twice += cross
            moment_u += (u0 + u1) * cross
            moment_v += (v0 + v1) * cross
        return self.view.point(
            u + moment_u / twice / 3, v + moment_v / twice / 3, (self.depth[0] + self.depth[1]) / 2
        )


def overlap_in_space(one: Solid, other: Solid) -> bool:
    """Whether two solids share more than a sliver thinner than `TOUCH`."""
    return _extents_meet(one, other) and any(
        _convex_overlap(part, part2) for part in one.parts for part2 in other.parts
    )


def overlapping(solids: Sequence[Solid]) -> Iterator[tuple[int, int]]:
    """The places of every two that overlap; a sweep along X compares those alone that share a stretch."""
    active: list[int] = []
    for index in sorted(range(len(solids)), key=lambda index: solids[index].extent[0][0]):
        solid = solids[index]
        start = solid.extent[0][0] + TOUCH
        active = [other for other in active if solids[other].extent[1][0] > start]
        for other in active:
            if overlap_in_space(solids[other], solid):
                yield min(index, other), max(index, other)
        active.append(index)


def section(solid: Solid, plane: View) -> tuple[Outline, ...]:
    """What a plane cuts of a solid, as outlines in the plane's own u and v, anticlockwise, mm.

    Parts that lie apart are told apart. Nothing is cut by a plane that only touches it.
    """
    view, inwards = solid.view, plane.inwards
    a, b, c = (dot(axis, inwards) for axis in (view.right, view.up, view.inwards))
    away = dot(minus(view.origin, plane.origin), inwards)
    near, far = solid.depth
    across = math.hypot(a, b)
    if abs(c) < PARALLEL:
        # The plane holds the direction of the depth: it cuts straight through the outline.
        foot, run = (-away * a / across**2, -away * b / across**2), (b / across, -a / across)
        cut = [
            tuple(_placed(view, plane, (u, v, w)) for u, v, w in
                  ((*start, near), (*start, far), (*end, far), (*end, near)))
            for start, end in _chords(solid.outline, foot, run)
        ]  # fmt: skip
    elif across < PARALLEL:
        depth = -away / c
        is_within = near + TOUCH < depth < far - TOUCH
        cut = [tuple(_placed(view, plane, (u, v, depth)) for u, v in solid.outline)] if is_within else []
    else:
        # At the plane the depth is a level function of u and v: what lies between both depths is a strip.
        parts = [solid.outline]
        for depth, side in ((near, -1.0), (far, 1.0)):
            turn = side if c > 0 else -side
            share = -(away + c * depth) / across**2
            foot = (share * a, share * b)
            run = (turn * b / across, -turn * a / across)
            parts = [
                left
                for part in parts
                for left in left_parts(part, foot, (foot[0] + run[0], foot[1] + run[1]))
            ]
        cut = [
            tuple(_placed(view, plane, (u, v, -(away + a * u + b * v) / c)) for u, v in part)
            for part in parts
        ]
    turned = (outline if area(outline) > 0 else outline[::-1] for outline in cut)
    return tuple(outline for outline in turned if area(outline) > TOUCH**2)


def _chords(outline: Outline, foot: Point, run: Point) -> Iterator[tuple[Point, Point]]:
    """Where a line through `foot` along the unit vector `run` lies within an outline."""
    sides = [run[0] * (v - foot[1]) - run[1] * (u - foot[0]) for u, v in outline]
    # A line that only touches a side does not cut.
    if min(sides) > -TOUCH or max(sides) < TOUCH:
        return
    left = left_parts(outline, foot, (foot[0] + run[0], foot[1] + run[1]))
    for part in left:
        for start, end in pairs(part):
            if (
                max(abs(run[0] * (v - foot[1]) - run[1] * (u - foot[0])) for u, v in (start, end))
                < 2 * STRAIGHT
            ):
                yield start, end


def _placed(view: View, plane: View, place: Vector) -> Point:
    """A place of a view in the u and v of a plane."""
    from_origin = minus(view.point(*place), plane.origin)
    return dot(from_origin, plane.right), dot(from_origin, plane.up)


def _extents_meet(one: Solid, other: Solid) -> bool:
    (x0, y0, z0), (x1, y1, z1) = one.extent
    (x2, y2, z2), (x3, y3, z3) = other.extent
    return (
        y0 < y3 - TOUCH
        and y2 < y1 - TOUCH
        and z0 < z3 - TOUCH
        and z2 < z1 - TOUCH
        and x0 < x3 - TOUCH
        and x2 < x1 - TOUCH
    )


def _convex_overlap(one: ConvexPart, other: ConvexPart) -> bool:
    """By separating axes: convex bodies are apart along a face's normal, or across an edge of each."""
    if any(_apart(axis, one, other) for axis in (*one.normals, *other.normals)):
        return False
    for edge in one.edges:
        for edge2 in other.edges:
            across = cross(edge, edge2)
            size = math.hypot(*across)
            if size > PARALLEL and _apart(scaled(across, 1 / size), one, other):
                return False
    return True


def _apart(axis: Vector, one: ConvexPart, other: ConvexPart) -> bool:
    x, y, z = axis
    ours = [x * a + y * b + z * c for a, b, c in one.corners]
    theirs = [x * a + y * b + z * c for a, b, c in other.corners]
    return min(max(ours) - min(theirs), max(theirs) - min(ours)) <= TOUCH


def _part(outline: Outline, depth: tuple[float, float], view: View) -> ConvexPart:
    inwards = view.inwards
    along = _distinct([_direction(view, start, end) for start, end in pairs(outline)])
    return ConvexPart(
        corners=tuple(view.point(u, v, w) for w in depth for u, v in outline),
        normals=(inwards, *(cross(edge, inwards) for edge in along)),
        edges=(inwards, *along),
    )


def _direction(view: View, start: tuple[float, float], end: tuple[float, float]) -> Vector:
    """The unit vector along an edge of an outline."""
    size = math.dist(start, end)
    right, up = (end[0] - start[0]) / size, (end[1] - start[1]) / size
    (rx, ry, rz), (ux, uy, uz) = view.right, view.up
    return right * rx + up * ux, right * ry + up * uy, right * rz + up * uz


def _distinct(directions: Sequence[Vector]) -> list[Vector]:
    """Directions without those that are parallel to one before."""
    kept: list[Vector] = []
    for each in directions:
        if all(math.hypot(*cross(each, other)) > PARALLEL for other in kept):
            kept.append(each)
    return kept
