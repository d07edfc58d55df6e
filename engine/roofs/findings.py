"""What is found while roofs are framed: one row for each kind."""

from __future__ import annotations

from typing import Final

from soleplate.engine.layout import PRACTICE
from soleplate.engine.rules import FindingKind

RAFTER_TOO_LONG: Final = FindingKind(
    "rafter-too-long",
    "stop",
    PRACTICE,
    "rafters are {length} long and the longest on sale is {longest}: a rafter is not jointed; take shorter"
    " overhangs, or timber that is longer",
)

PIECE_TOO_LONG: Final = FindingKind(
    "roof-piece-too-long",
    "warn",
    PRACTICE,
    "the {role} is longer than any length on sale ({longest}), and no rafter stands where it could be"
    " jointed",
)

PIECE_JOINT: Final = FindingKind(
    "roof-piece-joint", "note", PRACTICE, "the {role} is jointed at {where}, over {over}"
)

KINDS: Final = (RAFTER_TOO_LONG, PIECE_TOO_LONG, PIECE_JOINT)
