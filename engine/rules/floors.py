"""The family of rules that lay floors."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass, field
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

    Its corner is the origin of the world, its top at the underside of the sole plates, z = 0. `section` and
    `material` are those of the walls, `doorways` the doors of the outer walls, `longest` the longest length on
    sale by section and material, mm, where it is not the usual one.
    """

    length: float
    width: float
    section: Section
    material: str
    doorways: tuple[Doorway, ...] = ()
    usual_longest: float = 6_000.0
    longest: tuple[tuple[Section, str, float], ...] = ()

    def longest_of(self, section: Section, material: str) -> float:
        """The longest length of a timber to be had, mm."""
        for own, name, longest in self.longest:
            if own == section and name == material:
                return longest
        return self.usual_longest


@dataclass(frozen=True, slots=True)
class Hatch:
    """An opening of a floor in its plan, the rule that frames it, and its place in the rule's `openings`."""

    hole: Hole
    framing: OpeningRule
    index: int


@dataclass(frozen=True, slots=True)
class Deck:
    """What covers a floor or slope: a rule, and the rectangle of the part's plane that it covers, mm."""

    rule: CladdingRule
    left: float
    right: float
    top: float
    holes: tuple[Hole, ...] = ()


@dataclass(frozen=True, slots=True)
class FloorFrame:
    """What a floor rule returns: what it lays itself, and what the engine fills in by other rules.

    `lying` is the floor as a wall that lies on its face: u over the joists is its length, v along them up to
    `top`, and `underside` where joists end; its depth is theirs. The engine frames its hatches, fills the
    clear runs by `spacing` and sets noggins, as in any wall, and tells the pieces that come of it by the names
    of `called`, such as `{"stud": "joist"}`. `plates` are what joists end at, however long: they are jointed
    over joists. `members` is all else: end joists, bearers, thresholds. All are in the first of `views`, whose
    depth is 0 on top of the joists, unless they name another one.
    """

    views: tuple[View, ...]
    lying: Wall
    plates: tuple[Member, ...]
    members: tuple[Member, ...]
    spacing: StudRule | None = None
    noggins: NogginRule | None = None
    hatches: tuple[Hatch, ...] = ()
    called: Mapping[str, str] = field(default_factory=dict)
    runs: Literal["front-back", "left-right"] = "front-back"
    material: str | None = None
    deck: Deck | None = None
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
