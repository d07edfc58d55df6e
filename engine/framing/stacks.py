"""Openings above each other: which of them share uprights of full height, and which stand their own.

Where the uprights of two openings would be in each other's way, the one whose stand further out keeps them,
and the other is framed up to them. So what comes down from above goes past the lower opening.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from soleplate.engine.rules import Beside, Hole
from soleplate.engine.shapes import TOUCH

Reached = tuple[float | None, float | None]
"""What a hole is framed up to at its left and right: near faces of another opening's uprights, mm."""


def above_each_other(one: Hole, other: Hole) -> bool:
    """Whether one of two holes lies over the other, and their widths overlap."""
    shared = min(one.right, other.right) - max(one.left, other.left)
    return shared > TOUCH and (one.bottom >= other.top - TOUCH or other.bottom >= one.top - TOUCH)


def stacked(holes: Sequence[Hole]) -> tuple[int, ...]:
    """Which holes have another one over or under them, by their index."""
    return tuple(
        index
        for index, hole in enumerate(holes)
        if any(above_each_other(hole, other) for other in holes if other is not hole)
    )


def reached(holes: Sequence[Hole], beside: Mapping[int, Beside], *, loaded: bool) -> dict[int, Reached]:
    """What each opening of a stack is framed up to.

    Args:
        holes: of the wall.
        beside: what the rule of each stacked one stands at its sides, by its index.
        loaded: whether the wall carries a roof. Where it carries none, nothing but the wall itself rests on
            what lies over an opening, and the uprights of one above may stand there.
    """
    left = _shared([_side(index, holes[index], of, 1.0, loaded) for index, of in beside.items()])
    right = _shared([_side(index, holes[index], of, -1.0, loaded) for index, of in beside.items()])
    return {index: (left.get(index), _turned(right.get(index))) for index in beside}


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of an opening, its places along the wall turned so that the hole goes on from `edge` to `far`.

    Its own uprights of full height stand from `outer` to `near`, further out than the edge.
    """

    index: int
    bottom: float
    top: float
    edge: float
    far: float
    near: float
    outer: float
    carries: bool


def _side(index: int, hole: Hole, beside: Beside, turn: float, loaded: bool) -> _Side:
    edge, far = (hole.left, hole.right) if turn > 0 else (-hole.right, -hole.left)
    return _Side(
        index=index,
        bottom=hole.bottom,
        top=hole.top,
        edge=edge,
        far=far,
        near=edge - beside.bearing,
        outer=edge - beside.over_all,
        carries=beside.carries or not loaded,
    )


def _turned(place: float | None) -> float | None:
    return None if place is None else -place


def _shared(sides: Sequence[_Side]) -> dict[int, float]:
    """Those framed up to another's uprights, with the near face of these: the outermost keep theirs."""
    found: dict[int, float] = {}
    waiting = sorted(sides, key=lambda side: (side.near, side.outer, side.bottom))
    while waiting:
        owner, *waiting = waiting
        group = [owner]
        # What joins it may be in the way of others in turn.
        for member in group:
            joining = [side for side in waiting if not _clear_of(side, member, owner, sides, found)]
            found |= {side.index: owner.near for side in joining}
            group += joining
            waiting = [side for side in waiting if side not in joining]
    return found


def _clear_of(
    side: _Side, member: _Side, owner: _Side, sides: Sequence[_Side], found: Mapping[int, float]
) -> bool:
    """Whether a side has room for uprights of its own beside a member of the group that has the owner's."""
    if min(side.far, member.far) - max(side.edge, member.edge) <= TOUCH or _parted(side, member, sides):
        return True
    if side.top <= member.bottom + TOUCH:
        # Those of the lower one end under the hole of the upper one.
        return side.outer >= member.edge - TOUCH
    under = max(_below(side, sides), key=lambda other: other.top, default=owner)
    return under.carries and side.outer >= max(owner.near, found.get(under.index, under.near)) - TOUCH


def _below(side: _Side, sides: Iterable[_Side]) -> list[_Side]:
    """The openings over whose holes its uprights would stand."""
    return [
        other
        for other in sides
        if other.top <= side.bottom + TOUCH
        and min(other.far, side.edge) - max(other.edge, side.outer) > TOUCH
    ]


def _parted(one: _Side, other: _Side, sides: Iterable[_Side]) -> bool:
    """Whether a third opening between them ends the uprights of the lower of two sides."""
    low, high = sorted((one, other), key=lambda side: side.bottom)
    return any(
        low.top <= side.bottom + TOUCH
        and side.top <= high.bottom + TOUCH
        and side.edge <= low.outer + TOUCH
        and side.far >= low.edge - TOUCH
        for side in sides
        if side is not one and side is not other
    )
