"""What is said alike of floors and slopes, which lie on their face, in place of what is said of a wall."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class LyingTexts:
    """In place of those of `Texts`, by the same names."""

    side_names: Mapping[str, str] = field(default_factory=lambda: {"outside": "above", "inside": "below"})
    sill_height: str = "{height} up"
    sill: str = "Lower edge at"
    wall_facts: str = "{length}, {pieces} pieces, {weight}"
    boarded: Mapping[str, str] = field(
        default_factory=lambda: {
            "outside": "Deck, in the order in which it goes down",
            "inside": "What lies below, in the order in which it goes up",
        }
    )
