"""Places of the fixings of one joint: clear of edges, ends and others, from a side that can be reached."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.fixing.distances import (
    MEAN_TO_CHARACTERISTIC,
    Spaced,
    least_penetration,
    least_thickness,
    needs_pilot,
    pilot_of,
    spaced,
)
from soleplate.engine.fixing.driven import Driven, DrivenRows, Line, Order
from soleplate.engine.fixing.joints import CROSSING, Covers, FoundJoint, room_beside
from soleplate.engine.fixing.patterns import Pattern, groups, rows
from soleplate.engine.fixing.timbers import Framed
from soleplate.engine.fixing.vectors import dot, moved, turned
from soleplate.engine.layout import FixingFault
from soleplate.engine.rules import FixingWay, JointFixing
from soleplate.engine.shapes import Point, Vector, from_edge

STANDS_OUT: Final = 0.05
"""mm by which a point may stand out of its timber, for rounding."""

FROM_DECK: Final = 5.0
"""mm of timber between a point and the face that lies below while a wall is framed flat (common practice,
no source)."""

SKEW: Final = math.radians(30.0)
"""Off the grain (common practice, no source; US practice has about 30 degrees)."""

SKEW_START: Final = 1 / 3
"""Of a skewed nail's length, from the end up to where it starts (common practice, no source)."""

SKEW_SHIFTS: Final = (0.0, 0.25, -0.25, 0.5, -0.5)
"""Shares of the way from one skewed nail to the next by which one may give way."""

SKEW_COVER: Final = 3.0
"""mm of the other piece between a skewed nail's point and its far face (common practice, no source)."""

OUTSIDE: Final = 0.05
"""mm by which a place may be nearer to an edge than it should, for rounding."""


@dataclass(frozen=True, slots=True)
class OneDriven:
    """A fixing in its place, and the piece before which it has to be driven."""

    line: Line
    before: int | None = None


