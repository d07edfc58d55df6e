"""What is said of the building as a whole, seen in a picture."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class PictureTexts:
    """Of pictures; names in braces are filled in."""

    whole: str = "The whole building"
    seen: str = "{name}, seen from {place}"
    part_seen: str = "{name}: {part}, seen from {place}"
    places: tuple[str, ...] = (
        "the front", "the front right", "the right", "the back right", "the back", "the back left",
        "the left", "the front left",
    )  # fmt: skip
    """At every eighth of a turn, from the front to the right."""
    above: str = "{place} and above"
    below: str = "{place} and below"
    straight_above: str = "straight above"
    straight_below: str = "straight below"
    cut: str = "{seen}, cut {way} at {at}"
    ways: Mapping[str, str] = field(
        default_factory=lambda: {
            "left-right": "from left to right", "front-back": "from front to back", "level": "level",
        }
    )  # fmt: skip
    missed_whole: str = "The plane cuts nothing: all of it lies beyond."
    missed_all: str = "The plane cuts nothing, and nothing lies beyond it."
    keys: str = (
        "Drag it to turn it, or use the arrow keys; Enter goes to its pieces. Touch one for its cut card."
    )
    layers: str = "In the picture"
    layer_names: Mapping[str, str] = field(
        default_factory=lambda: {
            "frame": "Frame", "covering": "Covering", "lining": "Lining", "floor": "Floor", "roof": "Roof",
        }
    )  # fmt: skip
    sides: str = "Turn it to"
    side_names: Mapping[str, str] = field(
        default_factory=lambda: {"front": "front", "right": "right", "back": "back", "left": "left"}
    )
    top: str = "top"
    turned: str = "Seen from {place}"
    too_many: str = "A building of more than {most} pieces has no picture here."
    empty: str = "There is nothing in the layers that are asked for."
