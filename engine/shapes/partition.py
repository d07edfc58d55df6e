"""A partition of space by planes, in which every convex body, or part of one, has a chamber of its own.

From it follows, for a viewer anywhere, in which order they are painted so that what is nearer hides what is
further (Fuchs, Kedem and Naylor 1980). It is made once; any direction is then one walk.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.shapes.facets import ConvexBody, Facet, parted
from soleplate.engine.shapes.tolerances import TOUCH
from soleplate.engine.shapes.vectors import dot
from soleplate.engine.shapes.views import Vector

SPLIT: Final = 12.0
"""What a split counts for beside a body too many on one side."""

ENOUGH: Final = 3
"""Directions that are tried even where one has been found that splits nothing."""


@dataclass(frozen=True, slots=True)
class Parting:
    """A plane whose places along the unit vector `normal` are `at`, and what lies on either side."""

    normal: Vector
    at: float
    behind: Partition
    before: Partition
    on: tuple[tuple[int, Facet], ...] = ()
    """Facets in the plane that face along `normal`, each with its owner."""


@dataclass(frozen=True, slots=True)
class Chamber:
    """Where no plane parts anything any more: one body, or several that take up one place."""

    bodies: tuple[ConvexBody, ...]


Partition = Parting | Chamber


def partition(bodies: Sequence[ConvexBody]) -> Partition:
    """Part convex bodies that don't overlap by planes of their faces, splitting few."""
    ways = _ways(bodies)
    return _parted([_Placed(body, ways) for body in bodies], ways)


def far_to_near(whole: Partition, towards: Vector) -> Iterator[tuple[int, Sequence[Facet]]]:
    """Owners with facets, in the order in which a viewer in the direction of `towards` paints them.

    Facets that face away are among them.
    """
    rest: list[Partition | tuple[int, Sequence[Facet]]] = [whole]
    while rest:
        part = rest.pop()
        if isinstance(part, Chamber):
            for body in part.bodies:
                yield body.owner, body.facets
        elif isinstance(part, Parting):
            on = [(owner, (facet,)) for owner, facet in reversed(part.on)]
            if dot(part.normal, towards) > 0.0:
                rest += [part.before, *on, part.behind]
            else:
                rest += [part.behind, *on, part.before]
        else:
            yield part


@dataclass(frozen=True, slots=True)
class _Ways:
    """The normals of all faces, each once for both its ways, the commonest first."""

    directions: tuple[Vector, ...]
    of: dict[Vector, tuple[int, bool]]
    """By a face's normal its direction's place, and whether it runs along it."""


class _Placed:
    """A body, and how far it reaches along each direction, worked out where it is asked for."""

    __slots__ = ("body", "corners", "faces", "spans")

    def __init__(self, body: ConvexBody, ways: _Ways) -> None:
        self.body = body
        self.corners = {corner for facet in body.facets for corner in facet.corners}
        self.faces = {ways.of[facet.normal] for facet in body.facets}
        self.spans: list[tuple[float, float] | None] = [None] * len(ways.directions)

    def span(self, index: int, direction: Vector) -> tuple[float, float]:
        found = self.spans[index]
        if found is None:
            dx, dy, dz = direction
            along = [dx * x + dy * y + dz * z for x, y, z in self.corners]
            found = self.spans[index] = min(along), max(along)
        return found


def _ways(bodies: Sequence[ConvexBody]) -> _Ways:
    counts: dict[Vector, int] = {}
    for body in bodies:
        for facet in body.facets:
            counts[facet.normal] = counts.get(facet.normal, 0) + 1
    alike: dict[Vector, list[tuple[Vector, bool]]] = {}
    for normal in counts:
        x, y, z = normal
        key = (round(x, 6) + 0.0, round(y, 6) + 0.0, round(z, 6) + 0.0)
        is_along = key > (0.0, 0.0, 0.0)
        if not is_along:
            key = (0.0 - key[0], 0.0 - key[1], 0.0 - key[2])
        alike.setdefault(key, []).append((normal, is_along))
    common = sorted(alike.values(), key=lambda each: -sum(counts[normal] for normal, _ in each))
    directions: list[Vector] = []
    of: dict[Vector, tuple[int, bool]] = {}
    for index, each in enumerate(common):
        (x, y, z), is_along = each[0]
        directions.append((x, y, z) if is_along else (-x, -y, -z))
        of |= {normal: (index, is_one) for normal, is_one in each}
    return _Ways(tuple(directions), of)


def _parted(placed: list[_Placed], ways: _Ways) -> Partition:
    choice = _plane(placed, ways) if len(placed) > 1 else None
    if choice is None:
        return Chamber(tuple(each.body for each in placed))
    index, at = choice
    direction = ways.directions[index]
    behind: list[_Placed] = []
    before: list[_Placed] = []
    for each in placed:
        low, high = each.span(index, direction)
        if high <= at + TOUCH:
            behind.append(each)
        elif low >= at - TOUCH:
            before.append(each)
        else:
            for side, piece in zip((behind, before), parted(each.body, direction, at), strict=True):
                if piece is not None:
                    side.append(_Placed(piece, ways))
    return Parting(direction, at, _parted(behind, ways), _parted(before, ways))


def _plane(placed: Sequence[_Placed], ways: _Ways) -> tuple[int, float] | None:
    """The plane that splits least and parts most evenly: which direction, and where along it."""
    best: tuple[float, int, float] | None = None
    splits = 1
    for index, direction in enumerate(ways.directions):
        if index >= ENOUGH and splits == 0:
            break
        spans = [each.span(index, direction) for each in placed]
        faces = {
            span[is_along]
            for each, span in zip(placed, spans, strict=True)
            for is_along in (False, True)
            if (index, is_along) in each.faces
        }
        for score, split, at in _places(spans, faces):
            if best is None or score < best[0]:
                best, splits = (score, index, at), split
    return None if best is None else best[1:]


def _places(
    spans: Sequence[tuple[float, float]], faces: Collection[float]
) -> Iterator[tuple[float, int, float]]:
    """Every place along a direction that parts something: its score, how many it splits, where it is.

    Where nothing lies wholly on one side, the place must be one of the `faces`: by those alone it comes to an
    end.
    """
    lows = sorted(low for low, _ in spans)
    highs = sorted(high for _, high in spans)
    count = len(spans)
    for at in sorted({*lows, *highs}):
        behind = bisect_right(highs, at + TOUCH)
        split = max(bisect_left(lows, at - TOUCH) - behind, 0)
        before = count - behind - split
        if (behind and before) or ((behind or before) and split and at in faces):
            yield SPLIT * split + abs(before - behind), split, at
