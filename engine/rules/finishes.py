"""The family of rules that finish openings: linings, sills, cover strips, flashings, made to fit the hole."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field

from soleplate.engine.building_file import Name
from soleplate.engine.rules.cladding import Span
from soleplate.engine.rules.findings import Finding
from soleplate.engine.rules.goods import Goods
from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.walls import Hole, Wall
from soleplate.engine.shapes import Member, TopLine


@dataclass(frozen=True, slots=True)
class FaceBeside:
    """One face of a wall beside an opening, mm.

    What covers it stands `build_out` off the frame and ends `clearance` from the hole, all round; both are 0
    of a bare face. It reaches from `left` to `right` along the wall and up to `top`.
    """

    build_out: float
    clearance: float
    left: float
    right: float
    top: TopLine


@dataclass(frozen=True, slots=True)
class OpeningToFinish:
    """An opening of a framed and covered wall, as a finish rule is told of it.

    What is put into the hole stands on `foot`, mm over the underside of the sole plate: the underside of the
    hole, or the top of a threshold in it. Both faces are told as seen from outside. `indoors` says that
    neither of them sees weather, as in a partition; `own` that this opening asks for the finish itself, not
    its wall or the building for all of theirs, so that nothing asked for may be passed over in silence.
    """

    hole: Hole
    wall: Wall
    outside: FaceBeside
    inside: FaceBeside
    foot: float
    indoors: bool = False
    own: bool = False


@dataclass(frozen=True, slots=True)
class DoorLeaf:
    """A leaf of a door or shutter: what it takes up, at which side it hangs, seen from outside, its pieces.

    Pieces whose role covers, its boards, may lap by their profile as those of cladding do.
    """

    span: Span
    hinged: Literal["left", "right"]
    members: tuple[Member, ...]


@dataclass(frozen=True, slots=True)
class FinishedOpening:
    """What finishes an opening.

    `outside` are the pieces that are put in from outside, those in the hole among them, `inside` those upon
    the inner face, and `leaves` hang in it, from the left. Their depths count from the outer face of the
    frame inwards, so that what lies on the cladding is at a negative one; their section is (thickness, width)
    as bought. `clear` is what is left of the hole. `findings` are told with the opening's name before them.
    """

    clear: Span
    outside: tuple[Member, ...] = ()
    inside: tuple[Member, ...] = ()
    leaves: tuple[DoorLeaf, ...] = ()
    goods: tuple[Goods, ...] = ()
    findings: tuple[Finding, ...] = ()

    @property
    def members(self) -> tuple[Member, ...]:
        """All of its pieces: those outside, those of the leaves, those inside."""
        hung = (member for leaf in self.leaves for member in leaf.members)
        return (*self.outside, *hung, *self.inside)


class FinishRule(Rule):
    """Base of the rules that finish openings, with what all their pieces are of."""

    family = "finish_rules"

    material: Name = "softwood"
    """Of the boards: an EN 338 class or any name of your own."""
    density: Annotated[float, Field(ge=50.0, le=1500.0)] | None = None
    """kg/m3, for a material of your own."""

    @abstractmethod
    def finish_opening(self, opening: OpeningToFinish) -> FinishedOpening:
        """Return what finishes an opening.

        No piece may take up the place of another, of a timber or of a board: the engine says so.

        Raises:
            CannotFrame: the opening cannot be finished so; the message says what would do.
        """
