"""An elevation: one wall to scale with its marks, openings, dimensions and tape, as SVG."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Mapping, Sequence
from typing import Final, get_args

import svg

from soleplate.engine.layout import Layout, WallOut
from soleplate.engine.rules import Drawn
from soleplate.viewer.drawings.boarding import overhangs
from soleplate.viewer.drawings.dimensions import level_string
from soleplate.viewer.drawings.face import Face, Side
from soleplate.viewer.drawings.flags import FLAG_ROOM
from soleplate.viewer.drawings.laid import drawn_parts, told_of
from soleplate.viewer.drawings.layers import BOARDED, FINDINGS, LAYERS, SHOWN, WallSheet, layer_group
from soleplate.viewer.drawings.lettering import FONTS, lettering, wrapped
from soleplate.viewer.drawings.panels import PANEL_ROOM, breaks_of
from soleplate.viewer.drawings.rod_beside import ROOM
from soleplate.viewer.drawings.tape import tape
from soleplate.viewer.drawings.tiers import tiers
from soleplate.viewer.drawings.tones import drawn_as, tone_patterns
from soleplate.viewer.drawings.wall_layers import wall_layers
from soleplate.viewer.lists import cutting_rows
from soleplate.viewer.markup import figure, svg_text
from soleplate.viewer.words import ENGLISH, Texts

LEAST_PIXELS: Final = 10.5
"""Of lettering on a screen: a drawing asks for the width that gives at least this."""

PAPER: Final = "#fffdf8"
INK: Final = "#2b2d30"


def elevation_svg(
    layout: Layout,
    wall_name: str,
    *,
    side: Side = "outside",
    layers: Collection[str] = SHOWN,
    added: Mapping[str, Sequence[Drawn]] | None = None,
    standalone: bool = True,
    texts: Texts = ENGLISH,
) -> str:
    """Draw a wall; 1 unit is 1 mm, the wall's left end at x 0 and the underside of the sole plate at y 0.

    `layers` are those to draw, of `LAYERS` and of `added`: what drawing layers of plugins drew on this
    wall, by their names. A drawing that stands alone brings its own paper, patterns and all cautions; one
    within a page finds the patterns there (`tone_patterns`).

    Raises:
        ValueError: there is no such wall, side or layer; the message lists those there are.
    """
    parts = drawn_parts(layout)
    wall = next((part for part in parts if part.name == wall_name), None)
    if wall is None:
        raise ValueError(f"no wall {wall_name!r}; the walls are {', '.join(part.name for part in parts)}")
    if side not in get_args(Side):
        raise ValueError(f"no side {side!r}; the sides are {', '.join(get_args(Side))}")
    known = (*LAYERS, *(added or {}))
    if strange := sorted(set(layers) - set(known)):
        raise ValueError(f"no layer {strange[0]!r}; the layers are {', '.join(known)}")
    told = told_of(wall, texts)
    return draw_wall(wall, WallSheet(layout, cutting_rows(layout), side, layers, added, standalone, told))


def draw_wall(wall: WallOut, sheet: WallSheet) -> str:
    """As `elevation_svg`, of a wall of the sheet's layout."""
    face = Face(wall, sheet.side, sheet.layout.units, sheet.texts)
    size, middle = face.size, face.length / 2
    half = _half(face, sheet)
    apex = _apex(wall) if "dimensions" in sheet.layers else None
    flagged = FINDINGS in sheet.layers and any(found.part == wall.name for found in sheet.layout.findings)
    over = FLAG_ROOM if flagged else 2.2 if apex else PANEL_ROOM if wall.panels else 0.6
    headroom = face.height + over * size
    title = wrapped(_seen(face), 1.1 * size, 2 * half - 2 * size)
    top = -headroom - 1.5 * len(title) * size
    parts = [_lines("heading", title, middle - half + size, top, 1.1 * size), *wall_layers(face, sheet, apex)]
    drop = face.drop if "cladding" in sheet.layers else 0.0
    foot = 0.6 * size + drop
    if "marks" in sheet.layers and sheet.standalone:
        named, foot = _named_tape(face, 0.5 * size + drop, middle, half)
        parts += named
    if "dimensions" in sheet.layers:
        drawn, foot = _level_strings(face, foot)
        parts.append(layer_group("dimensions", drawn))
    cautions = sheet.layout.cautions if sheet.standalone else sheet.layout.cautions[:1]
    notes = [line for text in cautions for line in wrapped(text, 0.85 * size, 2 * half - 2 * size)]
    parts.append(_lines("cautions", notes, middle - half + size, foot + 0.8 * size, 0.85 * size))
    bottom = foot + (0.8 + 1.3 * 0.85 * len(notes) + 0.8) * size
    return svg_text(_root(face, sheet, parts, svg.ViewBoxSpec(middle - half, top, 2 * half, bottom - top)))


def _half(face: Face, sheet: WallSheet) -> float:
    """Half the drawing's width: room for heights at either side, and for the rod within a page."""
    rod = 0.0 if sheet.standalone or not face.wall.courses else ROOM
    beyond = max(overhangs(face, sheet))
    return max(face.length / 2 + beyond + (4.6 + rod) * face.size, 20 * face.size)


