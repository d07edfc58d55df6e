"""A check: braces that all rise the same way."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from cut_in_braces.reading import angle, braces
from soleplate.engine.rules import PRACTICE, Finding, FindingKind, Layout, hookimpl

BRACES_ONE_WAY: Final = FindingKind(
    "braces-one-way",
    "note",
    PRACTICE,
    "all braces rise to the {way}; cut pieces hold against a push better than against a"
    " pull, so give the wall one that rises the other way too",
)


@hookimpl
def check_layout(layout: Layout) -> Iterator[Finding]:
    """Tell of walls in which all braces rise the same way."""
    for wall in layout.walls:
        pieces = list(braces(wall))
        ways = {"right" if angle(piece) < 90.0 else "left" for piece in pieces}
        if len(ways) == 1:
            yield BRACES_ONE_WAY.of(
                part=wall.name, pieces=tuple(piece.mark for piece in pieces), way=ways.pop()
            )
