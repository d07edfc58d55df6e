"""Walls that are made elsewhere and carried to their line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final, Literal

from soleplate.engine.rules import Movement, Panel, Prism, RaisingRule, Route, SiteOut, rectangle
from soleplate.plugins.raising.tilting import tilted

SET_DOWN: Final = 600.0
"""mm from its line at which a carried wall is set down, to be slid on (common practice, no source)."""

CARRIED_FLAT: Final = (700.0, 1100.0)
"""mm. Between these heights a wall is that is carried flat, at arms' length (common practice, no source)."""


class Carried(RaisingRule):
    """Carried upright from where it is made, set down outside or inside its line, and slid on to it."""

    examples = ({"rule": "carried"},)
    rule: Literal["carried"] = "carried"

    def ways(self, panel: Panel, site: SiteOut) -> Sequence[Movement]:
        """Return both ways, where frames are made elsewhere."""
        if not site.place:
            return []
        face, back = -panel.build_out, panel.depth
        return [
            _slid(panel, site, (0.0, panel.length), (face - SET_DOWN, back), -SET_DOWN, "from outside"),
            _slid(panel, site, (0.0, panel.length), (face, back + SET_DOWN), SET_DOWN, "from inside"),
        ]


class Slid(RaisingRule):
    """Carried upright to its own line, past one of its ends, and slid along its length."""

    examples = ({"rule": "slid"},)
    rule: Literal["slid"] = "slid"

    def ways(self, panel: Panel, site: SiteOut) -> Sequence[Movement]:
        """Return the ways from the left and from the right, where frames are made elsewhere."""
        if not site.place:
            return []
        face, back, length = -panel.build_out, panel.depth, panel.length
        return [
            _slid(panel, site, (-length, length), (face, back), 0.0, "from the left", -length),
            _slid(panel, site, (0.0, 2 * length), (face, back), 0.0, "from the right", length),
        ]


class CarriedFlat(RaisingRule):
    """Carried flat from where it is made, laid on the deck inside its line, and tilted up."""

    examples = ({"rule": "carried-flat"},)
    rule: Literal["carried-flat"] = "carried-flat"

    def ways(self, panel: Panel, site: SiteOut) -> Sequence[Movement]:
        """Return the one way, where frames are made elsewhere."""
        if not site.place:
            return []
        low, high = CARRIED_FLAT
        middle = (panel.length / 2, panel.depth + panel.height / 2)
        route = Route(panel.length, panel.height, low, high, middle)
        return [replace(tilted(panel, site), route=route, share=1.0, on_deck=False)]


def _slid(
    panel: Panel,
    site: SiteOut,
    along: tuple[float, float],
    across: tuple[float, float],
    shift: float,
    how: str,
    past: float = 0.0,
) -> Movement:
    """A panel that is set down upright, `shift` mm inside its line or `past` its place, and slid on."""
    thick = panel.depth + panel.build_out
    middle = (panel.length / 2 + past, (panel.depth - panel.build_out) / 2 + shift)
    return Movement(
        swept=[Prism(rectangle(*along, *across), 0.0, panel.height)],
        route=Route(panel.length, max(thick, site.carry_width), 0.0, panel.height, middle),
        clad=panel.is_clad,
        on_deck=False,
        how=how,
    )
