"""What is said of a floor where something else is said of a wall, by the same names.

A floor is drawn and told like a wall that lies on its face, seen from above.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from soleplate.viewer.words.lying import LyingTexts


@dataclass(frozen=True)
class FloorTexts(LyingTexts):
    """In place of those of `Texts`."""

    fronts: Mapping[str, tuple[str, str]] = field(
        default_factory=lambda: {
            "front-back": ("below", "below"),
            "left-right": ("on the left", "on the right"),
        }
    )
    """By the way that joists run: where the front is on drawings from above and from below."""
    seen_outside: str = "{wall}: seen from above, the front {front}"
    seen_inside: str = "{wall}: seen from below, the front {front}"
    tape: str = "Tape on the lower rim joist as drawn, from its left end"
    tape_inside: str = (
        "Tape on the lower rim joist as drawn, from its left end seen from above, here on the right"
    )
    left_edge_from: Mapping[str, str] = field(
        default_factory=lambda: {
            "outside": "Left edge, from the left end as drawn",
            "inside": "Left edge, from the left end seen from below",
        }
    )
    lower_edge_from: str = "Lower edge, from the outer face of the lower rim joist as drawn"
    sits_at: Mapping[str, str] = field(
        default_factory=lambda: {
            "outside": "{x} from the left, seen from above, {z} up as drawn",
            "inside": "{x} from the left, seen from below, {z} up as drawn",
        }
    )


@dataclass(frozen=True)
class FloorSheetTexts:
    """In place of those of `SheetTexts`."""

    elevation: str = "Floor plan"
    seen: str = "Seen from above, the front {front}. {length}, {pieces} pieces, {weight}."
    bench_sub: str = "From the left end, seen from above as drawn."
    bays: str = "Bays, clear between joists on the lower rim joist, counted from the left"
    noggins: str = "Noggins, from the outer face of the lower rim joist to their lower edge"
    square: str = (
        "Lay the frame on its bearers: it is square when both diagonals, corner to corner, are {rising}."
    )
    spacer: str = (
        "From {left} to {right}, {bays} bays: cut a spacer of {spacer}. Stepped along, it leaves {closing}"
        " for the last bay; set the joists by the running marks."
    )
    crown: str = (
        "Sight along each joist and pencil an arrow to its crown, the edge that bows out: all arrows point"
        " up, so that the load presses them level."
    )
    bow: str = (
        "Take the straightest lengths for rim joists, crown up too. One that bows sideways is pulled to a"
        " string before its joists are fixed."
    )
    datum: str = (
        "The upper edges are the datum: joists and rim joists lie flush there, and what is less deep is"
        " packed from below."
    )
    cladding: str = "Deck plan"
    seen_outside: str = "Seen from above, the front {front}."
    by_rod: str = "Courses from the lower edge up."
    courses_of: str = "Courses of the deck of the {wall}"
    places_of: str = "Edges of the deck of the {wall}, from the frame's left end and lower edge as drawn"
