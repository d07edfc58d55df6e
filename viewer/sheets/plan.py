"""The plan on the cover: every wall with its name and length, to a standard scale."""

from __future__ import annotations

import svg

from soleplate.engine.building_file import format_figure
from soleplate.engine.layout import Layout, WallOut
from soleplate.engine.shapes import bounds
from soleplate.viewer.drawings import (
    LetteringBox,
    Places,
    fill_of,
    lettering,
    shortened,
    tone_patterns,
    wall_points,
    wall_rectangle,
)
from soleplate.viewer.paper import FIGURE_WIDTH, FIGURES, SCALES, scale_text
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts

MARGIN = 2.6
"""Around the walls, in text sizes: a name stands in it."""

_TIMBER = "sole plate"


def cover_plan(layout: Layout, room: tuple[float, float], texts: Texts) -> tuple[Picture, int]:
    """The plan at the largest scale that fits a room in mm on the sheet; the front is at the bottom."""
    corners = [corner for wall in layout.walls for corner in wall_rectangle(wall, 0.0, wall.length)]
    left, right, bottom, top = bounds(corners)
    for scale in SCALES:
        size = FIGURES * scale
        margin = MARGIN * size
        wide, tall = right - left + 2 * margin, top - bottom + 2 * margin
        if wide <= room[0] * scale and tall <= room[1] * scale:
            break
    places = Places(6 * size)
    parts = [part for wall in layout.walls for part in _outline(wall, size)]
    for wall in sorted(layout.walls, key=lambda wall: wall.length):
        parts += _name(wall, size, places, layout)
    names = ", ".join(wall.name for wall in layout.walls)
    alt = texts.sheets.plan_alt.format(name=layout.name, scale=scale_text(scale), walls=names)
    view = left - margin, -top - margin, wide, tall
    return picture(parts, view, alt, scale=scale, defs=[tone_patterns([_TIMBER])]), scale


def _outline(wall: WallOut, size: float) -> list[svg.Element]:
    timber = _shape(wall, 0.0, wall.length, size, fill_of(_TIMBER))
    return [
        timber,
        *(_shape(wall, opening.left, opening.right, size, "#ffffff") for opening in wall.openings),
    ]


def _name(wall: WallOut, size: float, places: Places, layout: Layout) -> list[svg.Element]:
    """The wall's name and length beside its outer face, or where that is taken, beside its inner face.

    Nothing where there is no room for either: the list of sheets tells the names in any case.
    """
    length = format_figure(wall.length, layout.units)
    room = max(wall.length - _width(f" {length}", size), 4 * size)
    said = f"{shortened(wall.name, size, room)} {length}"
    if _width(said, size) > wall.length:
        said = shortened(wall.name, size, max(wall.length, 3 * size))
    wide = _width(said, size)
    choices: list[tuple[LetteringBox, tuple[float, float], bool]] = []
    for outwards in (1.1 * size, -wall.plan.depth - 1.1 * size):
        (x0, y0), (x1, y1), *_ = wall_rectangle(wall, 0.0, wall.length, outwards=outwards)
        upright = abs(y1 - y0) > abs(x1 - x0)
        for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8):
            at = x0 + share * (x1 - x0), -(y0 + share * (y1 - y0))
            box = LetteringBox.around(*at, *((size, wide) if upright else (wide, size)))
            choices.append((box, at, upright))
    choice = next((choice for choice in choices if places.is_free(choice[0])), None)
    if choice is None:
        return []
    places.take([choice[0]])
    return [lettering(said, *choice[1], size, turned=choice[2])]


def _width(text: str, size: float) -> float:
    return len(text) * FIGURE_WIDTH * size


def _shape(wall: WallOut, left: float, right: float, size: float, fill: str) -> svg.Polygon:
    return svg.Polygon(
        points=wall_points(wall_rectangle(wall, left, right)),
        fill=fill,
        stroke="currentColor",
        stroke_width=0.09 * size,
    )
