"""What is told of a floor beside what is told of walls: its pads."""

from __future__ import annotations

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import FloorOut, WallOut
from soleplate.viewer.drawings import LaidFloor
from soleplate.viewer.markup import Markup, element, joined, table
from soleplate.viewer.words import Texts


def floor_tables(wall: WallOut, units: Units, texts: Texts) -> Markup:
    """The centres of its pads; nothing of a wall."""
    if not isinstance(wall, LaidFloor):
        return Markup("")
    return _pads(wall.floor, units, texts)


def _pads(floor: FloorOut, units: Units, texts: Texts) -> Markup:
    if not floor.pads:
        return Markup("")
    size = format_length(floor.pad_size or 0.0, units)
    rows = [(format_length(x, units), format_length(y, units)) for x, y in floor.pads]
    return joined(
        element("h3", texts.pads),
        element("p", texts.pad_size.format(size=size, diagonal=floor.diagonal_display)),
        table(texts.pads_at, (texts.pad_along, texts.pad_across), rows, class_="pads", named=False),
    )
