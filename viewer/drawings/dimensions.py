"""Dimension strings: a line, ticks at its ends, and the length along it."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

import svg

from soleplate.engine.building_file import format_figure
from soleplate.viewer.drawings.face import Face
from soleplate.viewer.drawings.lettering import LetteringBox, lettering, text_width


def level_string(face: Face, stops: Sequence[float], y: float) -> list[svg.Element]:
    """A level string at the drawing's y, through stops along the wall in mm.

    A length with no room between its ticks is set below the line.
    """
    size = face.size * 0.9
    marks = sorted(face.x(stop) for stop in stops)
    drawn: list[svg.Element] = [_line(marks[0], y, marks[-1], y), *(_tick(face, x, y) for x in marks)]
    for text, middle, row in _told(face, marks):
        offset = -0.75 if row == 0 else 0.85 * row
        drawn.append(lettering(text, middle, y + offset * size, size))
    return drawn


def rows_below(face: Face, stops: Sequence[float]) -> int:
    """How many rows of lengths a level string has below its line."""
    return max((row for _, _, row in _told(face, sorted(face.x(stop) for stop in stops))), default=0)


def _told(face: Face, marks: Sequence[float]) -> Iterator[tuple[str, float, int]]:
    """Each length with its middle and its row: 0 above the line, or the first below it that is free."""
    size = face.size * 0.9
    ends: list[float] = []
    for left, right in itertools.pairwise(marks):
        text = format_figure(right - left, face.units)
        width, middle = text_width(text, size), (left + right) / 2
        if width < right - left:
            yield text, middle, 0
            continue
        row = next((row for row, end in enumerate(ends) if middle - width / 2 > end), len(ends))
        ends[row : row + 1] = [middle + width / 2]
        yield text, middle, row + 1


def upright_string(face: Face, height: float, x: float, foot: float) -> list[svg.Element]:
    """An upright string at the drawing's x for a height over the underside of the sole plate, mm.

    `foot` is the drawing's x of the end that is measured; a thin line leads from there.
    """
    size = face.size * 0.9
    text = format_figure(height, face.units)
    return [
        *(_line(foot, y, x, y, faint=True) for y in (0.0, -height)),
        _line(x, 0.0, x, -height),
        _tick(face, x, 0.0),
        _tick(face, x, -height),
        lettering(text, x - 0.75 * size, -height / 2, size, turned=True),
    ]


def apex_mark(face: Face, x: float, height: float) -> list[svg.Element]:
    """The height of a wall's highest point between its ends, over a small triangle."""
    size, here = face.size, face.x(x)
    triangle = [
        (here, -height),
        (here - 0.4 * size, -height - 0.6 * size),
        (here + 0.4 * size, -height - 0.6 * size),
    ]
    return [
        svg.Polygon(
            points=[svg.Point(*corner) for corner in triangle],
            fill="none",
            stroke="currentColor",
            stroke_width=0.06 * size,
        ),
        lettering(format_figure(height, face.units), here, -height - 1.15 * size, 0.9 * size),
    ]


def apex_room(face: Face, x: float, height: float) -> LetteringBox:
    """What `apex_mark` takes of the drawing."""
    size = face.size
    wide = text_width(format_figure(height, face.units), 0.9 * size)
    return LetteringBox(face.x(x) - wide / 2, face.x(x) + wide / 2, -height - 1.7 * size, -height)


def _line(x1: float, y1: float, x2: float, y2: float, *, faint: bool = False) -> svg.Line:
    return svg.Line(
        x1=x1,
        y1=y1,
        x2=x2,
        y2=y2,
        stroke="currentColor",
        stroke_width=4,
        stroke_opacity=0.35 if faint else None,
    )


def _tick(face: Face, x: float, y: float) -> svg.Line:
    reach = 0.3 * face.size
    return svg.Line(
        x1=x - reach, y1=y + reach, x2=x + reach, y2=y - reach, stroke="currentColor", stroke_width=9
    )
