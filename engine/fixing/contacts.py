"""Where pieces lie on each other: faces in one plane that look at each other and share an area."""

from __future__ import annotations

import itertools
import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.fixing.timbers import FaceKind, Framed, TimberFace, faces_of
from soleplate.engine.shapes import (
    Outline,
    Point,
    Vector,
    area,
    bounds,
    clip,
    convex_parts,
    cross,
    dot,
    pairs,
    rectangle,
    turned,
    unit,
)

LEAST: Final = 5.0
"""mm both ways: what is narrower is no joint."""

TOGETHER: Final = 0.05
"""mm. Faces nearer than this lie on each other: corners are rounded at 0.001, and raked by that."""

CELL: Final = 1000.0
"""mm. Faces are looked for in squares of this size."""

PARALLEL: Final = 1e-7
"""What the cosine between two normals of one direction may be off 1."""

THICKEST_DECK: Final = 60.0
"""mm. What may lie between a sole plate and the floor's timber."""

DOWN: Final = -0.999
"""Cosine between a normal and the plumb line of a face that looks down."""


@dataclass(frozen=True, slots=True)
class Frame2D:
    """A plane's own axes in the world, and how far it is from the origin along its `normal`."""

    normal: Vector
    right: Vector
    up: Vector

    def of(self, point: Vector) -> Point:
        """A place in the world, in the plane."""
        return dot(point, self.right), dot(point, self.up)


@dataclass(frozen=True, slots=True)
class Contact:
    """Where a face of `one` lies on a face of `other`: `outline` in the axes of `plane`, at `offset` of it.

    The plane's normal points from `one` to `other`; between them lies a deck of `gap`, mm.
    """

    one: int
    other: int
    kinds: tuple[FaceKind, FaceKind]
    plane: Frame2D
    offset: float
    outline: Outline
    gap: float = 0.0

    def point(self, x: float, y: float) -> Vector:
        """A place in the plane, in the world."""
        (a, b, c), (d, e, f), (g, h, i), at = self.plane.right, self.plane.up, self.plane.normal, self.offset
        return a * x + d * y + g * at, b * x + e * y + h * at, c * x + f * y + i * at


@dataclass(frozen=True, slots=True)
class _Laid:
    """A face in a plane's axes."""

    face: TimberFace
    offset: float
    outline: Outline
    box: tuple[float, float, float, float]
    is_box: bool
    cells: tuple[range, range]


def contacts(pieces: Sequence[Framed]) -> tuple[Contact, ...]:
    """All contacts of pieces, in the order of the pieces."""
    found: list[Contact] = []
    for plane, looking, facing in _by_direction(pieces):
        found += _meeting(plane, looking, facing)
        if plane.normal[2] > -DOWN:
            found += _over_deck(plane, looking, facing, pieces)
    return tuple(sorted(found, key=lambda each: (each.one, each.other, each.outline)))


def _by_direction(pieces: Sequence[Framed]) -> Iterator[tuple[Frame2D, list[_Laid], list[_Laid]]]:
    """Of each direction its plane, the faces that look along its normal, and those that look against it."""
    planes: list[tuple[Frame2D, list[_Laid], list[_Laid]]] = []
    known: dict[Vector, tuple[int, bool]] = {}
    for index, framed in enumerate(pieces):
        for face in faces_of(index, framed):
            key = face.normal
            if key not in known:
                known[key] = _direction(key, planes)
            number, is_along = known[key]
            plane, looking, facing = planes[number]
            (looking if is_along else facing).append(_laid(face, plane))
    yield from planes


def _direction(normal: Vector, planes: list[tuple[Frame2D, list[_Laid], list[_Laid]]]) -> tuple[int, bool]:
    for number, (plane, _, _) in enumerate(planes):
        cosine = dot(plane.normal, normal)
        if abs(cosine) > 1 - PARALLEL:
            return number, cosine > 0
    level = math.hypot(normal[0], normal[1])
    # Upwards, or to the right, or backwards: the same whatever face came first.
    ahead = max(normal, key=abs) > 0 if level > 1e-9 else normal[2] > 0
    way = normal if ahead else turned(normal)
    right = unit((-way[1], way[0], 0.0)) if level > 1e-9 else (1.0, 0.0, 0.0)
    planes.append((Frame2D(way, right, cross(way, right)), [], []))
    return len(planes) - 1, ahead


