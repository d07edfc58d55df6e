"""The rafter card's figures, marks and steps, for the page and the sheets."""

from __future__ import annotations

from collections.abc import Iterator

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import RafterCardOut, SlopeOut
from soleplate.viewer.words import Texts


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


def card_marks(slope: SlopeOut, units: Units, texts: Texts) -> Iterator[tuple[str, str]]:
    """The marks along the upper edge, each with its name; of a heel what is over its seat, and the seat."""
    low, heel, high = texts.card_mark_names
    card, last = slope.card, len(slope.card.marks) - 1
    whole = (
        piece for piece in slope.pieces if piece.role == "rafter" and len(piece.notches or ()) == last - 1
    )
    notches = next((piece.notches or () for piece in whole), ())
    for number, display in enumerate(card.displays):
        if number in (0, last):
            yield high if number else low, display
            continue
        over, seat = (notches[number - 1].hap, notches[number - 1].seat) if notches else (card.hap, card.seat)
        said = heel.format(number=number, hap=format_length(over, units), seat=format_length(seat, units))
        yield said, display


def card_steps(card: RafterCardOut, texts: Texts) -> list[str]:
    """How a rafter is marked and cut, step by step."""
    return [step.format(pitch=f"{card.pitch:.1f}°") for step in texts.card_steps]
