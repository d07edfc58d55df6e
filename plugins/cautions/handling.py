"""What to mind with glass and tall frames."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.rules import Finding, FindingKind, Layout, Mm, Piece, WallOut

TALLEST: Final = 3048.0
"""mm: studs that carry a roof (IRC Table R602.3(5), 10 ft, from memory)."""

SAME: Final = 0.5
"""mm."""

STUD_TALL: Final = FindingKind(
    "stud-tall",
    "warn",
    "IRC Table R602.3(5), from memory: studs that carry a roof are at most 10 ft long between their supports",
    "studs are up to {length} long and carry a roof; one building code's table ends at {most}: ask what holds"
    " where you are",
)

GLASS: Final = FindingKind(
    "glass",
    "note",
    "common practice; of plastic sheets the New Zealand metal roofing code of practice 10.7, as restated",
    "{count} to glaze: carry panes on edge, two to a large one, in gloves and with eyes covered; safety glass"
    " low down and beside doors; plastic sheets catch the wind, and want holes 6 mm larger than their"
    " screws",
)

KINDS: Final = (STUD_TALL, GLASS)


def tall(wall: WallOut, studs: Sequence[Piece]) -> Iterator[Finding]:
    """That studs of a wall that carries a roof are longer than a table goes."""
    longest = max(studs, key=lambda stud: stud.length, default=None)
    if longest is not None and longest.length > TALLEST + SAME:
        yield STUD_TALL.of(
            part=wall.name,
            pieces=(longest.mark,),
            value=longest.length,
            limit=TALLEST,
            length=Mm(longest.length, ".0f"),
            most=Mm(TALLEST, ".0f"),
        )


def glass(layout: Layout) -> Iterator[Finding]:
    """How glass is handled, where there are windows."""
    windows = sum(opening.kind == "window" for part in layout.parts for opening in part.openings)
    if windows:
        yield GLASS.of(value=float(windows), count="one window" if windows == 1 else f"{windows} windows")
