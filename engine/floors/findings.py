"""What is found while floors are framed: one row for each kind."""

from __future__ import annotations

from typing import Final

from soleplate.engine.layout import PRACTICE
from soleplate.engine.rules import FindingKind

BEARER_TOO_LONG: Final = FindingKind(
    "bearer-too-long",
    "stop",
    PRACTICE,
    "the bearer from {reach} is longer than any length on sale ({longest}), and no pad lies where it could be"
    " jointed",
)

BEARER_JOINT: Final = FindingKind(
    "bearer-joint", "note", PRACTICE, "a bearer is jointed over the pads at {where}; lay the pads there first"
)

KINDS: Final = (BEARER_TOO_LONG, BEARER_JOINT)
