"""A wall in its stages, as rules are told of it."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Final, Literal, TypeVar

from soleplate.engine.building_file import Tee, WallEnd
from soleplate.engine.shapes import Member, Outline, Section, TopLine, span_at

NAILING_ROOM: Final = 50.0
"""mm. A narrower bay has no room for a hammer or driver (common practice, no source)."""


LEAST_CRIPPLE: Final = 10.0
"""mm. A lower gap is packed, not framed (common practice, no source)."""


WallKind = TypeVar("WallKind", bound="Wall")


@dataclass(frozen=True, slots=True)
class Hole:
    """An opening with its place worked out: the structural hole, mm."""

    name: str
    kind: Literal["door", "window", "gap"]
    left: float
    right: float
    bottom: float
    top: float

    @property
    def width(self) -> float:
        """Mm."""
        return self.right - self.left

    @property
    def reaches_floor(self) -> bool:
        """Whether the sole plate is cut out under it."""
        return self.bottom <= 0.0


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall before it is framed.

    `section` is that of its studs and plates, `depth` its thickness. `top` is the line of the wall's top,
    as the roof gives it.
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


FLOOR: Final = TopLine(((0.0, 0.0), (1.0, 0.0)))


def widened(kind: type[WallKind], wall: Wall, **more: object) -> WallKind:
    """A wall with what its next state knows besides."""
    known = {field.name: getattr(wall, field.name) for field in fields(wall)}
    return kind(**{**known, **more})


@dataclass(frozen=True, slots=True)
class PlatedWall(Wall):
    """A wall whose top plates are known: studs reach up to `underside`."""

    underside: TopLine = FLOOR


@dataclass(frozen=True, slots=True)
class Bay:
    """The clear space between two uprights at some height, mm."""

    left: float
    right: float

    @property
    def clear(self) -> float:
        """Mm."""
        return self.right - self.left


@dataclass(frozen=True, slots=True)
class StuddedWall(PlatedWall):
    """A wall whose uprights and openings stand."""

    members: tuple[Member, ...] = ()

    def bays_at(self, height: float) -> tuple[Bay, ...]:
        """The bays at a height, left to right; openings, and bays that something lies in, are left out.

        Over the lower studs under a slope, the bays above their tops count too: what is set there does not
        fit, and the engine says so.
        """
        crossing = [
            member
            for member in self.members
            if member.bottom < height and (height < member.top or self._reaches_plate(member))
        ]
        uprights = sorted((member.left, member.right) for member in crossing if member.is_upright)
        # A raked plate is in the way only where it lies at that height.
        taken = [span_at([(z, x) for x, z in m.outline], height) for m in crossing if not m.is_upright]
        taken += [(hole.left, hole.right) for hole in self.holes if hole.bottom < height < hole.top]
        bays: list[Bay] = []
        reach = uprights[0][1] if uprights else 0.0
        for left, right in uprights[1:]:
            if left > reach + 1.0 and not any(a < left - 0.01 and b > reach + 0.01 for a, b in taken):
                bays.append(Bay(reach, left))
            reach = max(reach, right)
        return tuple(bays)

    def _reaches_plate(self, member: Member) -> bool:
        return member.is_upright and abs(member.top - self.underside.highest(member.left, member.right)) < 1.0


@dataclass(frozen=True, slots=True)
class FramedWall(StuddedWall):
    """A wall whose frame is complete: what an adjustment is given."""

    outline: Outline = ()
