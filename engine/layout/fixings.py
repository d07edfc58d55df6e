"""What fixes the pieces of a frame to each other, as it comes out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field

from soleplate.engine.layout.result import Record

WorldPoint = tuple[float, float, float]
"""X, Y and Z in the world, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingPlace(Record):
    """Where one nail or screw goes, in the world, mm."""

    head: WorldPoint
    """Where its head is."""
    point: WorldPoint
    """Where its point ends."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingFault(Record):
    """What a fixing lacks, mm; of places, how many."""

    what: str
    """Such as an end distance."""
    needs: float
    """What is asked for."""
    has: float
    """What there is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JointFixingOut(Record):
    """What fixes one piece to another: fasteners of one kind that are driven one way at one time."""

    joint: Literal["end", "side", "plies", "splice", "corner", "base"]
    """How the two lie on each other."""
    through: str
    """The mark of the piece on whose side the heads are or, where they are skewed, into which they go."""
    into: str
    """The mark of the other one; `base` where that is masonry or concrete."""
    kind: str
    """What it is called: a nail, a screw, an anchor bolt."""
    diameter: float
    """Of each, mm."""
    length: float
    """Of each, mm."""
    shank: Literal["smooth", "ring", "thread"]
    """What its shank is like."""
    way: Literal["through", "skew", "face"]
    """Straight into an end, skewed, or straight into a side."""
    pilot: float | None = None
    """The diameter of a hole drilled for it first, mm."""
    when: str | None = None
    """When it has to be driven, where the order matters: before a piece is put in, or after raising."""
    side: Literal["inside", "outside", "bay"] | None = None
    """Between two walls, from where it is driven once both stand: from inside or outside the wall that is
    gone through, or from between its studs, before that is closed."""
    places: tuple[FixingPlace, ...]
    """Of each one."""
    faults: tuple[FixingFault, ...] = ()
    """What it lacks."""
    basis: str
    """The published source of their kind and number, or common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TieOut(Record):
    """A strap that ties one piece down to another, or to a pad, against uplift."""

    kind: str
    """What it is called."""
    from_: Annotated[str, Field(alias="from")]
    """The mark of what wind may lift: a rafter, a plate, a bearer."""
    over: str | None = None
    """The mark of the plate that it runs past."""
    to: str
    """The mark of the stud or plate that holds it; `pad` where that is a pad."""
    width: float
    """Of it, mm."""
    thickness: float
    """Of it, mm."""
    length: float
    """Of it, mm."""
    line: tuple[WorldPoint, WorldPoint]
    """Its upper and its lower end, mm."""
    nails: int
    """How many hold it, at both ends."""
    diameter: float
    """Of each nail, mm."""
    nail_length: float
    """Of each nail, mm."""
    shank: Literal["smooth", "ring", "thread"]
    """What their shanks are like."""
    basis: str
    """The published source of it, or common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingsRow(Record):
    """So many of one sort of fixings."""

    kind: str
    """What it is called."""
    diameter: float
    """mm."""
    length: float
    """mm."""
    shank: Literal["smooth", "ring", "thread"]
    """What its shank is like."""
    count: int
    """As they are placed."""
    with_waste: int
    """What to buy, with what is bent and dropped."""
    box: int | None = None
    """How many are in a box, where the building file says so."""
    boxes: int | None = None
    """How many boxes that takes."""
