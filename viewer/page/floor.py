"""What is told of a floor beside what is told of walls: its pads, and areas."""

from __future__ import annotations

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import FloorOut, WallOut
from soleplate.viewer.drawings import LaidFloor
from soleplate.viewer.markup import Markup, element, joined, table
from soleplate.viewer.words import Texts


def floor_tables(wall: WallOut, units: Units, texts: Texts) -> Markup:
    """The centres of its pads, and what its deck and its insulation come to; nothing of a wall."""
    if not isinstance(wall, LaidFloor):
        return Markup("")
    return joined(_pads(wall.floor, units, texts), _areas(wall.floor, units, texts))


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


def _areas(floor: FloorOut, units: Units, texts: Texts) -> Markup:
    said: list[str] = []
    if floor.deck_m2:
        said.append(texts.deck_area.format(area=f"{floor.deck_m2:.2f}"))
    if floor.insulation is not None and floor.insulation_m2 is not None:
        thickness = format_length(floor.insulation, units)
        said.append(texts.insulation_area.format(thickness=thickness, area=f"{floor.insulation_m2:.2f}"))
    if not said:
        return Markup("")
    return joined(
        element("h3", texts.floor_areas),
        element("ul", *(element("li", line) for line in said), class_="to-note"),
    )
