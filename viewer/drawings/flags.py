"""Findings where they are on a drawing: a flag with the number that the finding bears in the list.

A flag's shape tells its level, so that nothing hangs on colour: a square says stop, a diamond think again,
a disc good to know.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import svg

from soleplate.engine.layout import FindingOut, Piece
from soleplate.engine.shapes import bounds
from soleplate.viewer.drawings.face import Face
from soleplate.viewer.drawings.lettering import LetteringBox, Places, lettering
from soleplate.viewer.words import finding_id

MOST_FLAGS: Final = 3
"""Of one finding, however many pieces it names: the list names them all."""

FLAG_ROOM: Final = 2.4
"""In text sizes: over the wall, for the flags of findings that name no piece."""

_CORNERS: Final = {
    "stop": ((-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)),
    "warn": ((0.0, -1.35), (1.35, 0.0), (0.0, 1.35), (-1.35, 0.0)),
}


def flag_wall(face: Face, findings: Sequence[FindingOut], places: Places) -> list[svg.Element]:
    """The flags of a wall's findings that name no piece, over the wall from its left.

    Each is a link to its place in the list, where all the wall's findings are counted.
    """
    wide, top = 1.7 * face.size, -face.height - FLAG_ROOM / 2 * face.size
    spots = [LetteringBox.around((1.0 + 2.0 * step) * face.size, top, wide, wide) for step in range(12)]
    known = {piece.mark for piece in face.wall.pieces}
    return [
        _flag(face, finding, number, places.take(spots))
        for number, finding in enumerate(findings, 1)
        if known.isdisjoint(finding.pieces)
    ]


def flag_pieces(
    face: Face, findings: Sequence[FindingOut], pieces: Sequence[Piece], places: Places
) -> list[svg.Element]:
    """The flags of findings at the first few of some pieces that each names; kept clear of the tags."""
    return [
        _flag(face, finding, number, places.take(spots))
        for number, finding in enumerate(findings, 1)
        for spots in _spots(face, [piece for piece in pieces if piece.mark in finding.pieces][:MOST_FLAGS])
    ]


def _spots(face: Face, pieces: Sequence[Piece]) -> list[list[LetteringBox]]:
    """For the flag of each piece the boxes that it may take, best first."""
    wide = 1.7 * face.size
    found: list[list[LetteringBox]] = []
    for piece in pieces:
        left, right, bottom, top = bounds(piece.outline)
        shares = (0.72, 0.28, 0.86, 0.14, 0.62, 0.38)
        found.append(
            [
                LetteringBox.around(
                    face.x(left + (right - left) * (share if right - left > top - bottom else 0.5)),
                    -(bottom + (top - bottom) * (share if top - bottom >= right - left else 0.5)),
                    wide,
                    wide,
                )
                for share in shares
            ]
        )
    return found


def _flag(face: Face, finding: FindingOut, number: int, box: LetteringBox) -> svg.A:
    (x, y), reach = box.centre, 0.72 * face.size
    shape: svg.Element
    if finding.level in _CORNERS:
        corners = [
            svg.Point(x + reach * across, y + reach * down) for across, down in _CORNERS[finding.level]
        ]
        shape = svg.Polygon(points=corners)
    else:
        shape = svg.Circle(cx=x, cy=y, r=1.1 * reach)
    label = face.texts.flag.format(level=face.texts.levels[finding.level], number=number)
    return svg.A(
        href=f"#{finding_id(face.wall.name, number)}",
        class_=["flag", finding.level],
        extra={"aria-label": label},
        elements=[
            svg.Title(text=f"{number}: {finding.message}"),
            shape,
            lettering(f"{number}", x, y, face.size),
        ],
    )
