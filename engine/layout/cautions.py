"""What holds for every building, and stands in every report, on every drawing and on the page."""

from __future__ import annotations

from typing import Final

CAUTIONS: Final = (
    "This is setting out, not approval: local codes, and a licensed professional where one is needed,"
    " decide on sizes, spans, fixings, bracing and foundations.",
    "Saw: fixed guard, sharp blade, timber held or clamped, cable and hands clear; eyes, ears"
    " and lungs covered.",
    "Lifting: plan the lift, get help with anything heavy or awkward, and keep fingers out"
    " from under a wall.",
    "Height: work from a stable platform, not from the frame or the top of a ladder.",
    "A frame is not stable until it is braced and tied to its neighbours and its base: prop it the moment"
    " it is up, keep the temporary braces on until it is sheathed or braced for good, and stop when the wind"
    " rises.",
    "Check the timber that came against the sizes here before the first cut.",
)
