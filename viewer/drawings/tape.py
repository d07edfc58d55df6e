"""The tape under an elevation: running marks of the sole plate, in step with the drawing.

Each mark is drawn as it is made on the plate: a line at the stud's near face and a cross on the side where
the stud stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import svg

from soleplate.engine.building_file import MM_PER_INCH
from soleplate.engine.layout import Mark
from soleplate.engine.shapes import bounds
from soleplate.viewer.drawings.face import Face
from soleplate.viewer.drawings.lettering import lettering, spread, text_width
from soleplate.viewer.markup import figure


@dataclass(frozen=True, slots=True)
class Tape:
    """A drawn tape and the drawing's y that it reaches down to."""

    drawn: list[svg.Element]
    bottom: float


def tape(face: Face, top: float) -> Tape:
    """The tape with its upper edge at the drawing's y `top`; labels read upwards from their marks."""
    size = face.size
    edge = top + 1.1 * size
    marks = next(iter(face.wall.marks.values()), ())
    text_size = 0.92 * size
    named = sorted(((face.x(mark.at), mark) for mark in marks), key=lambda pair: pair[0])
    places = spread([x for x, _ in named], 1.12 * text_size, -2.6 * size, face.length + 2.6 * size)
    label_top = edge + 1.1 * size
    longest = max((text_width(_label(mark), text_size) for mark in marks), default=0.0)
    strip: list[svg.Element] = [
        svg.Rect(
            x=0, y=top, width=face.length, height=edge - top,
            fill="#f7e9a8", stroke="currentColor", stroke_width=4, class_=["tape"],
        ),
        _graduation(face, top),
        _crosses(face, marks, top, edge),
    ]  # fmt: skip
    drawn: list[svg.Element] = [svg.G(class_=["scaled"], elements=strip)]
    for (x, mark), place in zip(named, places, strict=True):
        leader = svg.Polyline(
            points=[svg.Point(x, top), svg.Point(x, edge), svg.Point(place, label_top - 0.2 * size)],
            fill="none",
            stroke="currentColor",
            stroke_width=5,
        )
        label = lettering(_label(mark), place, label_top, text_size, anchor="end", turned=True)
        drawn.append(svg.G(class_=["mark"], data={"x": figure(x)}, elements=[leader, label]))
    return Tape(drawn, label_top + longest)


def _label(mark: Mark) -> str:
    return f"{mark.mark}  {mark.display}"


def _graduation(face: Face, top: float) -> svg.G:
    """Short strokes each 100 mm and long ones each 500 mm, or each 3 in and each foot."""
    step, often = (100.0, 5) if face.units == "mm" else (3 * MM_PER_INCH, 4)
    strokes: list[svg.Element] = []
    for index in range(1, int((face.length - 1e-6) // step) + 1):
        x, reach = face.x(index * step), (0.45 if index % often == 0 else 0.22) * face.size
        strokes.append(svg.Line(x1=x, y1=top, x2=x, y2=top + reach))
    return svg.G(stroke="#4a4531", stroke_width=3, elements=strokes)


def _crosses(face: Face, marks: Sequence[Mark], top: float, edge: float) -> svg.G:
    """A cross over each upright's breadth, in the lower half of the tape."""
    pieces = {piece.mark: piece for piece in face.wall.pieces}
    upper = (top + edge) / 2
    strokes: list[svg.Element] = []
    for mark in marks:
        if mark.mark in pieces:
            left, right, _, _ = bounds(pieces[mark.mark].outline)
            near, far = face.x(mark.at), face.x(mark.at + right - left)
            strokes += [svg.Line(x1=near, y1=y, x2=far, y2=upper + edge - y) for y in (upper, edge)]
    return svg.G(stroke="#2b2d30", stroke_width=5, elements=strokes)
