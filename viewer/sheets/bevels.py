"""Bevelled ends, each shape once: what templates there are to be, and which pieces need them.

A shape is read off the piece's own outline, so that it is that of the drawing whatever made it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from soleplate.engine.layout import CutEnd, Layout, Piece
from soleplate.engine.shapes import Outline, Point, before_notches, is_convex, pairs

_WITHIN = 0.05
"""mm. Shapes that differ by less are one template: a pencil line is wider."""

_SIDE = 0.02
"""An edge that runs across by less than this share of its length is a side: outlines are rounded."""

_LENGTH_WITHIN = 0.01
"""mm. Outlines and lengths are rounded to 0.001 each."""

_STEEPEST = 60.0
"""Degrees off square: a board that is cut nearer to its length is marked along a line, not by a template."""

_LEAST = 1.0
"""Degrees off square: what is less on a board is a side of a notch."""


@dataclass(frozen=True, slots=True)
class Bevel:
    """A bevelled end that one template serves."""

    name: str
    """T1, T2, ..."""
    angles: tuple[float, ...]
    """Degrees off square."""
    breadth: float
    """Across the face on which the bevel shows, mm."""
    depth: float
    """Across the edge, where it is square, mm."""
    line: tuple[Point, ...]
    """The cut from edge to edge of the face: (across, back from the furthest point), mm, long point first."""
    marks: tuple[str, ...]
    """The pieces."""


@dataclass(slots=True)
class _Found:
    """An end met on the way, and the pieces that have it."""

    angles: tuple[float, ...]
    depth: float
    line: tuple[Point, ...]
    marks: list[str]

    def is_alike(self, depth: float, line: tuple[Point, ...]) -> bool:
        return (
            len(self.line) == len(line)
            and abs(self.depth - depth) < _WITHIN
            and all(math.dist(one, other) < _WITHIN for one, other in zip(self.line, line, strict=True))
        )


def bevels(layout: Layout) -> tuple[Bevel, ...]:
    """The building's bevelled ends, the smallest angle first; mirror images are one."""
    found: list[_Found] = []
    for piece in layout.pieces:
        depth = piece.depth[1] - piece.depth[0]
        for angles, line in _cuts(piece):
            if not piece.is_frame and not all(_LEAST <= angle <= _STEEPEST for angle in angles):
                continue
            alike = next((each for each in found if each.is_alike(depth, line)), None)
            if alike is None:
                found.append(_Found(angles, depth, line, [piece.mark]))
            elif piece.mark not in alike.marks:
                alike.marks.append(piece.mark)
    found.sort(key=lambda each: (each.angles, each.line[-1][0], each.depth, each.line))
    return tuple(
        Bevel(f"T{number}", each.angles, each.line[-1][0], round(each.depth, 2), each.line, tuple(each.marks))
        for number, each in enumerate(found, 1)
    )


def _cuts(piece: Piece) -> Iterator[tuple[tuple[float, ...], tuple[Point, ...]]]:
    """Angles and line of each bevelled end of a piece."""
    turned = _along(piece)
    for end, way in zip(piece.ends, (-1.0, 1.0), strict=True):
        if end.cut in ("square", "shaped", "point"):
            continue
        line = _line(turned, way)
        if len(line) > 1:
            yield _angles(end), line


def _angles(end: CutEnd) -> tuple[float, ...]:
    return end.angles or ((end.angle,) if end.angle is not None else ())


def _along(piece: Piece) -> tuple[Point, ...]:
    """The outline as (along the grain, across), upwards or rightwards.

    The grain goes by the longest edge along which the piece is as long as it is told, which of a short block
    is not its longest. Notches do not count: they are cut out after the ends.
    """
    outline = piece.outline if is_convex(piece.outline) else before_notches(piece.outline)
    longest_first = sorted(pairs(outline), key=lambda edge: -math.dist(*edge))
    ways = [_turned(outline, *edge) for edge in longest_first]
    return next((way for way in ways if abs(_extent(way) - piece.length) < _LENGTH_WITHIN), ways[0])


def _turned(outline: Outline, start: Point, end: Point) -> tuple[Point, ...]:
    run, rise = end[0] - start[0], end[1] - start[1]
    if rise < -abs(run) or (abs(rise) <= abs(run) and run < 0):
        run, rise = -run, -rise
    size = math.hypot(run, rise)
    return tuple(((x * run + z * rise) / size, (z * run - x * rise) / size) for x, z in outline)


def _extent(turned: Sequence[Point]) -> float:
    along = [u for u, _ in turned]
    return max(along) - min(along)


def _line(turned: tuple[Point, ...], way: float) -> tuple[Point, ...]:
    """The edges of an end as points across the face; of the two hands the one with its long point first."""
    ends = [
        (one, other)
        for one, other in pairs(turned)
        if abs(other[1] - one[1]) > _SIDE * abs(other[0] - one[0]) and (other[1] > one[1]) == (way > 0)
    ]
    points = sorted({point for edge in ends for point in edge}, key=lambda point: point[1])
    if len(points) < 2:
        return ()
    furthest = max(way * along for along, _ in points)
    least, most = points[0][1], points[-1][1]
    line = [(across - least, furthest - way * along) for along, across in points]
    mirrored = [(most - across, furthest - way * along) for along, across in reversed(points)]
    chosen = min(
        line, mirrored, key=lambda each: (round(each[0][1], 3), [round(v, 3) for p in each for v in p])
    )
    return tuple((round(across, 2) + 0.0, round(back, 2) + 0.0) for across, back in chosen)
