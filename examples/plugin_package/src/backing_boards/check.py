"""A check: bays that a band of boards leaves out."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from backing_boards.reading import boards, span
from soleplate.engine.rules import PRACTICE, Count, Finding, FindingKind, Layout, MmList, hookimpl

BACKING_MISSING: Final = FindingKind(
    "backing-missing",
    "note",
    PRACTICE,
    "{count} no backing board, those at {places}: fix nothing to the lining there, or find a stud",
)


@hookimpl
def check_layout(layout: Layout) -> Iterator[Finding]:
    """Tell of walls with boards in some bays and none in others."""
    for wall in layout.walls:
        placed = [span(piece) for piece in boards(wall)]
        bare = [
            bay.from_
            for bay in wall.bays
            if not any(left < bay.to and bay.from_ < right for left, right in placed)
        ]
        if placed and bare:
            yield BACKING_MISSING.of(
                part=wall.name,
                value=float(len(bare)),
                count=Count(len(bare), "bay has", "bays have"),
                places=MmList(tuple(bare)),
            )
