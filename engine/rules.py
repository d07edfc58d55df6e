"""Rules: one base class for each family, and what a rule is told of the wall.

A rule is a frozen model. Its `rule` member, a literal, is the name by which a building file picks it; its
other members are its parameters; and one method does the work. A rule sees only what it is given here,
changes nothing, and returns the same for the same. All lengths are mm; x runs along the wall from its left
end seen from outside, z up from the underside of the sole plate, y in from the outer face.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Any, ClassVar, Final, Literal, TypeVar

from pydantic import ConfigDict

from soleplate.engine.geometry import Outline, TopLine, span_at
from soleplate.engine.members import EndFixing, Member
from soleplate.engine.model import Model
from soleplate.engine.outline import Tee, WallEnd
from soleplate.engine.timber import Section

NAILING_ROOM: Final = 50.0
"""mm. A narrower bay has no room for a hammer or driver (common practice, no source)."""

LEAST_CRIPPLE: Final = 10.0
"""mm. A lower gap is packed, not framed (common practice, no source)."""


WallKind = TypeVar("WallKind", bound="Wall")


def _require_rule(schema: dict[str, Any], model: type[Any]) -> None:
    """In a file `rule` must be given, although in Python it has a default; its examples are published."""
    schema["required"] = sorted({*schema.get("required", []), "rule"})
    schema["examples"] = [dict(example) for example in model.examples]


class Rule(Model, ABC):
    """Base of every rule.

    A subclass declares `rule: Literal["its-name"] = "its-name"`, in kebab-case, describes itself and each
    parameter in docstrings, and gives `examples`: members as a building file would have them.
    """

    model_config = ConfigDict(json_schema_extra=_require_rule)

    family: ClassVar[str]
    examples: ClassVar[Sequence[Mapping[str, Any]]] = ()
    stands_in: ClassVar[bool] = False
    """Whether this rule is used where a building file chooses none of its family."""

    @property
    def name(self) -> str:
        """The name by which a building file picks it."""
        return str(getattr(self, "rule", ""))


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
class EndJoin:
    """What a top plate meets at one end of its wall.

    `lap` is the depth of the neighbour where both walls are level, of one height and plated by the same
    rule, so that their upper plates can lap; else 0. `runs_through` tells which of the two it is.
    """

    runs_through: bool
    lap: float
    neighbour_depth: float


@dataclass(frozen=True, slots=True)
class TopPlates:
    """What a top plate rule returns.

    `members` are whole plates, however long: the engine joints them over studs. `underside` is where studs
    end. `top` replaces the wall's top line where plates lie above it. `beyond` is how far plates reach past
    the left and right end, to lap over the neighbours. Joints of plates on different layers are kept
    `joints_apart`.
    """

    members: tuple[Member, ...]
    underside: TopLine
    top: TopLine | None = None
    beyond: tuple[float, float] = (0.0, 0.0)
    joints_apart: float = 0.0


class TopPlateRule(Rule):
    """Base of the rules that make the top of a wall."""

    family = "top_plate_rules"

    @abstractmethod
    def lay_plates(self, wall: Wall, joins: tuple[EndJoin, EndJoin]) -> TopPlates:
        """Return the plates under the wall's top line; `joins` are the wall's left and right end."""


@dataclass(frozen=True, slots=True)
class StudRun:
    """A clear space to be filled with studs, from the timber at its left to that at its right.

    `place` is `wall` for a space from sole plate to top plate, `over` or `under` for cripples above or
    below an opening. `stud_lines` are the centre lines of studs that stand where panes meet.
    """

    left: float
    right: float
    place: Literal["wall", "over", "under"]
    wall: PlatedWall
    stud_lines: tuple[float, ...] = ()

    @property
    def clear(self) -> float:
        """Mm."""
        return self.right - self.left


class StudRule(Rule):
    """Base of the rules that space studs."""

    family = "stud_rules"

    @abstractmethod
    def place_studs(self, run: StudRun) -> Sequence[float]:
        """Return the left faces of the studs in a run, mm from the wall's left end, left to right.

        The timbers at both ends of the run are there already. A stud that would overlap one of them may be
        returned: the engine leaves it out. Studs may not overlap each other.
        """


@dataclass(frozen=True, slots=True)
class Cripples:
    """Where cripples go: `left` to `right`, between `level` and the plate above or below it."""

    left: float
    right: float
    level: float


@dataclass(frozen=True, slots=True)
class FramedOpening:
    """What an opening rule returns.

    `left` to `right` is what the framing takes up along the wall, over its outermost studs: no other stud
    stands there but the cripples. `over` and `under` say where those go. `stud_lines` are the centre lines
    of studs where panes meet. `reported` are remarks: (code, sentence, value or None).
    """

    members: tuple[Member, ...]
    left: float
    right: float
    over: Cripples | None = None
    under: Cripples | None = None
    stud_lines: tuple[float, ...] = ()
    has_lintel: bool = False
    reported: tuple[tuple[str, str, float | None], ...] = ()


class OpeningRule(Rule):
    """Base of the rules that frame openings."""

    family = "opening_rules"

    @abstractmethod
    def frame_opening(self, hole: Hole, wall: PlatedWall) -> FramedOpening:
        """Return the framing of one opening.

        Raises:
            CannotFrame: the opening cannot be framed in this wall; the message says what would do.
        """


class CannotFrame(Exception):  # noqa: N818 - it is a verdict on the building, not a fault of the rule
    """Raised by a rule for what it cannot serve; the message says what would do, and goes to the builder."""


@dataclass(frozen=True, slots=True)
class Corner:
    """One end of a wall at a corner. `left_face` turns distances from that end into places along the wall."""

    wall: PlatedWall
    end: Literal["left", "right"]
    meets: WallEnd

    def left_face(self, nearest: float, along: float) -> float:
        """The left face of a piece `along` mm wide whose side nearest the end is `nearest` mm from it."""
        return nearest if self.end == "left" else self.wall.length - nearest - along


class CornerRule(Rule):
    """Base of the rules that make corners, and tees where a partition meets a wall."""

    family = "corner_rules"

    @abstractmethod
    def lay_corner(self, corner: Corner) -> Sequence[Member]:
        """Return what stands at a corner besides the end stud, which is always there."""

    @abstractmethod
    def lay_tee(self, tee: Tee, wall: PlatedWall) -> Sequence[Member]:
        """Return what stands in `wall` where a partition meets its inside."""


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
class NogginPlace:
    """A noggin between two uprights: its bay, its underside, and how each end is fixed."""

    bay: Bay
    bottom: float
    fixings: tuple[EndFixing, EndFixing]


class NogginRule(Rule):
    """Base of the rules that set noggins."""

    family = "noggin_rules"

    @abstractmethod
    def place_noggins(self, wall: StuddedWall) -> Sequence[NogginPlace]:
        """Return the noggins, row by row, left to right.

        A noggin is as thick as the wall's studs are broad and as deep as the wall. One that does not fit,
        under a slope or against an opening's timbers, is left out by the engine and reported.
        """


@dataclass(frozen=True, slots=True)
class FramedWall(StuddedWall):
    """A wall whose frame is complete: what an adjustment is given."""

    outline: Outline = ()


class Adjustment(Rule):
    """Base of the rules that change a finished frame: a brace let in, a post made stronger."""

    family = "adjustments"

    @abstractmethod
    def adjust_wall(self, wall: FramedWall) -> Sequence[Member]:
        """Return all members of the wall as they shall be; those not returned are gone.

        The engine checks the result as it checks every frame: nothing outside the wall, no overlap, every
        upright standing on something.
        """
