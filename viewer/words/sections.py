"""What is said of sections through the building."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class SectionTexts:
    """A language's texts; the English ones are the defaults. Names in braces are filled in."""

    title: str = "Section"
    names: Mapping[str, str] = field(
        default_factory=lambda: {"across": "Section across", "along": "Section along"}
    )
    sub: Mapping[str, str] = field(
        default_factory=lambda: {
            "left": "Seen from the left, cut {at} from the left end of the front.",
            "right": "Seen from the right, cut {at} from the left end of the front.",
            "front": "Seen from the front, cut {at} behind it.",
            "back": "Seen from the back, cut {at} behind the front.",
        }
    )
    """By the side that it is seen from."""
    part: str = "{section}, part {number} of {count}"
    alt: str = "{section} of {name} at {scale}, {wide} wide, {low} to {high} high"
    datum: Mapping[str, str] = field(
        default_factory=lambda: {
            "floor": "Heights are from the top of the floor, on which the sole plates stand.",
            "": "Heights are from the underside of the sole plates.",
        }
    )
    seen: str = "What is cut is filled; what is seen beyond, the nearest of its kind, is drawn in outline."
    levels: Mapping[str, str] = field(
        default_factory=lambda: {
            "pads": "pads", "joists": "under joists", "floor": "floor", "sole": "sole plate",
            "plate": "plate", "fascia top": "fascia top", "fascia": "fascia foot", "ridge": "ridge",
            "tie": "under tie", "top": "top",
        }
    )  # fmt: skip
    clear: str = "{height} clear"
    hap: str = "HAP {hap}, seat {seat}"
    label: str = "{mark} {role}"
    pitched: str = "{mark} {role}, {pitch}°"
    cut_here: str = "Cut here, or seen beyond"
