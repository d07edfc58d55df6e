"""The tape on a sheet: running marks hung below it in rows, to be read without turning the sheet."""

from __future__ import annotations

from collections.abc import Sequence

import svg

from soleplate.engine.geometry import bounds
from soleplate.engine.layout import Mark
from soleplate.engine.units import MM_PER_INCH, format_figure
from soleplate.viewer.face import Face
from soleplate.viewer.lettering import lettering, spread, stacked, text_width
from soleplate.viewer.sheets.parts import Part
from soleplate.viewer.tape import PLATE, Tape

ROW = 1.22
"""Between lines of lettering, in text sizes."""

MOST_ROWS = 4
"""Where marks would hang in more rows, they stand upright side by side instead."""


def hung_tape(face: Face, part: Part, top: float) -> Tape:
    """The tape from the drawing's y `top`: each mark's line and cross, and below it mark and figure."""
    size = face.size
    edge = top + 1.2 * size
    marks = sorted(face.wall.marks.get(PLATE, ()), key=lambda mark: mark.at)
    texts = [(mark.mark, format_figure(mark.at, face.units)) for mark in marks]
    widths = [text_width(f"{mark} {figure}", 0.9 * size) for mark, figure in texts]
    placed = stacked(
        [(mark.at - 0.2 * size, width) for mark, width in zip(marks, widths, strict=True)],
        part.left - 2.2 * size,
        0.35 * size,
    )
    drawn: list[svg.Element] = [
        svg.Rect(
            x=part.left, y=top, width=part.right - part.left, height=edge - top,
            fill="#f7e9a8", stroke="currentColor", stroke_width=0.06 * size,
        ),
        _graduation(face, part, top),
        _crosses(face, marks, top, edge),
    ]  # fmt: skip
    rows = 1 + max((row for _, row in placed), default=0)
    clear = all(
        left + width <= mark.at + 0.2 * size
        for mark, width, (left, _) in zip(marks, widths, placed, strict=True)
    )
    if rows <= MOST_ROWS and clear:
        hung = _hung(face, edge, marks, texts, widths, placed)
        return Tape([*drawn, *hung], edge + (0.5 + ROW * rows) * size)
    return Tape(
        [*drawn, *_upright(face, part, edge, marks, texts)], edge + 1.2 * size + max(widths) + 0.2 * size
    )


def _hung(
    face: Face,
    edge: float,
    marks: Sequence[Mark],
    texts: Sequence[tuple[str, str]],
    widths: Sequence[float],
    placed: Sequence[tuple[float, int]],
) -> list[svg.Element]:
    """Mark and figure left of each line, in the row found for them."""
    size, small = face.size, 0.9 * face.size
    lines: list[svg.Element] = []
    names: list[svg.Element] = []
    figures: list[svg.Element] = []
    for mark, text, width, (left, row) in zip(marks, texts, widths, placed, strict=True):
        y = edge + (0.5 + ROW * (row + 0.5)) * size
        lines.append(svg.Line(x1=mark.at, y1=edge, x2=mark.at, y2=y + 0.45 * size))
        names.append(_text(text[0], left, y, small))
        figures.append(_text(text[1], left + width, y, small))
    return [
        svg.G(stroke="currentColor", stroke_width=0.06 * size, elements=lines),
        svg.G(extra={"font-weight": "bold"}, elements=names),
        svg.G(extra={"text-anchor": "end"}, elements=figures),
    ]


def _upright(
    face: Face, part: Part, edge: float, marks: Sequence[Mark], texts: Sequence[tuple[str, str]]
) -> list[svg.Element]:
    """Mark and figure reading upwards, side by side, each with a line that leads to its place."""
    size, small = face.size, 0.9 * face.size
    beyond = 1.6 * size
    places = spread([mark.at for mark in marks], 1.2 * small, part.left - beyond, part.right + beyond)
    lines: list[svg.Element] = []
    names: list[svg.Element] = []
    for mark, (name, figure), place in zip(marks, texts, places, strict=True):
        corners = [(mark.at, edge), (mark.at, edge + 0.3 * size), (place, edge + 1.0 * size)]
        lines.append(svg.Polyline(points=[svg.Point(*corner) for corner in corners], fill="none"))
        label = f"{name} {figure}"
        names.append(lettering(label, place, edge + 1.2 * size, small, anchor="end", turned=True))
    return [svg.G(stroke="currentColor", stroke_width=0.06 * size, elements=lines), *names]


def _text(text: str, x: float, y: float, size: float) -> svg.Text:
    return svg.Text(x=round(x, 1), y=round(y + 0.36 * size, 1), font_size=round(size, 2), text=text)


def _graduation(face: Face, part: Part, top: float) -> svg.G:
    """Short strokes each 100 mm and long ones each 500 mm, or each 3 in and each foot."""
    step, often = (100.0, 5) if face.units == "mm" else (3 * MM_PER_INCH, 4)
    strokes: list[svg.Element] = []
    first = int((part.left + 1e-6) // step) + 1
    for index in range(first, int((part.right - 1e-6) // step) + 1):
        reach = (0.5 if index % often == 0 else 0.25) * face.size
        strokes.append(svg.Line(x1=index * step, y1=top, x2=index * step, y2=top + reach))
    return svg.G(stroke="#4a4531", stroke_width=0.05 * face.size, elements=strokes)


def _crosses(face: Face, marks: Sequence[Mark], top: float, edge: float) -> svg.G:
    """A line at each near face, and a cross over the upright's breadth in the tape's lower half."""
    pieces = {piece.mark: piece for piece in face.wall.pieces}
    upper = (top + edge) / 2
    strokes: list[svg.Element] = [svg.Line(x1=mark.at, y1=top, x2=mark.at, y2=edge) for mark in marks]
    for mark in marks:
        if mark.mark in pieces:
            left, right, _, _ = bounds(pieces[mark.mark].outline)
            far = mark.at + right - left
            strokes += [svg.Line(x1=mark.at, y1=y, x2=far, y2=upper + edge - y) for y in (upper, edge)]
    return svg.G(stroke="#2b2d30", stroke_width=0.06 * face.size, elements=strokes)