def draw_tape(wall: WallOut, sheet: WallSheet) -> str:
    """The tape of a wall by itself, as wide as the wall's drawing within a page and in step with it.

    What is along the wall is in the group `scaled`; each label is a group `mark` that tells with `data-x`
    what place it stands for, so that a script can stretch the one and move the other.
    """
    face = Face(wall, sheet.side, sheet.layout.units, sheet.texts)
    size, middle = face.size, face.length / 2
    half = _half(face, sheet)
    parts, foot = _named_tape(face, 0.5 * size, middle, half)
    view = svg.ViewBoxSpec(middle - half, 0, 2 * half, foot + 0.6 * size)
    drawing = svg.G(fill="currentColor", extra={"font-family": FONTS}, elements=parts)
    return svg_text(_sized(view, face, ["tape-strip"], sheet.texts.tape, [drawing]))


def _named_tape(face: Face, top: float, middle: float, half: float) -> tuple[list[svg.Element], float]:
    """The tape under its name, its upper edge at the drawing's y `top`; and how far down it reaches."""
    size = face.size
    name = face.texts.tape if face.side == "outside" else face.texts.tape_inside
    names = wrapped(name, 0.85 * size, 2 * half - 2 * size)
    strip = tape(face, top + (0.5 + 1.2 * len(names)) * size)
    title = _lines("marks", names, middle - half + size, top, 0.85 * size, gap=1.2 * size)
    return [title, layer_group("marks", strip.drawn)], strip.bottom


def _sized(
    view: svg.ViewBoxSpec, face: Face, classes: list[str], label: str, elements: list[svg.Element]
) -> svg.SVG:
    """A drawing of the width in pixels that gives its lettering at least `LEAST_PIXELS`.

    `data-along` and `data-tall` are the wall's length and greatest height, mm.
    """
    scale = LEAST_PIXELS / face.size
    return svg.SVG(
        viewBox=view,
        width=round(float(view.width) * scale),
        height=round(float(view.height) * scale),
        class_=classes,
        data={"along": figure(face.length), "tall": figure(face.height)},
        extra={"role": "group", "aria-label": label},
        elements=elements,
    )


def _root(face: Face, sheet: WallSheet, parts: list[svg.Element], view: svg.ViewBoxSpec) -> svg.SVG:
    seen = _seen(face)
    before: list[svg.Element] = []
    if sheet.standalone:
        paper = svg.Rect(x=view.min_x, y=view.min_y, width=view.width, height=view.height, fill=PAPER)
        patterns = tone_patterns([drawn_as(piece) for piece in face.wall.pieces])
        before = [svg.Title(text=seen), patterns, paper]
    drawing = svg.G(
        fill="currentColor",
        color=INK if sheet.standalone else None,
        extra={"font-family": FONTS},
        elements=parts,
    )
    return _sized(view, face, ["elevation", *_near_classes(face)], seen, [*before, drawing])


def _near_classes(face: Face) -> list[str]:
    """What a style sheet must know of a drawing to hide what boards cover: `near-cladding`, `near-behind`."""
    near = next(layer for layer, facing in BOARDED.items() if facing == face.side)
    laid = tiers(face.wall, face.side)
    behind = ["near-behind"] if any(tier.is_behind for tier in laid) else []
    return [f"near-{near}", *behind] if laid else []


def _level_strings(face: Face, top: float) -> tuple[list[svg.Element], float]:
    """The openings' edges where there are any, the panels, and the length; and how far down they reach."""
    size = face.size
    edges = sorted({edge for opening in face.wall.openings for edge in (opening.left, opening.right)})
    stops = [0.0, *(edge for edge in edges if 0.0 < edge < face.length), face.length]
    drawn: list[svg.Element] = []
    if len(stops) > 2:
        top += 1.9 * size
        drawn += level_string(face, stops, top)
        tight = min(right - left for left, right in itertools.pairwise(stops)) < 4.5 * size
        top += (1.7 if tight else 0.0) * size
    if face.wall.panels:
        top += 1.9 * size
        drawn += level_string(face, (0.0, *breaks_of(face.wall), face.length), top)
    top += 1.9 * size
    return drawn + level_string(face, (0.0, face.length), top), top + 0.6 * size


def _apex(wall: WallOut) -> tuple[float, float] | None:
    """The wall's highest point, where that is above both ends."""
    x, z = max(wall.top_line, key=lambda point: point[1])
    return (x, z) if z > max(wall.top_line[0][1], wall.top_line[-1][1]) + 0.5 else None


def _seen(face: Face) -> str:
    said = face.texts.seen_outside if face.side == "outside" else face.texts.seen_inside
    return said.format(wall=face.wall.name)


def _lines(
    layer: str, lines: Sequence[str], left: float, top: float, size: float, *, gap: float | None = None
) -> svg.G:
    step = gap or 1.3 * size
    return layer_group(
        layer,
        [
            lettering(line, left, top + (index + 0.5) * step, size, anchor="start")
            for index, line in enumerate(lines)
        ],
    )
