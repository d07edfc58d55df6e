"""Rules that hold walls down: screws into a timber floor, bolts into masonry or concrete."""

from __future__ import annotations

from soleplate.engine.rules import FindingKind, HoldingDownRule, hookimpl
from soleplate.plugins.holding_down.anchors import KINDS, AnchorBolts, SoleScrews

__all__ = ["AnchorBolts", "SoleScrews"]


@hookimpl
def register_rules() -> list[type[HoldingDownRule]]:
    """Offer the rules of this folder."""
    return [AnchorBolts, SoleScrews]


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer what they find."""
    return list(KINDS)
