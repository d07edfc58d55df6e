"""Dimensions beside a wall on a sheet, close to it, so that the wall may be as large as the paper lets it."""

from __future__ import annotations

import svg

from soleplate.engine.building_file import format_figure
from soleplate.viewer.drawings import Face, lettering

BESIDE = 2.6
"""How far a wall's heights reach out beside it, in text sizes."""


def height_beside(face: Face, height: float, foot: float, way: float) -> list[svg.Element]:
    """A wall's height at its end `foot`, drawn out to the left with `way` -1, to the right with 1."""
    size = face.size
    x = foot + way * 2.0 * size
    middle = foot + way * 1.32 * size
    reach = 0.28 * size
    drawn: list[svg.Element] = [
        svg.Line(x1=foot + way * 0.2 * size, y1=y, x2=x + way * 0.2 * size, y2=y, stroke_opacity=0.5)
        for y in (0.0, -height)
    ]
    drawn.append(svg.Line(x1=x, y1=0.0, x2=x, y2=-height))
    drawn += [
        svg.Line(x1=x - reach, y1=y + reach, x2=x + reach, y2=y - reach, stroke_width=0.14 * size)
        for y in (0.0, -height)
    ]
    text = lettering(format_figure(height, face.units), middle, -height / 2, 0.9 * size, turned=True)
    return [svg.G(stroke="currentColor", stroke_width=0.06 * size, elements=drawn), text]


def match_line(face: Face, x: float, top: float, bottom: float) -> svg.Line:
    """A chain line on which the next sheet goes on (ISO 128: long dashed double-dotted)."""
    size = face.size
    long, gap, dot = 2.4 * size, 0.35 * size, 0.15 * size
    return svg.Line(
        x1=x,
        y1=top,
        x2=x,
        y2=bottom,
        stroke="currentColor",
        stroke_width=0.1 * size,
        stroke_dasharray=[round(step) for step in (long, gap, dot, gap, dot, gap)],
    )
