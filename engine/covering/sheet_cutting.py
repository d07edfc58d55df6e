"""How many sheets it takes: pieces are cut from them in rows across, then each row into its pieces.

Pieces stay upright, as the sheet lies on the wall, since sheets are stiffer one way; one with an opening cut
out of it takes up the rectangle round it. The highest pieces go first, each into the row that it fills best
(first-fit decreasing height; Coffman, Garey, Johnson and Tarjan 1980).
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from soleplate.engine.covering.boards import Board
from soleplate.engine.layout import BoardCount, BoardsOut
from soleplate.engine.shapes import TOUCH, Section, rounded


class Size(NamedTuple):
    """Of a sheet, or of a piece of one, mm: along the wall and up it."""

    width: float
    height: float


@dataclass(slots=True)
class _Row:
    """A row across a sheet, and the width that is left of it, mm."""

    sheet: int
    height: float
    left: float


def sheets_taken(pieces: Iterable[Size], sheet: Size, kerf: float) -> int:
    """How many sheets the pieces are cut from, each no larger than one; `kerf` in mm."""
    rows: list[_Row] = []
    left: list[float] = []
    for piece in sorted(pieces, key=lambda size: (-size.height, -size.width)):
        fitting = [r for r in rows if r.height >= piece.height - TOUCH and r.left >= piece.width - TOUCH]
        if fitting:
            row = min(fitting, key=lambda r: r.left)
        else:
            room = [number for number, height in enumerate(left) if height >= piece.height - TOUCH]
            if not room:
                left.append(sheet.height)
                room = [len(left) - 1]
            number = min(room, key=lambda each: left[each])
            row = _Row(number, piece.height, sheet.width)
            left[number] -= piece.height + kerf
            rows.append(row)
        row.left -= piece.width + kerf
    return len(left)


def fewest_sheets(pieces: Sequence[Size], sheet: Size) -> int:
    """No way of cutting takes fewer: by the area, by the tall pieces and by the wide ones.

    Pieces over half as high as a sheet stand beside each other, where they share one, so that their widths
    are as lengths cut from a length; likewise the heights of those over half as wide.
    """
    area = sum(piece.width * piece.height for piece in pieces) / (sheet.width * sheet.height)
    tall = [piece.width for piece in pieces if piece.height > sheet.height / 2 + TOUCH]
    wide = [piece.height for piece in pieces if piece.width > sheet.width / 2 + TOUCH]
    return max(_up(area), fewest_lengths(tall, sheet.width), fewest_lengths(wide, sheet.height))


def fewest_lengths(cuts: Sequence[float], length: float) -> int:
    """No way of cutting takes fewer lengths (the bound L2 of Martello and Toth 1990, for bins and items).

    For each size of at most half a length: cuts that leave less than that size are alone but for smaller
    ones; those over half are apart too, and what they leave holds as much of the rest as its sum.
    """
    most = 0
    for size in {0.0, *(cut for cut in cuts if cut <= length / 2)}:
        alone = [cut for cut in cuts if cut > length - size + TOUCH]
        apart = [cut for cut in cuts if length / 2 + TOUCH < cut <= length - size + TOUCH]
        rest = sum(cut for cut in cuts if size <= cut <= length / 2 + TOUCH)
        more = rest - sum(length - cut for cut in apart)
        most = max(most, len(alone) + len(apart) + _up(max(more, 0.0) / length))
    return most


def _up(share: float) -> int:
    return math.ceil(share - 1e-6)


def sheets_bought(boards: Iterable[Board], kerf: float) -> tuple[BoardsOut, ...]:
    """The sheets of each kind that all walls take together; others than sheets are passed over."""
    kinds: dict[tuple[str, Section, str, Size], list[Size]] = {}
    for board in boards:
        strip, member = board.strip, board.member
        if board.role.sheet:
            sheet = Size(strip.section.depth, strip.whole.top - strip.whole.bottom)
            piece = Size(member.right - member.left, member.top - member.bottom)
            kinds.setdefault((strip.role, strip.section, strip.material, sheet), []).append(piece)
    return tuple(
        BoardsOut(
            role=role,
            section=(rounded(section.breadth), rounded(section.depth)),
            material=material,
            lengths=(BoardCount(length=rounded(sheet.height), count=count),),
            value=rounded(count * sheet.height),
            bound=rounded(fewest_sheets(pieces, sheet) * sheet.height),
        )
        for (role, section, material, sheet), pieces in kinds.items()
        for count in (sheets_taken(pieces, sheet, kerf),)
    )
