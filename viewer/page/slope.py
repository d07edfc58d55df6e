"""What is told of a slope beside what is told of walls: its rafter card, and what covers it."""

from __future__ import annotations

from soleplate.engine.building_file import Units
from soleplate.engine.layout import Layout, SlopeOut, WallOut
from soleplate.viewer.drawings import LaidSlope, covering_svg
from soleplate.viewer.lists import card_marks, card_rows, card_steps, covering_said
from soleplate.viewer.markup import Markup, element, joined, table
from soleplate.viewer.words import Texts


def slope_tables(wall: WallOut, layout: Layout, texts: Texts) -> Markup:
    """The rafter card and the covering of a slope; nothing of a wall."""
    if not isinstance(wall, LaidSlope):
        return Markup("")
    return joined(_card(wall.slope, layout.units, texts), _covering(wall.slope, layout, texts))


def _card(slope: SlopeOut, units: Units, texts: Texts) -> Markup:
    head = (texts.card_figures, texts.card_value)
    return joined(
        element("h3", texts.rafter_card),
        table(texts.rafter_card, head, card_rows(slope.card, units, texts), class_="card", named=False),
        table(texts.card_marks, head, list(card_marks(slope, units, texts)), class_="card", named=False),
        element("ol", *(element("li", step) for step in card_steps(slope.card, texts))),
    )


def _covering(slope: SlopeOut, layout: Layout, texts: Texts) -> Markup:
    if slope.covering is None:
        return Markup("")
    title = texts.covering.of_slope.format(slope=slope.name)
    drawn = Markup(covering_svg(layout, slope, texts))
    return joined(
        element("h3", title),
        element(
            "div",
            element("div", drawn, class_="drawn-covering", tabindex="0", role="group", aria_label=title),
            element(
                "ul",
                *(element("li", line) for line in covering_said(slope, layout.units, texts)),
                class_="to-note",
            ),
            class_="covering-plan",
            data_title=title,
        ),
    )
