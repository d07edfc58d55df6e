"""The family of rules that frame roofs.

A slope is told in places of its own: x along the wall under its eaves from the corner of the outline at its
left, r level from that wall's outer face uphill, z up from the underside of the sole plates.
"""

from __future__ import annotations

import math
from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from math import inf
from typing import Literal

from soleplate.engine.rules.cladding import CladdingRule
from soleplate.engine.rules.findings import Finding
from soleplate.engine.rules.floors import Hatch
from soleplate.engine.rules.noggins import NogginRule
from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.studs import Run, StudRule
from soleplate.engine.rules.surfaces import Facing
from soleplate.engine.rules.walls import Wall
from soleplate.engine.shapes import TOUCH, Member, View

Positions = Sequence[float]
"""Left faces of timbers along a part, mm."""


@dataclass(frozen=True, slots=True)
class Plate:
    """A level plate that carries rafters, on the wall that has this name; mm.

    Its downhill face is at r = `at`, from where it reaches `depth` uphill. Along the eaves it lies from
    `left` to `right`. `top` is the height of the measuring line over its downhill face, the plate's own top.
    `studs` are the left faces of the wall's full studs, along the eaves. What lies on the wall's outside
    stands off its frame by `covered`.
    """

    wall: str
    at: float
    depth: float
    left: float
    right: float
    top: float
    studs: tuple[float, ...] = ()
    covered: float = 0.0


@dataclass(frozen=True, slots=True)
class SlopeShape:
    """One slope: along the wall under its eaves, `length` mm, and `run` mm level up to its high end.

    `eaves` is the plane of that wall's outer face, its origin at x = 0. The first of `plates` is that wall's.
    Where what it goes over was measured out of parallel, `run` is that in the middle, and by `widens` mm
    longer at the right end than at the left: rafters are cut to it one by one.
    """

    wall: str
    eaves: View
    length: float
    run: float
    plates: tuple[Plate, ...]
    widens: float = 0.0


@dataclass(frozen=True, slots=True)
class WallUnder:
    """A wall that runs with the slopes: what it takes up along the first slope's eaves, mm.

    `covered` is how far what lies on it stands off its frame, at its left and at its right. A `partition`
    stands between outer walls.
    """

    name: str
    left: float
    right: float
    covered: tuple[float, float] = (0.0, 0.0)
    partition: bool = False


@dataclass(frozen=True, slots=True)
class RoofShape:
    """The roof over a rectangle `length` by `width` mm, its `pitch` in degrees.

    `along` are the walls that run with the slopes, left to right, `across` the names of partitions that run
    with the eaves. `material` is that of the walls.
    """

    form: Literal["mono-pitch", "duo-pitch"]
    pitch: float
    length: float
    width: float
    slopes: tuple[SlopeShape, ...]
    along: tuple[WallUnder, ...]
    across: tuple[str, ...] = ()
    material: str = "C16"


@dataclass(frozen=True, slots=True)
class RafterRun:
    """The clear run between the outermost rafters, and the rule that spaces those in it.

    The run is told from `datum` mm along the eaves on.
    """

    rule: StudRule
    run: Run
    datum: float = 0.0


@dataclass(frozen=True, slots=True)
class Deck:
    """What covers a slope: a rule, and the rectangle of the slope's plane that it covers, mm."""

    rule: CladdingRule
    left: float
    right: float
    bottom: float
    top: float


@dataclass(frozen=True, slots=True)
class RafterCard:
    """What a rafter is set out by, lengths mm and angles degrees; `marks` are along its upper edge.

    They are its low plumb cut, the plumb line of each heel, and its upper plumb cut.
    """

    blank: float
    short_length: float
    plumb_cut: float
    pitch: float
    hap: float
    seat: float
    heel: float
    marks: tuple[float, ...]

    @property
    def rise_in_12(self) -> float:
        """The pitch as the rise in a run of 12."""
        return 12 * math.tan(math.radians(self.pitch))


@dataclass(frozen=True, slots=True)
class CoveringPart:
    """One sheet or strip of what covers a slope, as it lies: x along the eaves, v up the slope; mm."""

    left: float
    right: float
    bottom: float
    top: float


@dataclass(frozen=True, slots=True)
class CoveringCount:
    """What covers a slope, counted: sheets side by side, or strips of rolls one above the other.

    Each is `width` mm wide as it is bought and `length` long. `parts` are in the order of laying, each over
    the one before it by `lap` mm, the last cut. They reach `overhang` past the lower edge of what
    they lie on. `rows` are the middles of the battens under them, up the slope.
    """

    kind: Literal["sheet", "roll"]
    width: float
    length: float
    lap: float
    parts: tuple[CoveringPart, ...]
    overhang: float = 0.0
    rows: tuple[float, ...] = ()

    @property
    def gauge(self) -> float:
        """From batten to batten, centre to centre, mm; 0 without."""
        return self.rows[1] - self.rows[0] if len(self.rows) > 1 else 0.0


