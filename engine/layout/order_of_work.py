"""The order of work as it comes out: the steps to put a building up, or what is in the way."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field

from soleplate.engine.layout.result import Record
from soleplate.engine.shapes import Point

StepKind = Literal["base", "frame", "square", "clad", "raise", "fix", "plates", "roof", "openings", "line"]


def raised_name(wall: str, panel: int | None) -> str:
    """What a wall, or a part of one, is called that is raised: `front 1`."""
    return wall if panel is None else f"{wall} {panel}"


@dataclass(frozen=True, slots=True, kw_only=True)
class TemporaryBraceOut(Record):
    """A temporary brace: two rakers that hold a wall until its corner is closed."""

    wall: str
    """What it holds."""
    panel: int | None = None
    """Which of the parts in which that wall is built."""
    where: Literal["ends", "outside", "inside"]
    """Beside the wall's ends, outside it or inside."""
    feet: tuple[Point, ...]
    """Of its rakers, X and Y, mm."""
    off_after: int
    """The number of the step after which it may come off, or is set up anew."""

    @property
    def called(self) -> str:
        """What it holds, as `standing` has it."""
        return raised_name(self.wall, self.panel)


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkStep(Record):
    """A step of the work."""

    number: int
    """From 1."""
    kind: StepKind
    """What is done."""
    wall: str | None = None
    """Of which wall; none where it is of the building."""
    panel: int | None = None
    """Of which of the parts in which that wall is built."""
    way: str | None = None
    """Of a wall that is raised: the rule by which it is."""
    how: str | None = None
    """Which of that rule's ways, where it has several."""
    clad: bool | None = None
    """Of a wall that is raised: whether its cladding is on."""
    weight_kg: float | None = None
    """Of a wall that is raised, as wet as the site says, kg."""
    peak_kg: float | None = None
    """The most of it that is lifted at once, kg."""
    wind: int | None = None
    """Of a wall that is raised: up to which number of the Beaufort scale."""
    people: int
    """How many it takes: of a lift the fewest who lift that much, or all where even they do not."""
    hours: float
    """With all people of the site."""
    dry: bool
    """Whether it has to be dry."""
    whole: bool
    """Whether it is done in one go; others can be broken off."""
    during: str | None = None
    """The dry hours in which it ends, where some are given and it fits."""
    room: tuple[Point, ...] = ()
    """Of a wall that is raised: what it sweeps in plan, X and Y, mm."""
    path: tuple[tuple[float, float, float], ...] = ()
    """Of a wall that is carried: its middle, X and Y, mm, and its direction in degrees, from pose to pose."""
    braces: tuple[TemporaryBraceOut, ...] = ()
    """That are set up with this step."""
    standing: tuple[str, ...] = ()
    """What stands before this step: walls, and parts of walls as `front 1`."""
    pieces: tuple[str, ...] = ()
    """What comes to its place with this step, by mark: of a wall that is raised all that is on it by then."""
    reasons: tuple[str, ...] = ()
    """Why now, and why so."""
    display: str
    """What to do, in a sentence."""

    @property
    def called(self) -> str | None:
        """The wall or part that it is of, as `standing` has it."""
        return None if self.wall is None else raised_name(self.wall, self.panel)


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderCost(Record):
    """What the order takes, by what is looked at to choose it."""

    over_limit: int
    """Lifts of more than the people are taken to lift together."""
    framed_standing: int
    """Walls framed standing."""
    off_deck: int
    """Walls raised from off the deck."""
    braced: int
    """Steps after which a wall stands by its braces alone, counted for each wall."""
    kg_m: float
    """Carried, in a straight line, kg times m."""
    clad_early: int
    """Walls clad before they are raised without need."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WindOut(Record):
    """The wind up to which walls are raised, and what it does to each."""

    beaufort: int
    """Its number on the Beaufort scale."""
    newtons: dict[str, float]
    """By wall, or part of one: its push in a gust on it as it is raised, N."""
    rakers: dict[str, float]
    """By the same: what each of two rakers takes of that, fixed at 0.7 of the height at 45 degrees, N."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkHours(Record):
    """Hours of all steps, with all people of the site."""

    dry: float
    """Of those that have to be dry."""
    under_cover: float
    """Of those that can be done under cover."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosedIn(Record):
    """When the roof is on, by the dry hours given."""

    after: str | None = None
    """The dry hours in which it is finished; none where they do not suffice."""
    short_hours: float
    """How many are lacking."""
    before: tuple[int, ...] = ()
    """Steps to be done before, under cover."""
    later: tuple[int, ...] = ()
    """Steps that the roof does not wait for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InTheWay(Record):
    """Obstacles without which there is an order; of one alone, the least change that is enough."""

    obstacles: tuple[str, ...]
    """By name; no fewer of these do."""
    raise_: Annotated[float | None, Field(alias="raise")] = None
    """By how much its underside must be higher, mm."""
    lower: float | None = None
    """By how much its top must be lower, mm."""
    push: float | None = None
    """By how much one of its edges must be pushed back, mm."""
    edge: int | None = None
    """Which one: edge i runs from corner i to the next; of what is beside a wall, 0 is the near face."""
    remove: bool = False
    """Whether nothing less helps than to take it away."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BlockedWay(Record):
    """A way of raising a wall that is left over in the furthest state, and what is in it."""

    wall: str
    """Which is to be raised."""
    panel: int | None = None
    """Which of the parts in which that wall is built."""
    way: str
    """The rule."""
    how: str | None = None
    """Which of that rule's ways, where it has several."""
    walls: tuple[str, ...] = ()
    """Walls that stand in it."""
    obstacles: dict[str, float]
    """By name: how much each is too near, mm."""
    braces: tuple[str, ...] = ()
    """Walls for which there is no brace meanwhile."""
    width: float | None = None
    """Of what is carried, where there is no way for it: how broad it may be for one, mm; 0 where no way is
    found however narrow it is."""

    @property
    def called(self) -> str:
        """The wall or part, as `standing` has it."""
        return raised_name(self.wall, self.panel)


