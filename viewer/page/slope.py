"""What is told of a slope beside what is told of walls: its rafter card, and what covers it."""

from __future__ import annotations

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import SlopeOut, WallOut
from soleplate.viewer.drawings import LaidSlope
from soleplate.viewer.lists import card_marks, card_rows, card_steps
from soleplate.viewer.markup import Markup, element, joined, table
from soleplate.viewer.words import Texts


def slope_tables(wall: WallOut, units: Units, texts: Texts) -> Markup:
    """The rafter card and the covering of a slope; nothing of a wall."""
    if not isinstance(wall, LaidSlope):
        return Markup("")
    return joined(_card(wall.slope, units, texts), _covering(wall.slope, units, texts))


def _card(slope: SlopeOut, units: Units, texts: Texts) -> Markup:
    head = (texts.card_figures, texts.card_value)
    return joined(
        element("h3", texts.rafter_card),
        table(texts.rafter_card, head, card_rows(slope.card, units, texts), class_="card", named=False),
        table(texts.card_marks, head, list(card_marks(slope, units, texts)), class_="card", named=False),
        element("ol", *(element("li", step) for step in card_steps(slope.card, texts))),
    )


def _covering(slope: SlopeOut, units: Units, texts: Texts) -> Markup:
    covering = slope.covering
    if covering is None:
        return Markup("")
    said = [
        texts.covering_said[covering.kind].format(
            count=covering.sheets or covering.rolls,
            length=format_length(covering.piece_length, units),
            area=f"{covering.area_m2:.2f}",
        )
    ]
    if covering.battens and covering.gauge is not None:
        gauge = format_length(covering.gauge, units)
        said.append(texts.battens_said.format(count=covering.battens, gauge=gauge))
    return joined(
        element("h3", texts.roof_counts),
        element("ul", *(element("li", line) for line in said), class_="to-note"),
    )
