"""The family of rules that lay floors."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass
from typing import Literal

from soleplate.engine.rules.cladding import CladdingRule
from soleplate.engine.rules.findings import Finding
from soleplate.engine.rules.noggins import NogginRule
from soleplate.engine.rules.openings import OpeningRule
from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.studs import StudRule
from soleplate.engine.rules.walls import Hole, Wall
from soleplate.engine.shapes import Member, Point, Section, View


@dataclass(frozen=True, slots=True)
class Doorway:
    """A door in an outer wall: the rectangle of its sole plate's gap in plan, X and Y, mm.

    `face` is the side of it that lies in the wall's outer face.
    """

    wall: str
    name: str
    left: float
    right: float
    front: float
    back: float
    face: Literal["front", "right", "back", "left"]


@dataclass(frozen=True, slots=True)
class FloorPlan:
    """What a floor lies under: a rectangle `length` mm along the front and `width` mm from front to back.

    Its front left corner is the origin of the world, its top at the underside of the sole plates, z = 0.
    `section` and `material` are those of the walls, `doorways` the doors of the outer walls.
    """

    length: float
    width: float
    section: Section
    material: str
    doorways: tuple[Doorway, ...] = ()


@dataclass(frozen=True, slots=True)
class Hatch:
    """An opening of a floor in its plan, and its place in the rule's `openings`.

    `framing` is the rule that frames it; without one, that which usually frames hatches does.
    """

    hole: Hole
    framing: OpeningRule | None
    index: int


@dataclass(frozen=True, slots=True)
class FloorFrame:
    """What a floor rule returns: what it lays itself, and what the engine fills in by other rules.

    `lying` is the floor as a wall that lies on its face: u over the joists is its length, v along them up to
    `top`, and `underside` where joists end; its depth is theirs. `view` is its plane, with depth 0 on top of
    the joists. The engine frames `hatches`, fills the clear runs by `spacing` and sets noggins, as in any
    wall, and tells the pieces that come of it by the names of `called`, such as `(("stud", "joist"),)`.

    `plates` are what joists end at, `bearers` what they lie on: both however long, since the engine joints
    plates over joists and bearers over `pads`, whose centres are (u, v). `ends` are the joists at both ends,
    `others` all else, such as thresholds. `deck` covers the whole of it. `insulation` is how thick it is, mm.
    """

    view: View
    lying: Wall
    plates: tuple[Member, ...]
    ends: tuple[Member, ...]
    bearers: tuple[Member, ...] = ()
    others: tuple[Member, ...] = ()
    spacing: StudRule | None = None
    noggins: NogginRule | None = None
    hatches: tuple[Hatch, ...] = ()
    called: tuple[tuple[str, str], ...] = ()
    material: str | None = None
    deck: CladdingRule | None = None
    pads: tuple[Point, ...] = ()
    pad_size: float | None = None
    insulation: float | None = None
    findings: tuple[Finding, ...] = ()


class FloorRule(Rule):
    """Base of the rules that lay floors.

    A member of another family's base class, such as `joists: StudRule`, picks one of its rules in the
    building file.
    """

    family = "floor_rules"

    @abstractmethod
    def lay_floor(self, plan: FloorPlan) -> FloorFrame:
        """Return the floor.

        Raises:
            CannotFrame: it cannot be laid so; the message says what would do.
        """
