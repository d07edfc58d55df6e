"""Where a wall can be broken into panels, so that each part has an end stud of its own at the break.

At a break the end studs of both parts stand side by side, one on either side of it. They stand

- in place of a stud of the stud rule, which they cover, so that no bay becomes wider;
- beside an upright that reaches from plate to plate and has to stay, which is one of the two;
- where two such uprights touch, which are both;
- in a bay that has room for both.

Nothing is left beside them that is too narrow to nail in. What frames an opening is in one panel, and so is
what backs a tee.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from operator import attrgetter

from soleplate.engine.building_file import LEAST_PANEL
from soleplate.engine.rules import NAILING_ROOM, FramedOpening, Wall
from soleplate.engine.shapes import TOUCH, Member


@dataclass(frozen=True, slots=True)
class BreakPlace:
    """A stretch in which a break may lie, mm; at `best` where there is no reason for another place in it."""

    left: float
    right: float
    best: float | None = None

    def nearest(self, x: float) -> float:
        """The place in it that is best for a break wanted at x."""
        return min(max(x if self.best is None else self.best, self.left), self.right)

    def within(self, left: float, right: float) -> BreakPlace | None:
        """What of it lies in a stretch."""
        left, right = max(self.left, left), min(self.right, right)
        return BreakPlace(left, right, self.best) if left <= right else None


@dataclass(frozen=True, slots=True)
class _Timber:
    """What stands along the wall, from `left` to `right`, mm.

    `serves` tells whether its outermost uprights, at the left and at the right, can be the end studs of a
    panel; what `gives_way` may be replaced by two of them.
    """

    left: float
    right: float
    serves: tuple[bool, bool] = (False, False)
    gives_way: bool = False
    is_framing: bool = False


def break_places(
    wall: Wall, uprights: Sequence[Member], framings: Sequence[FramedOpening]
) -> tuple[BreakPlace, ...]:
    """All of them from left to right, each at least `LEAST_PANEL` off the wall's ends and its ridges."""
    timbers = _with_ends(_merged(_timbers(wall, uprights, framings)))
    found = sorted(_between(wall.breadth, timbers), key=attrgetter("left", "right"))
    inner = [part for place in found if (part := place.within(LEAST_PANEL, wall.length - LEAST_PANEL))]
    for ridge, _ in wall.underside.between(0.0, wall.length)[1:-1]:
        inner = [part for place in inner for part in _clear_of(place, ridge)]
    return tuple(inner)


def may_give_way(wall: Wall, member: Member) -> bool:
    """Whether end studs of panels may take a member's place: a stud of the stud rule."""
    role = wall.roles[member.role]
    return role.fills and _serves(wall, member)


def _serves(wall: Wall, member: Member) -> bool:
    """Whether a member can be the end stud of a panel: as broad as one, and from plate to plate."""
    role = wall.roles[member.role]
    return (
        role.stands
        and role.full_height
        and abs(member.right - member.left - wall.breadth) < TOUCH
        and member.depth[0] < TOUCH
        and member.bottom <= wall.sole_thickness + TOUCH
    )


def _timbers(wall: Wall, uprights: Sequence[Member], framings: Sequence[FramedOpening]) -> Iterator[_Timber]:
    """Each opening's framing and each tee's backing whole, and every other upright by itself."""
    for framing in framings:
        serve = _serve(wall, uprights, framing.left, framing.right)
        yield _Timber(framing.left, framing.right, serve, is_framing=True)
    backings = [(tee.centre - tee.depth / 2, tee.centre + tee.depth / 2) for tee in wall.tees]
    for left, right in backings:
        yield _Timber(left, right)
    inside = [(framing.left, framing.right) for framing in framings]
    for member in uprights:
        if any(left - TOUCH < member.left and member.right < right + TOUCH for left, right in inside):
            continue
        serves = _serves(wall, member)
        yield _Timber(member.left, member.right, (serves, serves), may_give_way(wall, member))


def _serve(wall: Wall, uprights: Iterable[Member], left: float, right: float) -> tuple[bool, bool]:
    """Whether uprights flush with both ends of a framing can be end studs."""
    serving = [member for member in uprights if left - TOUCH < member.left and _serves(wall, member)]
    return (
        any(abs(member.left - left) < TOUCH for member in serving),
        any(abs(member.right - right) < TOUCH for member in serving),
    )


def _merged(timbers: Iterable[_Timber]) -> list[_Timber]:
    """From left to right, those that overlap as one."""
    merged: list[_Timber] = []
    for timber in sorted(timbers, key=attrgetter("left", "right")):
        if merged and timber.left < merged[-1].right - TOUCH:
            merged[-1] = _as_one(merged[-1], timber)
        else:
            merged.append(timber)
    return merged


def _as_one(one: _Timber, other: _Timber) -> _Timber:
    """Two that overlap: what stands in front of another does not serve there."""
    starts = one.serves[0] and (other.left > one.left + TOUCH or other.serves[0])
    last = max(one, other, key=attrgetter("right"))
    ends = last.serves[1] and (abs(one.right - other.right) > TOUCH or (one.serves[1] and other.serves[1]))
    return _Timber(one.left, last.right, (starts, ends), False, one.is_framing or other.is_framing)


def _with_ends(timbers: Sequence[_Timber]) -> list[_Timber]:
    """With what stands at a corner, as far as no bay parts it from the wall's end, never broken."""
    for _ in range(2):
        count = 1
        while (
            count < len(timbers)
            and not timbers[count].is_framing
            and not timbers[count].gives_way
            and abs(timbers[count].left - timbers[count - 1].right) < NAILING_ROOM
        ):
            count += 1
        first = timbers[0] if timbers[0].is_framing else None
        end = first or _Timber(timbers[0].left, timbers[count - 1].right)
        timbers = _turned([end, *timbers[1 if first else count :]])
    return list(timbers)


def _turned(timbers: Sequence[_Timber]) -> list[_Timber]:
    """Seen from the other side."""
    return [
        _Timber(-t.right, -t.left, (t.serves[1], t.serves[0]), t.gives_way, t.is_framing)
        for t in reversed(timbers)
    ]


def _between(breadth: float, timbers: Sequence[_Timber]) -> Iterator[BreakPlace]:
    """Places in bays, at the sides of timbers, and in place of those that give way."""
    room = breadth + NAILING_ROOM
    for one, other in itertools.pairwise(timbers):
        gap = other.left - one.right
        if gap < TOUCH and one.serves[1] and other.serves[0]:
            yield BreakPlace(one.right, one.right)
        if gap >= 2 * room:
            yield BreakPlace(one.right + room, other.left - room)
        if gap >= room or abs(gap - breadth) < TOUCH:
            if one.serves[1] and not one.gives_way:
                yield BreakPlace(one.right, one.right)
            if other.serves[0] and not other.gives_way:
                yield BreakPlace(other.left, other.left)
    for before, timber, after in zip(timbers, timbers[1:], timbers[2:], strict=False):
        if timber.gives_way:
            left, right = max(timber.left, before.right + room), min(timber.right, after.left - room)
            if left <= right:
                yield BreakPlace(left, right, (timber.left + timber.right) / 2)


def _clear_of(place: BreakPlace, ridge: float) -> Iterator[BreakPlace]:
    """A place without what is so near to a ridge that a sliver of plate would be left; the ridge is best."""
    if place.left <= ridge <= place.right:
        yield BreakPlace(ridge, ridge)
    for part in (
        place.within(place.left, ridge - LEAST_PANEL),
        place.within(ridge + LEAST_PANEL, place.right),
    ):
        if part is not None:
            yield part