@dataclass(frozen=True, slots=True)
class BlockRow:
    """A row of blocks in one piece, level in its view, and how short a block may be, mm.

    The engine takes out of it what other pieces of the slope take up; what is shorter stays open.
    """

    pattern: Member
    least: float


@dataclass(frozen=True, slots=True)
class FramedSlope:
    """A slope framed: its members, each in one of its views, and what the engine fills in by other rules.

    Its `views` are the planes that its members lie in. In `side` rafters lie, x being the depth; in `slope`,
    u along the eaves and v up the slope on the rafters' upper edges, what lies square to it.

    `rafters` are whole ones at every place. `lying` is the slope as a wall that lies on its face, its v
    `foot` mm more than the wall's height: in it the engine frames `windows` and sets `noggins`, and cuts the
    rafters that a window is in the way of. `called` tells the pieces that come of it. In the stretches
    `taken`, v from and to, over plates, nothing square to the slope has room.

    Insulation is `insulation` mm thick, with a layer that checks vapour under it or not. It lies in the
    rectangle `indoors` of `slope`, left, right, bottom and top.

    Of `jointed`, level pieces, those longer than any on sale are jointed over rafters. `blocks` are cut to
    what fits between other pieces, windows' too. `others` are all else. What stays open over blocks is `gap`
    mm high. Soffits leave it open beside each wall under the eaves, `open_along` mm long. Without either it
    is not told.
    """

    wall: str
    views: tuple[View, ...]
    rafters: tuple[Member, ...]
    lying: Wall
    foot: float
    card: RafterCard
    jointed: tuple[Member, ...] = ()
    others: tuple[Member, ...] = ()
    blocks: tuple[BlockRow, ...] = ()
    gap: float | None = None
    open_along: tuple[float, ...] = ()
    windows: tuple[Hatch, ...] = ()
    noggins: NogginRule | None = None
    taken: tuple[tuple[float, float], ...] = ()
    called: tuple[tuple[str, str], ...] = ()
    deck: Deck | None = None
    covering: CoveringCount | None = None
    area: float = 0.0
    insulation: float | None = None
    vapour_layer: bool = True
    indoors: tuple[float, float, float, float] | None = None

    def view(self, name: str) -> View:
        """One of its planes."""
        return next(view for view in self.views if view.name == name)


@dataclass(frozen=True, slots=True)
class Hanging:
    """What hangs before a wall, such as a fascia: what stands off by more than `clear` ends under it.

    That is `below` the wall's top, and `falls` more for each mm that it stands off; mm.
    """

    clear: float
    below: float
    falls: float = 0.0


@dataclass(frozen=True, slots=True)
class CladdingEnd:
    """Where what lies on one face of a wall ends under the roof, mm below the wall's top.

    That is `below`, and `falls` more for each mm that it stands off the frame; or under what hangs before it.
    """

    wall: str
    facing: Facing
    below: float
    falls: float = 0.0
    under: tuple[Hanging, ...] = ()

    def under_top(self, build_out: float) -> float:
        """How far below the wall's top it ends, of what stands off by `build_out` mm."""
        hanging = (
            each.below + each.falls * build_out for each in self.under if build_out > each.clear + TOUCH
        )
        return max(self.below + self.falls * build_out, *hanging, -inf)


@dataclass(frozen=True, slots=True)
class Against:
    """What stands against the inside of a wall up to the roof, such as a post: nothing else lies there.

    It is told as r of the first slope, from `near` to `far`.
    """

    wall: str
    near: float
    far: float


@dataclass(frozen=True, slots=True)
class RoofFrame:
    """What a roof rule returns: its slopes, the ridge and ties with the first; and where cladding ends.

    `timber` is what its members are of that do not say, `against` what stands against walls indoors.
    """

    slopes: tuple[FramedSlope, ...]
    timber: str | None = None
    ends: tuple[CladdingEnd, ...] = ()
    against: tuple[Against, ...] = ()
    findings: tuple[Finding, ...] = ()


class RoofRule(Rule):
    """Base of the rules that frame roofs; members may pick rules of other families, as a floor rule's may."""

    family = "roof_rules"

    @abstractmethod
    def drop(self, shape: RoofShape) -> float:
        """Return by how much the tops of walls that run with the slope lie lower than the roof says, mm.

        So do those of partitions. It is asked before walls are framed.
        """

    @abstractmethod
    def spaces(self, shape: RoofShape) -> RafterRun | Positions:
        """Return what spaces the first slope's rafters between the outermost, or their places, left to right.

        Raises:
            CannotFrame: they have no room; the message says what would do.
        """

    @abstractmethod
    def lay_roof(self, shape: RoofShape, spacing: Positions) -> RoofFrame:
        """Return the frame; `spacing` are the left faces of the first slope's rafters between the outermost.

        Raises:
            CannotFrame: it cannot be framed so; the message says what would do.
        """
