"""Skewed fixings: through the sides of one piece down into the other."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from soleplate.engine.fixing.distances import (
    least_penetration,
    spaced,
)
from soleplate.engine.fixing.joints import CROSSING, FoundJoint, is_seat
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
from soleplate.engine.fixing.timbers import Framed
from soleplate.engine.layout import FixingFault
from soleplate.engine.rules import FixingWay
from soleplate.engine.shapes import Vector, cross, dot, moved, turned, unit

SKEW: Final = math.radians(30.0)
"""Off the grain (common practice, no source; US practice has about 30 degrees)."""

SKEW_START: Final = 1 / 3
"""Of a skewed nail's length, from the end up to where it starts (common practice, no source)."""

ASKEW_START: Final = 1 / 2
"""The same of an end that is cut askew, where less would come out behind (common practice, no source)."""

SKEW_SHIFTS: Final = (0.0, 0.25, -0.25, 0.5, -0.5)
"""Shares of the way from one skewed nail to the next by which one may give way."""

SQUARE: Final = 0.9999
"""Cosine between two directions that count as one."""

ROUNDED: Final = 0.05
"""mm, for rounding."""

BEHIND: Final = 0.5
"""mm behind the contact at which it is asked whether there is timber."""

SKEW_COVER: Final = 3.0
"""mm of the other piece between a skewed nail's point and its far face (common practice, no source)."""


def skewed(joint: FoundJoint, way: FixingWay, near: Surroundings) -> Placement:
    """Through the sides of `into` down into `through`, from both sides in turn."""
    fastener = way.fastener
    skew = _skew_of(joint, near)
    (left, right), (bottom, top) = skew.breadth, skew.spread
    up = fastener.length * SKEW_START
    needed = least_penetration(fastener)
    deep = fastener.length - up / math.cos(SKEW)
    run = up * math.tan(SKEW) + 3 * fastener.diameter
    if run > right - left:
        return nothing_placed(way, FixingFault(what="breadth", needs=told(run), has=told(right - left)))
    if deep < needed:
        return nothing_placed(way, FixingFault(what="depth of the point", needs=told(needed), has=told(deep)))
    least = spaced(fastener.diameter, density_of(joint, near), pilot=False)
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
        tried = itertools.product(skew.starts, places, (index % 2, 1 - index % 2))
        nails = (_skew_nail(joint, way, near, skew, side, at, start) for start, at, side in tried)
        clear = (nail for nail in nails if nail and is_clear_of(nail.line, found, fastener.diameter))
        if (nail := _freest(clear)) is not None:
            found.append(nail)
    lacking: tuple[FixingFault, ...] = ()
    if len(found) < count:
        lacking = (FixingFault(what="places", needs=float(count), has=float(len(found))),)
    return Placement(way, tuple(found), None, lacking)


@dataclass(frozen=True, slots=True)
class _Skew:
    """How a piece is skewed to another: it rises from the contact, and has two sides across `across`.

    The contact reaches over `breadth` from side to side, and over `spread` along `along`, mm. Nails start at
    the first of `starts` that fits, shares of their length from the end up.
    """

    rise: Vector
    across: Vector
    along: Vector
    breadth: tuple[float, float]
    spread: tuple[float, float]
    starts: tuple[float, ...] = (SKEW_START,)


def _skew_of(joint: FoundJoint, near: Surroundings) -> _Skew:
    into = near.pieces[joint.into]
    rise = _rise(joint, into)
    is_end, is_square = joint.told.kind == "end", abs(dot(rise, joint.way)) > SQUARE
    if is_end and not (joint.is_box and is_square):
        return _by_its_own_sides(joint, into.view.inwards, rise)
    if not is_end and not joint.is_box and abs(dot(rise, into.grain)) < CROSSING:
        return _by_its_own_sides(joint, unit(cross(rise, into.grain)), rise)
    left, right, bottom, top = joint.box
    if not is_end and abs(dot(into.grain, joint.right)) > CROSSING:
        return _Skew(rise, joint.up, joint.right, (bottom, top), (left, right))
    return _Skew(rise, joint.right, joint.up, (left, right), (bottom, top))


