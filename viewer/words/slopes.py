"""What is said of a slope of a roof where something else is said of a wall, by the same names.

A slope is drawn and told like a wall that lies on its face, seen square to it from above.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from soleplate.viewer.words.lying import LyingTexts


@dataclass(frozen=True)
class SlopeTexts(LyingTexts):
    """In place of those of `Texts`."""

    seen_outside: str = "{wall}: seen square to the slope from above, its eaves below"
    seen_inside: str = "{wall}: seen square to the slope from below, its eaves below"
    tape: str = "Tape on the plate under the eaves, from the building's corner at its left"
    tape_inside: str = (
        "Tape on the plate under the eaves, from the building's corner at its left seen from outside,"
        " here on the right"
    )
    plate_marks: str = "{plate}, from the building's corner at its left, seen from outside"
    left_edge_from: Mapping[str, str] = field(
        default_factory=lambda: {
            "outside": "Left edge, from the building's corner",
            "inside": "Left edge, from the building's corner seen from below",
        }
    )
    lower_edge_from: str = "Lower edge, up the slope from the lower edge of the roof as drawn"
    sits_at: Mapping[str, str] = field(
        default_factory=lambda: {
            "outside": "{x} from the building's corner, {z} up the slope as drawn",
            "inside": "{x} from the building's corner, seen from below, {z} up the slope as drawn",
        }
    )


@dataclass(frozen=True)
class SlopeSheetTexts:
    """In place of those of `SheetTexts`."""

    elevation: str = "Roof plan"
    seen: str = "Seen square to the slope from above, its eaves below. {length}, {pieces} pieces, {weight}."
    bench_sub: str = "From the building's corner, seen from outside."
    bays: str = "Bays, clear between rafters that reach from end to end, counted from the left"
    noggins: str = "Noggins, up the slope from the lower edge of the roof to their lower edge"
    marks_of: str = "Running marks on the {plate}, from the building's corner at its left, to the near face"
    square: str = "The slope is square when both diagonals, corner to corner over the rafters, are alike."
    spacer: str = (
        "From {left} to {right}, {bays} bays: cut a spacer of {spacer}. Stepped along, it leaves {closing}"
        " for the last bay; set the rafters by the running marks."
    )
    crown: str = (
        "Sight along each rafter and pencil an arrow to its crown, the edge that bows out: all arrows point"
        " up, so that the load presses them straight."
    )
    bow: str = (
        "Take the straightest length for a ridge, crown up. Fascias and barge boards that bow are pulled to a"
        " string as they are fixed."
    )
    datum: str = "The upper edges are the datum: rafters are marked from there, and lie flush there."
    cladding: str = "Deck and battens"
    seen_outside: str = "Seen square to the slope from above."
    by_rod: str = "Courses from the lower edge up."
    courses_of: str = "Courses of the deck of the {wall}"
    places_of: str = "Edges of what lies on the {wall}, from the building's corner and up the slope as drawn"
