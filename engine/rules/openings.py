"""The family of rules that frame openings."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from soleplate.engine.rules.findings import Finding
from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.walls import Hole, Wall
from soleplate.engine.shapes import Member


@dataclass(frozen=True, slots=True)
class Cripples:
    """Where cripples go: `left` to `right`, between `level` and the plate above or below it."""

    left: float
    right: float
    level: float


@dataclass(frozen=True, slots=True)
class Beside:
    """What an opening rule stands at each side of a hole, mm from its edge.

    `bearing` is how far its uprights of full height are away, 0 where they stand at the edge; `over_all` goes
    to the face of the outermost. Where what lies over the hole `carries`, uprights of an opening above may
    stand on it.
    """

    bearing: float
    over_all: float
    carries: bool = False


@dataclass(frozen=True, slots=True)
class FramedOpening:
    """What an opening rule returns.

    `left` to `right` is what the framing takes up along the wall, over its outermost studs: no other stud
    stands there but the cripples. `over` and `under` say where those go. `stud_lines` are the centre lines
    of studs where panes meet. `findings` are told with the opening's name before them. `top` is how high the
    hole reaches that is left, where its timbers lower it.
    """

    members: tuple[Member, ...]
    left: float
    right: float
    over: Cripples | None = None
    under: Cripples | None = None
    stud_lines: tuple[float, ...] = ()
    findings: tuple[Finding, ...] = ()
    top: float | None = None


class OpeningRule(Rule):
    """Base of the rules that frame openings."""

    family = "opening_rules"
    frames_hatches: ClassVar[bool] = False
    """Whether it frames openings of floors and roofs too: all its uprights go on past them."""
    usual_for_hatches: ClassVar[bool] = False
    """Whether it frames those that do not say by which rule."""

    @classmethod
    def begun_with(cls, beam: tuple[float, float] | None, plies: int) -> Mapping[str, Any] | None:
        """Return what a new building picks of this rule for its door; see `StudRule`.

        Where a roof rests on the wall, a lintel is made of `plies` of `beam`, (breadth, depth) in the unit of
        the building file.
        """
        del beam, plies
        return None

    def stands_beside(self, hole: Hole, wall: Wall) -> Beside | None:
        """Return what it stands at each side of a hole; `None` if it frames none above or below another.

        A rule that returns it heeds `Hole.reach` and `Hole.ground`: where a side reaches to another opening's
        uprights, it stands none of full height there, and what lies over the hole goes on to them.
        """
        del hole, wall
        return None

    @abstractmethod
    def frame_opening(self, hole: Hole, wall: Wall) -> FramedOpening:
        """Return the framing of one opening as if there were no other, with uprights from the sole plate on.

        Of openings above each other the engine ends uprights at what lies over or under another one.

        Raises:
            CannotFrame: the opening cannot be framed in this wall; the message says what would do.
        """
