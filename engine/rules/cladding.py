"""The family of cladding rules: what a rule is told, and what it returns.

A rule says how strips lie on a face: level courses shared by all walls that it clads, upright boards,
sheets, and the battens behind. The engine cuts each strip round openings and under the roof, sets heading
joints on studs or battens for all walls together, and places the fixings. Lengths are mm; x runs along the
wall from its left end seen from outside, z up from the underside of the sole plate, y from the face that is
clad into the frame, so that cladding lies at negative y.

The same rules line the inside of walls: that face is told as the outer one is, and the engine turns what
lies on it round.
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar, Final, Literal, NamedTuple, Self

from pydantic import Field, model_validator

from soleplate.engine.building_file import (
    AnyLength,
    Items,
    Limits,
    Mm,
    Model,
    Name,
    SectionField,
    SectionOf,
    Units,
    at_most,
    unbuildable,
)
from soleplate.engine.rules.findings import Finding
from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.surfaces import EdgeLine, Surface
from soleplate.engine.shapes import Section

END_DISTANCE: Final = 20.0
"""mm from the end of a board to a fixing at the least (BM TRADA 2022, by the TDCA)."""

JOINTS_APART: Final = 2
"""Board widths between heading joints on one support (the NBS clause on heading joints)."""

NARROWER: Final = 0.001
"""mm. What differs by no more from the width as bought is not ripped: lengths are put out so."""

NARROWEST_RIP: Final = 40.0
"""mm. A narrower strip of a board splits as it is ripped or fixed (common practice, no source)."""

LEAST_BOARD: Final = 300.0
"""mm. A shorter board between joints reaches no second support as a rule (common practice, no source)."""

BoardLength = Annotated[AnyLength, Limits(300.0, 20_000.0)]
CladdingWidth = Annotated[AnyLength, Limits(20.0, 1_000.0)]
"""Of boards, 20 to 1000 mm."""
CladdingThickness = Annotated[AnyLength, Limits(3.0, 100.0)]
"""Of boards and sheets, 3 to 100 mm."""
BattenThickness = Annotated[AnyLength, Limits(5.0, 150.0)]
BattenWidth = Annotated[AnyLength, Limits(25.0, 150.0)]
"""A narrower batten splits where boards are fixed to it (common practice, no source)."""
Gap = Annotated[AnyLength, Limits(0.0, 50.0)]
"""Between boards, up to 50 mm."""


class Span(NamedTuple):
    """A rectangle of the wall's face."""

    left: float
    right: float
    bottom: float
    top: float


@dataclass(frozen=True, slots=True)
class Course:
    """A level course of the whole building: what is seen of it, and the top of its boards behind the next."""

    number: int
    bottom: float
    top: float
    board_top: float

    @property
    def seen(self) -> float:
        """The height seen, mm."""
        return self.top - self.bottom


@dataclass(frozen=True, slots=True)
class Strip:
    """A board, batten or sheet before openings and the roof are cut out of it.

    `section` is (thickness, width) as it is bought. `whole` is the rectangle that it takes up, laps
    included, `seen` what is seen of it once all is on. `depth` is where it lies off the frame's face, mm:
    from `-build_out` of its rule at the most up to 0 at the frame, inside as outside. An upright strip has
    its length plumb. A strip whose `jointed` is false is never jointed in its length. `nails` are the places
    across it, mm, at which it is fixed at every support, where its width alone does not tell. It ends `under`
    mm, measured plumb, below the top of the face. A `raking` one is a batten that follows the slopes there,
    its width square to them, a part for each; `whole` is the rectangle that it may lie in. `solid` is the
    share of its section that its profile leaves as timber, by which it is weighed, ripped or whole.
    """

    role: str
    section: Section
    material: str
    whole: Span
    seen: Span
    depth: tuple[float, float]
    upright: bool = False
    course: int = 0
    on_battens: bool = False
    jointed: bool = True
    nails: tuple[float, ...] = ()
    under: float = 0.0
    raking: bool = False
    solid: float = 1.0

    @property
    def across(self) -> float:
        """Its own width, mm; that of its section, unless it is ripped."""
        if self.raking:
            return self.section.depth
        whole = self.whole
        return whole.right - whole.left if self.upright else whole.top - whole.bottom

    @property
    def is_ripped(self) -> bool:
        """Whether it is narrower than it is bought."""
        return self.is_wider_than(self.across)

    def is_wider_than(self, across: float) -> bool:
        """Whether it is bought wider than this, mm, so that so much of it is ripped off it."""
        return across < self.section.depth - NARROWER


@dataclass(frozen=True, slots=True)
class Clad:
    """What a rule returns for one face: battens first, then boards or sheets."""

    strips: tuple[Strip, ...]
    battens: tuple[Strip, ...] = ()
    findings: tuple[Finding, ...] = ()


