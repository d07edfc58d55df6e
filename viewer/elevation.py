"""An elevation: one wall to scale with its marks, openings, dimensions and tape, as SVG."""

from __future__ import annotations

import itertools
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, get_args

import svg

from soleplate.engine.extensions import Drawn, DrawnArea, DrawnLine
from soleplate.engine.layout import Layout, WallOut
from soleplate.viewer.cladding import draw_cladding, label_courses
from soleplate.viewer.dimensions import apex_mark, level_string, upright_string
from soleplate.viewer.face import Face, Side
from soleplate.viewer.flags import FLAG_ROOM, draw_flags
from soleplate.viewer.frame import TAG_INK, draw_openings, draw_pieces, label_openings, label_pieces
from soleplate.viewer.lettering import FONTS, Places, lettering, wrapped
from soleplate.viewer.rod_beside import ROOM, draw_rod
from soleplate.viewer.serialise import figure, svg_text
from soleplate.viewer.tape import tape
from soleplate.viewer.texts import ENGLISH, Texts
from soleplate.viewer.tones import tone_patterns

SHOWN: Final = ("frame", "openings", "marks", "dimensions")
"""What a drawing shows unless said otherwise; drawing layers of plugins come on top."""

BOARDED: Final[Mapping[str, Side]] = {"cladding": "outside", "lining": "inside"}
"""The layers of what lies on the frame, each with its face; seen from there it hides the frame."""

LAYERS: Final = (*SHOWN, *BOARDED)
"""What may be switched on and off."""

FINDINGS: Final = "findings"
"""A layer that drawings within a page have besides: flags whose numbers the page's findings bear."""

LEAST_PIXELS: Final = 10.5
"""Of lettering on a screen: a drawing asks for the width that gives at least this."""

PAPER: Final = "#fffdf8"
INK: Final = "#2b2d30"


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a drawing is made of, beyond the wall itself."""

    layout: Layout
    rows: Mapping[str, int]
    """Row of the cutting list by mark, counted from 0."""
    side: Side = "outside"
    layers: Collection[str] = LAYERS
    added: Mapping[str, Sequence[Drawn]] | None = None
    standalone: bool = True
    texts: Texts = ENGLISH


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
    wall = next((wall for wall in layout.walls if wall.name == wall_name), None)
    if wall is None:
        raise ValueError(f"no wall {wall_name!r}; the walls are {', '.join(w.name for w in layout.walls)}")
    if side not in get_args(Side):
        raise ValueError(f"no side {side!r}; the sides are {', '.join(get_args(Side))}")
    known = (*LAYERS, *(added or {}))
    if strange := sorted(set(layers) - set(known)):
        raise ValueError(f"no layer {strange[0]!r}; the layers are {', '.join(known)}")
    return draw_wall(wall, Sheet(layout, cutting_rows(layout), side, layers, added, standalone, texts))


def cutting_rows(layout: Layout) -> dict[str, int]:
    """The row of the cutting list, counted from 0, in which each mark stands."""
    return {mark: index for index, row in enumerate(layout.cutting_list) for mark in row.marks}


def draw_wall(wall: WallOut, sheet: Sheet) -> str:
    """As `elevation_svg`, of a wall of the sheet's layout."""
    face = Face(wall, sheet.side, sheet.layout.units, sheet.texts)
    size, middle = face.size, face.length / 2
    half = _half(face, sheet)
    apex = _apex(wall) if "dimensions" in sheet.layers else None
    flagged = FINDINGS in sheet.layers and any(found.wall == wall.name for found in sheet.layout.findings)
    headroom = face.height + (FLAG_ROOM if flagged else 2.2 if apex else 0.6) * size
    title = wrapped(_seen(face), 1.1 * size, 2 * half - 2 * size)
    top = -headroom - 1.5 * len(title) * size
    parts = [_lines("heading", title, middle - half + size, top, 1.1 * size), *_layers(face, sheet, apex)]
    drop = face.drop if "cladding" in sheet.layers else 0.0
    foot = 0.6 * size + drop
    if "marks" in sheet.layers and sheet.standalone:
        named, foot = _named_tape(face, 0.5 * size + drop, middle, half)
        parts += named
    if "dimensions" in sheet.layers:
        drawn, foot = _level_strings(face, foot)
        parts.append(_group("dimensions", drawn))
    cautions = sheet.layout.cautions if sheet.standalone else sheet.layout.cautions[:1]
    notes = [line for text in cautions for line in wrapped(text, 0.85 * size, 2 * half - 2 * size)]
    parts.append(_lines("cautions", notes, middle - half + size, foot + 0.8 * size, 0.85 * size))
    bottom = foot + (0.8 + 1.3 * 0.85 * len(notes) + 0.8) * size
    return svg_text(_root(face, sheet, parts, svg.ViewBoxSpec(middle - half, top, 2 * half, bottom - top)))


