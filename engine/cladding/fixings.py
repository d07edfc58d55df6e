"""Where boards are fixed: at every support that they cross, clear of their ends and edges."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from soleplate.engine.cladding.boards import Board
from soleplate.engine.cladding.region import along, span_at
from soleplate.engine.cladding.rule import Support
from soleplate.engine.geometry import TOUCH, Point

ONE_UNDER: Final = 100.0
"""mm. A board narrower than this gets one fixing at a support, others two (BM TRADA 2022, by the TDCA)."""

QUARTER: Final = 0.25
"""Of two fixings, each is set a quarter of the width from its edge (BM TRADA 2022, by the TDCA)."""

ALONG_TIMBER: Final = 400.0
"""mm between the fixings of a batten that lies along a stud (common practice, no source)."""


def fixed(board: Board, supports: Sequence[Support], end_distance: float) -> Board:
    """The board with its fixings; `supports` are those that it crosses, or along which it lies."""
    places = sorted(set(_places(board, supports, end_distance)))
    if board.strip.upright:
        return replace(board, fixed_at=tuple((v, u) for u, v in places))
    return replace(board, fixed_at=tuple(places))


def _places(board: Board, supports: Sequence[Support], end_distance: float) -> Iterator[Point]:
    start, end = along(board.part)
    first, last = start + end_distance, end - end_distance
    for support in supports:
        if support.far < start or support.near > end:
            continue
        # At a heading joint both boards are fixed on one support, each clear of its own end.
        place = min(max(support.centre, first), last) if first <= last else (start + end) / 2
        if not support.near - TOUCH <= place <= support.far + TOUCH:
            continue
        span = span_at(board.part, place)
        if span is None:
            continue
        for across in _across(board, *span):
            if support.start <= across <= support.end:
                yield (place, across)


def _across(board: Board, low: float, high: float) -> tuple[float, ...]:
    """The places across a board that is `low` to `high` there."""
    said = tuple(place for place in board.strip.nails if low < place < high)
    if said:
        return said
    if high - low < ONE_UNDER:
        return ((low + high) / 2,)
    quarter = (high - low) * QUARTER
    return (low + quarter, high - quarter)


def fixed_along(board: Board, end_distance: float) -> Board:
    """A batten or corner board with fixings along its middle, where it lies on the timber behind."""
    start, end = along(board.part)
    first, last = min(start + end_distance, (start + end) / 2), max(end - end_distance, (start + end) / 2)
    bays = max(1, math.ceil((last - first) / ALONG_TIMBER))
    places = []
    for index in range(bays + 1):
        place = first + (last - first) * index / bays
        span = span_at(board.part, place)
        if span is not None:
            middle = sum(span) / 2
            places.append((middle, place) if board.strip.upright else (place, middle))
    return replace(board, fixed_at=tuple(dict.fromkeys(places)))
