"""Rules that make the tops of walls: head plates where they are level, raked plates under a slope."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from soleplate.engine.rules import (
    ALONG,
    AnyLength,
    CannotFrame,
    EndJoin,
    Limits,
    Member,
    Mm,
    Outline,
    Point,
    TopLine,
    TopPlateRule,
    TopPlates,
    Wall,
    at_least,
    hookimpl,
)

LEVEL_WITHIN: Final = 1e-9
"""Degrees. A slope nearer to level than this is level."""

JOINTS_APART: Final = 1200.0
"""mm. About 48 in between the end joints of two top plates (IBC 2308.5.3.2, as restated by others).

Of one top plate and the sole plate it is wanted too, so that a wall does not hinge as it is raised (common
practice, no source)."""

Ends = Literal["plumb", "square"]


def _steepness(line: TopLine) -> float:
    """The angle off level, in degrees, that all stretches of a line have.

    Raises:
        CannotFrame: they differ, so that plates of one thickness would not meet.
    """
    slopes = [abs(math.degrees(math.atan2(z1 - z0, x1 - x0))) for (x0, z0), (x1, z1) in line.segments()]
    if max(slopes) - min(slopes) > 1e-6:
        raise CannotFrame(
            f"the top of the wall slopes by {min(slopes):.2f} and by {max(slopes):.2f} degrees, so its plates"
            " would not meet; accepted is one steepness"
        )
    return slopes[0]


def _plates(wall: Wall, top: TopLine, layer: int, ends: Ends) -> list[Member]:
    """The plates of one layer, a plate for each straight stretch of `top`, which is their upper side.

    Where two stretches meet in a ridge both are cut plumb, and so their thickness t is t / cos p there.
    """
    stretches = top.segments()
    _refuse_short(wall, stretches)
    last = len(stretches) - 1
    made: list[Member] = []
    for index, (start, end) in enumerate(stretches):
        slope = math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))
        if abs(slope) <= LEVEL_WITHIN:
            role, grain = "head plate", ALONG
        else:
            role, grain = "raked plate", slope
        square = (ends == "square" and index == 0, ends == "square" and index == last)
        outline = _outline(start, end, math.radians(slope), wall.section.breadth, square)
        _refuse_bare(wall, outline, slope)
        made.append(Member(role, wall.section, outline, wall.through_wall, grain, layer))
    return made


def _refuse_short(wall: Wall, stretches: Sequence[tuple[Point, Point]]) -> None:
    """Refuse a slope too short for a plate of its own: it would not even lie on the whole of one stud."""
    for (start, _), (end, _) in stretches:
        if len(stretches) > 1 and end - start < wall.breadth:
            raise CannotFrame(
                "the roof bends {length} from an end of the wall, too near for a plate over the rest;"
                " accepted is {least} and more, or a bend at the very end",
                length=Mm(end - start, ".0f"),
                least=at_least(wall.breadth),
            )


def _outline(start: Point, end: Point, slope: float, thick: float, square: tuple[bool, bool]) -> Outline:
    """A plate `thick` mm thick, square to it, whose upper side lies on the line from `start` to `end`.

    A square end keeps within the line's length, so of its two corners the one that reaches furthest is
    there: with two of them the plate is (l - t sin p) / cos p long. `slope` is in radians.
    """
    plumb = thick / math.cos(slope)
    back = thick * math.sin(abs(slope))

    def on(x: float, lowered: float) -> Point:
        return (x, start[1] + (x - start[0]) * math.tan(slope) - lowered)

    upper, lower = [start[0], end[0]], [start[0], end[0]]
    if square[0]:
        (lower if slope > 0 else upper)[0] += back
    if square[1]:
        (upper if slope > 0 else lower)[1] -= back
    if min(upper[1] - upper[0], lower[1] - lower[0]) <= back:
        raise CannotFrame(
            "the wall's slope is {length} long, too short for a plate with square ends; accepted is"
            " a longer wall, or plumb ends",
            length=Mm(end[0] - start[0], ".0f"),
        )
    return (on(lower[0], plumb), on(lower[1], plumb), on(upper[1], 0.0), on(upper[0], 0.0))


def _refuse_bare(wall: Wall, outline: Outline, slope: float) -> None:
    """Refuse a square end that starts so far in that half of the end stud has no plate over it."""
    bare = wall.breadth / 2
    lower_left, lower_right = outline[0][0], outline[1][0]
    if bare < lower_left < wall.breadth or wall.length - wall.breadth < lower_right < wall.length - bare:
        raise CannotFrame(
            f"at {abs(slope):.1f} degrees a square end leaves over half of the end stud without a plate;"
            " accepted are plumb ends, or up to 30 degrees"
        )


def _refuse_low(wall: Wall, underside: TopLine) -> None:
    lowest = underside.lowest(0.0, wall.length)
    if lowest <= wall.sole_thickness:
        raise CannotFrame(
            "its top plates would reach down to {lowest}, into the sole plate; accepted is a wall"
            " at least {more} higher",
            lowest=Mm(lowest, ".0f"),
            more=at_least(wall.sole_thickness - lowest, ".0f"),
        )


def _over_neighbours(
    top: TopLine, joins: tuple[EndJoin, EndJoin], plumb: float
) -> tuple[TopLine, tuple[float, float]]:
    """The upper side of plates `plumb` mm thick on the roof line, and how far they pass the wall's ends.

    A wall that butts runs over its neighbour to that one's outer face; one that runs through is there.
    """
    beyond = (
        0.0 if joins[0].runs_through else joins[0].neighbour_depth,
        0.0 if joins[1].runs_through else joins[1].neighbour_depth,
    )
    raised = top.raised(plumb)
    left, right = raised.points[0][0] - beyond[0], raised.points[-1][0] + beyond[1]
    ends = (left, raised.at(left)), (right, raised.at(right))
    return TopLine((ends[0], *raised.points[1:-1], ends[1])), beyond


def _stack(wall: Wall, top: TopLine, plies: int, ends: Ends) -> list[Member]:
    """Plates on each other, their upper side at `top`; the lowest is layer 0."""
    plumb = wall.section.breadth / math.cos(math.radians(_steepness(top)))
    return [
        member
        for layer in range(plies)
        for member in _plates(wall, top.raised(-plumb * (plies - 1 - layer)), layer, ends)
    ]


def _lay(
    wall: Wall, joins: tuple[EndJoin, EndJoin], plies: int, ends: Ends, *, over_walls: bool
) -> tuple[list[Member], TopLine, TopLine | None, tuple[float, float]]:
    """Members, underside, raised top line or `None`, and how far plates go beyond the wall's ends."""
    line = wall.top.between(0.0, wall.length)
    top = TopLine((line[0], line[-1]) if wall.top.is_level else line)
    thick = plies * wall.section.breadth / math.cos(math.radians(_steepness(top)))
    if over_walls and not top.is_level:
        raised, beyond = _over_neighbours(top, joins, thick)
        return _stack(wall, raised, plies, ends), top, raised, beyond
    underside = top.raised(-thick)
    _refuse_low(wall, underside)
    return _stack(wall, top, plies, ends), underside, None, (0.0, 0.0)


