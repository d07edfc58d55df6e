"""Rules that finish openings: linings, sills and cover strips; or nothing."""

from __future__ import annotations

from soleplate.engine.rules import FindingKind, FinishRule, hookimpl
from soleplate.plugins.finishes.as_framed import AsFramed
from soleplate.plugins.finishes.leaf import LedgedLeaf
from soleplate.plugins.finishes.lined import KINDS, Lined
from soleplate.plugins.finishes.sill import Sill

__all__ = ["AsFramed", "LedgedLeaf", "Lined", "Sill"]


@hookimpl
def register_rules() -> list[type[FinishRule]]:
    """Offer the rules of this folder."""
    return [AsFramed, Lined]


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer what they find."""
    return list(KINDS)
