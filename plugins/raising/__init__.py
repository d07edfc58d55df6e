"""Ways of raising walls: tilted up, carried, slid along, or framed standing."""

from __future__ import annotations

from soleplate.engine.rules import RaisingRule, hookimpl
from soleplate.plugins.raising.carrying import Carried, CarriedFlat, Slid
from soleplate.plugins.raising.standing import Auto, FramedStanding
from soleplate.plugins.raising.tilting import TiltUp, TiltUpFromOutside

__all__ = ["Auto", "Carried", "CarriedFlat", "FramedStanding", "Slid", "TiltUp", "TiltUpFromOutside"]


@hookimpl
def register_rules() -> list[type[RaisingRule]]:
    """Offer the rules."""
    return [Auto, Carried, CarriedFlat, FramedStanding, Slid, TiltUp, TiltUpFromOutside]