def _laid(face: TimberFace, plane: Frame2D) -> _Laid:
    corners = [plane.of(corner) for corner in face.corners]
    if _twice(corners) < 0:
        corners.reverse()
    box = bounds(corners)
    is_box = len(corners) == 4 and abs(_twice(corners) / 2 - (box[1] - box[0]) * (box[3] - box[2])) < 0.01
    cells = (_cells(box[0], box[1]), _cells(box[2], box[3]))
    return _Laid(face, dot(face.corners[0], plane.normal), tuple(corners), box, is_box, cells)


def _twice(corners: Sequence[Point]) -> float:
    return sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in pairs(corners))


def _meeting(plane: Frame2D, looking: list[_Laid], facing: list[_Laid]) -> Iterator[Contact]:
    """Contacts of faces in one plane: only those that share a cell of it are compared."""
    cells: dict[tuple[int, int, int], list[_Laid]] = defaultdict(list)
    for other in facing:
        level = math.floor(other.offset)
        for across, up in itertools.product(*other.cells):
            cells[level, across, up].append(other)
    for one in looking:
        levels = dict.fromkeys((math.floor(one.offset - TOGETHER), math.floor(one.offset + TOGETHER)))
        for cell in itertools.product(levels, *one.cells):
            for other in cells.get(cell, ()):
                # Of several cells that two share, the first one tells of them.
                if (
                    abs(other.offset - one.offset) <= TOGETHER
                    and max(one.cells[0][0], other.cells[0][0]) == cell[1]
                    and max(one.cells[1][0], other.cells[1][0]) == cell[2]
                    and one.face.of != other.face.of
                    and (shared := _shared(one, other))
                ):
                    kinds = (one.face.kind, other.face.kind)
                    yield Contact(one.face.of, other.face.of, kinds, plane, one.offset, shared)


def _cells(low: float, high: float) -> range:
    """The strips of a plane that a stretch lies in."""
    return range(math.floor(low / CELL), math.floor(high / CELL) + 1)


def _over_deck(
    plane: Frame2D, looking: list[_Laid], facing: list[_Laid], pieces: Sequence[Framed]
) -> Iterator[Contact]:
    """Sole plates over a floor's timber, with its deck between."""
    soles = [
        laid
        for laid in facing
        if pieces[laid.face.of].kind == "wall" and pieces[laid.face.of].piece.role == "sole plate"
    ]
    timbers = [laid for laid in looking if pieces[laid.face.of].kind == "floor"]
    down = Frame2D(turned(plane.normal), plane.right, plane.up)
    for sole in soles:
        for timber in timbers:
            gap = sole.offset - timber.offset
            if TOGETHER < gap <= THICKEST_DECK and (shared := _shared(sole, timber)):
                kinds = (sole.face.kind, timber.face.kind)
                yield Contact(sole.face.of, timber.face.of, kinds, down, -sole.offset, shared, gap)


def _shared(one: _Laid, other: _Laid) -> Outline:
    """What two faces share, if that is a joint; of faces that are notched the largest part."""
    a, b = one.box, other.box
    left, right = max(a[0], b[0]), min(a[1], b[1])
    bottom, top = max(a[2], b[2]), min(a[3], b[3])
    if right - left <= LEAST or top - bottom <= LEAST:
        return ()
    if one.is_box and other.is_box:
        return rectangle(left, right, bottom, top)
    largest: Outline = ()
    for part in convex_parts(one.outline):
        for part2 in convex_parts(other.outline):
            shared: Outline = part
            for start, end in pairs(part2):
                shared = clip(shared, start, end) if shared else ()
            if shared and (not largest or area(shared) > area(largest)):
                largest = shared
    if not largest:
        return ()
    left, right, bottom, top = bounds(largest)
    return largest if right - left > LEAST and top - bottom > LEAST else ()
