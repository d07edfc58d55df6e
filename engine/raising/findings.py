"""What is found while the order of work is looked for: one row for each kind."""

from __future__ import annotations

from typing import Final

from soleplate.engine.layout import PRACTICE
from soleplate.engine.rules import FindingKind

NO_ORDER: Final = FindingKind(
    "no-order",
    "stop",
    "worked out from the movements of all walls, exactly but for carrying, where a way with under 130 mm to"
    " spare may be missed",
    "no order was found in which all walls can be raised: {said}",
)

NOT_SEARCHED: Final = FindingKind(
    "order-not-searched",
    "note",
    PRACTICE,
    "the best order of raising is not known: {said}",
)

OVER_LIFT: Final = FindingKind(
    "over-lift",
    "warn",
    "HSE manual handling filter, as restated (no limit); HSE L23 paragraphs 119, 120 for two and three; NIOSH"
    " lifting equation for the start of a lift",
    "raising {it} lifts {peak:.0f} kg at once, over {most:.0f} kg for {who}; from the deck {niosh:.1f} kg a"
    " person is recommended: get help, or make it in {parts} parts",
)

WAY_NEEDS_GROUND: Final = FindingKind(
    "way-needs-ground",
    "warn",
    PRACTICE,
    "raised from outside, {it} needs level, firm ground {far} out of the wall, as high as the deck or made"
    " up to it",
)

HEAD_OVER_EDGE: Final = FindingKind(
    "head-over-deck-edge",
    "warn",
    PRACTICE,
    "while {it} lies on the deck its head reaches {over} past the deck's edge: support it there, and keep off"
    " that end",
)

BRACE_BLOCKED: Final = FindingKind(
    "brace-blocked",
    "warn",
    "Modern Carpentry, 2022, page 253: braces near the top, at about 45 degrees; 0.7 of the height and the"
    " rakers' places are common practice",
    "{it} can't be braced {where}: {what} is in the way",
)

WIND: Final = FindingKind(
    "wind",
    "warn",
    "Beaufort limits in m/s; EN 1991-1-4, 7.4.1 zone D; that walls are raised clad up to force 3 only, alone"
    " up to 2, is common practice, no source",
    "raised with its cladding on, {it} is pushed by {newtons:.0f} N in gusts of force {beaufort}: raise it up"
    " to force {most} only",
)

ALONE: Final = FindingKind(
    "raised-alone",
    "note",
    PRACTICE,
    "raised alone, {walls} can't be let go of before they are braced: nail each raker's head first, set"
    " blocks behind the foot, tie a rope so that it can't go past upright, keep others out from under it, and"
    " wait for a day without wind",
)

KINDS: Final = (
    ALONE,
    NO_ORDER,
    NOT_SEARCHED,
    OVER_LIFT,
    WAY_NEEDS_GROUND,
    HEAD_OVER_EDGE,
    BRACE_BLOCKED,
    WIND,
)
