"""Straight fixings: square through one piece into the other, or in line with what ends there."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import Final

from soleplate.engine.fixing.distances import (
    Spaced,
    least_penetration,
    least_thickness,
    needs_pilot,
    pilot_of,
    spaced,
)
from soleplate.engine.fixing.driven import DrivenRows
from soleplate.engine.fixing.joints import CROSSING, FoundJoint, room_beside
from soleplate.engine.fixing.patterns import Pattern, crowds, groups, lined, rows
from soleplate.engine.fixing.surroundings import (
    OneDriven,
    Placement,
    Surroundings,
    density_of,
    is_clear_of,
    is_cut,
    nothing_placed,
    told,
)
from soleplate.engine.layout import FixingFault
from soleplate.engine.rules import FixingWay
from soleplate.engine.shapes import Point, Vector, contains, dot, from_edge, moved, turned

STANDS_OUT: Final = 0.05
"""mm by which a point may stand out of its timber, for rounding."""

FROM_DECK: Final = 5.0
"""mm of timber between a point and the face that lies below while a wall is framed flat (common practice,
no source)."""

AT_POINT: Final = 0.5
"""mm from a point at which it is asked how far its timber's edges are."""

OUTSIDE: Final = 0.05
"""mm by which a place may be nearer to an edge than it should, for rounding."""


def driven_straight(joint: FoundJoint, way: FixingWay, near: Surroundings) -> Placement:
    """Square through one piece into the other; through a raked plate in line with what is below it."""
    fastener, density = way.fastener, density_of(joint, near)
    direction, thick, reach = joint.direction, joint.told.thickness, joint.told.reach
    into = fastener.length - thick
    if into > reach + STANDS_OUT:
        return nothing_placed(
            way, FixingFault(what="room for the point", needs=told(into), has=told(reach)), 0
        )
    needed = least_penetration(fastener)
    if into < needed - STANDS_OUT:
        return nothing_placed(
            way, FixingFault(what="depth of the point", needs=told(needed), has=told(max(into, 0.0)))
        )
    thin = thick - joint.gap < least_thickness(fastener.diameter, density)
    found = nothing_placed(way, FixingFault(what="places", needs=1.0, has=0.0))
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
    slots = [] if area is None else list(_slots(joint, way, area, least, near))
    wanted = way.count or len(slots) or 1
    driven = _into_slots(joint, way, near, direction, slots, least)
    lacking = () if len(driven) >= wanted else (
        FixingFault(what="places", needs=float(wanted), has=float(len(driven))),
    )  # fmt: skip
    return Placement(way, driven, pilot, lacking, _enters_deck(joint, driven, near))


def _crowded(joint: FoundJoint, way: FixingWay, near: Surroundings, direction: Vector) -> Placement:
    """In a pilot hole as far from the edges as the face lets: better than none, and told."""
    fastener, density = way.fastener, density_of(joint, near)
    least = spaced(fastener.diameter, density, pilot=True)
    count = way.count or 1
    driven = _into_slots(joint, way, near, direction, [list(crowds(joint.box, count))], None)
    if not driven:
        return nothing_placed(way, FixingFault(what="places", needs=float(count), has=0.0), count)
    fault = max(_short_of(joint, least, driven, near), key=lambda fault: fault.needs - fault.has)
    if fault.has >= fault.needs:
        # It is not the face that is too small, but others in the same piece that are too near.
        gaps = [
            gap
            for piece in (joint.through, joint.into)
            for each in driven
            for gap in near.rows.too_near(piece, near.pieces[piece].grain, each.line, least)
        ]
        fault = FixingFault(what="distance apart", needs=told(least.along), has=told(min(gaps, default=0.0)))
        if not gaps:
            return Placement(way, driven, pilot_of(fastener), (), _enters_deck(joint, driven, near))
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
    for there, both in zip(has, room_beside(joint, near.pieces), strict=True):
        for each in both:
            yield FixingFault(
                what="end distance" if each.is_end else "edge distance",
                needs=told(least.end if each.is_end else least.edge),
                has=told((there + each.room) * each.square),
            )
    for (x, y), (x2, y2) in itertools.combinations(zip(xs, ys, strict=True), 2):
        # In one line along the grain they stand further apart than in one across it.
        along, across = abs(x2 - x), abs(y2 - y)
        needs, gap = min(((least.along, along), (least.across, across)), key=lambda each: each[0] - each[1])
        yield FixingFault(what="distance apart", needs=told(needs), has=told(gap))


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
            if driven is None:
                continue
            is_free = all(each.before is None for each in driven)
            if later and not is_free:
                continue
            if least is not None and not (
                _in_rows(joint, driven, found, near, least) and _clears_edges(joint, driven, near, least)
            ):
                continue
            if is_free:
                found += driven
                break
            later = driven
        else:
            found += later
    return tuple(found)


