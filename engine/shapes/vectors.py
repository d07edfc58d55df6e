"""Vectors in the world."""

from __future__ import annotations

import math

from soleplate.engine.shapes.views import Vector


def dot(one: Vector, other: Vector) -> float:
    """How far one reaches along the other, times its length."""
    return one[0] * other[0] + one[1] * other[1] + one[2] * other[2]


def cross(one: Vector, other: Vector) -> Vector:
    """The vector square to both, right-handed."""
    (a, b, c), (d, e, f) = one, other
    return b * f - c * e, c * d - a * f, a * e - b * d


def minus(one: Vector, other: Vector) -> Vector:
    """From the other to the one."""
    return one[0] - other[0], one[1] - other[1], one[2] - other[2]


def scaled(vector: Vector, by: float) -> Vector:
    """A vector of another length."""
    x, y, z = vector
    return x * by, y * by, z * by


def moved(start: Vector, way: Vector, by: float) -> Vector:
    """The place so far from another along a direction."""
    return start[0] + way[0] * by, start[1] + way[1] * by, start[2] + way[2] * by


def turned(vector: Vector) -> Vector:
    """The opposite direction."""
    return -vector[0], -vector[1], -vector[2]


def unit(vector: Vector) -> Vector:
    """Of length 1."""
    size = math.hypot(*vector)
    return vector[0] / size, vector[1] / size, vector[2] / size
