"""Segments in space, and how near they come to each other."""

from __future__ import annotations

import math

from soleplate.engine.shapes import Vector, dot, moved


def apart(one: tuple[Vector, Vector], other: tuple[Vector, Vector]) -> float:
    """The least distance of two segments in space, mm.

    The nearest points of their lines are drawn back to the ends of the segments (Ericson, Real-Time Collision
    Detection, 5.1.9).
    """
    (p1, q1), (p2, q2) = one, other
    d1 = (q1[0] - p1[0], q1[1] - p1[1], q1[2] - p1[2])
    d2 = (q2[0] - p2[0], q2[1] - p2[1], q2[2] - p2[2])
    r = (p1[0] - p2[0], p1[1] - p2[1], p1[2] - p2[2])
    a, e, f, c, b = dot(d1, d1), dot(d2, d2), dot(d2, r), dot(d1, r), dot(d1, d2)
    spread = a * e - b * b
    s = min(max((b * f - c * e) / spread, 0.0), 1.0) if spread > 1e-9 * a * e else 0.0
    t = (b * s + f) / e
    if t < 0.0:
        t, s = 0.0, min(max(-c / a, 0.0), 1.0)
    elif t > 1.0:
        t, s = 1.0, min(max((b - c) / a, 0.0), 1.0)
    return math.dist(moved(p1, d1, s), moved(p2, d2, t))