class SinglePlate(TopPlateRule):
    """One plate under the top of the wall: a head plate where it is level, raked plates under a slope."""

    stands_in: ClassVar[bool] = True
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "single"},
        {"rule": "single", "ends": "square", "over_walls": True},
    )

    rule: Literal["single"] = "single"
    ends: Ends = "plumb"
    """How raked plates end at the wall's ends; where they meet in a ridge they are always plumb."""
    over_walls: bool = False
    """Raked plates lie on the roof line and run over the walls that they meet, to their outer faces."""

    def lay_plates(self, wall: Wall, joins: tuple[EndJoin, EndJoin]) -> TopPlates:
        """Return the plates, mm; see `TopPlateRule`.

        A raked plate of thickness t at pitch p takes t / cos p of the wall's height; with plumb ends each
        of its long edges is l / cos p over a wall of length l.

        Raises:
            CannotFrame: the wall is too low, or its slopes differ in steepness.
        """
        members, underside, top, beyond = _lay(wall, joins, 1, self.ends, over_walls=self.over_walls)
        return TopPlates(tuple(members), underside, top, beyond, JOINTS_APART)


class DoublePlate(TopPlateRule):
    """Two plates on each other. Where level walls of one height meet, their upper plates lap at the corner.

    The wall that butts has its upper plate run on over the one that runs through, whose own upper plate
    stops short of it.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "double"},
        {"rule": "double", "joints_apart": "48 in"},
    )

    rule: Literal["double"] = "double"
    ends: Ends = "plumb"
    """How raked plates end at the wall's ends; where they meet in a ridge they are always plumb."""
    over_walls: bool = False
    """Raked plates lie on the roof line and run over the walls that they meet, to their outer faces."""
    joints_apart: Annotated[AnyLength, Limits(0.0, 3_000.0)] = JOINTS_APART
    """How far joints of one plate keep from the other's where they can; about 48 in by IBC 2308.5.3.2."""

    def lay_plates(self, wall: Wall, joins: tuple[EndJoin, EndJoin]) -> TopPlates:
        """Return the plates, mm; see `TopPlateRule`.

        Raises:
            CannotFrame: the wall is too low or too short, or its slopes differ in steepness.
        """
        members, underside, top, beyond = _lay(wall, joins, 2, self.ends, over_walls=self.over_walls)
        if wall.top.is_level:
            members, beyond = _lapped(wall, members, joins)
        return TopPlates(tuple(members), underside, top, beyond, self.joints_apart)


def _lapped(
    wall: Wall, members: Sequence[Member], joins: tuple[EndJoin, EndJoin]
) -> tuple[list[Member], tuple[float, float]]:
    """The level plates with the upper one moved at each end for its lap, and how far it goes beyond."""
    past = [-join.lap if join.runs_through else join.lap for join in joins]
    left, right = -past[0], wall.length + past[1]
    if right - left <= wall.depth:
        raise CannotFrame(
            "laps of {left} and {right} leave no upper plate on a wall of {length}; accepted is a"
            " longer wall, or single plates",
            left=Mm(joins[0].lap, bare=True),
            right=Mm(joins[1].lap),
            length=Mm(wall.length),
        )
    lapped = [
        member.moved(((left, member.bottom), (right, member.bottom), (right, member.top), (left, member.top)))
        if member.layer == 1
        else member
        for member in members
    ]
    return lapped, (max(past[0], 0.0), max(past[1], 0.0))


@hookimpl
def register_rules() -> list[type[TopPlateRule]]:
    """Offer the rules of this module."""
    return [SinglePlate, DoublePlate]
