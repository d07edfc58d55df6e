"""Another judge of pictures: rays cast at prisms, each by itself, without any order or partition."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import Point as ShapelyPoint
from shapely import Polygon, prepare

from soleplate.engine.shapes import Facet, Point, Solid, Vector, far_to_near
from soleplate.engine.shapes.partition import Partition

NEAR = 0.05
"""mm. Faces that lie so near behind each other may either be seen."""


def dot(one: Vector, other: Vector) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))


@dataclass(frozen=True)
class Camera:
    """A direction, and what is to the right and upwards there."""

    towards: Vector
    right: Vector
    up: Vector

    @classmethod
    def at(cls, azimuth: float, elevation: float) -> Camera:
        """The viewer stands at (sin a, -cos a), so many degrees above level."""
        a, e = math.radians(azimuth), math.radians(elevation)
        right = (math.cos(a), math.sin(a), 0.0)
        towards = (math.cos(e) * math.sin(a), -math.cos(e) * math.cos(a), math.sin(e))
        (tx, ty, tz), (rx, ry, rz) = towards, right
        return cls(towards, right, (ty * rz - tz * ry, tz * rx - tx * rz, tx * ry - ty * rx))

    def place(self, point: Vector) -> Point:
        return dot(point, self.right), dot(point, self.up)

    def world(self, x: float, y: float) -> Vector:
        """A place of the picture, in the plane through the origin."""
        (rx, ry, rz), (ux, uy, uz) = self.right, self.up
        return x * rx + y * ux, x * ry + y * uy, x * rz + y * uz


DIRECTIONS = [
    Camera.at(azimuth, elevation)
    for elevation, azimuths in (
        (30.0, (0.0, 45.0, 130.0, 180.0, 222.0, 300.0, 330.0)),
        (-25.0, (10.0, 90.0, 170.0, 250.0, 315.0)),
        (0.0, (0.0, 33.0, 90.0, 180.0, 271.0)),
        (75.0, (20.0, 110.0, 200.0)),
        (90.0, (0.0, 30.0)),
        (-90.0, (0.0, 75.0)),
    )
    for azimuth in azimuths
]
"""Twenty-four, from above, below and along edges too."""


class Target:
    """A solid as rays find it."""

    def __init__(self, solid: Solid) -> None:
        self.solid = solid
        self.polygon = Polygon(solid.outline)
        prepare(self.polygon)
        self.corners = [solid.view.point(u, v, w) for u, v in solid.outline for w in solid.depth]

    def box(self, camera: Camera) -> tuple[float, float, float, float]:
        xs, ys = zip(*map(camera.place, self.corners), strict=True)
        return min(xs), max(xs), min(ys), max(ys)

    def depth(self, start: Vector, towards: Vector, most: float = 1e6) -> float | None:
        """How near to the viewer the ray from a place first meets it; the greatest is the nearest.

        What is nearer than `most` is cut away.
        """
        view, (near, far) = self.solid.view, self.solid.depth
        shifted = [a - b for a, b in zip(start, view.origin, strict=True)]
        axes = (view.right, view.up, view.inwards)
        u, v, w = (dot((shifted[0], shifted[1], shifted[2]), axis) for axis in axes)
        du, dv, dw = (dot(towards, axis) for axis in axes)
        first, last = -1e6, 1e6
        if abs(dw) < 1e-9:
            if not near < w < far:
                return None
        else:
            first, last = sorted(((near - w) / dw, (far - w) / dw))
        last = min(last, most)
        corners = self.solid.outline
        times = {last}
        for (a, b), (c, d) in zip(corners, corners[1:] + corners[:1], strict=True):
            across = du * (d - b) - dv * (c - a)
            if abs(across) > 1e-12:
                time = ((a - u) * (d - b) - (b - v) * (c - a)) / across
                share = (du * (b - v) - dv * (a - u)) / -across
                if -1e-12 <= share <= 1 + 1e-12 and first < time < last:
                    times.add(time)
        stops = [first, *sorted(times)]
        for before, time in zip(stops[-2::-1], stops[:0:-1], strict=True):
            middle = (before + time) / 2
            if time - before > 1e-9 and self.polygon.contains(ShapelyPoint(u + middle * du, v + middle * dv)):
                return time
        return None


def hits(
    targets: Sequence[Target],
    boxes: Sequence[tuple[float, ...]],
    place: Point,
    camera: Camera,
    cut: tuple[Vector, float] | None = None,
) -> dict[int, float]:
    """How near to the viewer each solid is met at a place of the picture, behind the plane of a cut."""
    x, y = place
    start = camera.world(x, y)
    least, most = -1e6, 1e6
    if cut is not None:
        normal, at = cut
        along = dot(normal, camera.towards)
        met_at = (at - dot(normal, start)) / along
        # From behind, what is kept is on the viewer's side of the plane.
        least, most = (least, met_at) if along > 0.0 else (met_at, most)
    met = (
        (number, targets[number].depth(start, camera.towards, most))
        for number, (left, right, low, high) in enumerate(boxes)
        if left < x < right and low < y < high
    )
    return {number: depth for number, depth in met if depth is not None and depth > least}


def painted_at(shapes: Sequence[tuple[int, Polygon]], x: float, y: float) -> int | None:
    """What was painted last at a place."""
    place = ShapelyPoint(x, y)
    return next((owner for owner, polygon in reversed(shapes) if polygon.contains(place)), None)


def shapes_of(space: Partition, camera: Camera) -> list[tuple[int, Polygon]]:
    """All that faces the viewer, in the order in which it is painted."""
    return [
        (owner, Polygon([camera.place(corner) for corner in facet.corners]))
        for owner, facets in far_to_near(space, camera.towards)
        for facet in facets
        if is_seen(facet, camera)
    ]


def is_seen(facet: Facet, camera: Camera) -> bool:
    return dot(facet.normal, camera.towards) > 1e-6


def wrong_faces(
    solids: Sequence[tuple[int, Solid]],
    space: Partition,
    camera: Camera,
    rays: int,
    seed: int,
    cut: tuple[Vector, float] | None = None,
) -> tuple[int, list[str]]:
    """How many rays were cast, and those at which the picture shows what a ray does not meet first.

    A `cut` is the normal of a plane, away from what is kept, and where along it the plane lies.
    """
    targets = [Target(solid) for _, solid in solids]
    boxes = [target.box(camera) for target in targets]
    shapes = shapes_of(space, camera)
    told, wrong = 0, list[str]()
    for x, y in places(boxes, rays, seed):
        found = [hits(targets, boxes, (x + dx, y + dy), camera, cut) for dx, dy in AROUND]
        firsts = {solids[max(each, key=lambda n: each[n])][0] if each else None for each in found}
        painted = painted_at(shapes, x, y)
        here = {solids[n][0]: depth for n, depth in sorted(found[0].items(), key=lambda item: item[1])}
        told += 1
        if painted in firsts:
            continue
        if painted in here and here[painted] > max(here.values()) - NEAR:
            continue
        wrong.append(f"at {x:.2f}, {y:.2f}: painted {painted}, met {firsts} of {here}")
    return told, wrong


AROUND = ((0.0, 0.0), (0.1, 0.0), (-0.1, 0.0), (0.0, 0.1), (0.0, -0.1))
"""A place and others beside it: at an edge either side may be seen."""


def places(boxes: Sequence[tuple[float, ...]], rays: int, seed: int) -> Iterator[tuple[float, float]]:
    """Places within the picture, the same ones for the same seed."""
    draw = random.Random(seed)
    left, right = min(box[0] for box in boxes), max(box[1] for box in boxes)
    low, high = min(box[2] for box in boxes), max(box[3] for box in boxes)
    for number in range(rays):
        if number % 2:
            a, b, c, d = draw.choice(boxes)
            yield draw.uniform(a, b), draw.uniform(c, d)
        else:
            yield draw.uniform(left, right), draw.uniform(low, high)
