"""A wall too long for a sheet, parted at match lines: where its panels meet, or through bays."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from soleplate.engine.layout import OpeningOut, Piece, WallOut
from soleplate.engine.shapes import Outline, Point, bounds, clip
from soleplate.viewer.drawings import breaks_of, verges

_LEAST_SHARE = 0.4
"""Of a sheet, that a part fills at least."""


@dataclass(frozen=True, slots=True)
class SheetPart:
    """A stretch of a wall, mm from its left end, on one sheet of several."""

    left: float
    right: float
    number: int
    count: int

    @property
    def begins(self) -> bool:
        """Whether the wall begins here."""
        return self.number == 1

    @property
    def ends(self) -> bool:
        """Whether the wall ends here."""
        return self.number == self.count


def whole(wall: WallOut) -> SheetPart:
    """The wall in one part."""
    return SheetPart(0.0, wall.length, 1, 1)


def parted(wall: WallOut, reach: float) -> list[SheetPart]:
    """As few parts as will do, none longer than `reach` mm, about alike in length."""
    lines = [0.0]
    while wall.length - lines[-1] > reach:
        rest = wall.length - lines[-1]
        wanted = lines[-1] + rest / math.ceil(rest / reach)
        lines.append(_match_line(wall, lines[-1], wanted, reach))
    lines.append(wall.length)
    count = len(lines) - 1
    return [SheetPart(lines[index], lines[index + 1], index + 1, count) for index in range(count)]


def _match_line(wall: WallOut, start: float, wanted: float, reach: float) -> float:
    """The break of panels nearest to the wanted place; else the middle of a bay, best where no opening is.

    Where there is neither it is that place itself.
    """
    least, most = start + _LEAST_SHARE * reach, start + reach
    breaks = [x for x in breaks_of(wall) if least <= x <= most]
    middles = [(bay.from_ + bay.to) / 2 for bay in wall.bays]
    near = [x for x in middles if least <= x <= most]
    clear = [x for x in near if not any(o.left < x < o.right for o in wall.openings)]
    return min(breaks or clear or near or [wanted], key=lambda x: (abs(x - wanted), x))


def within(wall: WallOut, part: SheetPart) -> WallOut:
    """What of a wall lies in a part, in the wall's own coordinates; pieces are cut at the match lines.

    An opening that a match line crosses is left whole, so that what is told of it stays true.
    """
    if part.count == 1:
        return wall
    shown = shown_of(wall, part)
    pieces = [cut for piece in wall.pieces if (cut := _cut(piece, *shown)) is not None]
    return replace(
        wall,
        pieces=tuple(pieces),
        openings=tuple(opening for opening in wall.openings if _shows(opening, part)),
        marks={
            plate: tuple(mark for mark in marks if part.left <= mark.at < part.right)
            for plate, marks in wall.marks.items()
        },
    )


def shown_of(wall: WallOut, part: SheetPart) -> tuple[float, float]:
    """From where to where along the wall what lies there is drawn: over its verges at its own ends."""
    left, right = verges(wall)
    return part.left - left * part.begins, part.right + right * part.ends


def _cut(piece: Piece, start: float, end: float) -> Piece | None:
    left, right, _, _ = bounds(piece.outline)
    if start <= left and right <= end:
        return piece
    kept = _clipped(piece.outline, start, end)
    seen = piece.seen and tuple(cut for outline in piece.seen if (cut := _clipped(outline, start, end)))
    return replace(piece, outline=kept, seen=seen or None) if kept else None


def _clipped(outline: Sequence[Point], start: float, end: float) -> Outline:
    kept = clip(outline, (start, 1.0), (start, 0.0))
    return clip(kept, (end, 0.0), (end, 1.0)) if kept else ()


def _shows(opening: OpeningOut, part: SheetPart) -> bool:
    return opening.left < part.right and opening.right > part.left
