"""Seams: where bodies of one solid lie side by side, no line is to be drawn between them."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from soleplate.engine.shapes.facets import Facet
from soleplate.engine.shapes.tolerances import TOUCH
from soleplate.engine.shapes.vectors import cross, dot, minus
from soleplate.engine.shapes.views import Vector

ONE_WAY: Final = 1e-4
"""Normals that are no further apart face one way."""

_Side = frozenset[Vector]
"""Both ends of a side of a facet."""


def without_seams(facets: Sequence[Facet]) -> list[Facet]:
    """Facets of one solid, of which a side is no edge where two that face one way have it in common.

    Corners that touch become one, and a side that is a seam along a part of its length is parted there.
    """
    places: list[Vector] = []
    joined = [
        facet._replace(corners=tuple(_known(corner, places) for corner in facet.corners)) for facet in facets
    ]
    split = [_split(facet, places) for facet in joined]
    seams = set(_seams(split))
    return [
        facet._replace(
            edges=tuple(
                is_edge and side not in seams
                for is_edge, side in zip(facet.edges, _sides(facet), strict=True)
            )
        )
        for facet in split
    ]


def _known(corner: Vector, places: list[Vector]) -> Vector:
    """The place that a corner touches; its own, a new one, where it touches none."""
    for place in places:
        if math.dist(place, corner) < TOUCH:
            return place
    places.append(corner)
    return corner


def _seams(facets: Iterable[Facet]) -> Iterator[_Side]:
    normals: dict[_Side, list[Vector]] = {}
    for facet in facets:
        for side in _sides(facet):
            beside = normals.setdefault(side, [])
            if any(math.dist(normal, facet.normal) < ONE_WAY for normal in beside):
                yield side
            beside.append(facet.normal)


def _sides(facet: Facet) -> Iterator[_Side]:
    for start, end in zip(facet.corners, (*facet.corners[1:], facet.corners[0]), strict=True):
        yield frozenset((start, end))


def _split(facet: Facet, places: Iterable[Vector]) -> Facet:
    """A facet with corners at those places that lie on its sides."""
    corners: list[Vector] = []
    edges: list[bool] = []
    following = (*facet.corners[1:], facet.corners[0])
    for start, end, is_edge in zip(facet.corners, following, facet.edges, strict=True):
        between = [place for place in places if _lies_between(place, start, end)]
        corners += [start, *sorted(between, key=lambda place: math.dist(start, place))]
        edges += [is_edge] * (1 + len(between))
    return facet._replace(corners=tuple(corners), edges=tuple(edges))


def _lies_between(place: Vector, start: Vector, end: Vector) -> bool:
    along, off = minus(end, start), minus(place, start)
    length = math.hypot(*along)
    if length < TOUCH:
        return False
    far = dot(along, off) / length
    return TOUCH < far < length - TOUCH and math.hypot(*cross(along, off)) / length < TOUCH
