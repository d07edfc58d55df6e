"""A wall's panels on its drawing: a chain line at each break, and each panel's number over it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import svg

from soleplate.engine.layout import WallOut
from soleplate.viewer.drawings.face import Face
from soleplate.viewer.drawings.lettering import LetteringBox, Places, lettering, text_width

PANEL_ROOM: Final = 1.8
"""In text sizes: over the wall, for the numbers of its panels."""

_SHARES: Final = (0.5, 0.3, 0.7, 0.15, 0.85)
"""Of a panel, where its number may stand."""


def breaks_of(wall: WallOut) -> list[float]:
    """Where panels meet, mm from the wall's left end."""
    return [panel.start for panel in wall.panels or ()][1:]


def break_lines(face: Face, *, left: float = 0.0, right: float | None = None) -> list[svg.Element]:
    """A line over the whole wall at each break in a stretch of it (ISO 128: long dashed dotted)."""
    size, end = face.size, face.length if right is None else right
    long, gap, dot = 1.2 * size, 0.3 * size, 0.12 * size
    return [
        svg.Line(
            x1=face.x(x),
            y1=-face.height - PANEL_ROOM * size,
            x2=face.x(x),
            y2=0.4 * size,
            stroke="currentColor",
            stroke_width=0.1 * size,
            stroke_dasharray=[round(step) for step in (long, gap, dot, gap)],
        )
        for x in breaks_of(face.wall)
        if left < x < end
    ]


def panel_numbers(
    face: Face, places: Places, *, left: float = 0.0, right: float | None = None
) -> list[svg.Element]:
    """Each panel's number over the wall, clear of what else stands there, in a stretch of it."""
    end = face.length if right is None else right
    drawn: list[svg.Element] = []
    for panel in face.wall.panels or ():
        start, stop = max(panel.start, left), min(panel.start + panel.length, end)
        if start < stop:
            text = face.texts.panel.format(number=panel.number)
            box = places.take(_spots(face, text, start, stop))
            drawn.append(lettering(text, *box.centre, face.size))
    return drawn


def _spots(face: Face, text: str, left: float, right: float) -> Sequence[LetteringBox]:
    size = face.size
    wide, y = text_width(text, size), -face.height - PANEL_ROOM / 2 * size
    return [
        LetteringBox.around(face.x(left + share * (right - left)), y, wide, 1.2 * size) for share in _SHARES
    ]
