"""What can be cut from a length: the one answer, for joints and for the saw plan."""

from __future__ import annotations

from typing import NamedTuple


class LengthYield(NamedTuple):
    """What can be cut from one length, mm."""

    alone: float
    """The longest piece: all that the trim leaves."""
    together: float
    """What pieces may take up with the saw cuts between them, so that the margin is left over."""


def yield_of(length: float, trim: float, margin: float) -> LengthYield:
    """What a length yields that loses `trim` at each end, and of which `margin` is to be left over, mm.

    The margin is half of what the trim leaves at the most. So a longer length yields more, always, and every
    length yields something.
    """
    alone = max(length - 2 * trim, 0.0)
    return LengthYield(alone, max(alone - margin, alone / 2))
