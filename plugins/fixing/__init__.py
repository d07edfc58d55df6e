"""Rules that say by what joints are fixed: nails for framing."""

from __future__ import annotations

from soleplate.engine.rules import FixingRule, hookimpl
from soleplate.plugins.fixing.schedule import FramingNails

__all__ = ["FramingNails"]


@hookimpl
def register_rules() -> list[type[FixingRule]]:
    """Offer the rules of this folder."""
    return [FramingNails]
