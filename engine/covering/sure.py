"""How many pieces the strips of a surface are sure to become, told before any is cut."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from soleplate.engine.rules import Span, Strip, Surface

CRUMBS: Final = 100.0
"""mm2. More than all that is lost of a strip where cuts leave next to nothing: forty openings, twice as many
cuts, 60 m long, each less than a hundred-thousandth of a mm wide."""


def sure(surface: Surface, strips: Iterable[Strip]) -> int:
    """The strips of which something stays to be seen; each of them becomes a piece, or several.

    Openings take no more of one than the areas that they share with it, and the roof no more than what is
    over its lowest point. Battens up a slope are not counted.
    """
    lowest = surface.top.lowest(surface.left, surface.right)
    holes = [Span(hole.left, hole.right, hole.bottom, hole.top) for hole in surface.holes]

    def stays(strip: Strip) -> bool:
        under_roof = strip.seen._replace(top=min(strip.seen.top, lowest - strip.under))
        seen = _shared(strip.whole, under_roof)
        return _area(seen) - sum(_area(_shared(seen, hole)) for hole in holes) > CRUMBS

    return sum(stays(strip) for strip in strips if not strip.raking)


def _shared(one: Span, other: Span) -> Span:
    return Span(
        max(one.left, other.left),
        min(one.right, other.right),
        max(one.bottom, other.bottom),
        min(one.top, other.top),
    )


def _area(span: Span) -> float:
    """Of a span, mm2; none where it ends before it starts."""
    return max(span.right - span.left, 0.0) * max(span.top - span.bottom, 0.0)
