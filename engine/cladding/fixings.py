"""Where boards are fixed: at every support that they cross, clear of their ends and edges."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from soleplate.engine.cladding.boards import Board, Length
from soleplate.engine.cladding.region import along, span_at
from soleplate.engine.cladding.rule import Support
from soleplate.engine.geometry import Point, TopLine, contains
from soleplate.engine.members import Member

ONE_UNDER: Final = 100.0
"""mm. A board narrower than this gets one fixing at a support, others two (BM TRADA 2022, by the TDCA)."""

QUARTER: Final = 0.25
"""Of two fixings, each is set a quarter of the width from its edge (BM TRADA 2022, by the TDCA)."""

CLEAR: Final = 10.0
"""mm from an edge: 3/8 in of sheets (sheet makers' guides; building codes' nailing schedules)."""

ROUND_EDGES: Final = 150.0
"""mm between the fixings round a sheet's edges: 6 in (the same)."""

IN_FIELD: Final = 300.0
"""mm between the fixings of a sheet along studs away from its edges: 12 in (the same)."""

WITHIN_SUPPORT: Final = 2.0
"""mm from the edge of a support that a fixing still holds in (common practice, no source)."""

NEAR_END: Final = 150.0
"""mm. An end that is fixed within this is held (common practice, no source)."""

ALONG_TIMBER: Final = 400.0
"""mm between the fixings of a batten that lies along a stud (common practice, no source)."""


def fixed(board: Board, supports: Sequence[Support], top: TopLine, end_distance: float) -> Board:
    """The board with its fixings; `supports` are those that it crosses, and `top` is the frame's."""
    places = sorted(set(_places(board, supports, top, end_distance)))
    if board.strip.upright:
        return replace(board, fixed_at=tuple((v, u) for u, v in places))
    return replace(board, fixed_at=tuple(places))


def _places(board: Board, supports: Sequence[Support], top: TopLine, end_distance: float) -> Iterator[Point]:
    start, end = along(board.part)
    first, last = start + end_distance, end - end_distance
    for support in supports:
        if support.far < start or support.near > end:
            continue
        # At a heading joint both boards are fixed on one support, each as clear of its end as that allows.
        place = min(max(support.centre, first), last) if first <= last else (start + end) / 2
        place = min(max(place, support.near + WITHIN_SUPPORT), support.far - WITHIN_SUPPORT)
        if not start < place < end:
            continue
        span = span_at(board.part, place)
        if span is None:
            continue
        for across in _across(board, *span):
            if not board.strip.upright and not board.strip.on_battens:
                # What hangs below the frame, or reaches over it, is fixed where the frame ends.
                across = min(max(across, CLEAR), top.at(place) - CLEAR)
            if span[0] < across < span[1] and support.start <= across <= support.end:
                yield (place, across)


def fixed_ends(board: Board, length: Length, end_distance: float) -> Board:
    """A board on the frame, fixed near each end that has no support: to a raked plate, or what lies there.

    Where nothing lies behind, there is no fixing.
    """
    start, end = along(board.part)
    held = [place[1] if board.strip.upright else place[0] for place in board.fixed_at]
    added: list[Point] = []
    for at, place in ((start, start + end_distance), (end, end - end_distance)):
        if any(abs(other - at) <= NEAR_END for other in held) or not start < place < end:
            continue
        for across in _across(board, *(span_at(board.part, place) or (0.0, 0.0))):
            point = (across, place) if board.strip.upright else (place, across)
            if any(contains(m.outline, point) for m in length.face.timbers):
                added.append(point)
    return replace(board, fixed_at=tuple(sorted({*board.fixed_at, *added}))) if added else board


def _across(board: Board, low: float, high: float) -> tuple[float, ...]:
    """The places across a board that is `low` to `high` there."""
    said = tuple(place for place in board.strip.nails if low + CLEAR <= place <= high - CLEAR)
    if said:
        return said
    if high - low < ONE_UNDER:
        return ((low + high) / 2,)
    quarter = (high - low) * QUARTER
    return (low + quarter, high - quarter)


def fixed_along(board: Board, top: TopLine, end_distance: float) -> Board:
    """A batten or corner board with fixings along its middle, where it lies on the frame, up to its `top`."""
    start, end = along(board.part)
    if board.strip.upright:
        middle = (board.member.left + board.member.right) / 2
        start, end = (
            max(start, CLEAR - end_distance),
            min(end, top.at(middle) - CLEAR + end_distance),
        )
    first, last = min(start + end_distance, (start + end) / 2), max(end - end_distance, (start + end) / 2)
    places = []
    for place in _evenly(first, last, ALONG_TIMBER):
        span = span_at(board.part, place)
        if span is not None:
            middle = sum(span) / 2
            places.append((middle, place) if board.strip.upright else (place, middle))
    return replace(board, fixed_at=tuple(dict.fromkeys(places)))


def fixed_sheet(board: Board, studs: Sequence[Support], timbers: Sequence[Member]) -> Board:
    """A sheet with its fixings: closely round its edges, wherever timber lies behind, and along studs."""
    left, right, bottom, top = board.member.left, board.member.right, board.member.bottom, board.member.top
    lying = [member for member in timbers if not member.is_upright]
    places: set[Point] = set()
    for stud in studs:
        x = min(max(stud.centre, left + CLEAR), right - CLEAR)
        if stud.near <= x <= stud.far:
            at_edge = min(x - left, right - x) < 2 * CLEAR
            for z in _evenly(bottom + CLEAR, top - CLEAR, ROUND_EDGES if at_edge else IN_FIELD):
                if z > 0.0 and stud.start <= z <= stud.end:
                    places.add((round(x, 6), z))
    for z in (bottom + CLEAR, top - CLEAR):
        for x in _evenly(left + CLEAR, right - CLEAR, ROUND_EDGES):
            behind = any(m.left <= x <= m.right and contains(m.outline, (x, z)) for m in lying)
            if behind and all(math.dist((x, z), other) > CLEAR for other in places):
                places.add((x, z))
    inside = [place for place in sorted(places) if contains(board.member.outline, place)]
    return replace(board, fixed_at=tuple(inside))


def _evenly(start: float, end: float, most: float) -> list[float]:
    """Places from `start` to `end`, no further apart than `most`, mm."""
    bays = max(1, math.ceil((end - start) / most - 1e-9))
    return [round(start + (end - start) * index / bays, 6) for index in range(bays + 1)]
