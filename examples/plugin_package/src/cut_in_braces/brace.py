"""The brace: pieces of the wall's own timber between the studs, in one line from plate to plate."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Annotated, Final, Literal

from pydantic import Field

from soleplate.engine.rules import (
    Adjustment,
    CannotFrame,
    EndFixing,
    Member,
    Outline,
    Point,
    Role,
    Wall,
    clip,
    overlap,
    rectangle,
)

BRACE: Final = Role("brace", "raked", braces=True)
ROLE: Final = BRACE.name

SKEWED: Final = EndFixing(2, "skew")
"""Two at an end, so that the piece cannot turn (common practice, no source)."""

Span = tuple[float, float]


class CutInBrace(Adjustment):
    """A brace cut in between the studs, in one line from the sole plate up to the top plate.

    Its foot stands in the first bay from that end in which the line is clear of openings. A noggin in its way
    is left out: the brace holds the studs there.
    """

    examples = ({"rule": "cut-in-brace"}, {"rule": "cut-in-brace", "from": "right", "angle": 50})
    rule: Literal["cut-in-brace"] = "cut-in-brace"
    angle: Annotated[float, Field(ge=35.0, le=60.0)] = 45.0
    """Off level, in degrees; about 45 works best (common practice)."""
    from_: Annotated[Literal["left", "right"], Field(alias="from")] = "left"
    """The end of the wall, seen from outside, from which it rises."""

    def adjust_wall(self, wall: Wall) -> Sequence[Member]:
        """Return the wall's members with the brace among them.

        Raises:
            CannotFrame: there is no stretch of wall clear of openings that is long enough.
        """
        rise = 1.0 if self.from_ == "left" else -1.0
        noggins = [member for member in wall.members if member.role == "noggin"]
        blocked = list(_blocked(wall))
        for foot in _feet(wall, rise):
            pieces = _pieces(wall, _Line(foot, wall.sole_thickness, rise * math.radians(self.angle)))
            if pieces and not any(overlap(piece, other) for piece in pieces for other in blocked):
                gone = [each for each in noggins if any(overlap(piece, each.outline) for piece in pieces)]
                kept = [member for member in wall.members if member not in gone]
                return [*kept, *(self._member(wall, piece, rise) for piece in pieces)]
        raise CannotFrame(
            f"no stretch is clear of openings and long enough for a brace at {self.angle:g} degrees that"
            f" rises from the {self.from_}; accepted is a steeper one, up to 60 degrees, or another wall"
        )

    def _member(self, wall: Wall, outline: Outline, rise: float) -> Member:
        return Member(
            ROLE,
            wall.section,
            outline,
            (0.0, wall.section.depth),
            rise * self.angle,
            fixings=(SKEWED, SKEWED),
        )


@dataclass(frozen=True, slots=True)
class _Line:
    """The centre line of a brace: its foot, and its slope in radians, over 0 where it rises right."""

    x: float
    z: float
    slope: float

    def at(self, x: float) -> float:
        """Its height above `x`, mm."""
        return self.z + (x - self.x) * math.tan(self.slope)

    def edge(self, side: float, breadth: float) -> tuple[Point, Point]:
        """Two points on one edge of the brace: the upper one for side 1, the lower one for -1; left first."""
        plumb = side * breadth / 2 / math.cos(self.slope)
        return (self.x, self.z + plumb), (self.x + 1000.0, self.at(self.x + 1000.0) + plumb)


def _standing(wall: Wall) -> list[Span]:
    """What the timbers from plate to plate take up along the wall, those side by side as one."""
    spans: list[Span] = []
    for member in sorted(wall.members, key=lambda member: member.left):
        if wall.roles[member.role].full_height:
            if spans and member.left < spans[-1][1] + 1.0:
                spans[-1] = (spans[-1][0], max(spans[-1][1], member.right))
            else:
                spans.append((member.left, member.right))
    return spans


def _bays(wall: Wall) -> list[Span]:
    return [(one[1], other[0]) for one, other in itertools.pairwise(_standing(wall))]


def _feet(wall: Wall, rise: float) -> Iterator[float]:
    """Where the line may start: in the lower corner of each bay, from the end that it rises from."""
    bays = _bays(wall)
    return (left for left, _ in bays) if rise > 0 else (right for _, right in reversed(bays))


def _blocked(wall: Wall) -> Iterator[Outline]:
    """What a brace may not meet: openings, their timbers, and another brace."""
    for hole in wall.holes:
        yield rectangle(hole.left, hole.right, hole.bottom, hole.top)
    for member in wall.members:
        role = wall.roles[member.role]
        if not (role.full_height or role.past_ends or member.role in ("sole plate", "noggin")):
            yield member.outline


def _pieces(wall: Wall, line: _Line) -> list[Outline]:
    """The brace cut at each stud that it crosses; none where the wall ends before it is up."""
    pieces: list[Outline] = []
    bays = _bays(wall) if line.slope > 0 else _bays(wall)[::-1]
    for left, right in bays:
        near, far = (left, right) if line.slope > 0 else (right, left)
        if line.at(far) <= line.z:
            continue
        if line.at(near) >= wall.underside.at(near):
            return pieces
        piece = _between(wall, line, left, right)
        # A sliver at either end splits when it is nailed; the pieces beside it reach the plates.
        if piece and _clear_length(wall, line, left, right) >= wall.breadth:
            pieces.append(piece)
        if line.at(far) >= wall.underside.at(far):
            return pieces
    return []


def _between(wall: Wall, line: _Line, left: float, right: float) -> Outline:
    """The part of the brace in one bay, between the plates."""
    top = wall.underside.between(left, right)
    outline: Outline = rectangle(left, right, wall.sole_thickness, max(z for _, z in top))
    upper, lower = line.edge(1.0, wall.breadth), line.edge(-1.0, wall.breadth)
    cuts = [(upper[1], upper[0]), lower, *((end, start) for start, end in itertools.pairwise(top))]
    for start, end in cuts:
        outline = clip(outline, start, end) if outline else ()
    return outline


def _clear_length(wall: Wall, line: _Line, left: float, right: float) -> float:
    """How far the centre line runs in one bay between the plates, along it, mm."""
    steps = [left + (right - left) * share / 50 for share in range(51)]
    inside = [x for x in steps if wall.sole_thickness <= line.at(x) <= wall.underside.at(x)]
    return (max(inside) - min(inside)) / math.cos(line.slope) if inside else 0.0
