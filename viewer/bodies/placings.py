"""Placings: an origin and right-handed axes, and how one lies in another."""

from __future__ import annotations

from dataclasses import dataclass

from soleplate.engine.layout import ViewOut
from soleplate.engine.shapes import Vector, cross, dot, minus, turned


@dataclass(frozen=True, slots=True)
class Placing:
    """An origin, mm, and three unit vectors square to each other."""

    origin: Vector
    x: Vector
    y: Vector
    z: Vector

    def place(self, point: Vector) -> Vector:
        """A point of this placing where the placing itself is told."""
        (u, v, w), (ox, oy, oz) = point, self.origin
        x, y, z = self.turned((u, v, w))
        return ox + x, oy + y, oz + z

    def turned(self, vector: Vector) -> Vector:
        """A direction of this placing where the placing itself is told."""
        (u, v, w), (x0, x1, x2), (y0, y1, y2), (z0, z1, z2) = vector, self.x, self.y, self.z
        return u * x0 + v * y0 + w * z0, u * x1 + v * y1 + w * z1, u * x2 + v * y2 + w * z2

    def seen_from(self, other: Placing) -> Placing:
        """The placing as it lies in another one, both told in a third."""
        moved = minus(self.origin, other.origin)
        return Placing(other.within(moved), other.within(self.x), other.within(self.y), other.within(self.z))

    def within(self, vector: Vector) -> Vector:
        """A direction of where this placing is told, in this placing."""
        return dot(vector, self.x), dot(vector, self.y), dot(vector, self.z)

    def found(self, point: Vector) -> Vector:
        """A point of where this placing is told, in this placing."""
        return self.within(minus(point, self.origin))

    def moved(self, by: Vector) -> Placing:
        """The same axes about a point of this placing."""
        return Placing(self.place(by), self.x, self.y, self.z)

    @property
    def upright(self) -> Placing:
        """The same, seen along its y: x as it is, y into the plane and z up it, as walls stand."""
        return Placing(self.origin, self.x, turned(self.z), self.y)


WORLD = Placing((0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def placing_of(view: ViewOut) -> Placing:
    """A view's axes: along, up, and outwards, so that depths are below 0."""
    return Placing(view.origin, view.right, view.up, cross(view.right, view.up))
