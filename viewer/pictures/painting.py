"""A scene as paint: flat shapes in the order in which they are laid on, the furthest first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from soleplate.engine.shapes import Facet, Outline, Point, Vector, dot, far_to_near
from soleplate.viewer.drawings import Tone, drawn_as, tone_of
from soleplate.viewer.pictures.look import Look
from soleplate.viewer.pictures.scene import Scene

SUN: Final[Vector] = (-0.36, -0.48, 0.8)
"""The unit vector to the sun, over the front left: each side of a building has a tone of its own."""

LIGHT: Final = (0.8, 0.2)
"""Of a colour what is seen of a face along the sun's rays, and what a face square to them has besides."""


CUT: Final = 0.2
"""Share of its ground in the colour of a cut face; the rest is its ink."""


@dataclass(frozen=True, slots=True)
class PaintedFace:
    """One face as it is painted."""

    outline: Outline
    """In the picture, x to the right and y down, mm."""
    edges: tuple[bool, ...]
    """Of each corner, whether a line is drawn from it to the next."""
    colour: str
    is_cut: bool
    """Whether it is where a plane cuts."""


@dataclass(frozen=True, slots=True)
class Stroke:
    """What is painted of one piece before anything else is."""

    owner: int
    """The place of the piece among those that the scene shows."""
    bodies: tuple[tuple[PaintedFace, ...], ...]
    """The faces of each of its convex bodies, the furthest first."""


def painted(scene: Scene, look: Look) -> Iterator[Stroke]:
    """All of a scene that faces the viewer, the furthest first."""
    towards, (right, up) = look.towards, look.axes
    tones = [tone_of(drawn_as(each.piece)) for each in scene.shown]
    colours: dict[tuple[Tone, Vector, bool], str] = {}

    def face(tone: Tone, facet: Facet) -> PaintedFace:
        key = (tone, facet.normal, facet.is_section)
        if key not in colours:
            colours[key] = colour_of(*key)
        return PaintedFace(_placed(facet, right, up), facet.edges, colours[key], facet.is_section)

    last, held = -1, list[tuple[PaintedFace, ...]]()
    for owner, facets in far_to_near(scene.space, towards):
        seen = tuple(face(tones[owner], facet) for facet in facets if facet.faces(towards))
        if not seen:
            continue
        if owner != last and held:
            yield Stroke(last, tuple(held))
            held = []
        last = owner
        held.append(seen)
    if held:
        yield Stroke(last, tuple(held))


def _placed(facet: Facet, right: Vector, up: Vector) -> Outline:
    (rx, ry, rz), (ux, uy, uz) = right, up
    return tuple((rx * x + ry * y + rz * z, -(ux * x + uy * y + uz * z)) for x, y, z in facet.corners)


def colour_of(tone: Tone, normal: Vector, is_cut: bool) -> str:
    """The colour of a face by the sun's light on it; of a cut, on which none falls, nearer to the ink."""
    if is_cut:
        return mixed(tone.ground, tone.ink, CUT)
    flat, more = LIGHT
    return mixed(tone.ground, "#000000", flat + more * dot(normal, SUN))


def mixed(one: str, other: str, share: float) -> str:
    """So much of one colour, and the rest of another."""
    figures = [
        round(share * int(one[at : at + 2], 16) + (1.0 - share) * int(other[at : at + 2], 16))
        for at in (1, 3, 5)
    ]
    return "#" + "".join(f"{figure:02x}" for figure in figures)


def lines_of(faces: tuple[PaintedFace, ...]) -> Iterator[tuple[Point, Point]]:
    """The lines that are drawn round faces of one piece, each once."""
    drawn: set[tuple[Point, Point]] = set()
    for face in faces:
        outline = face.outline
        for index, is_edge in enumerate(face.edges):
            if is_edge:
                line = outline[index], outline[(index + 1) % len(outline)]
                if line not in drawn:
                    drawn |= {line, line[::-1]}
                    yield line
