"""Surfaces: what can be covered, on a wall, a floor or a slope."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

from soleplate.engine.building_file import WallEnd
from soleplate.engine.rules.bays import Bay, bays_at
from soleplate.engine.rules.walls import Hole
from soleplate.engine.shapes import ROLES, TOUCH, Member, Roles, TopLine, span_at

Facing = Literal["outside", "inside"]
"""The side of a part: of a floor or slope, `outside` is above."""


@dataclass(frozen=True, slots=True)
class Support:
    """A timber that boards are fixed to: its centre line and the reach of its face.

    Of a stud or an upright batten `centre`, `near` and `far` are along the wall and `start` to `end` is its
    height; of a level batten they change places.
    """

    centre: float
    near: float
    far: float
    start: float
    end: float


class EdgeLine(NamedTuple):
    """A plumb line along a face where two edges meet, and how far to either side timber must lie, mm."""

    at: float
    bearing: float


@dataclass(frozen=True, slots=True)
class Surface:
    """One face of a framed part as it is covered; `facing` says which.

    It runs from `left` to `right`, which takes corners into account, and from the lower edge of the frame
    up to `top`, the frame's with what boards reach over it. `ends` are the part's as seen on this side: a
    corner that is re-entrant outside is none inside, and the other way round. `holes` have the clearance
    round them already; one that reaches the lower edge goes on down, and where a partition meets a wall
    there is one without end. `timbers` are the part's that reach this face, `supports` the uprights, left
    to right, which end at `underside`. `behind` is how far battens reach: under corner boards too, between
    which `left` and `right` lie. `depth` is that of the frame, `view` the part's in whose plane it lies,
    `upright` what its supports are called. Below the lower edge of one that is `bounded`, a deck or what
    stands on a floor, nothing has room. `missed` are lines along it at which a stud was wanted, and other
    timber is in the way. `roles` are those that pieces may have.
    """

    part: str
    facing: Facing
    ends: tuple[WallEnd, WallEnd]
    left: float
    right: float
    top: TopLine
    holes: tuple[Hole, ...]
    timbers: tuple[Member, ...]
    supports: tuple[Support, ...]
    behind: tuple[float, float]
    underside: TopLine
    depth: float
    view: str = "face"
    upright: str = "stud"
    bounded: bool = False
    missed: tuple[float, ...] = ()
    roles: Roles = field(default=ROLES, repr=False, compare=False)

    @property
    def key(self) -> tuple[str, Facing]:
        """The part's name and the side."""
        return self.part, self.facing

    @property
    def where(self) -> str:
        """What a sentence on it begins with: nothing of an outside."""
        return "" if self.facing == "outside" else "in its lining, "

    def dropped(self, drop: float) -> float:
        """How far below its lower edge what would drop by `drop` reaches, mm."""
        return 0.0 if self.bounded else drop

    @property
    def length(self) -> float:
        """Mm."""
        return self.right - self.left

    @property
    def highest(self) -> float:
        """The highest point of its top, mm."""
        return self.top.highest(self.left, self.right)

    @property
    def level_top(self) -> float | None:
        """The height of its top where that is level, mm."""
        lowest = self.top.lowest(self.left, self.right)
        return lowest if self.highest - lowest < 1e-6 else None

    def free_height(self, place: float, low: float, high: float) -> float:
        """The longest stretch, from `low` to `high` mm up, at which nothing lies behind a plumb line, mm.

        `place` is the line's; where an opening is, nothing need lie behind it.
        """
        taken = [(s.start, s.end) for s in self.supports if s.near - TOUCH <= place <= s.far + TOUCH]
        taken += [(hole.bottom, hole.top) for hole in self.holes if hole.left <= place <= hole.right]
        taken += [
            span_at(timber.outline, place)
            for timber in self.timbers
            if not timber.is_upright and timber.left <= place <= timber.right
        ]
        longest, reach = 0.0, low
        for start, end in sorted(taken):
            longest, reach = max(longest, min(start, high) - reach), max(reach, end)
        return max(longest, high - reach)

    def bays_at(self, height: float) -> tuple[Bay, ...]:
        """The bays at a height in which nothing lies behind this face, left to right; openings are none."""
        taken = [
            (hole.left, hole.right)
            for hole in self.holes
            if hole.bottom < height < hole.top and math.isfinite(hole.top)
        ]
        return bays_at(height, self.timbers, taken, self.underside)
