"""A wall as rules are told of it, while it is framed."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final, Literal

from soleplate.engine.building_file import Tee, WallEnd
from soleplate.engine.rules.bays import Bay, bays_at
from soleplate.engine.shapes import ROLES, Member, Outline, Roles, Section, TopLine

NAILING_ROOM: Final = 50.0
"""mm. A narrower bay has no room for a hammer or driver (common practice, no source)."""


LEAST_CRIPPLE: Final = 40.0
"""mm. A lower gap is packed, not framed: shorter ones split when nailed (common practice, no source)."""

LEAST_GAP: Final = 0.5
"""mm. A lower gap is not worth a packer (common practice, no source)."""

NOGGIN_CLEAR: Final = 60.0
"""mm. What else lies level in its bay is so far from a noggin: nearer, a hammer has no room, and the noggin
adds nothing to what holds the studs there already (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening with its place worked out: the structural hole, mm.

    Of openings above each other `reach` has, at its left and at its right, the near face of the uprights of
    another one that it is framed up to; where it is `None` its own stand. `ground` is the top of the timbers
    over an opening below, where they lie under its whole width in place of the sole plate.
    """

    name: str
    kind: Literal["door", "window", "gap"]
    left: float
    right: float
    bottom: float
    top: float
    reach: tuple[float | None, float | None] = (None, None)
    ground: float | None = None

    @property
    def width(self) -> float:
        """Mm."""
        return self.right - self.left

    @property
    def reaches_floor(self) -> bool:
        """Whether the sole plate is cut out under it."""
        return self.bottom <= 0.0


NOTHING_LAID: Final = TopLine(((0.0, 0.0), (1.0, 0.0)))


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall, with what is known of it so far.

    `section` is that of its studs and plates, `depth` its thickness. `top` is the line of the wall's top,
    as the roof gives it. From the plates on, studs reach up to `underside`; from the studs on, `members`
    are what stands; of a complete frame `outline` is all that it may take up, plates included. `missed`
    are the centre lines, left to right, at which the stud rule has none, since other timber is in the way.
    `roles` are those that pieces may have. A floor or a slope is framed as a wall that `lies` on its face.
    """

    name: str
    length: float
    depth: float
    section: Section
    top: TopLine
    ends: tuple[WallEnd, WallEnd]
    holes: tuple[Hole, ...] = ()
    tees: tuple[Tee, ...] = ()
    carries_roof: bool = False
    underside: TopLine = NOTHING_LAID
    members: tuple[Member, ...] = ()
    outline: Outline = ()
    missed: tuple[float, ...] = ()
    lies: bool = False
    roles: Roles = field(default=ROLES, repr=False, compare=False)

    @property
    def breadth(self) -> float:
        """The face of a stud, seen from the front."""
        return self.section.breadth

    @property
    def sole_thickness(self) -> float:
        """The sole plate's; studs stand on it."""
        return self.section.breadth

    @property
    def through_wall(self) -> tuple[float, float]:
        """The depth interval of a piece as deep as the wall."""
        return (0.0, self.depth)

    def bays_at(self, height: float) -> tuple[Bay, ...]:
        """The bays at a height, left to right; openings, and bays that something lies in, are left out.

        Over the lower studs under a slope, the bays above their tops count too: what is set there does not
        fit, and the engine says so.
        """
        taken = [(hole.left, hole.right) for hole in self.holes if hole.bottom < height < hole.top]
        return bays_at(height, self.members, taken, self.underside)
