"""What a picture is of: pieces in the world as a partition of space, ready to be looked at from anywhere."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from soleplate.engine.layout import FloorOut, Layout, PartOut, Piece, SlopeOut, plane_of, seen_solids
from soleplate.engine.shapes import (
    Chamber,
    ConvexBody,
    Facet,
    Outline,
    Parting,
    Partition,
    Solid,
    Vector,
    View,
    bodies_of,
    dot,
    few_convex_parts,
    flat_facets,
    overlap,
    parted,
    partition,
    section,
    turned,
    without,
    without_seams,
)
from soleplate.viewer.pictures.look import Look, PictureLayer
from soleplate.viewer.pictures.slabs import UNMARKED, slab_of


@dataclass(frozen=True, slots=True)
class PicturedPiece:
    """A piece that is shown, with the part that it is of."""

    part: PartOut
    piece: Piece


@dataclass(frozen=True, slots=True)
class Scene:
    """Pieces in the world; the owner of a facet is the place of its piece among those `shown`."""

    shown: tuple[PicturedPiece, ...]
    space: Partition
    is_missed: bool = False
    """Whether a plane was to cut it and cuts nothing."""


def chosen(layout: Layout, look: Look) -> tuple[PicturedPiece, ...]:
    """The pieces that a look shows, before anything is cut away."""
    return tuple(
        PicturedPiece(part, piece)
        for part in layout.parts
        if look.part in (None, part.name)
        for piece in (*part.pieces, *_slabs(part))
        if layer_of(part, piece) in look.layers
    )


def _slabs(part: PartOut) -> tuple[Piece, ...]:
    slab = slab_of(part) if isinstance(part, SlopeOut) else None
    return () if slab is None else (slab,)


def layer_of(part: PartOut, piece: Piece) -> PictureLayer:
    """In which layer of a picture a piece is."""
    if piece.mark == UNMARKED:
        return "covering"
    if isinstance(part, FloorOut):
        return "floor"
    if isinstance(part, SlopeOut):
        return "roof"
    if piece.face is None:
        return "frame"
    return "covering" if piece.face == "outside" else "lining"


def scene_of(layout: Layout, look: Look) -> Scene:
    """What is to be painted, as it stands in the world or drawn apart, and cut where it is to be."""
    shown = chosen(layout, look)
    moves = {part.name: _move(part, look.apart) for part in layout.parts}
    solids = [
        [replace(solid, view=_moved(solid.view, moves[each.part.name])) for solid in own]
        for each, own in zip(shown, _solids(shown), strict=True)
    ]
    bodies = [body for owner, own in enumerate(solids) for body in _bodies(own, owner)]
    if (plane := look.plane) is None:
        return Scene(shown, partition(bodies))
    outwards = turned(plane.inwards)
    at = dot(outwards, plane.origin)
    faces = [(owner, facet) for owner, own in enumerate(solids) for facet in _cut_faces(own, plane)]
    kept = [behind for body in bodies if (behind := parted(body, outwards, at)[0]) is not None]
    space = Parting(outwards, at, partition(kept), Chamber(()), tuple(faces))
    return Scene(shown, space, is_missed=not faces)


def _solids(shown: Sequence[PicturedPiece]) -> Iterator[tuple[Solid, ...]]:
    """Each piece in the world; where boards lap that don't tell what is seen of them, the first is whole."""
    laid: dict[tuple[str, str | None, tuple[float, float]], list[Outline]] = {}
    for each in shown:
        piece = each.piece
        solids = seen_solids(piece, each.part)
        if piece.face is not None and not piece.seen:
            others = laid.setdefault((each.part.name, piece.view, piece.depth), [])
            outlines = _beside(piece.outline, others)
            solids = tuple(replace(solids[0], outline=outline) for outline in outlines)
            others += outlines
        yield solids


def _bodies(solids: Sequence[Solid], owner: int) -> Iterator[ConvexBody]:
    """The convex bodies of one piece."""
    bodies = [body for solid in solids for body in bodies_of(solid, owner)]
    if len(solids) < 2:
        yield from bodies
        return
    facets = iter(without_seams([facet for body in bodies for facet in body.facets]))
    for body in bodies:
        yield body._replace(facets=tuple(itertools.islice(facets, len(body.facets))))


def _cut_faces(solids: Sequence[Solid], plane: View) -> list[Facet]:
    """Where a plane cuts one piece."""
    facets = [facet for solid in solids for facet in flat_facets(section(solid, plane), plane)]
    return facets if len(solids) < 2 else without_seams(facets)


def _beside(outline: Outline, others: Sequence[Outline]) -> list[Outline]:
    """What others leave of an outline: itself where they leave it whole, else convex parts."""
    met = [part for other in others if overlap(outline, other) for part in few_convex_parts(other)]
    left = [outline]
    for other in met:
        left = [rest for part in left for own in few_convex_parts(part) for rest in without(own, other)]
    return left


def _move(part: PartOut, apart: float) -> Vector:
    """How far a part is drawn from where it stands; partitions stay."""
    if not apart:
        return (0.0, 0.0, 0.0)
    if isinstance(part, FloorOut):
        return (0.0, 0.0, -apart)
    if isinstance(part, SlopeOut):
        return (0.0, 0.0, apart)
    if part.faces is not None:
        return (0.0, 0.0, 0.0)
    x, y, z = plane_of(part).inwards
    return (-apart * x, -apart * y, -apart * z)


def _moved(view: View, by: Vector) -> View:
    x, y, z = view.origin
    return replace(view, origin=(x + by[0], y + by[1], z + by[2]))
