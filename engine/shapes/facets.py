"""Facets: solids as convex bodies of flat faces, for whoever looks at them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from soleplate.engine.shapes.outlines import Outline, few_convex_parts, pairs
from soleplate.engine.shapes.solids import Solid
from soleplate.engine.shapes.tolerances import TOUCH
from soleplate.engine.shapes.vectors import dot
from soleplate.engine.shapes.views import Vector, View

EDGE_ON: Final = 1e-6
"""Cosine under which a face is seen along its edge, and nothing of it."""


class Facet(NamedTuple):
    """A flat convex face in the world."""

    corners: tuple[Vector, ...]
    """Anticlockwise as seen from outside, mm."""
    edges: tuple[bool, ...]
    """Of each corner, whether the side from it to the next is an edge of the solid, and no mere cut."""
    normal: Vector
    """The unit vector outwards."""
    is_section: bool = False
    """Whether it is where a plane cuts a solid, and no face of it."""

    def faces(self, towards: Vector) -> bool:
        """Whether it faces a viewer in the direction of the unit vector `towards`."""
        return dot(self.normal, towards) > EDGE_ON


class ConvexBody(NamedTuple):
    """A convex body, or what is left of one: those of its faces that can be seen."""

    owner: int
    """What it is of, for whoever made it."""
    facets: tuple[Facet, ...]


def bodies_of(solid: Solid, owner: int) -> Iterator[ConvexBody]:
    """A solid as convex bodies, without the faces in which they lie against each other."""
    view, (near, far) = solid.view, solid.depth
    inwards = view.inwards
    outwards = (-inwards[0], -inwards[1], -inwards[2])
    own = set(pairs(solid.outline))
    parts = few_convex_parts(solid.outline)
    for part in parts:
        sides = list(pairs(part))
        edges = tuple(side in own for side in sides) if len(parts) > 1 else (True,) * len(sides)
        front = tuple(view.point(u, v, near) for u, v in part)
        back = tuple(view.point(u, v, far) for u, v in part)
        facets = [
            Facet(front, edges, outwards),
            # Backwards the side from a corner is the one that led to it.
            Facet(back[::-1], (*edges[-2::-1], edges[-1]), inwards),
        ]
        for index, (start, end) in enumerate(sides):
            if edges[index]:
                following = (index + 1) % len(sides)
                corners = (front[index], back[index], back[following], front[following])
                facets.append(Facet(corners, (True,) * 4, _across(view, start, end)))
        yield ConvexBody(owner, tuple(facets))


def flat_facets(outlines: Sequence[Outline], plane: View) -> Iterator[Facet]:
    """Outlines in a plane as facets that face whoever looks at it."""
    inwards = plane.inwards
    outwards = (-inwards[0], -inwards[1], -inwards[2])
    for outline in outlines:
        own = set(pairs(outline))
        for part in few_convex_parts(outline):
            edges = tuple(side in own for side in pairs(part))
            yield Facet(tuple(plane.point(u, v) for u, v in part), edges, outwards, True)


def parted(body: ConvexBody, normal: Vector, at: float) -> tuple[ConvexBody | None, ConvexBody | None]:
    """What of a body lies behind a plane, whose places along `normal` are `at`, and what lies before it.

    A facet in the plane is of that side on which its body is.
    """
    behind: list[Facet] = []
    before: list[Facet] = []
    nx, ny, nz = normal
    for facet in body.facets:
        sides = [nx * x + ny * y + nz * z - at for x, y, z in facet.corners]
        is_behind, is_before = max(sides) <= TOUCH, min(sides) >= -TOUCH
        if is_behind and not (is_before and dot(facet.normal, normal) < 0.0):
            behind.append(facet)
        elif is_before:
            before.append(facet)
        else:
            if piece := _clipped(facet, [-side for side in sides]):
                behind.append(piece)
            if piece := _clipped(facet, sides):
                before.append(piece)
    return (
        ConvexBody(body.owner, tuple(behind)) if behind else None,
        ConvexBody(body.owner, tuple(before)) if before else None,
    )


def _clipped(facet: Facet, sides: Sequence[float]) -> Facet | None:
    """What of a facet has sides over 0; the side along the cut is no edge (Sutherland and Hodgman 1974)."""
    corners: list[Vector] = []
    edges: list[bool] = []
    count = len(sides)
    for index, (here, corner) in enumerate(zip(sides, facet.corners, strict=True)):
        following = (index + 1) % count
        there = sides[following]
        if here >= 0.0:
            corners.append(corner)
            edges.append(facet.edges[index])
        if (here > 0.0 > there) or (here < 0.0 < there):
            share = here / (here - there)
            (x0, y0, z0), (x1, y1, z1) = corner, facet.corners[following]
            corners.append((x0 + share * (x1 - x0), y0 + share * (y1 - y0), z0 + share * (z1 - z0)))
            # Going out the cut begins; coming in the old side goes on.
            edges.append(here < 0.0 and facet.edges[index])
        elif here == 0.0 and there < 0.0:
            edges[-1] = False
    return Facet(tuple(corners), tuple(edges), facet.normal, facet.is_section) if len(corners) > 2 else None


def _across(view: View, start: tuple[float, float], end: tuple[float, float]) -> Vector:
    """The unit vector out of an outline through one of its sides."""
    along, up = end[0] - start[0], end[1] - start[1]
    size = (along * along + up * up) ** 0.5
    (rx, ry, rz), (ux, uy, uz) = view.right, view.up
    a, b = up / size, -along / size
    return a * rx + b * ux, a * ry + b * uy, a * rz + b * uz