@dataclass(frozen=True, slots=True)
class Placement:
    """How one joint is fixed, and what that lacks."""

    way: FixingWay
    driven: tuple[OneDriven, ...]
    pilot: float | None
    faults: tuple[FixingFault, ...]
    raised_first: bool = False


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What a joint is fixed in: all pieces, what covers them, what is driven, and what comes first."""

    pieces: Sequence[Framed]
    units: Sequence[str]
    covers: Covers
    driven: Driven
    rows: DrivenRows
    order: Order

    def around(self, joint: FoundJoint) -> frozenset[str] | None:
        """What is in the way while it is fixed: what is framed with it, or all that stands."""
        both = frozenset((self.units[joint.through], self.units[joint.into]))
        return both if len(both) == 1 else None


def placed(joint: FoundJoint, fixing: JointFixing, near: Surroundings) -> Placement | None:
    """The first way without a fault, else that with the least; taken in by `near`."""
    best: Placement | None = None
    for way in fixing.ways:
        found = _skewed(joint, way, near) if way.way == "skew" else _straight(joint, way, near)
        if best is None or (_lacking(found), len(found.faults)) < (_lacking(best), len(best.faults)):
            best = found
        if not found.faults:
            break
    if best is not None:
        for each in best.driven:
            near.driven.add(each.line, best.way.fastener.diameter)
            if best.way.way != "skew":
                near.rows.add(joint.through, each.line)
                near.rows.add(joint.into, each.line)
            if each.before is not None:
                near.order.settle(joint.into, each.before)
    return best


def _lacking(placement: Placement) -> float:
    return sum(fault.needs - fault.has for fault in placement.faults if fault.what == "places")


def _straight(joint: FoundJoint, way: FixingWay, near: Surroundings) -> Placement:
    """Square through one piece into the other; through a raked plate in line with what is below it."""
    fastener, density = way.fastener, _density(joint, near)
    direction, thick, reach = joint.direction, joint.told.thickness, joint.told.reach
    into = fastener.length - thick
    if into > reach + STANDS_OUT:
        return _none(way, FixingFault(what="room for the point", needs=_told(into), has=_told(reach)), 0)
    needed = least_penetration(fastener)
    if into < needed - STANDS_OUT:
        return _none(
            way, FixingFault(what="depth of the point", needs=_told(needed), has=_told(max(into, 0.0)))
        )
    thin = thick - joint.gap < least_thickness(fastener.diameter, density)
    found = _none(way, FixingFault(what="places", needs=1.0, has=0.0))
    for pilot in (False, True):
        if not pilot and (thin or needs_pilot(fastener.diameter, density)):
            continue
        least = spaced(fastener.diameter, density, pilot=pilot)
        found = _fill(joint, way, near, least, direction, pilot_of(fastener) if pilot else None)
        if not found.faults:
            return found
    if joint.is_box and way.count is not None:
        return _crowded(joint, way, near, direction)
    return found


def _fill(
    joint: FoundJoint,
    way: FixingWay,
    near: Surroundings,
    least: Spaced,
    direction: Vector,
    pilot: float | None,
) -> Placement:
    """All of one way at given distances; those that have no place are told."""
    area = _allowed(joint, least, near)
    slots = [] if area is None else list(_slots(joint, way, area, least))
    wanted = way.count or len(slots) or 1
    driven = _into_slots(joint, way, near, direction, slots, least)
    lacking = () if len(driven) >= wanted else (
        FixingFault(what="places", needs=float(wanted), has=float(len(driven))),
    )  # fmt: skip
    return Placement(way, driven, pilot, lacking, _enters_deck(joint, driven, near))


def _crowded(joint: FoundJoint, way: FixingWay, near: Surroundings, direction: Vector) -> Placement:
    """In a pilot hole as far from the edges as the face lets: better than none, and told."""
    fastener, density = way.fastener, _density(joint, near)
    least = spaced(fastener.diameter, density, pilot=True)
    left, right, bottom, top = joint.box
    count = way.count or 1
    ways = [
        tuple(
            (left + (right - left) * x, bottom + (top - bottom) * (i + 1) / (count + 1)) for i in range(count)
        )
        for x in (0.5, 0.35, 0.65)
    ]
    driven = _into_slots(joint, way, near, direction, [ways], None)
    if not driven:
        return _none(way, FixingFault(what="places", needs=float(count), has=0.0), count)
    fault = max(_short_of(joint, least, driven, near), key=lambda fault: fault.needs - fault.has)
    return Placement(way, driven, pilot_of(fastener), (fault,), _enters_deck(joint, driven, near))


def _short_of(
    joint: FoundJoint, least: Spaced, driven: Sequence[OneDriven], near: Surroundings
) -> Iterator[FixingFault]:
    """How near fixings stand to each side of the contact and to each other, against what they should."""
    left, right, bottom, top = joint.box
    slope = dot(joint.direction, joint.way)
    crossing = [
        moved(each.line[0], joint.direction, (joint.offset - dot(each.line[0], joint.way)) / slope)
        for each in driven
    ]
    xs, ys = [dot(at, joint.right) for at in crossing], [dot(at, joint.up) for at in crossing]
    has = (min(xs) - left, right - max(xs), min(ys) - bottom, top - max(ys))
    for there, (is_end, beyond, is_end2, beyond2) in zip(has, room_beside(joint, near.pieces), strict=True):
        for at_end, room in ((is_end, beyond), (is_end2, beyond2)):
            what = "end distance" if at_end else "edge distance"
            yield FixingFault(
                what=what, needs=_told(least.end if at_end else least.edge), has=_told(there + room)
            )
    if len(ys) > 1:
        gap = min(other - one for one, other in itertools.pairwise(sorted(ys)))
        yield FixingFault(what="distance apart", needs=_told(least.across), has=_told(gap))


def _into_slots(
    joint: FoundJoint,
    way: FixingWay,
    near: Surroundings,
    direction: Vector,
    slots: Sequence[Pattern],
    least: Spaced | None,
) -> tuple[OneDriven, ...]:
    """Of each slot the first candidate that is free at once, else one that is free before another piece."""
    found: list[OneDriven] = []
    for slot in slots:
        later: list[OneDriven] = []
        for candidate in slot:
            if least is not None and not joint.is_box and _is_near_edge(joint, candidate, least):
                continue
            driven = _at(joint, way, near, direction, candidate, found)
            if driven is None or (least is not None and not _in_rows(joint, driven, found, near, least)):
                continue
            if all(each.before is None for each in driven):
                found += driven
                break
            later = later or driven
        else:
            found += later
    return tuple(found)


def _is_near_edge(joint: FoundJoint, candidate: Sequence[Point], least: Spaced) -> bool:
    return any(from_edge(joint.outline, at) < least.edge for at in candidate)


def _in_rows(
    joint: FoundJoint,
    driven: Sequence[OneDriven],
    others: Sequence[OneDriven],
    near: Surroundings,
    least: Spaced,
) -> bool:
    """Whether fixings keep their distance from each other and from all others in the same pieces."""
    for piece in (joint.through, joint.into):
        grain, own = near.pieces[piece].grain, DrivenRows()
        for each in others:
            own.add(piece, each.line)
        for each in driven:
            if not all(rows.are_apart(piece, grain, each.line, least) for rows in (near.rows, own)):
                return False
            own.add(piece, each.line)
    return True


def _at(
    joint: FoundJoint,
    way: FixingWay,
    near: Surroundings,
    direction: Vector,
    candidate: Sequence[Point],
    others: Sequence[OneDriven],
) -> list[OneDriven] | None:
    """Fixings at given places of the contact, if all of them can be driven there."""
    through, back = near.pieces[joint.through], turned(direction)
    around, fastener = near.around(joint), way.fastener
    driven: list[OneDriven] = []
    for x, y in candidate:
        place = joint.point(x, y)
        thick = through.way_out(place, back)
        head = moved(place, back, thick)
        point = moved(head, direction, fastener.length)
        beyond = fastener.length - thick - joint.gap
        if thick <= 0.0 or beyond > _room(joint, place, direction, near) + STANDS_OUT:
            return None
        before = near.covers.at(joint.through, head, back, around)
        if before is not None and (around is None or not near.order.allows(joint.into, before)):
            return None
        line = (head, point)
        if _is_cut(joint, line, near):
            return None
        if not near.driven.is_clear(line, fastener.diameter) or not _clear_of(
            line, others, fastener.diameter
        ):
            return None
        driven.append(OneDriven(line, before))
    return driven


def _is_cut(joint: FoundJoint, line: Line, near: Surroundings) -> bool:
    """Whether a brace let into one of the pieces is in the way."""
    return any(near.pieces[piece].is_cut_along(*line) for piece in (joint.through, joint.into))


def _room(joint: FoundJoint, place: Vector, direction: Vector, near: Surroundings) -> float:
    """How much timber there is for a point behind a place of the contact, mm."""
    foot = moved(place, direction, joint.gap)
    room = near.pieces[joint.into].way_out(foot, direction)
    far = moved(foot, direction, room)
    if joint.beyond is None or near.covers.at(joint.into, far, direction, None) != joint.beyond:
        return room
    return room + near.pieces[joint.beyond].way_out(far, direction)


def _clear_of(line: Line, others: Sequence[OneDriven], diameter: float) -> bool:
    if not others:
        return True
    own = Driven()
    for each in others:
        own.add(each.line, diameter)
    return own.is_clear(line, diameter)


def _skewed(joint: FoundJoint, way: FixingWay, near: Surroundings) -> Placement:
    """Through the sides of `into` down into `through`, from both sides in turn."""
    fastener = way.fastener
    skew = _skew_of(joint, near)
    (left, right), (bottom, top) = skew.breadth, skew.spread
    up = fastener.length * SKEW_START
    needed = least_penetration(fastener)
    deep = fastener.length - up / math.cos(SKEW)
    run = up * math.tan(SKEW) + 3 * fastener.diameter
    if run > right - left:
        return _none(way, FixingFault(what="breadth", needs=_told(run), has=_told(right - left)))
    if deep < needed:
        return _none(way, FixingFault(what="depth of the point", needs=_told(needed), has=_told(deep)))
    least = spaced(fastener.diameter, _density(joint, near), pilot=False)
    count = way.count or 1
    low, high = bottom + least.edge, top - least.edge
    if low > high:
        low = high = (low + high) / 2
    found: list[OneDriven] = []
    step = (high - low) / max(count - 1, 1)
    for index in range(count):
        middle = low + step * index if count > 1 else (low + high) / 2
        places = (min(max(middle + share * step, low), high) for share in SKEW_SHIFTS)
        # Sides in turn, so that opposite nails stand beside each other.
        tried = ((side, at) for at in places for side in (index % 2, 1 - index % 2))
        lines = (_skew_line(joint, way, near, skew, side, at) for side, at in tried)
        line = next((each for each in lines if each and _clear_of(each, found, fastener.diameter)), None)
        if line is not None:
            found.append(OneDriven(line))
    lacking: tuple[FixingFault, ...] = ()
    if len(found) < count:
        lacking = (FixingFault(what="places", needs=float(count), has=float(len(found))),)
    return Placement(way, tuple(found), None, lacking)


@dataclass(frozen=True, slots=True)
class _Skew:
    """How a piece is skewed to another: it rises from the contact, and has two sides across `across`.

    The contact reaches over `breadth` from side to side, and over `spread` along `along`, mm.
    """

    rise: Vector
    across: Vector
    along: Vector
    breadth: tuple[float, float]
    spread: tuple[float, float]


def _skew_of(joint: FoundJoint, near: Surroundings) -> _Skew:
    into = near.pieces[joint.into]
    left, right, bottom, top = joint.box
    rise = _rise(joint, into)
    if joint.told.kind != "end" and abs(dot(into.grain, joint.right)) > CROSSING:
        return _Skew(rise, joint.up, joint.right, (bottom, top), (left, right))
    return _Skew(rise, joint.right, joint.up, (left, right), (bottom, top))


def _skew_line(
    joint: FoundJoint, way: FixingWay, near: Surroundings, skew: _Skew, side: int, at: float
) -> Line | None:
    """One skewed nail from a side of `into`, if that side is free and its point stays in `through`."""
    fastener = way.fastener
    origin = moved((0.0, 0.0, 0.0), joint.way, joint.offset)
    foot = moved(moved(origin, skew.across, skew.breadth[side]), skew.along, at)
    head = moved(foot, skew.rise, fastener.length * SKEW_START)
    ahead = turned(skew.across) if side else skew.across
    run = moved(moved((0.0, 0.0, 0.0), ahead, math.sin(SKEW)), skew.rise, -math.cos(SKEW))
    into, through = near.pieces[joint.into], near.pieces[joint.through]
    # Where the contact ends within the piece, there is no side to start from.
    within = moved(head, ahead, 1.0)
    if into.way_out(within, turned(ahead)) > 1.5 or into.way_out(moved(head, run, 1.0), run) < 1.0:
        return None
    if near.covers.at(joint.into, head, turned(ahead), near.around(joint)) is not None:
        return None
    falling = -dot(run, joint.way)
    if falling <= 0.1:
        return None
    first = (dot(head, joint.way) - joint.offset) / falling
    rest = fastener.length - first
    if rest <= 0.0 or through.way_out(moved(head, run, first + 0.01), run) < rest + SKEW_COVER:
        return None
    line = (head, moved(head, run, fastener.length))
    if _is_cut(joint, line, near):
        return None
    return line if near.driven.is_clear(line, fastener.diameter) else None


def _rise(joint: FoundJoint, into: Framed) -> Vector:
    """The way in which `into` rises from the contact: along its grain from its end, square from its side."""
    if joint.told.kind == "end":
        return into.grain if dot(into.grain, joint.way) > 0 else turned(into.grain)
    return joint.way


def _allowed(
    joint: FoundJoint, least: Spaced, near: Surroundings
) -> tuple[float, float, float, float] | None:
    """Where an axis may cross the contact: clear of the ends and edges of both pieces; or nowhere."""
    left, right, bottom, top = joint.box
    margins = [
        max(
            (least.end if is_end else least.edge) - beyond,
            (least.end if is_end2 else least.edge) - beyond2,
            0.0,
        )
        for is_end, beyond, is_end2, beyond2 in room_beside(joint, near.pieces)
    ]
    area = (left + margins[0], right - margins[1], bottom + margins[2], top - margins[3])
    return area if area[0] <= area[1] + OUTSIDE and area[2] <= area[3] + OUTSIDE else None


def _slots(
    joint: FoundJoint, way: FixingWay, area: tuple[float, float, float, float], least: Spaced
) -> Iterator[Pattern]:
    if way.count is not None:
        yield groups(joint.box, area, way.count, least)
    else:
        yield from rows(joint.box, area, way, least)


def _enters_deck(joint: FoundJoint, driven: Sequence[OneDriven], near: Surroundings) -> bool:
    """Whether points come near the face of a wall that lies below while it is framed, on its inner face."""
    into = near.pieces[joint.into]
    if into.kind != "wall" or joint.kind == "corner":
        return False
    inwards = into.view.inwards
    return any(
        dot(each.line[1], inwards) - dot(each.line[0], inwards) > 1.0
        and into.way_out(each.line[1], inwards) < FROM_DECK
        for each in driven
    )


def _density(joint: FoundJoint, near: Surroundings) -> float:
    """The characteristic density of the denser piece, kg/m3."""
    both = (near.pieces[joint.through].density, near.pieces[joint.into].density)
    return max(both) / MEAN_TO_CHARACTERISTIC


def _none(way: FixingWay, fault: FixingFault, count: int | None = None) -> Placement:
    missing = FixingFault(what="places", needs=float(count or way.count or 1), has=0.0)
    return Placement(way, (), None, (fault,) if fault.what == "places" else (missing, fault))


def _told(size: float) -> float:
    return round(size, 1)
