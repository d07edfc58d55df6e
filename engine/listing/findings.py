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

RUN_OFF: Final = FindingKind(
    "measured-off",
    "note",
    PRACTICE,
    "measured {difference} in run than drawn ({drawn}); rafters are cut to it at the pitch as drawn, so that"
    " their upper ends come to lie {rise} {way}: plane or pack the plate there, or set the ridge so; fascias,"
    " rungs, blocks and the deck are told as for the mean of both ends",
)

LAPS_LOST: Final = FindingKind(
    "laps-lost",
    "warn",
    "EN 336, tolerance class 2 (1 mm either way up to 100 mm, so 2 mm between two plates)",
    "its plates are {difference} than those of {other}, over the {most} within which their upper plates still"
    " lie on one level: they are cut to meet at that corner and no longer lap; plane or pack them to one"
    " thickness, or tie the corner over its top",
)

KINDS: Final = (MEASURED_OFF, RUN_OFF, LAPS_LOST)
