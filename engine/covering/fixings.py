"""Where boards are fixed: at every support that they cross, clear of their ends and edges."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from soleplate.engine.covering.boards import Board, Length
from soleplate.engine.rules import CladdingRule, Support
from soleplate.engine.shapes import (
    Member,
    Point,
    TopLine,
    contains,
    from_edge,
    pairs,
    reach,
    span_across,
    span_at,
)

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

LOOKED_EVERY: Final = 10.0
"""mm between the places at which room for a fixing near an end is looked for."""

BESIDE_EDGE: Final = 50.0
"""mm. What is fixed along a stud so near to the edge of a sheet is fixed as closely as edges are."""

ALONG_TIMBER: Final = 400.0
"""mm between the fixings of a batten that lies along a stud (common practice, no source)."""


def fixed_board(board: Board, length: Length, rule: CladdingRule, battens: Sequence[Board]) -> Board:
    """A board with its fixings; `battens` are those that it may lie on."""
    strip, surface = board.strip, length.surface
    top = surface.top.raised(-rule.over_plate)
    if board.role.sheet:
        return _fixed_sheet(board, length.supports, surface.timbers, top)
    if length.lies_along or (strip.upright and not strip.on_battens):
        return _clear_of_edges(_fixed_along(board, top, rule.end_distance))
    raking = [batten.member for batten in battens if batten.strip.raking] if strip.on_battens else []
    found = _fixed(board, length.supports, top, rule.end_distance)
    if strip.upright:
        found = _fixed_to_raking(found, raking)
    else:
        behind = raking if strip.on_battens else surface.timbers
        found = _fixed_ends(found, behind, rule.end_distance)
    return _clear_of_edges(found)


def _fixed(board: Board, supports: Sequence[Support], top: TopLine, end_distance: float) -> Board:
    """The board with its fixings; `supports` are those that it crosses, and `top` is the frame's."""
    places = sorted(set(_places(board, supports, top, end_distance)))
    if board.strip.upright:
        return replace(board, fixed_at=tuple((v, u) for u, v in places))
    return replace(board, fixed_at=tuple(places))


def _places(board: Board, supports: Sequence[Support], top: TopLine, end_distance: float) -> Iterator[Point]:
    start, end = reach(board.part)
    first, last = start + end_distance, end - end_distance
    for support in supports:
        if support.far < start or support.near > end:
            continue
        # At a heading joint both boards are fixed on one support, each as clear of its end as that allows.
        place = min(max(support.centre, first), last) if first <= last else (start + end) / 2
        place = min(max(place, support.near + WITHIN_SUPPORT), support.far - WITHIN_SUPPORT)
        if not start < place < end:
            continue
        span = span_across(board.part, place)
        if span is None:
            continue
        for across in _across(board, *span):
            if not board.strip.upright and not board.strip.on_battens:
                # What hangs below the frame, or reaches over it, is fixed where the frame ends.
                across = min(max(across, CLEAR), top.at(place) - CLEAR)
            if span[0] < across < span[1] and support.start <= across <= support.end:
                yield (place, across)


def _fixed_ends(board: Board, timbers: Sequence[Member], end_distance: float) -> Board:
    """A level board fixed near each end that has no support: to a raked plate or batten, or what lies there.

    `timbers` are what lies behind. The fixing is as near to the end as timber and board give it room; where
    they never do, there is none.
    """
    start, end = reach(board.part)
    held = [x for x, _ in board.fixed_at]
    added: list[Point] = []
    for at, turn in ((start, 1.0), (end, -1.0)):
        nearest = min((turn * (x - at) for x in held), default=end - start)
        if nearest <= NEAR_END:
            continue
        steps = range(math.ceil((min(nearest, end - start - end_distance) - end_distance) / LOOKED_EVERY))
        places = (at + turn * (end_distance + step * LOOKED_EVERY) for step in steps)
        behind = [timber for timber in timbers if _shares(timber, board.member)]
        point = next((found for place in places if (found := _held(board, place, behind))), None)
        if point is not None:
            added.append(point)
    return replace(board, fixed_at=tuple(sorted({*board.fixed_at, *added}))) if added else board


def _shares(timber: Member, board: Member) -> bool:
    """Whether the rectangles round both overlap."""
    return (
        timber.left < board.right
        and board.left < timber.right
        and timber.bottom < board.top
        and board.bottom < timber.top
    )


def _held(board: Board, place: float, timbers: Sequence[Member]) -> Point | None:
    """The middle of what a board and a timber share at `place` along it, clear of the edges of both."""
    low, high = span_across(board.part, place) or (0.0, 0.0)
    for timber in timbers:
        if timber.left < place < timber.right:
            bottom, top = span_at(timber.outline, place)
            least, most = max(low, bottom) + CLEAR, min(high, top) - CLEAR
            if least <= most:
                return place, (least + most) / 2
    return None


