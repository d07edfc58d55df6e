"""Rules that frame doors, windows and gaps.

A hole is as wide and high as the building file says: the timbers stand round it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from soleplate.engine.rules import (
    Building,
    Finding,
    FindingKind,
    Layout,
    OpeningRule,
    WallBlock,
    hookimpl,
    picked,
)
from soleplate.plugins.openings.fitting import PACKED_BESIDE, PACKED_OVER, PACKED_UNDER
from soleplate.plugins.openings.glazing import PANE_COVER, PANE_JOINT, pane_findings
from soleplate.plugins.openings.lintel import LINTEL_LET_IN, LINTEL_PROUD, Lintel
from soleplate.plugins.openings.panes import Panes
from soleplate.plugins.openings.single_studs import SingleStuds
from soleplate.plugins.openings.trimmed import LINTEL_REACHES, Trimmed
from soleplate.plugins.openings.trimmed_joists import TrimmedJoists

__all__ = ["Lintel", "Panes", "SingleStuds", "Trimmed", "TrimmedJoists"]


@hookimpl
def register_rules() -> list[type[OpeningRule]]:
    """Offer the rules."""
    return [Trimmed, TrimmedJoists, SingleStuds, Panes]


@hookimpl
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """Return how glazing panes are cut and fitted, and where too little of them is held."""
    return list(_glazed(layout, building))


def _glazed(layout: Layout, building: Building) -> Iterator[Finding]:
    for wall in layout.walls:
        block = building.walls.get(wall.name, WallBlock())
        for opening, out in zip(block.openings, wall.openings, strict=True):
            for framing in picked(OpeningRule, opening, block, building.defaults):
                if isinstance(framing, Panes) and framing.glazing is not None:
                    yield from pane_findings(wall, out, framing.glazing, framing.panes, framing.edge_cover)


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer the kinds of findings."""
    return [
        PACKED_OVER,
        PACKED_UNDER,
        PACKED_BESIDE,
        LINTEL_PROUD,
        LINTEL_LET_IN,
        LINTEL_REACHES,
        PANE_JOINT,
        PANE_COVER,
    ]
