"""Lengths, cut ends and rips, read off the outline of a piece."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, Literal

from soleplate.engine.shapes.members import ALONG, UPRIGHT, Member
from soleplate.engine.shapes.outlines import (
    Outline,
    Point,
    bounds,
    clip,
    hull,
    is_convex,
    is_on_line,
    pairs,
    rectangle,
)
from soleplate.engine.shapes.tolerances import TOUCH

Edge = tuple[Point, Point]


Cut = Literal["square", "bevel", "double bevel", "shaped", "point"]


LongPoint = Literal["left", "right", "top", "bottom", "middle"]


FLATTEST = math.tan(math.radians(15.0))
"""A board's edge that rises less along the grain is ripped, not cut across: its saw cut is near four times as
long as the board is wide, or longer (common practice, no source)."""


SQUARE_WITHIN = 1e-3
"""Degrees. An end nearer to square than this is square."""


@dataclass(frozen=True, slots=True)
class End:
    """How one end of a member is cut.

    `angles` are degrees off square, one for each face of the cut, from the left of an upright and from the
    bottom of anything else: none of a square end, two where two faces meet. `widths` are how much of the
    width each face takes, mm. `long_point` names the side that reaches furthest: `left` or `right` of an
    upright, `top` or `bottom` of anything else, `middle` where two faces meet in a point. A `point` is no
    cut: there a rip runs out at the long point's side.
    """

    cut: Cut
    angles: tuple[float, ...] = ()
    long_point: LongPoint | None = None
    widths: tuple[float, ...] = ()


SQUARE: Final = End("square")


@dataclass(frozen=True, slots=True)
class Rip:
    """A straight saw cut along a board's upper edge that leaves it narrower at one end than at the other.

    `start` and `end` are (place, width): mm along the board from its start, and the width that is left there.
    """

    start: Point
    end: Point

    @property
    def angle(self) -> float:
        """Degrees off the grain."""
        return math.degrees(math.atan2(abs(self.end[1] - self.start[1]), self.end[0] - self.start[0]))


@dataclass(frozen=True, slots=True)
class Shape:
    """What the saw needs to know of a member, read off its outline.

    `length` is the blank's, over the long points; `short_length` that of its shortest side along the
    grain, between the short points of its ends; `ends` are the start and the end along the grain: bottom and
    top of an upright, left and right of the rest; `rips` what is sawn off along it, from its start on.
    Lengths in mm.
    """

    length: float
    short_length: float
    ends: tuple[End, End]
    rips: tuple[Rip, ...] = ()


def shape(member: Member, *, ripped: bool = False) -> Shape:
    """Read length, shortest side, both end cuts and rips off a member's outline.

    Notches do not count: it is the shape before they are cut out. Of a level board that is `ripped`, an edge
    flatter than `FLATTEST` is sawn along the board and is no end; its lower edge must be level.
    """
    outline, grain = member.outline, member.grain
    if member.is_box and grain in (ALONG, UPRIGHT):
        length = member.right - member.left if grain == ALONG else member.top - member.bottom
        return Shape(length, length, (SQUARE, SQUARE))
    turned = _turned(outline if is_convex(outline) else before_notches(outline), grain)
    along = [u for u, _ in _turned(outline, grain)]
    first, last = min(along), max(along)
    sides: list[float] = []
    starts: list[Edge] = []
    finishes: list[Edge] = []
    sloping: list[Edge] = []
    for edge in pairs(turned):
        (u0, v0), (u1, v1) = edge
        if abs(v1 - v0) <= 1e-6:
            sides.append(abs(u1 - u0))
        elif ripped and abs(v1 - v0) <= abs(u1 - u0) * FLATTEST:
            sloping.append((edge[1], edge[0]))
        else:
            (finishes if v1 > v0 else starts).append(edge)
    upright = grain == UPRIGHT
    ends = _end(starts, -1.0, upright), _end(finishes, 1.0, upright)
    length = last - first
    if not ripped:
        return Shape(length, min(sides) if len(sides) > 1 else 0.0, ends)
    sloping.sort()
    lowest = min(v for _, v in turned)
    cut_off = _run(starts or sloping[:1]), _run(finishes or sloping[-1:])
    rips = tuple(_rip(edge, first, last, lowest) for edge in sloping)
    return Shape(length, max(length - sum(cut_off), 0.0), ends, rips)


def _run(edges: Sequence[Edge]) -> float:
    """How far an end's edges reach along the grain."""
    return max((abs(u1 - u0) for (u0, _), (u1, _) in edges), default=0.0)


def _rip(edge: Edge, first: float, last: float, lowest: float) -> Rip:
    """A rip from the edge that it leaves, no longer than the board is after its notches are cut out."""
    (u0, v0), (u1, v1) = edge
    start, end = (
        (u - first, v0 + (u - u0) / (u1 - u0) * (v1 - v0) - lowest) for u in (max(u0, first), min(u1, last))
    )
    return Rip(start, end)


def _turned(outline: Outline, grain: float) -> list[Point]:
    """The outline with its grain laid along the first coordinate."""
    if grain == ALONG:
        return list(outline)
    if grain == UPRIGHT:
        return [(z, -x) for x, z in outline]
    cos, sin = math.cos(math.radians(grain)), math.sin(math.radians(grain))
    return [(x * cos + z * sin, z * cos - x * sin) for x, z in outline]


def _end(edges: Sequence[Edge], outwards: float, upright: bool) -> End:
    """One end from its edges; `outwards` is the sign of the grain direction that leaves the piece."""
    if not edges:
        return End("point", (), "bottom")
    # An upright's left lies highest once it is turned.
    line = sorted({point for edge in edges for point in edge}, key=lambda point: point[1], reverse=upright)
    faces = list(itertools.pairwise(line))
    angles = tuple(math.degrees(math.atan2(abs(u1 - u0), abs(v1 - v0))) for (u0, v0), (u1, v1) in faces)
    if all(angle < SQUARE_WITHIN for angle in angles):
        return SQUARE
    if len(faces) > 2:
        return End("shaped", angles, "middle")
    sides: tuple[LongPoint, LongPoint] = ("left", "right") if upright else ("bottom", "top")
    reach = [outwards * u for u, _ in line]
    furthest = sides[reach[-1] > reach[0]]
    if len(faces) == 1:
        return End("bevel", angles, furthest)
    is_pointed = reach[1] > max(reach[0], reach[-1]) + TOUCH
    widths = tuple(abs(v1 - v0) for (_, v0), (_, v1) in faces)
    return End("double bevel", angles, "middle" if is_pointed else furthest, widths)


def before_notches(outline: Outline) -> Outline:
    """The convex outline out of which notches were cut, counter-clockwise.

    Edges of the hull along which the outline has none of its own lie across a notch in a corner: those beside
    them run on until they meet. Where they never do, it is the hull.
    """
    whole = hull(outline)
    left, right, bottom, top = bounds(outline)
    reach = right - left + top - bottom
    shaped = around = rectangle(left - reach, right + reach, bottom - reach, top + reach)
    for start, end in pairs(whole):
        if any(is_on_line(a, start, end) and is_on_line(b, start, end) for a, b in pairs(outline)):
            shaped = clip(shaped, start, end)
    (least, lowest), _, (most, highest), _ = around
    is_closed = all(least < x < most and lowest < z < highest for x, z in shaped)
    return shaped if is_closed else whole