class Battens(Model):
    """Battens on the studs, which hold the cladding off the wall."""

    section: Annotated[Section, SectionOf(BattenThickness, BattenWidth)]
    """As [thickness, width]; the thickness is the cavity behind the boards."""
    material: Name = "softwood"
    """Of the battens."""


class CladdingRule(Rule):
    """Base of the rules that clad, with the parameters that all of them have.

    A subclass has `thickness` and `width` of its own, as they suit it.
    """

    family = "cladding_rules"
    lays_nothing: ClassVar[bool] = False
    """Whether it leaves the face as it is."""
    decks: ClassVar[bool] = False
    """Whether it lays decks of floors and roofs too."""
    weather_lap: ClassVar[tuple[float, str] | None] = None
    """The lap that keeps the weather out, mm, and the basis of it; `None` where nothing laps."""
    widest_board: ClassVar[float] = 150.0
    """mm. Broader boards cup and split more easily (BS 8605-1:2014, as restated by the TDCA)."""
    begun_sizes: ClassVar[Mapping[Units, Mapping[str, Any]]] = {}
    """By the unit of a building file, the members that a new one begins with; else the first example's."""

    material: Name = "softwood"
    """Of the boards or sheets: an EN 338 class or any name of your own."""
    density: Annotated[float, Field(ge=50.0, le=1500.0)] | None = None
    """kg/m3, for a material of your own."""
    lengths: Annotated[tuple[BoardLength, ...], Items(0, 40)] = ()
    """The lengths that boards are sold in; else those listed under `stock`, else 6 m at the most."""
    clearance: Gap = 5.0
    """Between boards and the structural opening, all round."""
    over_plate: Annotated[AnyLength, Limits(0.0, 300.0)] = 0.0
    """How far boards reach over the top of the wall, measured plumb, to meet the roof."""
    runs_past: Literal["through-walls", "walls-between", "corner-boards"] = "through-walls"
    """Whose boards run past at a corner and cover the others' ends: those of the wall that runs through, of
    the wall between, or none, where boards end at a pair of corner boards."""
    corner_board: SectionField = Section(20.0, 95.0)
    """The corner boards' [thickness, width], where there are any."""
    joints: Literal["fewest", "least-timber"] = "fewest"
    """How level boards are jointed in their length: as seldom as the lengths on sale allow, or also where a
    joint more lets offcuts begin other courses, so that less timber is bought."""
    joints_apart: Annotated[int, Field(ge=1, le=10)] = JOINTS_APART
    """Courses from one heading joint to the next on the same support."""
    least_board: Annotated[AnyLength, Limits(0.0, 3_000.0)] = LEAST_BOARD
    """The shortest board at a heading joint."""
    end_distance: Annotated[AnyLength, Limits(0.0, 100.0)] = END_DISTANCE
    """From the end of a board to a fixing, at the least."""

    @model_validator(mode="after")
    def _check_lengths(self) -> Self:
        if self.lengths and self.least_board > max(self.lengths):
            raise unbuildable(
                "least_board is {least_board}; accepted is up to the longest of lengths, {longest}",
                least_board=Mm(self.least_board),
                longest=at_most(max(self.lengths)),
            )
        return self

    @property
    @abstractmethod
    def build_out(self) -> float:
        """How far the cladding stands off the frame's face, battens included, mm."""

    @property
    def swelling_gap(self) -> float | None:
        """The gap between boards that they may swell into, mm; `None` where they lap freely."""
        return None

    @property
    def least_rip(self) -> float:
        """What should be left of a course at the least, mm; less is reported."""
        return NARROWEST_RIP

    @property
    def cavity(self) -> float:
        """How far the back of the boards stands off the frame's face, mm."""
        return 0.0

    @property
    def courses_by(self) -> str:
        """What decides its courses: walls whose rules agree in it share them.

        Its name and its own members, but for the battens; those that all cladding rules have tell only of the
        faces, which a rule is given, and of jointing and fixing.
        """
        return f"{self.name} {self.model_dump_json(exclude={*CladdingRule.model_fields, 'battens'})}"

    def choose_courses(self, faces: Sequence[Surface]) -> Sequence[Course]:
        """Return the courses that all faces share, upwards; none where boards stand upright.

        Raises:
            CannotFrame: the courses cannot be laid; the message says what would do.
        """
        del faces
        return ()

    def edge_lines(self, face: Surface) -> Sequence[EdgeLine]:
        """Return where edges are to meet on lines that the face has `missed`, with too little timber.

        The engine asks while the wall is framed, before its noggins, and sets studs beside what stands there
        where they have room; then `lay` is given the face with them.
        """
        del face
        return ()

    @abstractmethod
    def lay(self, face: Surface, courses: Sequence[Course]) -> Clad:
        """Return what lies on one face; `courses` are those that all faces share.

        Raises:
            CannotFrame: the face cannot be clad so; the message says what would do.
        """