def _by_its_own_sides(joint: FoundJoint, side: Vector, rise: Vector) -> _Skew:
    """Of a piece whose sides are askew to the contact, such as a plumb block on a rafter, or a brace.

    Of an end `side` looks out of one pair of its sides; from which pair it is skewed is the contact's to say.
    Of a side it looks out of the pair along the grain.
    """
    other = cross(rise, side)
    is_other = joint.told.kind == "end" and _along(joint, other) > _along(joint, side)
    across, along = (other, side) if is_other else (side, other)
    corners = [joint.point(x, y) for x, y in joint.outline]
    breadth, spread = ([dot(corner, axis) for corner in corners] for axis in (across, along))
    starts = (SKEW_START, ASKEW_START) if joint.told.kind == "end" else (SKEW_START,)
    return _Skew(rise, across, along, (min(breadth), max(breadth)), (min(spread), max(spread)), starts)


def _along(joint: FoundJoint, side: Vector) -> float:
    """How much a direction runs along the grain of what is gone through."""
    return round(abs(dot(side, joint.right)), 6)


def _foot(joint: FoundJoint, skew: _Skew, breadth: float, at: float) -> Vector:
    """The place in the plane of the contact that is so far along both axes of a skew."""
    # Three planes meet there; those of the skew may be askew to the contact.
    normal = cross(skew.across, skew.along)
    size = dot(joint.way, normal)
    place = moved((0.0, 0.0, 0.0), normal, joint.offset / size)
    place = moved(place, cross(skew.along, joint.way), breadth / size)
    return moved(place, cross(joint.way, skew.across), at / size)


def _freest(nails: Iterable[OneDriven]) -> OneDriven | None:
    """The first that is free when all stands; else the first, which has to be driven before another piece."""
    first: OneDriven | None = None
    for nail in nails:
        if nail.before is None:
            return nail
        first = first or nail
    return first


def _skew_nail(
    joint: FoundJoint, way: FixingWay, near: Surroundings, skew: _Skew, side: int, at: float, start: float
) -> OneDriven | None:
    """One skewed nail from a side of `into`, if that is free in time and its point stays in `through`."""
    fastener = way.fastener
    head = moved(_foot(joint, skew, skew.breadth[side], at), skew.rise, fastener.length * start)
    ahead = turned(skew.across) if side else skew.across
    run = moved(moved((0.0, 0.0, 0.0), ahead, math.sin(SKEW)), skew.rise, -math.cos(SKEW))
    into, through = near.pieces[joint.into], near.pieces[joint.through]
    # Where the contact ends within the piece, there is no side to start from.
    within = moved(head, ahead, 1.0)
    if not into.holds(within) or into.way_out(within, turned(ahead)) > 1.5:
        return None
    cover = near.covers.at(joint.into, head, turned(ahead), near.around(joint))
    if cover is not None and not _comes_later(cover, joint, near):
        return None
    falling = -dot(run, joint.way)
    if falling <= 0.1:
        return None
    first = (dot(head, joint.way) - joint.offset) / falling
    rest = fastener.length - first
    # It must come to the contact before it leaves the piece that it starts in.
    if first <= 0.0 or into.way_out(moved(head, run, min(first, 1.0)), run) < first - 1.0 - ROUNDED:
        return None
    if rest < least_penetration(fastener) - ROUNDED:
        return None
    behind = moved(head, run, first + BEHIND)
    if not through.holds(behind) or through.way_out(behind, run) < rest - BEHIND + SKEW_COVER:
        return None
    line = (head, moved(head, run, fastener.length))
    if is_cut(joint, line, near):
        return None
    return OneDriven(line, cover) if near.driven.is_clear(line, fastener.diameter) else None


def _comes_later(cover: int, joint: FoundJoint, near: Surroundings) -> bool:
    """Whether what will lie over a rafter's side is set only when the rafter is nailed to its plate."""
    one, other = near.pieces[joint.into], near.pieces[cover]
    return (
        is_seat(joint, near.pieces)
        and other.kind == one.kind
        and other.lies == "level"
        and near.order.allows(joint.into, cover)
    )


def _rise(joint: FoundJoint, into: Framed) -> Vector:
    """The way in which `into` rises from the contact: along its grain from its end, square from its side."""
    if joint.told.kind == "end":
        return into.grain if dot(into.grain, joint.way) > 0 else turned(into.grain)
    return joint.way