@dataclass(frozen=True, slots=True, kw_only=True)
class Helps(Record):
    """A change with which there is an order."""

    what: Literal["through", "parts"]
    """Other walls run through at the corners, or a wall is made in parts."""
    wall: str | None = None
    """Which wall."""
    to: str | None = None
    """Which walls run through."""
    parts: int | None = None
    """In how many parts."""
    display: str
    """In a sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPanel(Record):
    """Where a wall, or one of the parts in which it is raised, is to stand."""

    name: str
    """As `standing` has it."""
    wall: str
    """Which it is, or of which it is a part."""
    outline: tuple[Point, ...]
    """Of its frame in plan, from its outer face's left end anticlockwise, X and Y, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedObstacle(Record):
    """Where an obstacle stands."""

    name: str
    """What it is called."""
    outline: tuple[Point, ...]
    """In plan, the corners in the order of the file, of what is beside a wall its near face first; X and Y,
    mm."""
    bottom: float
    """From the ground to its underside, mm."""
    top: float
    """From the ground to its top, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SitePlan(Record):
    """The site in plan: what is put up, and what stands round it."""

    panels: tuple[PlacedPanel, ...]
    """All that is raised, by name."""
    obstacles: tuple[PlacedObstacle, ...]
    """In the order of the file."""
    framing_place: tuple[Point, ...] = ()
    """Where frames are made other than on the deck: its outline, X and Y, mm."""
    blocked: tuple[tuple[Point, ...], ...] = ()
    """Without an order: what each of the blocked ways, in their order, would sweep in plan, X and Y, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderOfWork(Record):
    """In which order a building is put up, or what is in the way. Advice, never an approval."""

    possible: bool | None = None
    """Whether there is an order; null where that was not found out."""
    best: bool
    """Whether no order is better by what is looked at, with ways as they were found."""
    states: int
    """Sets of standing walls that were looked at."""
    orders: int | None = None
    """In how many sequences the walls can be raised; null where they are not counted."""
    preference: OrderCost | None = None
    """What the order takes."""
    site: SitePlan | None = None
    """Where all of it is, by which steps are drawn; null where no order was looked for."""
    steps: tuple[WorkStep, ...] = ()
    """From the base on."""
    wind: WindOut | None = None
    """What it does to walls as they are raised."""
    hours: WorkHours | None = None
    """Of all steps."""
    closed_in: ClosedIn | None = None
    """When the roof is on, where dry hours are given."""
    furthest: tuple[tuple[str, ...], ...] = ()
    """Without an order: the most walls that can stand, each set of them."""
    in_the_way: tuple[InTheWay, ...] = ()
    """Without an order: all smallest sets of obstacles without which there is one."""
    ways: tuple[BlockedWay, ...] = ()
    """Without an order: what is in each way that is left in the first of the furthest states."""
    may_help: tuple[Helps, ...] = ()
    """Without an order: other changes with which there is one."""
