"""All that lies on a wall's face, layer by layer."""

from __future__ import annotations

from collections.abc import Sequence

import svg

from soleplate.engine.layout import FindingOut
from soleplate.engine.rules import Drawn, DrawnArea, DrawnLine
from soleplate.viewer.drawings.anchor_marks import anchor_marks
from soleplate.viewer.drawings.boarding import Boarding, boardings, overhangs
from soleplate.viewer.drawings.dimensions import apex_mark, apex_room, upright_string
from soleplate.viewer.drawings.face import Face
from soleplate.viewer.drawings.fixing_marks import fixing_marks
from soleplate.viewer.drawings.flags import flag_pieces, flag_wall
from soleplate.viewer.drawings.frame import TAG_INK, draw_openings, draw_pieces, label_openings, label_pieces
from soleplate.viewer.drawings.layers import FINDINGS, FIXINGS, OF_FRAME, WallSheet, layer_group
from soleplate.viewer.drawings.lettering import Places, lettering
from soleplate.viewer.drawings.panels import break_lines, panel_numbers
from soleplate.viewer.drawings.rod_beside import draw_rod
from soleplate.viewer.drawings.strap_marks import strap_marks


def wall_layers(face: Face, sheet: WallSheet, apex: tuple[float, float] | None) -> list[svg.Element]:
    """What is furthest from the eye lowest, tags and flags uppermost; `apex` is the peak to be told."""
    places = Places(4 * face.size)
    if apex:
        places.take([apex_room(face, *apex)])
    shapes, labels = _openings(face, sheet, places)
    near, far = (boardings(face, sheet, places, is_near=is_near) for is_near in (True, False))
    hidden = [boarding.drawn for boarding in near]
    is_covered = sheet.standalone and bool(hidden)
    return [
        *(boarding.drawn for boarding in reversed(far)),
        *_timbers(face, sheet),
        *hidden,
        *shapes,
        *labels,
        *_plugins(face, sheet),
        *([] if is_covered else _told_of_frame(face, sheet, places)),
        *_heights(face, sheet, apex),
        *_panels(face, sheet, places),
        *_flags(face, sheet, [*far, *near], places),
    ]


def _timbers(face: Face, sheet: WallSheet) -> list[svg.Element]:
    if "frame" not in sheet.layers:
        return []
    pieces = draw_pieces(face, sheet.rows, placed=not sheet.standalone)
    elements = [*pieces, *strap_marks(face), *anchor_marks(face)]
    return [svg.G(class_=["layer", "frame"], stroke=TAG_INK, stroke_width=4, elements=elements)]


def _openings(face: Face, sheet: WallSheet, places: Places) -> tuple[list[svg.Element], list[svg.Element]]:
    if "openings" not in sheet.layers:
        return [], []
    labels = label_openings(face, places)
    return [layer_group("openings", draw_openings(face))], [layer_group("openings", labels, TAG_INK)]


def _told_of_frame(face: Face, sheet: WallSheet, places: Places) -> list[svg.Element]:
    """The marks of the timbers, and how they are fixed."""
    told: list[svg.Element] = []
    if FIXINGS in sheet.layers:
        told += fixing_marks(face, face.frame)
    if "marks" in sheet.layers:
        told.append(layer_group("marks", label_pieces(face, places), TAG_INK))
    return [svg.G(class_=[OF_FRAME], elements=told)] if told else []


def _plugins(face: Face, sheet: WallSheet) -> list[svg.Element]:
    return [
        layer_group(name, [_added(face, shape) for shape in drawn])
        for name, drawn in (sheet.added or {}).items()
        if name in sheet.layers
    ]


def _flags(face: Face, sheet: WallSheet, boarded: Sequence[Boarding], places: Places) -> list[svg.Element]:
    """Flags of the whole wall, of its timbers, and of what lies on them, each group in its own layer."""
    if FINDINGS not in sheet.layers:
        return []
    told: list[FindingOut] = [found for found in sheet.layout.findings if found.part == face.wall.name]
    groups = [
        ([], flag_wall(face, told, places)),
        ([OF_FRAME], flag_pieces(face, told, face.frame, places)),
        *(
            (boarding.classes, flag_pieces(face, told, boarding.pieces, boarding.places))
            for boarding in boarded
        ),
    ]
    return [svg.G(class_=["layer", FINDINGS, *classes], elements=flags) for classes, flags in groups if flags]


def _heights(face: Face, sheet: WallSheet, apex: tuple[float, float] | None) -> list[svg.Element]:
    """The heights at both ends and the storey rod, clear of the boards."""
    size, (left, right) = face.size, overhangs(face, sheet)
    heights: list[svg.Element] = []
    if "dimensions" in sheet.layers:
        ends = (face.wall.top_line[0][1], face.wall.top_line[-1][1])
        first, last = ends if face.side == "outside" else ends[::-1]
        heights += upright_string(face, first, -2.2 * size - left, -left)
        heights += upright_string(face, last, face.length + 3.2 * size + right, face.length + right)
        heights += apex_mark(face, *apex) if apex else []
    if not sheet.standalone and face.wall.courses:
        heights += draw_rod(face, face.length + 4.2 * size + right)
    return [layer_group("dimensions", heights)] if heights else []


def _panels(face: Face, sheet: WallSheet, places: Places) -> list[svg.Element]:
    """The breaks between panels, and their numbers."""
    if "dimensions" not in sheet.layers or not face.wall.panels:
        return []
    return [layer_group("dimensions", [*break_lines(face), *panel_numbers(face, places)])]


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
