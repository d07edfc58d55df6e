"""Pieces as meshes: triangles with flat normals, alike pieces by one mesh."""

from __future__ import annotations

import struct
from dataclasses import dataclass
from typing import Final

from soleplate.engine.layout import Piece
from soleplate.engine.shapes import BodyPart, Outline, Vector, bounds, rounded
from soleplate.viewer.bodies.skin import skin

METRE: Final = 1000.0
"""mm."""


@dataclass(frozen=True, slots=True)
class Extrusion:
    """A piece by itself: its outline from its own lower left corner, and its depth inwards, mm.

    What is `cut_out` of it, as housings are, has its outline from that corner, and its depths from the face.
    """

    outline: Outline
    depth: float
    cut_out: tuple[BodyPart, ...] = ()


def body_of(piece: Piece) -> tuple[Extrusion, Vector]:
    """A piece's body, and where its lower left near corner lies in its view: along, up and inwards, mm."""
    left, _, bottom, _ = bounds(piece.outline)
    outline = tuple((rounded(x - left), rounded(z - bottom)) for x, z in piece.outline)
    near, far = piece.depth
    deep = rounded(far - near)
    cut_out = tuple(
        (each.outline, (0.0, each.deep) if each.face == "outside" else (deep - each.deep, deep))
        for each in piece.housings or ()
    )
    return Extrusion(outline, deep, cut_out), (left, bottom, near)


@dataclass(frozen=True, slots=True)
class Mesh:
    """A body's corners and normals as single floats, three to a corner, and the triangles between corners.

    Lengths are metres: along, up, and outwards from the near face, which lies at 0; so it is right-handed.
    """

    corners: tuple[float, ...]
    normals: tuple[float, ...]
    triangles: tuple[int, ...]


def mesh_of(body: Extrusion) -> Mesh:
    """The body's faces as triangles, each face with corners of its own, so that edges stay sharp."""
    corners: list[float] = []
    normals: list[float] = []
    triangles: list[int] = []
    for face, normal in skin(body.outline, body.depth, body.cut_out):
        first = len(corners) // 3
        for corner in face:
            corners += (single(along / METRE) for along in corner)
            normals += normal
        for index in range(1, len(face) - 1):
            triangles += (first, first + index, first + index + 1)
    return Mesh(tuple(corners), tuple(single(part) for part in normals), tuple(triangles))


def single(value: float) -> float:
    """The nearest single float, as a mesh holds it."""
    held: float = struct.unpack("<f", struct.pack("<f", value))[0]
    return held
