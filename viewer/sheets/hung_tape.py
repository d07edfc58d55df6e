"""The tape on a sheet: running marks hung below it in rows, to be read without turning the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import svg

from soleplate.engine.building_file import MM_PER_INCH, format_figure
from soleplate.engine.layout import Mark
from soleplate.engine.shapes import bounds
from soleplate.viewer.drawings import Face, Tape, lettering, spread
from soleplate.viewer.paper import FIGURE_WIDTH
from soleplate.viewer.sheets.parts import SheetPart
from soleplate.viewer.sheets.strings import BESIDE

ROW = 1.1
"""Between lines of lettering, in text sizes."""

MOST_ROWS = 4
"""Where marks would hang in more rows, they stand upright side by side instead."""

CLEAR = 0.2
"""Between a mark's line and its text, in text sizes."""


@dataclass(frozen=True, slots=True)
class Hung:
    """A text in its row, from 0, beside the line that comes down to it from its place on the tape."""

    at: float
    left: float
    right: float
    row: int

    def is_clear_of(self, other: Hung, gap: float) -> bool:
        """Whether neither's line or text comes nearer than `gap` to the other's text."""
        if self.row == other.row and self.left < other.right + gap and other.left < self.right + gap:
            return False
        return not (self._strikes(other, gap) or other._strikes(self, gap))

    def _strikes(self, other: Hung, gap: float) -> bool:
        return other.row <= self.row and other.left - gap < self.at < other.right + gap


def hung_tape(face: Face, part: SheetPart, top: float) -> Tape:
    """The tape from the drawing's y `top`: each mark's line and cross, and below it mark and figure."""
    size = face.size
    edge = top + 1.2 * size
    marks = sorted(next(iter(face.wall.marks.values()), ()), key=lambda mark: mark.at)
    texts = [(mark.mark, format_figure(mark.at, face.units)) for mark in marks]
    widths = [len(f"{mark} {figure}") * FIGURE_WIDTH * 0.9 * size for mark, figure in texts]
    drawn: list[svg.Element] = [
        svg.Rect(
            x=part.left, y=top, width=part.right - part.left, height=edge - top,
            fill="#f7e9a8", stroke="currentColor", stroke_width=0.06 * size,
        ),
        _graduation(face, part, top),
        _crosses(face, marks, top, edge),
    ]  # fmt: skip
    # Beside the wall there is room for a text, but none beyond a match line.
    beside = (BESIDE - 0.05) * size
    least = part.left + (-beside if part.begins else CLEAR * size)
    most = part.right + (beside if part.ends else -CLEAR * size)
    places = [(mark.at, width) for mark, width in zip(marks, widths, strict=True)]
    placed = hung(places, least, most, CLEAR * size)
    if placed is not None:
        rows = 1 + max((text.row for text in placed), default=0)
        return Tape([*drawn, *_hung(face, edge, texts, placed)], edge + (0.4 + ROW * rows) * size)
    return Tape(
        [*drawn, *_upright(face, part, edge, marks, texts)], edge + 1.2 * size + max(widths) + 0.2 * size
    )


def hung(places: Sequence[tuple[float, float]], least: float, most: float, clear: float) -> list[Hung] | None:
    """Rows for texts of (place on the tape, width), the places rising; `None` where `MOST_ROWS` do not do.

    A text stands left of its line, and goes to the nearest row in which it is clear. The first ones, up to
    the last that would begin before `least`, stand right of their lines; none ends beyond `most`.
    """
    leading = max((i for i, (at, wide) in enumerate(places, 1) if at - clear - wide < least), default=0)
    order = [*range(leading - 1, -1, -1), *range(leading, len(places))]
    found: dict[int, Hung] = {}
    for index in order:
        at, width = places[index]
        left = at + clear if index < leading else at - clear - width
        # A line is as far from another's text as from its own.
        rows = (Hung(at, left, left + width, row) for row in range(MOST_ROWS))
        text = next((text for text in rows if all(text.is_clear_of(o, clear) for o in found.values())), None)
        if text is None or text.right > most:
            return None
        found[index] = text
    return [found[index] for index in range(len(places))]


def _hung(
    face: Face, edge: float, texts: Sequence[tuple[str, str]], placed: Sequence[Hung]
) -> list[svg.Element]:
    """Mark and figure beside each line, in the row found for them."""
    size, small = face.size, 0.9 * face.size
    lines: list[svg.Element] = []
    names: list[svg.Element] = []
    figures: list[svg.Element] = []
    for text, place in zip(texts, placed, strict=True):
        y = edge + (0.4 + ROW * (place.row + 0.5)) * size
        lines.append(svg.Line(x1=place.at, y1=edge, x2=place.at, y2=y + 0.45 * size))
        names.append(_text(text[0], place.left, y, small))
        figures.append(_text(text[1], place.right, y, small))
    return [
        svg.G(stroke="currentColor", stroke_width=0.06 * size, elements=lines),
        svg.G(extra={"font-weight": "bold"}, elements=names),
        svg.G(extra={"text-anchor": "end"}, elements=figures),
    ]


def _upright(
    face: Face, part: SheetPart, edge: float, marks: Sequence[Mark], texts: Sequence[tuple[str, str]]
) -> list[svg.Element]:
    """Mark and figure reading upwards, side by side, each with a line that leads to its place."""
    size, small = face.size, 0.9 * face.size
    least = part.left + (-1.6 if part.begins else 0.7) * size
    most = part.right + (1.6 if part.ends else -0.7) * size
    places = spread([mark.at for mark in marks], 1.2 * small, least, most)
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


def _graduation(face: Face, part: SheetPart, top: float) -> svg.G:
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