def _half(face: Face, sheet: Sheet) -> float:
    """Half the drawing's width: room for heights at either side, and for the rod within a page."""
    rod = 0.0 if sheet.standalone or not face.wall.courses else ROOM
    return max(face.length / 2 + (4.6 + rod) * face.size, 20 * face.size)


def draw_tape(wall: WallOut, sheet: Sheet) -> str:
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
    return svg_text(_sized(view, face, "tape-strip", sheet.texts.tape, [drawing]))


def _named_tape(face: Face, top: float, middle: float, half: float) -> tuple[list[svg.Element], float]:
    """The tape under its name, its upper edge at the drawing's y `top`; and how far down it reaches."""
    size = face.size
    name = face.texts.tape if face.side == "outside" else face.texts.tape_inside
    names = wrapped(name, 0.85 * size, 2 * half - 2 * size)
    strip = tape(face, top + (0.5 + 1.2 * len(names)) * size)
    title = _lines("marks", names, middle - half + size, top, 0.85 * size, gap=1.2 * size)
    return [title, _group("marks", strip.drawn)], strip.bottom


def _sized(
    view: svg.ViewBoxSpec, face: Face, class_: str, label: str, elements: list[svg.Element]
) -> svg.SVG:
    """A drawing of the width in pixels that gives its lettering at least `LEAST_PIXELS`.

    `data-along` and `data-tall` are the wall's length and greatest height, mm.
    """
    scale = LEAST_PIXELS / face.size
    return svg.SVG(
        viewBox=view,
        width=round(float(view.width) * scale),
        height=round(float(view.height) * scale),
        class_=[class_],
        data={"along": figure(face.length), "tall": figure(face.height)},
        extra={"role": "group", "aria-label": label},
        elements=elements,
    )


def _root(face: Face, sheet: Sheet, parts: list[svg.Element], view: svg.ViewBoxSpec) -> svg.SVG:
    seen = _seen(face)
    before: list[svg.Element] = []
    if sheet.standalone:
        paper = svg.Rect(x=view.min_x, y=view.min_y, width=view.width, height=view.height, fill=PAPER)
        before = [svg.Title(text=seen), tone_patterns([piece.role for piece in face.wall.pieces]), paper]
    drawing = svg.G(
        fill="currentColor",
        color=INK if sheet.standalone else None,
        extra={"font-family": FONTS},
        elements=parts,
    )
    return _sized(view, face, "elevation", seen, [*before, drawing])


def _layers(face: Face, sheet: Sheet, apex: tuple[float, float] | None) -> list[svg.Element]:
    """All that lies on the wall's face, timbers lowest and tags uppermost."""
    places = Places(4 * face.size)
    parts: list[svg.Element] = []
    if "frame" in sheet.layers:
        pieces = draw_pieces(face, sheet.rows, placed=not sheet.standalone)
        frame = svg.G(class_=["layer", "frame"], stroke=TAG_INK, stroke_width=4, elements=pieces)
        parts.append(frame)
    hidden = len(parts)
    if "openings" in sheet.layers:
        parts += [
            _group("openings", draw_openings(face)),
            _group("openings", label_openings(face, places), TAG_INK),
        ]
    for name, drawn in (sheet.added or {}).items():
        if name in sheet.layers:
            parts.append(_group(name, [_added(face, shape) for shape in drawn]))
    tags: list[svg.Element] = []
    if "marks" in sheet.layers and "frame" in sheet.layers:
        tags.append(_group("marks", label_pieces(face, places), TAG_INK))
    near = [
        _boarded(face, sheet, name) for name in _boarded_layers(face, sheet) if BOARDED[name] == face.side
    ]
    far = [_boarded(face, sheet, name) for name in _boarded_layers(face, sheet) if BOARDED[name] != face.side]
    if near:
        # Over the timbers and their marks, under all that is told of openings; within a page they are off at
        # first, and the marks needed.
        parts[hidden:hidden] = [*([] if sheet.standalone else tags), *near]
    else:
        parts += tags
    parts[:0] = far
    if "dimensions" in sheet.layers:
        parts.append(_group("dimensions", _upright_strings(face, apex)))
    if not sheet.standalone and face.wall.courses:
        parts.append(_group("dimensions", draw_rod(face, face.length + 4.2 * face.size)))
    if FINDINGS in sheet.layers:
        told = [finding for finding in sheet.layout.findings if finding.wall == face.wall.name]
        parts.append(_group(FINDINGS, draw_flags(face, told, places)))
    return parts


