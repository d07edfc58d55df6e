"""What is told of a slope beside what is told of walls: its rafter card, and what covers it."""

from __future__ import annotations

from collections.abc import Iterator

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import RafterCardOut, SlopeOut, WallOut
from soleplate.viewer.drawings import LaidSlope
from soleplate.viewer.markup import Markup, element, joined, table
from soleplate.viewer.words import Texts


def slope_tables(wall: WallOut, units: Units, texts: Texts) -> Markup:
    """The rafter card and the covering of a slope; nothing of a wall."""
    if not isinstance(wall, LaidSlope):
        return Markup("")
    return joined(_card(wall.slope.card, units, texts), _covering(wall.slope, units, texts))


def card_rows(card: RafterCardOut, units: Units, texts: Texts) -> list[tuple[str, str]]:
    """The card's figures, each with its name."""
    said = texts.card_of
    return [
        (said["blank"], format_length(card.blank, units)),
        (said["plumb_cut"], format_length(card.plumb_cut, units)),
        (said["pitch"], f"{card.pitch:.1f}°"),
        (said["rise"], f"{card.rise_in_12:.2f}"),
        (said["hap"], format_length(card.hap, units)),
        (said["seat"], format_length(card.seat, units)),
        (said["heel"], format_length(card.heel, units)),
    ]


def card_marks(card: RafterCardOut, texts: Texts) -> Iterator[tuple[str, str]]:
    """The card's marks, each with its name."""
    low, heel, high = texts.card_mark_names
    last = len(card.marks) - 1
    for number, display in enumerate(card.displays):
        name = low if number == 0 else high if number == last else heel.format(number=number)
        yield name, display


def _card(card: RafterCardOut, units: Units, texts: Texts) -> Markup:
    steps = (
        step.format(
            pitch=f"{card.pitch:.1f}°",
            hap=format_length(card.hap, units),
            seat=format_length(card.seat, units),
        )
        for step in texts.card_steps
    )
    head = (texts.card_figures, texts.card_value)
    return joined(
        element("h3", texts.rafter_card),
        table(texts.rafter_card, head, card_rows(card, units, texts), class_="card", named=False),
        table(texts.card_marks, head, list(card_marks(card, texts)), class_="card", named=False),
        element("ol", *(element("li", step) for step in steps)),
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
