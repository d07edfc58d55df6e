"""The whole building on paper, in a picture that is to no scale."""

from __future__ import annotations

from typing import Final

from soleplate.engine.layout import Layout
from soleplate.viewer.pictures import MOST_PICTURED, Look, painting_of
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts

LINE: Final = 0.13
"""Breadth of a line on paper, mm: the finest of ISO 128-2."""

LEAST: Final = 40.0
"""mm. On less a picture of a building tells nothing."""


def whole_picture(layout: Layout, room: tuple[float, float], texts: Texts) -> Picture | None:
    """The whole as large as a room in mm on the sheet lets it be; `None` where it has too little room."""
    width, height = room
    if min(width, height) < LEAST or len(layout.pieces) > MOST_PICTURED:
        return None

    def scale_of(box: tuple[float, float, float, float]) -> float:
        return max(box[2] / width, box[3] / height)

    painting = painting_of(layout, Look(), texts, line=lambda box: LINE * scale_of(box))
    return picture(painting.elements, painting.box, painting.seen, scale=scale_of(painting.box))
