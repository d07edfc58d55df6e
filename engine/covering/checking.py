"""Whether what a cladding rule returned can be: finite, on its face, and nothing seen that covers another."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from soleplate.engine.rules import Clad, CladdingRule, Span, Strip, Surface
from soleplate.engine.shapes import TOUCH

MOST_STRIPS: Final = 3_000
"""On one wall; a small building has some dozens."""


def faulty(clad: Clad, face: Surface, rule: CladdingRule) -> str | None:
    """What is wrong with a rule's answer, in words, or `None`."""
    reaches = [
        (clad.battens, face.behind),
        (clad.strips, (face.left, face.right)),
    ]
    count = len(clad.battens) + len(clad.strips)
    if count > MOST_STRIPS:
        return f"returned {count} strips for one wall; accepted are up to {MOST_STRIPS}"
    for strips, reach in reaches:
        for strip in strips:
            message = _misshapen(strip) or _outside(strip, reach, rule)
            if message:
                return message
    layers = {
        depth: [s for s in clad.battens if s.depth == depth and not s.raking]
        for depth in {s.depth for s in clad.battens}
    }
    for group in (*(layers[depth] for depth in sorted(layers)), clad.strips):
        message = _covering(group)
        if message:
            return message
    return None


def _misshapen(strip: Strip) -> str | None:
    for span in (strip.whole, strip.seen):
        if span.right - span.left < TOUCH or span.top - span.bottom < TOUCH:
            return f"a {strip.role} at {span.left:.1f} mm has no area"
    if strip.depth[1] - strip.depth[0] < TOUCH:
        return f"a {strip.role} has no thickness"
    if not 0.0 < strip.solid <= 1.0:
        return f"a {strip.role} is solid by {strip.solid:g}; accepted is over 0 and up to 1"
    whole, seen = strip.whole, strip.seen
    if (
        seen.left < whole.left - TOUCH
        or seen.right > whole.right + TOUCH
        or seen.bottom < whole.bottom - TOUCH
        or seen.top > whole.top + TOUCH
    ):
        return f"a {strip.role} at {whole.left:.1f} mm is seen where it does not reach"
    return None


def _outside(strip: Strip, reach: tuple[float, float], rule: CladdingRule) -> str | None:
    whole, (left, right) = strip.whole, reach
    if whole.left < left - TOUCH or whole.right > right + TOUCH:
        return (
            f"a {strip.role} from {whole.left:.1f} to {whole.right:.1f} mm leaves the face, which reaches"
            f" from {left:.1f} to {right:.1f} mm"
        )
    if strip.depth[1] > TOUCH or strip.depth[0] < -rule.build_out - TOUCH:
        return (
            f"a {strip.role} lies from {strip.depth[0]:.1f} to {strip.depth[1]:.1f} mm; accepted is"
            f" {-rule.build_out:.1f} to 0 mm, outside the frame"
        )
    return None


def _covering(strips: Sequence[Strip]) -> str | None:
    """Sweep from left to right; only strips seen over the same stretch are compared."""
    active: list[Strip] = []
    for strip in sorted(strips, key=lambda strip: strip.seen):
        active = [other for other in active if other.seen.right > strip.seen.left + TOUCH]
        for other in active:
            if _overlap(strip.seen, other.seen):
                return (
                    f"a {strip.role} seen at {strip.seen.left:.1f} mm, {strip.seen.bottom:.1f} mm up, covers"
                    f" a {other.role}"
                )
        active.append(strip)
    return None


def _overlap(one: Span, other: Span) -> bool:
    return (
        min(one.right, other.right) - max(one.left, other.left) > TOUCH
        and min(one.top, other.top) - max(one.bottom, other.bottom) > TOUCH
    )
