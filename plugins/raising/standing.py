"""Walls that are built up where they stand, and those whose way is left open."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar, Literal

from soleplate.engine.rules import Movement, Panel, RaisingRule, SiteOut
from soleplate.plugins.raising.tilting import on_the_ground


class FramedStanding(RaisingRule):
    """Framed where it stands, piece by piece, with room to work outside; not where it must be clad first."""

    examples = ({"rule": "framed-standing"},)
    rule: Literal["framed-standing"] = "framed-standing"

    def ways(self, panel: Panel, site: SiteOut) -> Sequence[Movement]:
        """Return the one way."""
        if panel.is_clad or panel.clad_first:
            return []
        outside = on_the_ground(0.0, panel.length, site.working_room, site)
        return [Movement(swept=panel.standing, share=0.0, free=[outside])]


class Auto(RaisingRule):
    """Left open: of all ways that come into question, the best one is taken."""

    examples = ({"rule": "auto"}, {"rule": "auto", "clad": "before"})
    is_open: ClassVar[bool] = True
    stands_in: ClassVar[bool] = True
    rule: Literal["auto"] = "auto"

    def ways(self, panel: Panel, site: SiteOut) -> Sequence[Movement]:
        """Return none of its own."""
        return []
