"""The storey rod beside an elevation: the courses of the wall on an upright stick, level with the drawing."""

from __future__ import annotations

from typing import Final

import svg

from soleplate.engine.building_file import format_figure
from soleplate.viewer.drawings.face import Face
from soleplate.viewer.drawings.lettering import lettering

ROOM: Final = 5.5
"""In text sizes: how wide the rod is with its figures."""

_ROD: Final = "#f6e3bd"
_INK: Final = "#2b2d30"


def draw_rod(face: Face, left: float) -> list[svg.Element]:
    """The rod with its left edge at the drawing's x `left`: each course's number, and its lower edge.

    Each course is a group `course` that tells its number with `data-course`.
    """
    size, drawn = face.size, list[svg.Element]()
    for course in face.wall.courses:
        tall = course.top - course.bottom
        text = min(0.85 * size, 0.8 * tall)
        box = svg.Rect(
            x=left, y=-course.top, width=1.6 * size, height=tall, fill=_ROD, stroke=_INK, stroke_width=4
        )
        edge = svg.Line(
            x1=left, y1=-course.bottom, x2=left + 2.2 * size, y2=-course.bottom,
            stroke="currentColor", stroke_width=6,
        )  # fmt: skip
        number = lettering(f"{course.number}", left + 0.8 * size, -(course.bottom + course.top) / 2, text)
        number.fill = _INK
        height = lettering(
            format_figure(course.bottom, face.units), left + 2.4 * size, -course.bottom, text, anchor="start"
        )
        drawn.append(
            svg.G(class_=["course"], data={"course": course.number}, elements=[box, edge, number, height])
        )
    return drawn
