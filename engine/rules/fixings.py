"""The family of rules that say by what joints are fixed: nails or screws, how many, and which way."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass
from typing import Literal

from soleplate.engine.rules.rule import Rule
from soleplate.engine.shapes import Section

JointKind = Literal["end", "side", "plies", "splice", "corner", "base"]
"""`end`: an end on a side; `side`: two sides; `plies`: faces that lie on each other; `splice`: two ends;
`corner`: pieces of two walls; `base`: a sole plate on a floor."""

DrivenWay = Literal["through", "skew", "face"]
"""Straight through one piece into the end of the other; skewed through a side of that other; straight
through one side into another."""


@dataclass(frozen=True, slots=True)
class JoinedPiece:
    """One of the two pieces of a joint; `part` is the kind of part that it belongs to."""

    role: str
    section: Section
    part: Literal["wall", "floor", "slope"]


@dataclass(frozen=True, slots=True)
class Joint:
    """Two pieces that lie on each other, as a rule is told of them.

    A straight fixing goes through `through` into `into`. They touch over `along` by `across`, mm: along the
    grain of `through` and across it. `thickness` is what a straight fixing goes through, with a deck between,
    and `reach` how deep it can go into the other piece, and of plies into the one behind it, both mm.
    `crosses` says that the grains cross. Of plates that lie on each other, one is `spliced` where it ends
    against another length of it; a sole plate is `braced` under a brace of its wall.
    """

    kind: JointKind
    through: JoinedPiece
    into: JoinedPiece
    along: float
    across: float
    thickness: float
    reach: float
    crosses: bool
    spliced: bool = False
    braced: bool = False

    @property
    def roles(self) -> frozenset[str]:
        """Of both pieces."""
        return frozenset((self.through.role, self.into.role))


@dataclass(frozen=True, slots=True)
class Fastener:
    """A nail or a screw, mm."""

    kind: Literal["nail", "screw"]
    diameter: float
    length: float
    shank: Literal["smooth", "ring", "thread"]


@dataclass(frozen=True, slots=True)
class FixingWay:
    """One way of fixing a joint: `count` fasteners in one group, or else one at each of `centres`.

    Those stand up to `centres` apart and `from_ends` from the ends of the contact, in so many `rows`, mm.
    """

    way: DrivenWay
    fastener: Fastener
    count: int | None = None
    centres: float | None = None
    from_ends: float = 100.0
    rows: int = 1


@dataclass(frozen=True, slots=True)
class JointFixing:
    """How a joint is fixed: by the first of `ways` that has room; by none where other joints hold it.

    `basis` is the published source of it, or common practice.
    """

    ways: tuple[FixingWay, ...]
    basis: str


@dataclass(frozen=True, slots=True)
class Seat:
    """What wind may lift: a rafter on a plate, or a bearer on a pad; `upper` is what may be lifted.

    `between` is what lies from its underside to the top of the stud under it, mm: plates. On a pad nothing
    does.
    """

    kind: Literal["rafter", "pad"]
    upper: JoinedPiece
    between: float


@dataclass(frozen=True, slots=True)
class Tie:
    """What ties something down, mm: a strap `width` by `thickness` and `length` long, bent round nothing.

    `each_end` of `fastener` go into what is lifted and as many into what holds it, but for a pad, which holds
    its strap by itself. `basis` is the published source, or common practice.
    """

    name: str
    width: float
    thickness: float
    length: float
    fastener: Fastener
    each_end: int
    basis: str


class FixingRule(Rule):
    """Base of the rules that say how joints are fixed."""

    family = "fixing_rules"

    @abstractmethod
    def fix(self, joint: Joint) -> JointFixing | None:
        """Return how a joint is fixed; `None` leaves it to the next rule.

        The engine finds the places, with the distances of EN 1995-1-1 from edges, ends and each other.
        """

    def tie(self, seat: Seat) -> Tie | None:
        """Return what ties something down against uplift; `None`, as of most rules, leaves it to the next."""
        return None