def _fixed_to_raking(board: Board, raking: Sequence[Member]) -> Board:
    """An upright board fixed where it crosses raking battens too, each fixing in the middle of its batten."""
    left, right = board.member.left, board.member.right
    bottom, top = reach(board.part)
    wanted = _across(board, *(span_across(board.part, (bottom + top) / 2) or (left, right)))
    added: list[Point] = []
    for batten in raking:
        near, far = max(batten.left, left) + CLEAR, min(batten.right, right) - CLEAR
        for x in sorted({min(max(x, near), far) for x in wanted} if near < far else ()):
            low, high = span_at(batten.outline, x)
            point = (x, (low + high) / 2)
            is_clear = (
                contains(board.member.outline, point) and from_edge(board.member.outline, point) > CLEAR / 2
            )
            if is_clear and all(math.dist(point, other) > 2 * CLEAR for other in added):
                added.append(point)
    return replace(board, fixed_at=tuple(sorted({*board.fixed_at, *added}))) if added else board


def _clear_of_edges(board: Board) -> Board:
    """Without fixings that would split the tip of a board, or the strip that an opening leaves of it."""
    outline = board.member.outline
    if len(board.part) == 1 and not board.is_sloped:
        return board
    kept = tuple(place for place in board.fixed_at if from_edge(outline, place) >= CLEAR / 2)
    return board if kept == board.fixed_at else replace(board, fixed_at=kept)


def _across(board: Board, low: float, high: float) -> tuple[float, ...]:
    """The places across a board that is `low` to `high` there."""
    said = tuple(place for place in board.strip.nails if low + CLEAR <= place <= high - CLEAR)
    if said:
        return said
    if high - low < ONE_UNDER:
        return ((low + high) / 2,)
    quarter = (high - low) * QUARTER
    return (low + quarter, high - quarter)


def _fixed_along(board: Board, top: TopLine, end_distance: float) -> Board:
    """A batten or corner board with fixings along its middle, where it lies on the frame, up to its `top`."""
    start, end = reach(board.part)
    if board.strip.upright:
        middle = (board.member.left + board.member.right) / 2
        start, end = (
            max(start, CLEAR - end_distance),
            min(end, top.at(middle) - CLEAR + end_distance),
        )
    first, last = min(start + end_distance, (start + end) / 2), max(end - end_distance, (start + end) / 2)
    places = []
    for place in _evenly(first, last, ALONG_TIMBER):
        span = span_across(board.part, place)
        if span is not None:
            middle = sum(span) / 2
            places.append((middle, place) if board.strip.upright else (place, middle))
    return replace(board, fixed_at=tuple(dict.fromkeys(places)))


def _fixed_sheet(board: Board, studs: Sequence[Support], timbers: Sequence[Member], top: TopLine) -> Board:
    """A sheet with its fixings: closely round its edges, wherever timber lies behind, and along studs.

    `top` is the frame's: what reaches over it, or hangs below the frame, is fixed where the frame ends.
    """
    outline = board.member.outline
    lying = [member for member in timbers if not member.is_upright]
    places: list[Point] = []
    for stud in studs:
        x = round(min(max(stud.centre, board.member.left + CLEAR), board.member.right - CLEAR), 6)
        if not (stud.near <= x <= stud.far and board.member.left < x < board.member.right):
            continue
        low, high = span_at(outline, x)
        first, last = max(low, 0.0, stud.start) + CLEAR, min(high, top.at(x), stud.end) - CLEAR
        heights = _evenly(first, last, ROUND_EDGES) if first < last else []
        for number, z in enumerate(heights):
            in_grid = number % int(IN_FIELD / ROUND_EDGES) == 0 or number == len(heights) - 1
            if in_grid or from_edge(outline, (x, z)) < BESIDE_EDGE:
                places.append((x, z))
    for (x0, z0), (x1, z1) in pairs(outline):
        if abs(x1 - x0) < 2 * CLEAR:
            continue
        for x in _evenly(min(x0, x1) + CLEAR, max(x0, x1) - CLEAR, ROUND_EDGES):
            edge = z0 + (x - x0) * (z1 - z0) / (x1 - x0)
            inwards = CLEAR * math.hypot(1.0, (z1 - z0) / (x1 - x0))
            z = max(edge, 0.0) + CLEAR if x1 > x0 else min(edge, top.at(x)) - inwards
            behind = any(m.left <= x <= m.right and contains(m.outline, (x, z)) for m in lying)
            if behind and all(math.dist((x, z), other) > CLEAR for other in places):
                places.append((x, z))
    inside = [
        place
        for place in sorted(set(places))
        if contains(outline, place) and from_edge(outline, place) > CLEAR - 0.01
    ]
    return replace(board, fixed_at=tuple(inside))


def _evenly(start: float, end: float, most: float) -> list[float]:
    """Places from `start` to `end`, no further apart than `most`, mm."""
    bays = max(1, math.ceil((end - start) / most - 1e-9))
    return [round(start + (end - start) * index / bays, 6) for index in range(bays + 1)]
