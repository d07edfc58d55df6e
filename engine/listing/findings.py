"""What is found while pieces are listed: one row for each kind."""

from __future__ import annotations

from typing import Final

from soleplate.engine.layout import PRACTICE
from soleplate.engine.rules import FindingKind

MEASURED_OFF: Final = FindingKind(
    "measured-off",
    "note",
    PRACTICE,
    "measured {difference} than drawn ({drawn}); what it meets, and the walls"
    " beside it, are still as drawn: check that the corners close",
)

KINDS: Final = (MEASURED_OFF,)
