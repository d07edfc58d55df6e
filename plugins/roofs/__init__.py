"""Roofs of rafters, and what is to be looked at in them."""

from __future__ import annotations

from collections.abc import Iterable

from soleplate.engine.rules import Building, Finding, FindingKind, Layout, RoofRule, hookimpl
from soleplate.plugins.roofs.checks import KINDS, roof_findings
from soleplate.plugins.roofs.rafters import Rafters

__all__ = ["Rafters"]


@hookimpl
def register_rules() -> list[type[RoofRule]]:
    """Offer the rules."""
    return [Rafters]


@hookimpl
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """Return what is to be looked at in the roof."""
    return roof_findings(layout, building) if layout.roofs else ()


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer the kinds of findings."""
    return list(KINDS)
