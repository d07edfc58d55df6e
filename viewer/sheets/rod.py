"""The storey rod on a sheet: each rod to scale, every course's lower edge told beside it."""

from __future__ import annotations

from collections.abc import Sequence

import svg

from soleplate.engine.building_file import format_figure
from soleplate.engine.layout import Layout, RodCourse
from soleplate.viewer.drawings import Rod, lettering, notches_of, rods_of, shortened, spread
from soleplate.viewer.paper import FIGURES, SCALES
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts

WIDE = 9.0
"""Of the drawn rod, mm on the sheet."""

HEAD = 3.0
"""Height over a rod for the names of its walls, in text sizes."""

ROW = 1.25
"""Between lines of lettering, in text sizes."""


def rod_pictures(layout: Layout, room: tuple[float, float], texts: Texts) -> tuple[list[Picture], int]:
    """A picture for each rod, at the largest standard scale at which all fit a sheet; and that scale."""
    rods = rods_of(layout)
    every = [course for rod in rods for course in rod.courses]
    low = min(0.0, *(course.bottom for course in every))
    tall = max(course.top for course in every) - low
    head = HEAD * FIGURES
    scale = next(scale for scale in SCALES if tall / scale + head + 2 * FIGURES <= room[1])
    return [_rod(rod, layout, room[0], scale, texts) for rod in rods], scale


def _rod(rod: Rod, layout: Layout, width: float, scale: int, texts: Texts) -> Picture:
    """One rod; 1 unit is 1 mm on the sheet, y 0 the underside of the sole plate."""
    size = FIGURES
    courses = rod.courses
    bottom, top = min(0.0, courses[0].bottom) / scale, max(course.top for course in courses) / scale
    walls = shortened(rod.name(texts), size, width - 4)
    parts: list[svg.Element] = [
        lettering(walls, 2.0, -top - 1.6 * size, size, anchor="start"),
        svg.Rect(
            x=2,
            y=-top,
            width=WIDE,
            height=top - bottom,
            fill="#f6e3bd",
            stroke="currentColor",
            stroke_width=0.25,
        ),
        *_ground(),
    ]
    edges = [-course.bottom / scale for course in reversed(courses)]
    lines = spread(edges, ROW * size, -top - 0.5 * size, -bottom + size)
    labels = [_edge(course, layout, texts) for course in reversed(courses)]
    beside = 2 + WIDE + 8.0
    for edge, line, label in zip(edges, lines, labels, strict=True):
        parts.append(_leader([(2.0, edge), (2 + WIDE + 2, edge), (beside - 1.0, line)]))
        parts.append(lettering(label, beside, line, size, anchor="start"))
    for _, at, _ in notches_of(courses):
        parts.append(_leader([(2.0, -at / scale), (2 + WIDE, -at / scale)], dashed=True))
    alt = texts.sheets.rod_alt.format(walls=rod.name(texts), courses=len(courses))
    view = 0.0, -top - HEAD * size, width, top - bottom + (HEAD + 2.0) * size
    return picture(parts, view, alt)


def _edge(course: RodCourse, layout: Layout, texts: Texts) -> str:
    return texts.sheets.rod_course.format(
        number=course.number, bottom=course.display, seen=format_figure(course.seen, layout.units)
    )


def notches_told(layout: Layout, texts: Texts) -> list[str]:
    """Where courses are notched for openings, in sentences, from the lowest."""
    return [
        texts.rod_notch.format(
            wall=texts.rod_of_lining.format(walls=wall) if rod.lining else wall,
            opening=opening,
            edge=edge,
            over=over,
        )
        for rod in rods_of(layout)
        for (wall, opening, edge), _, over in notches_of(rod.courses)
    ]


def _ground() -> list[svg.Element]:
    """The underside of the sole plate."""
    return [svg.Line(x1=0, y1=0, x2=WIDE + 4, y2=0, stroke="currentColor", stroke_width=0.6)]


def _leader(corners: Sequence[tuple[float, float]], *, dashed: bool = False) -> svg.Polyline:
    return svg.Polyline(
        points=[svg.Point(*corner) for corner in corners],
        fill="none",
        stroke="#8a3a00" if dashed else "currentColor",
        stroke_width=0.4 if dashed else 0.2,
        stroke_dasharray=[1.5, 0.7] if dashed else None,
    )
