"""Sheets laid on a wall anyway: how far they brace it, by one code's words; all else is not judged."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import Final, Literal

from soleplate.engine.rules import (
    Finding,
    FindingKind,
    Layout,
    Mm,
    Piece,
    Said,
    WallOut,
    at_least,
    at_most,
    bounds,
    said,
    span_at,
)

PANELS: Final = (
    "IRC Table R602.10.4 (method WSP), as published by UpCodes; IBC 2308.9.3 for the length, as quoted by the"
    " National Association of Home Builders"
)
"""Wood structural panels at least 3/8 in thick, nailed at 6 in round their edges and 12 in between; each
braced stretch at least 48 in long."""

LEAST_THICK: Final = 9.525
EDGES: Final = 152.4
BETWEEN: Final = 304.8
LEAST_LENGTH: Final = 1219.2

NEAR: Final = 50.0
"""mm. What is fixed so near to the edge of a sheet is fixed along it (common practice, no source)."""
JOINT: Final = 12.0
"""mm. Sheets so near to each other go on (gaps are 3 mm, APA; some are wider)."""
SIZED: Final = 3.2
"""mm. Sheets of 48 in that leave room for their gaps measure 47 7/8 in (APA)."""
WITHIN: Final = 0.5
"""mm. A figure over a limit by less than this is not over it."""

SHEETS_BRACE: Final = FindingKind(
    "sheets-brace",
    "note",
    PANELS,
    "sheets {face} that no opening cuts into stand full height over {length}, {thick} thick; {verdict}",
)


def sheathing(wall: WallOut, layout: Layout) -> Iterator[Finding]:
    """What is to be said of the sheets on each face of a wall."""
    faces: tuple[Literal["outside", "inside"], ...] = ("outside", "inside")
    for face in faces:
        if sheets := sheets_on(wall, layout, face):
            yield _judged(wall, sheets, face)


def sheets_on(wall: WallOut, layout: Layout, face: str) -> list[Piece]:
    """The sheets on a face of a wall that may brace it."""
    roles = ((piece, layout.role_of(piece)) for piece in wall.pieces if piece.face == face)
    return [piece for piece, role in roles if role.braces and role.sheet]


def _judged(wall: WallOut, sheets: Sequence[Piece], face: str) -> Finding:
    thick = min(piece.depth[1] - piece.depth[0] for piece in sheets)
    whole = [piece for piece in sheets if not piece.notched]
    long = stretches(wall, whole)
    enough = [(left, right) for left, right in long if right - left >= LEAST_LENGTH - SIZED]
    braced = math.fsum(right - left for left, right in enough)
    return SHEETS_BRACE.of(
        part=wall.name,
        value=round(braced, 3),
        limit=LEAST_LENGTH,
        face=face,
        length=Mm(math.fsum(right - left for left, right in long), ".0f"),
        thick=Mm(thick),
        verdict=_verdict(thick, braced, [piece for piece in whole if _is_within(piece, enough)]),
    )


def _is_within(piece: Piece, reaches: Sequence[tuple[float, float]]) -> bool:
    left, right, _, _ = bounds(piece.outline)
    return any(left < end - JOINT and right > start + JOINT for start, end in reaches)


def _verdict(thick: float, braced: float, counted: Sequence[Piece]) -> Said:
    if thick < LEAST_THICK - WITHIN:
        return said(
            "one code has wood structural panels brace from {least} on, so these are not judged to",
            least=at_least(LEAST_THICK, ".1f"),
        )
    if not counted:
        return said(
            "one code has stretches brace from {least} on, so these are not judged to",
            least=at_least(LEAST_LENGTH, ".0f"),
        )
    edges, between = (max(gaps) for gaps in zip(*map(_gaps, counted), strict=True))
    if edges > EDGES + WITHIN or between > BETWEEN + WITHIN:
        return said(
            "one code has them brace where they are nailed at {edges} round their edges and {between}"
            " between, which is up to {wide_edges} and {wide_between} here, so these are not judged to",
            edges=at_most(EDGES, ".0f"),
            between=at_most(BETWEEN, ".0f"),
            wide_edges=at_least(edges, ".0f"),
            wide_between=at_least(between, ".0f"),
        )
    return said(
        "by one code's words {braced} of it braces, if they are wood structural panels, nailed as it says",
        braced=Mm(braced, ".0f"),
    )


def stretches(wall: WallOut, sheets: Sequence[Piece]) -> list[tuple[float, float]]:
    """Where sheets cover a wall from the sole plate to its top, from and to along it, mm."""
    edges = {x for piece in sheets for x, _ in piece.outline}
    edges |= {x for x, _ in wall.top_line} | {0.0, wall.length}
    found: list[tuple[float, float]] = []
    for left, right in itertools.pairwise(sorted(x for x in edges if 0.0 <= x <= wall.length)):
        middle = (left + right) / 2
        spans = [
            span_at(piece.outline, middle)
            for piece in sheets
            if min(x for x, _ in piece.outline) < middle < max(x for x, _ in piece.outline)
        ]
        in_opening = any(opening.left < middle < opening.right for opening in wall.openings)
        if in_opening or not _whole(spans, _top_at(wall, middle)):
            continue
        if found and left - found[-1][1] <= JOINT:
            found[-1] = (found[-1][0], right)
        else:
            found.append((left, right))
    return found


def _whole(spans: Sequence[tuple[float, float]], top: float) -> bool:
    """Whether upright stretches leave nothing from the ground up to the top but joints."""
    reach = 0.0
    for low, high in sorted(spans):
        if low > reach + JOINT:
            return False
        reach = max(reach, high)
    return reach >= top - 2 * JOINT


def _top_at(wall: WallOut, x: float) -> float:
    for (x0, z0), (x1, z1) in itertools.pairwise(wall.top_line):
        if x0 <= x <= x1 and x1 > x0:
            return z0 + (x - x0) / (x1 - x0) * (z1 - z0)
    return wall.top_line[-1][1]


def _gaps(sheet: Piece) -> tuple[float, float]:
    """The widest gap between fixings along an edge of a sheet, and along a stud away from them, mm.

    An edge without any, along which nothing lies behind, is as one gap.
    """
    left, right, _, _ = bounds(sheet.outline)
    # Each fixing with the heights of the sheet's lower and upper edge there; the upper one may rake.
    points = [(x, z, *span_at(sheet.outline, x)) for x, z in sheet.fixed_at or ()]
    edges = [
        _widest([z for x, z, _, _ in points if abs(x - edge) <= NEAR], *span_at(sheet.outline, edge))
        for edge in (left, right)
    ]
    edges.append(_widest([x for x, z, low, _ in points if z - low <= NEAR], left, right))
    edges.append(_widest([x for x, z, _, high in points if high - z <= NEAR], left, right))
    columns: dict[float, list[tuple[float, float, float]]] = {}
    for x, z, low, high in points:
        if left + NEAR < x < right - NEAR:
            columns.setdefault(round(x, 1), []).append((z, low, high))
    # Along level edges there are fixings that no stud is behind: they make no column.
    inner = [
        _widest([z for z, _, _ in column], *column[0][1:])
        for column in columns.values()
        if any(low + NEAR < z < high - NEAR for z, low, high in column)
    ]
    return max(edges), max(inner, default=0.0)


def _widest(places: Sequence[float], start: float, end: float) -> float:
    """The widest gap between places in order, or to an end from which they are further."""
    if not places:
        return end - start
    ends = [gap for gap in (min(places) - start, end - max(places)) if gap > NEAR]
    return max([*ends, *(b - a for a, b in itertools.pairwise(sorted(places)))], default=0.0)