def _boarded_layers(face: Face, sheet: Sheet) -> list[str]:
    return [name for name in BOARDED if name in sheet.layers and face.on(BOARDED[name])]


def _boarded(face: Face, sheet: Sheet, layer: str) -> svg.G:
    """Boards and the numbers of their courses; off at first within a page, since they hide the frame."""
    off, facing = [] if sheet.standalone else ["off"], BOARDED[layer]
    boards = svg.G(
        stroke=TAG_INK,
        stroke_width=4,
        elements=draw_cladding(face, sheet.rows, facing, placed=not sheet.standalone),
    )
    numbers = svg.G(fill=TAG_INK, pointer_events="none", elements=label_courses(face, facing))
    return svg.G(class_=["layer", layer, *off], elements=[boards, numbers])


def _upright_strings(face: Face, apex: tuple[float, float] | None) -> list[svg.Element]:
    size, heights = face.size, (face.wall.top_line[0][1], face.wall.top_line[-1][1])
    left, right = heights if face.side == "outside" else heights[::-1]
    drawn = upright_string(face, left, -2.2 * size, 0.0)
    drawn += upright_string(face, right, face.length + 3.2 * size, face.length)
    return drawn + (apex_mark(face, *apex) if apex else [])


def _level_strings(face: Face, top: float) -> tuple[list[svg.Element], float]:
    """The openings' edges along the wall where there are any, and the length; and how far down they reach."""
    size = face.size
    edges = sorted({edge for opening in face.wall.openings for edge in (opening.left, opening.right)})
    stops = [0.0, *(edge for edge in edges if 0.0 < edge < face.length), face.length]
    drawn: list[svg.Element] = []
    if len(stops) > 2:
        top += 1.9 * size
        drawn += level_string(face, stops, top)
        tight = min(right - left for left, right in itertools.pairwise(stops)) < 4.5 * size
        top += (1.7 if tight else 0.0) * size
    top += 1.9 * size
    return drawn + level_string(face, (0.0, face.length), top), top + 0.6 * size


def _apex(wall: WallOut) -> tuple[float, float] | None:
    """The wall's highest point, where that is above both ends."""
    x, z = max(wall.top_line, key=lambda point: point[1])
    return (x, z) if z > max(wall.top_line[0][1], wall.top_line[-1][1]) + 0.5 else None


def _seen(face: Face) -> str:
    said = face.texts.seen_outside if face.side == "outside" else face.texts.seen_inside
    return said.format(wall=face.wall.name)


def _added(face: Face, shape: Drawn) -> svg.Element:
    if isinstance(shape, DrawnLine | DrawnArea):
        closed = isinstance(shape, DrawnArea)
        points = face.points(shape.outline if isinstance(shape, DrawnArea) else shape.points)
        title: list[svg.Element] = [svg.Title(text=shape.title)] if shape.title else []
        kind = svg.Polygon if closed else svg.Polyline
        return kind(
            points=points,
            fill="currentColor" if closed else "none",
            fill_opacity=0.2 if closed else None,
            stroke="currentColor",
            stroke_width=8,
            elements=title,
        )
    at = face.point(shape.at)
    return lettering(shape.text, float(at.x), float(at.y), face.size)


def _group(layer: str, elements: Iterable[svg.Element], fill: str | None = None) -> svg.G:
    """A layer's group; texts with a fill of their own stand on timber and let the pointer through to it."""
    return svg.G(
        class_=["layer", layer], fill=fill, pointer_events="none" if fill else None, elements=list(elements)
    )


def _lines(
    layer: str, lines: Sequence[str], left: float, top: float, size: float, *, gap: float | None = None
) -> svg.G:
    step = gap or 1.3 * size
    return _group(
        layer,
        [
            lettering(line, left, top + (index + 0.5) * step, size, anchor="start")
            for index, line in enumerate(lines)
        ],
    )
