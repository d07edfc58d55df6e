"""The deck: the plan of the building, on which frames are made, and what reaches over its edge."""

from __future__ import annotations

from collections.abc import Sequence

from soleplate.engine.building_file import Building, ClosedPlan, Rectangle
from soleplate.engine.raising.panels import SitePanel
from soleplate.engine.shapes import Outline, Quarter, Volume, contains, from_edge, rectangle

SAMPLES = 16
"""Places along the head of a lying wall that are looked at, so many stretches apart."""


def deck_of(building: Building) -> Outline:
    """The outline of the plan."""
    outline = building.outline
    if isinstance(outline, Rectangle):
        return rectangle(0.0, outline.length, 0.0, outline.width)
    return outline.corners if isinstance(outline, ClosedPlan) else ()


def past_deck(panel: SitePanel, swept: Sequence[Volume], building: Building) -> float:
    """By how much the head of a wall that lies on the deck reaches past its edge, mm; 0 where it does not."""
    deck = deck_of(building)
    lying = [volume for volume in swept if isinstance(volume, Quarter)]
    # A quarter's radius is longer than the wall is high, by its thickness.
    heads = [
        panel.axes.point(panel.panel.length * place / SAMPLES, panel.panel.depth + panel.panel.height)
        for place in range(SAMPLES + 1)
        if lying
    ]
    return max((from_edge(deck, head) for head in heads if not contains(deck, head)), default=0.0)
