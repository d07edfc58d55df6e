"""A picture of the whole building as SVG: axonometric, without what is hidden, to be printed or touched."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import svg

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import Layout
from soleplate.engine.shapes import Point, bounds
from soleplate.viewer.drawings import INK, PAPER, drawn_as, role_class
from soleplate.viewer.markup import figure, svg_text
from soleplate.viewer.pictures.look import Look
from soleplate.viewer.pictures.painting import PaintedFace, Stroke, lines_of, painted
from soleplate.viewer.pictures.scene import PicturedPiece, Scene, scene_of
from soleplate.viewer.pictures.slabs import UNMARKED
from soleplate.viewer.words import ENGLISH, Texts, role_text

MARGIN: Final = 0.03
"""Paper round a picture, by its larger side."""

LINE: Final = 1 / 1500
"""Breadth of a line, by the same; what closes the seam of a piece that is painted in parts has half of it."""

LEAST: Final = 100.0
"""mm. Nothing is shown larger than so much would be."""

PIXELS: Final = 900
"""Of the larger side of a picture, where nobody says how large it is to be shown."""


Box = tuple[float, float, float, float]
"""Left, top, width and height, mm."""


@dataclass(frozen=True, slots=True)
class Painting:
    """A picture before it is put together: its elements, and the place that they take."""

    elements: Sequence[svg.Element]
    box: Box
    """With a margin."""
    seen: str
    """What it shows, in words."""
    notes: tuple[str, ...]
    """What is to be said besides: that a plane cuts nothing, or that nothing is shown."""


def picture_svg(layout: Layout, look: Look, texts: Texts = ENGLISH) -> str:
    """A picture that stands alone; 1 unit is 1 mm in the picture's plane.

    Each piece, or each part of one that others come between, is a group of the class `piece` with its
    `data-mark`; faces where a plane cuts have the class `cut`.
    """
    painting = painting_of(layout, look, texts)
    left, top, width, height = painting.box
    scale = PIXELS / max(width, height)
    paper = svg.Rect(x=left, y=top, width=width, height=height, fill=PAPER)
    notes = " ".join(painting.notes)
    return svg_text(
        svg.SVG(
            viewBox=svg.ViewBoxSpec(left, top, width, height),
            width=round(width * scale),
            height=round(height * scale),
            class_=["picture"],
            extra={"role": "group", "aria-label": f"{painting.seen}. {notes}".rstrip()},
            elements=[
                svg.Title(text=painting.seen),
                *([svg.Desc(text=notes)] if notes else []),
                paper,
                *painting.elements,
            ],
        )
    )


def painting_of(
    layout: Layout, look: Look, texts: Texts = ENGLISH, *, line: Callable[[Box], float] | None = None
) -> Painting:
    """What a building looks like; `line` says of the place that it takes how broad lines are, mm."""
    scene = scene_of(layout, look)
    strokes = list(painted(scene, look))
    box = box_of(strokes)
    breadth = line(box) if line else LINE * max(box[2:])
    titled: set[int] = set()
    drawn: list[svg.Element] = [
        _piece(stroke, scene.shown[stroke.owner], breadth, titled, texts) for stroke in strokes
    ]
    whole = svg.G(
        stroke=INK,
        stroke_width=round(breadth, 2),
        fill="none",
        extra={"stroke-linejoin": "round", "stroke-linecap": "round"},
        elements=drawn,
    )
    return Painting([whole], box, seen_from(layout, look, texts), _notes(scene, strokes, texts))


def seen_from(layout: Layout, look: Look, texts: Texts = ENGLISH) -> str:
    """What a look shows, in words."""
    said = texts.pictures
    eighth = round(look.azimuth / 45.0) % 8
    place = said.places[eighth]
    if abs(look.elevation) > 67.5:
        place = said.straight_above if look.elevation > 0 else said.straight_below
    elif abs(look.elevation) > 10.0:
        place = (said.above if look.elevation > 0 else said.below).format(place=place)
    seen = said.seen if look.part is None else said.part_seen
    told = seen.format(name=layout.name, part=look.part, place=place)
    if look.cut is None:
        return told
    at = format_length(look.cut.at, layout.units)
    return said.cut.format(seen=told, way=said.ways[look.cut.across], at=at)


def _notes(scene: Scene, strokes: Sequence[Stroke], texts: Texts) -> tuple[str, ...]:
    said = texts.pictures
    if not scene.shown:
        return (said.empty,)
    if scene.is_missed:
        return (said.missed_whole if strokes else said.missed_all,)
    return ()


def box_of(strokes: Sequence[Stroke]) -> Box:
    """The place that is painted, with a margin."""
    points = [
        point for stroke in strokes for body in stroke.bodies for face in body for point in face.outline
    ]
    left, right, top, bottom = bounds(points) if points else (0.0, 0.0, 0.0, 0.0)
    size = max(right - left, bottom - top, LEAST)
    margin = MARGIN * size
    width, height = max(right - left, 0.1 * size), max(bottom - top, 0.1 * size)
    return left - margin, top - margin, width + 2 * margin, height + 2 * margin


def _piece(stroke: Stroke, shown: PicturedPiece, line: float, titled: set[int], texts: Texts) -> svg.G:
    """A piece, or what of it is painted before something else is; the first time with its title."""
    piece = shown.piece
    tone = drawn_as(piece)
    drawn: list[svg.Element] = []
    if piece.mark == UNMARKED:
        for body in stroke.bodies:
            drawn += _faces(body, line)
        return svg.G(class_=["slab", role_class(tone)], elements=drawn)
    if stroke.owner not in titled:
        titled.add(stroke.owner)
        role = role_text(piece.role, texts)
        drawn.append(
            svg.Title(text=texts.piece_title.format(mark=piece.mark, role=role, length=piece.display))
        )
    for body in stroke.bodies:
        drawn += _faces(body, line)
    data: Mapping[str, str] = {"mark": piece.mark}
    return svg.G(class_=["piece", role_class(tone)], data=dict(data), elements=drawn)


def _faces(body: tuple[PaintedFace, ...], line: float) -> Iterator[svg.Element]:
    """The faces of a body, those of one colour together, and its edges over them."""
    is_part = not all(all(face.edges) for face in body)
    for (colour, is_cut), faces in itertools.groupby(body, lambda face: (face.colour, face.is_cut)):
        path = "".join(f"M{'L'.join(map(_at, face.outline))}Z" for face in faces)
        yield svg.Path(
            class_=["cut"] if is_cut else None,
            fill=colour,
            stroke=colour if is_part else "none",
            stroke_width=round(line / 2, 2) if is_part else None,
            extra={"d": path},
        )
    if lines := "".join(f"M{_at(start)}L{_at(end)}" for start, end in lines_of(body)):
        yield svg.Path(extra={"d": lines})


def _at(point: Point) -> str:
    return f"{figure(round(point[0], 1))} {figure(round(point[1], 1))}"
