"""Rules that say by what joints are fixed: nails for framing, and straps against uplift."""

from __future__ import annotations

from soleplate.engine.rules import FixingRule, hookimpl
from soleplate.plugins.fixing.schedule import FramingNails
from soleplate.plugins.fixing.straps import UpliftStraps

__all__ = ["FramingNails", "UpliftStraps"]


@hookimpl
def register_rules() -> list[type[FixingRule]]:
    """Offer the rules of this folder."""
    return [FramingNails, UpliftStraps]
