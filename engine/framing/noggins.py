"""Noggins: set by their rule between members that stand; those that have no room are left out."""

from __future__ import annotations

from bisect import bisect
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from soleplate.engine.building_file import MmList, Room
from soleplate.engine.framing.findings import NOGGIN_CLOSE, NOGGIN_LEFT_OUT
from soleplate.engine.framing.soundness import meets
from soleplate.engine.framing.tasks import FramingTask
from soleplate.engine.registry import Asked
from soleplate.engine.rules import NOGGIN_CLEAR, Bay, Finding, NogginPlace, NogginRule, Wall
from soleplate.engine.shapes import TOUCH, Member, level


@dataclass(frozen=True, slots=True)
class _Surroundings:
    """What a noggin in a bay may meet. They are looked up once for each bay: many rows have the same ones."""

    uprights: Sequence[Member]
    lying: Sequence[Member]
    floor: float
    """The top of the sole plate, mm up."""
    ceiling: float
    """The lowest underside of the top plate, mm up."""
    rows: list[float] = field(default_factory=list)
    """Undersides of the noggins that are set there so far, upwards, mm."""

    @classmethod
    def of(cls, bay: Bay, members: Sequence[Member], wall: Wall) -> _Surroundings:
        left, right = bay.left - TOUCH, bay.right + TOUCH
        near = [member for member in members if member.left < right and member.right > left]
        return cls(
            [member for member in near if member.is_upright],
            [member for member in near if not member.is_upright],
            wall.sole_thickness,
            wall.underside.lowest(bay.left, bay.right),
        )

    def has_room_for(self, noggin: Member) -> bool:
        """Whether a noggin is clear of the plates and of all that is near, with uprights at both ends."""
        if noggin.bottom < self.floor - TOUCH or noggin.top > self.ceiling + TOUCH:
            return False
        beside = [
            m for m in self.uprights if m.bottom <= noggin.bottom + TOUCH and m.top >= noggin.top - TOUCH
        ]
        return (
            any(abs(member.right - noggin.left) < TOUCH for member in beside)
            and any(abs(member.left - noggin.right) < TOUCH for member in beside)
            and not any(meets(member, noggin) for member in self.uprights)
            and not any(meets(member, noggin) for member in self.lying)
        )

    def crowds(self, noggin: Member) -> bool:
        """Whether a noggin is too near over or under another one, or what else lies level, to be nailed."""
        below = bisect(self.rows, noggin.bottom)
        rows = self.rows[max(below - 1, 0) : below + 1]
        # Two that overlap are the rule's fault, and are told as such.
        return any(
            -TOUCH < abs(row - noggin.bottom) - (noggin.top - noggin.bottom) < NOGGIN_CLEAR - TOUCH
            for row in rows
        ) or any(_is_close(noggin, other) for other in self.lying)


def noggins_among(
    wall: Wall, members: Sequence[Member], task: FramingTask, asked: Asked, room: Room
) -> tuple[Sequence[Member], list[Finding]]:
    """The noggins between members that stand, by their rule, and that some have no room.

    Those are left out that would be too near to what lies level in their bay.

    Raises:
        TooManyPiecesError: there are more than `room` for them.
        RuleError: the rule failed, or set one where no bay is.
    """
    rule = task.rules.maybe("noggins", NogginRule)
    if rule is None:
        return (), []
    asked_for = asked.several(rule, rule.place_noggins, replace(wall, members=tuple(members)))
    maker = asked.maker(rule)
    made: list[Member] = []
    left_out: list[NogginPlace] = []
    close: list[NogginPlace] = []
    around: dict[Bay, _Surroundings] = {}
    for place in asked.all_whole(rule, asked_for, NogginPlace):
        bay = place.bay
        noggin = level(
            "noggin",
            wall.section,
            (bay.left, bay.right, place.bottom, place.bottom + wall.breadth),
            (0.0, wall.section.depth),
            fixings=place.fixings,
            made_by=maker,
        )
        here = around.get(bay) or around.setdefault(bay, _Surroundings.of(bay, members, wall))
        if here.has_room_for(noggin):
            if here.crowds(noggin):
                close.append(place)
                continue
            made.append(noggin)
            here.rows.insert(bisect(here.rows, place.bottom), place.bottom)
            room = room.after(1)
        elif _hangs(bay, members):
            raise asked.fault(
                rule,
                f"set a noggin from {bay.left:.1f} to {bay.right:.1f} mm, where it has no upright"
                " at both ends",
                "unsupported end",
            )
        else:
            left_out.append(place)
    return made, list(_findings(wall, rule, left_out, close))


def _findings(
    wall: Wall, rule: NogginRule, left_out: Sequence[NogginPlace], close: Sequence[NogginPlace]
) -> Iterator[Finding]:
    for kind, places, limit in ((NOGGIN_LEFT_OUT, left_out, None), (NOGGIN_CLOSE, close, NOGGIN_CLEAR)):
        if places:
            count = len(places)
            where = MmList(tuple(place.bay.left for place in places[:12]))
            yield kind.of(
                part=wall.name, value=float(count), limit=limit, number=count, rule=rule.name, where=where
            )


def _hangs(bay: Bay, members: Sequence[Member]) -> bool:
    """Whether a bay is none: it has no upright at one of its ends, at whatever height."""
    uprights = [member for member in members if member.is_upright]
    return not (
        any(abs(member.right - bay.left) < TOUCH for member in uprights)
        and any(abs(member.left - bay.right) < TOUCH for member in uprights)
    )


def _is_close(noggin: Member, other: Member) -> bool:
    """Whether what lies level, and is no plate, is too near over or under a noggin."""
    over = min(noggin.right, other.right) - max(noggin.left, other.left) > TOUCH
    clear = max(other.bottom - noggin.top, noggin.bottom - other.top)
    return over and clear < NOGGIN_CLEAR - TOUCH
