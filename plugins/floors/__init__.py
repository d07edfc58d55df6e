"""Floors: joists between rim joists on bearers and pads, and what is to be looked at in them."""

from __future__ import annotations

from collections.abc import Iterable

from soleplate.engine.rules import Building, Finding, FindingKind, FloorRule, Layout, hookimpl
from soleplate.plugins.floors.checks import KINDS, floor_findings
from soleplate.plugins.floors.joists import Joists

__all__ = ["Joists"]


@hookimpl
def register_rules() -> list[type[FloorRule]]:
    """Offer the rules."""
    return [Joists]


@hookimpl
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """Return what is to be looked at in each floor."""
    return [found for floor in layout.floors for found in floor_findings(floor, building)]


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer the kinds of findings."""
    return list(KINDS)
