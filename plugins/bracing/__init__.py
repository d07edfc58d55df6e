"""Rules that brace walls: pieces cut in between studs, boards let in, steel straps; and what walls lack."""

from __future__ import annotations

from soleplate.engine.rules import BracingRule, FindingKind, hookimpl
from soleplate.plugins.bracing.checks import KINDS, check_layout
from soleplate.plugins.bracing.cut_in import NOGGINS_FOR_BRACE, CutInBraces
from soleplate.plugins.bracing.let_in import LetInBraces
from soleplate.plugins.bracing.placing import BRACE_LEFT_OUT
from soleplate.plugins.bracing.straps import StrapPairs

__all__ = ["CutInBraces", "LetInBraces", "StrapPairs", "check_layout"]


@hookimpl
def register_rules() -> list[type[BracingRule]]:
    """Offer the rules of this folder."""
    return [CutInBraces, LetInBraces, StrapPairs]


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer what is found."""
    return [NOGGINS_FOR_BRACE, BRACE_LEFT_OUT, *KINDS]
