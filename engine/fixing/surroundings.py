"""What a joint is fixed in, and what comes of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from soleplate.engine.fixing.distances import (
    MEAN_TO_CHARACTERISTIC,
)
from soleplate.engine.fixing.driven import AXES_APART, Driven, DrivenRows, Line, Order
from soleplate.engine.fixing.joints import Covers, FoundJoint
from soleplate.engine.fixing.segments import apart
from soleplate.engine.fixing.timbers import Framed
from soleplate.engine.layout import FixingFault
from soleplate.engine.rules import FixingWay
from soleplate.engine.shapes import dot


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


def is_clear_of(line: Line, others: Sequence[OneDriven], diameter: float) -> bool:
    """Whether an axis keeps clear of those of the same joint."""
    return all(apart(line, each.line) >= AXES_APART * diameter for each in others)


def is_cut(joint: FoundJoint, line: Line, near: Surroundings) -> bool:
    """Whether something let into one of the pieces is in the way, on that piece's side of the contact."""
    if not any(near.pieces[piece].piece.housings for piece in (joint.through, joint.into)):
        return False
    start, end = line
    before, after = (dot(place, joint.way) - joint.offset for place in line)
    first, second = (joint.through, joint.into) if before <= 0.0 else (joint.into, joint.through)
    if before * after >= 0.0:
        return near.pieces[first].is_cut_along(start, end)
    share = before / (before - after)
    x, y, z = (a + (b - a) * share for a, b in zip(start, end, strict=True))
    crossing = (x, y, z)
    return near.pieces[first].is_cut_along(start, crossing) or near.pieces[second].is_cut_along(crossing, end)


def density_of(joint: FoundJoint, near: Surroundings) -> float:
    """The characteristic density of the denser piece, kg/m3."""
    both = (near.pieces[joint.through].density, near.pieces[joint.into].density)
    return max(both) / MEAN_TO_CHARACTERISTIC


def nothing_placed(way: FixingWay, fault: FixingFault, count: int | None = None) -> Placement:
    """What comes of a way that has no place, and why."""
    missing = FixingFault(what="places", needs=float(count or way.count or 1), has=0.0)
    return Placement(way, (), None, (fault,) if fault.what == "places" else (missing, fault))


def told(size: float) -> float:
    """A size as faults tell it, mm at 0.1."""
    return round(size, 1)
