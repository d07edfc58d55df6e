"""Vectors in the world."""

from __future__ import annotations

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
