"""Lintels over openings of walls that carry a roof, beside the rows of a published table."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.rules import (
    Finding,
    FindingKind,
    Layout,
    Mm,
    OpeningOut,
    Piece,
    WallOut,
    said,
)
from soleplate.plugins.cautions.limits import SAME

FOOT: Final = 304.8
INCH: Final = 25.4

TABLE: Final = (
    "IRC Table R502.5(1) before 2015, roof and ceiling, ground snow of 30 psf as it is read elsewhere"
)

WIDTHS: Final = (20 * FOOT, 28 * FOOT, 36 * FOOT)
"""mm across the building."""

ROWS: Final = (
    (89.0, ((3, 6), (3, 2), (2, 10)), (1, 1, 1)),
    (140.0, ((5, 5), (4, 8), (4, 2)), (1, 1, 1)),
    (184.0, ((6, 10), (5, 11), (5, 4)), (1, 2, 2)),
    (235.0, ((8, 5), (7, 3), (6, 6)), (2, 2, 2)),
    (286.0, ((9, 9), (8, 5), (7, 6)), (2, 2, 2)),
)
"""Two plies of 38 mm so deep, mm: their spans, ft and in, and the trimmers at each end, by the widths."""

TWO_PLIES: Final = 74.0
"""mm. Lintels thinner than two plies of 38 mm, each 1 mm under size, are in no row."""

LEAST_BEARING: Final = 38.0
"""mm (IRC R502.6 as restated: 1 1/2 in on wood; the National Building Code of Canada, from memory)."""

LINTEL_SPAN: Final = FindingKind(
    "lintel-span",
    "warn",
    TABLE,
    "the lintel over {name} spans {span}, and by one building code's table two plies {depth} deep span"
    " {most} with {trimmers} at each end, under a roof {across} across: ask what holds where you are",
)

LINTEL_UNLISTED: Final = FindingKind(
    "lintel-unlisted",
    "note",
    TABLE,
    "the lintel over {name} spans {span}, and one building code's table has no row for it ({what}): ask what"
    " holds where you are",
)

LINTEL_BEARING: Final = FindingKind(
    "lintel-bearing",
    "warn",
    "IRC R502.6, R802.6, as restated: 1 1/2 in on wood, 3 in on masonry",
    "the lintel over {name} bears on {bearing} at an end; {least} and more is wanted",
)

KINDS: Final = (LINTEL_SPAN, LINTEL_UNLISTED, LINTEL_BEARING)


def between(at: float, low: tuple[float, float], high: tuple[float, float]) -> float:
    """The value at a place between two of a table, in a straight line."""
    (x0, y0), (x1, y1) = low, high
    return y0 + (y1 - y0) * (at - x0) / (x1 - x0)


def lintel_span(depth: float, across: float) -> tuple[float, int] | None:
    """What two plies so deep span under a roof so far across, mm, and the trimmers at each end.

    Between widths of the table in a straight line; narrower buildings as the narrowest. None where it has no
    row.
    """
    row = next((row for row in reversed(ROWS) if depth >= row[0] - 1.0), None)
    if row is None or across > WIDTHS[-1] + SAME:
        return None
    spans = [feet * FOOT + inches * INCH for feet, inches in row[1]]
    if across <= WIDTHS[0]:
        return spans[0], row[2][0]
    index = next(i for i in (1, 2) if across <= WIDTHS[i] + SAME)
    low, high = (WIDTHS[index - 1], spans[index - 1]), (WIDTHS[index], spans[index])
    return between(across, low, high), row[2][index]


def lintels(wall: WallOut, layout: Layout) -> Iterator[Finding]:
    """What is to be said of the lintels of a wall that carries a roof."""
    pieces = {piece.mark: piece for piece in wall.pieces}
    across = _across(wall, layout)
    for opening in wall.openings:
        plies = [pieces[mark] for mark in opening.pieces if pieces[mark].role == "lintel"]
        if plies:
            yield from _of_span(wall, opening, plies, across)
            yield from _of_bearing(wall, opening, plies)


def _of_span(wall: WallOut, opening: OpeningOut, plies: Sequence[Piece], across: float) -> Iterator[Finding]:
    span = opening.right - opening.left
    depth = min(max(z for _, z in ply.outline) - min(z for _, z in ply.outline) for ply in plies)
    thick = sum(ply.depth[1] - ply.depth[0] for ply in plies)
    row = lintel_span(depth, across)
    trimmers = (
        sum(1 for piece in wall.pieces if piece.mark in opening.pieces and piece.role == "trimmer") // 2
    )
    if row is None or thick < TWO_PLIES:
        if span > ROWS[0][1][0][0] * FOOT + ROWS[0][1][0][1] * INCH:
            what = said("it is {thick} thick and {depth} deep", thick=Mm(thick), depth=Mm(depth))
            yield LINTEL_UNLISTED.of(
                part=wall.name,
                pieces=tuple(ply.mark for ply in plies),
                value=round(span, 3),
                name=opening.name,
                span=Mm(span, ".0f"),
                what=what,
            )
        return
    limit, jacks = row
    if span > limit + SAME or trimmers < jacks:
        yield LINTEL_SPAN.of(
            part=wall.name,
            pieces=tuple(ply.mark for ply in plies),
            value=round(span, 3),
            limit=round(limit, 3),
            name=opening.name,
            span=Mm(span, ".0f"),
            depth=Mm(depth),
            most=Mm(limit, ".0f"),
            trimmers=said("one trimmer") if jacks == 1 else said("two trimmers"),
            across=Mm(across, ".0f"),
        )


def _of_bearing(wall: WallOut, opening: OpeningOut, plies: Sequence[Piece]) -> Iterator[Finding]:
    bearing = min(
        side
        for ply in plies
        for xs in [[x for x, _ in ply.outline]]
        for side in (opening.left - min(xs), max(xs) - opening.right)
    )
    if bearing < LEAST_BEARING - SAME:
        yield LINTEL_BEARING.of(
            part=wall.name,
            pieces=tuple(ply.mark for ply in plies),
            value=round(bearing, 3),
            limit=LEAST_BEARING,
            name=opening.name,
            bearing=Mm(bearing, ".0f"),
            least=Mm(LEAST_BEARING, ".0f"),
        )


def _across(wall: WallOut, layout: Layout) -> float:
    """How far the building reaches square to a wall, mm."""
    right = wall.views["face"].right
    places = [
        x * -right[1] + y * right[0]
        for each in layout.walls
        for run in [each.views["face"].right]
        for x, y in (
            each.plan.start,
            (each.plan.start[0] + run[0] * each.length, each.plan.start[1] + run[1] * each.length),
        )
    ]
    return max(places) - min(places)
