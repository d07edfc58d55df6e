"""Walls in panels: what lies across their breaks, and what is to be tied there."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from soleplate.engine.rules import PRACTICE, Count, Finding, FindingKind, Layout, MmList, WallOut

BOARDS_OVER_BREAKS: Final = FindingKind(
    "boards-over-breaks",
    "note",
    PRACTICE,
    "{count} across the breaks at {where}: they go on once both panels stand, and what"
    " is clad before it is raised keeps clear of the breaks",
)

PLATES_NOT_TIED: Final = FindingKind(
    "plates-not-tied",
    "note",
    "Ontario Building Code 9.23.11.4: single top plates of loadbearing walls are tied at joints, as by steel"
    " of 75 x 150 x 0.91 mm nailed to both",
    "the top plate ends at the breaks at {where}, and no upper plate runs over them: tie it there with a"
    " strap or a plate of steel, and fix the end studs of both panels to each other",
)


def panels(wall: WallOut, layout: Layout) -> Iterator[Finding]:
    """What is to be said of a wall that is built in panels."""
    if not wall.panels:
        return
    breaks = [panel.start for panel in wall.panels[1:]]
    across = [piece for piece in wall.pieces if not piece.is_frame and piece.panel is None]
    if across:
        yield BOARDS_OVER_BREAKS.of(
            part=wall.name,
            value=float(len(across)),
            count=Count(len(across), "board or sheet lies", "boards or sheets lie"),
            where=MmList(tuple(breaks)),
        )
    bare = [x for x in breaks if not _is_bridged(wall, x, layout)]
    if bare:
        yield PLATES_NOT_TIED.of(part=wall.name, where=MmList(tuple(bare)))


def _is_bridged(wall: WallOut, x: float, layout: Layout) -> bool:
    """Whether a plate of the wall's top runs over a break."""
    return any(
        layout.role_of(piece).past_ends
        and min(at for at, _ in piece.outline) < x < max(at for at, _ in piece.outline)
        for piece in wall.pieces
        if piece.is_frame
    )