def _is_near_edge(joint: FoundJoint, candidate: Sequence[Point], least: Spaced) -> bool:
    return any(
        not contains(joint.outline, at) or from_edge(joint.outline, at) < least.edge for at in candidate
    )


def _clears_edges(joint: FoundJoint, driven: Sequence[OneDriven], near: Surroundings, least: Spaced) -> bool:
    """Whether points are as far from the edges of the second piece: its sides may run askew to a fixing."""
    into = near.pieces[joint.into]
    for each in driven:
        tip = moved(each.line[1], joint.direction, -AT_POINT)
        if not into.holds(tip):
            continue
        for axis in (joint.right, turned(joint.right), joint.up, turned(joint.up)):
            along = dot(into.grain, axis)
            square = math.sqrt(max(1.0 - along * along, 0.0))
            if abs(along) <= CROSSING and into.way_out(tip, axis) * square < least.edge - OUTSIDE:
                return False
    return True


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
        if thick <= 0.0:
            return None
        head = moved(place, back, thick)
        # Most candidates fail by what lies over the head: that is looked at first.
        before = near.covers.at(joint.through, head, back, around)
        if before is not None and (around is None or not near.order.allows(joint.into, before)):
            return None
        beyond = fastener.length - thick - joint.gap
        if beyond > _room(joint, place, direction, near) + STANDS_OUT:
            return None
        line = (head, moved(head, direction, fastener.length))
        if is_cut(joint, line, near):
            return None
        if not near.driven.is_clear(line, fastener.diameter) or not is_clear_of(
            line, (*others, *driven), fastener.diameter
        ):
            return None
        driven.append(OneDriven(line, before))
    return driven


def _room(joint: FoundJoint, place: Vector, direction: Vector, near: Surroundings) -> float:
    """How much timber there is for a point behind a place of the contact, mm."""
    foot = moved(place, direction, joint.gap)
    room = near.pieces[joint.into].way_out(foot, direction)
    far = moved(foot, direction, room)
    if joint.beyond is None or near.covers.at(joint.into, far, direction, None) != joint.beyond:
        return room
    return room + near.pieces[joint.beyond].way_out(far, direction)


def _allowed(
    joint: FoundJoint, least: Spaced, near: Surroundings
) -> tuple[float, float, float, float] | None:
    """Where an axis may cross the contact: clear of the ends and edges of both pieces; or nowhere."""
    left, right, bottom, top = joint.box
    margins = [
        max(0.0, *((least.end if each.is_end else least.edge) / each.square - each.room for each in both))
        for both in room_beside(joint, near.pieces)
    ]
    area = (left + margins[0], right - margins[1], bottom + margins[2], top - margins[3])
    return area if area[0] <= area[1] + OUTSIDE and area[2] <= area[3] + OUTSIDE else None


def _slots(
    joint: FoundJoint,
    way: FixingWay,
    area: tuple[float, float, float, float],
    least: Spaced,
    near: Surroundings,
) -> Iterator[Pattern]:
    if way.count is not None:
        grain = near.pieces[joint.into].grain
        along = (dot(grain, joint.right), dot(grain, joint.up))
        slanted = [] if joint.is_box else lined(joint.outline, along, way.count)
        yield itertools.chain(slanted, groups(joint.box, area, way.count, least))
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
