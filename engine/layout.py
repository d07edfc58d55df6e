"""The layout (`soleplate.layout/1`): what comes out. Lengths are mm at 0.001, angles degrees at 0.001.

A `display` member gives the length beside it as a person reads it, in the building file's units.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Annotated, Any, Final, Literal, get_args

from pydantic import ConfigDict, Field

from soleplate.engine.members import LongPoint
from soleplate.engine.model import Model
from soleplate.engine.sawing import BuyingLine, FactoryEnds, SawPlan, SpareOrder
from soleplate.engine.units import Units


class Result(Model):
    """Base of what comes out; built by the engine alone, hence not strict about lists and tuples."""

    model_config = ConfigDict(strict=False)


Level = Literal["stop", "warn", "note"]

PRACTICE: Final = "common practice, no source"
"""The basis of a finding that no published source stands behind."""

PointOut = tuple[float, float]


class CutEnd(Result):
    """One end of a piece."""

    cut: Literal["square", "bevel", "double bevel", "shaped", "point"]
    """How it is cut. A `point` is not: there a taper runs out to nothing, and `long_point` has the side."""
    angle: float | None = None
    """Degrees off square, of a bevel."""
    angles: tuple[float, ...] | None = None
    """Degrees off square of each face, where there are several: from the left of an upright, from the bottom
    of anything else."""
    widths: tuple[float, ...] | None = None
    """Of a double bevel: how much of the piece's width each face takes, in the order of `angles`, mm."""
    long_point: LongPoint | None = None
    """The side that reaches furthest, seen from outside the wall."""
    end: Literal["factory", "fresh"] | None = None
    """Of an upright on the sole plate, which way round: a factory end, where it keeps one, goes down, where
    it is wettest, and the fresh cut up. Which pieces keep one, a layout's `factory_ends` tell."""


class Fixing(Result):
    """How one end of a piece is fixed."""

    count: int
    """Nails or screws."""
    way: Literal["through", "skew"]
    """Straight through the timber it meets, or skewed."""


class Taper(Result):
    """A straight rip along a level board's upper edge, where the roof cuts it nearer to along than across.

    Between its tapers, and from one to an end of the board, the upper edge runs level.
    """

    model_config = ConfigDict(strict=False)

    from_: Annotated[float, Field(alias="from")]
    """Where the rip starts, mm along the board from its left end, over the long points."""
    to: float
    """Where it ends, from the same."""
    from_width: float
    """The width left where it starts, mm from the lower edge."""
    to_width: float
    """The width left where it ends; none is left where the board runs out to a point."""
    angle: float
    """Between the rip and the lower edge, degrees."""


class Piece(Result):
    """One piece of timber: a prism, its outline in the wall's face extruded over a depth interval."""

    mark: str
    """What is written on it; unique in the building."""
    role: str
    """What it is in the wall."""
    section: tuple[float, float]
    """Breadth and depth as it is sold, mm; the outline has the breadth that was measured."""
    material: str
    """Strength class or name."""
    length: float
    """Of the blank, over the long points, mm."""
    short_length: float
    """Of its shortest side along the grain, mm: from short point to short point of its ends, a rip that runs
    out to a point being an end."""
    display: str
    """The length as a person reads it."""
    ends: tuple[CutEnd, CutEnd]
    """Bottom and top of an upright; left and right of anything else."""
    fixings: tuple[Fixing, Fixing] | None = None
    """Of a noggin: how its left and its right end are fixed."""
    outline: tuple[PointOut, ...]
    """(x, z), anticlockwise, mm."""
    depth: tuple[float, float]
    """From the wall's outer face inwards, mm."""
    face: Literal["outside", "inside"] | None = None
    """Of cladding and lining: the face of the frame that it lies on."""
    grade: Literal["straight", "short"]
    """`short` may come from bent lengths cut short."""
    trim_allowance: float = 0.0
    """Left on for marking in place, mm; not in `length`."""
    course: int | None = None
    """Of a level board: the course that it lies in, counted from the lowest."""
    rip: float | None = None
    """Of a board or sheet narrower than it is bought: the width that is left where it is widest, mm."""
    taper: tuple[Taper, ...] | None = None
    """Of a board ripped along a slope: each rip, from the left."""
    notched: bool | None = None
    """Of a board: that an opening is cut out of its side, as its outline shows."""
    seen: tuple[tuple[PointOut, ...], ...] | None = None
    """Of cladding and lining: the outlines of what is seen of it, mm."""
    fixed_at: tuple[PointOut, ...] | None = None
    """Of cladding and lining: where it is fixed, (x, z), mm."""
    weight_kg: float
    """Its weight, kg."""

    @property
    def is_frame(self) -> bool:
        """Whether it is of the frame itself, not of its cladding or lining."""
        return self.face is None


class Mark(Result):
    """A running mark: from the wall's left end to the near face of an upright."""

    at: float
    """mm along the plate, from one datum."""
    display: str
    """The distance as a person reads it."""
    mark: str
    """The piece that stands there."""


class BayOut(Result):
    """A clear bay between two uprights that stand on the sole plate."""

    model_config = ConfigDict(strict=False)

    from_: Annotated[float, Field(alias="from")]
    """Right face of the upright at its left, mm from the wall's left end."""
    to: float
    """Left face of the upright at its right."""
    clear: float
    """Between the faces, mm."""
    display: str
    """The clear width as a person reads it."""


class Drift(Result):
    """How much shorter or longer than drawn the closing bay can come out, mm."""

    short: float
    """Too short by this, mm."""
    long: float
    """Too long by this, mm."""


class Spacer(Result):
    """A spacer cut to step along a run of equal bays, and where stepping it along would end."""

    model_config = ConfigDict(strict=False)

    from_: Annotated[float, Field(alias="from")]
    """Where the run starts, mm from the wall's left end."""
    to: float
    """Where it ends."""
    bays: int
    """How many bays it sets."""
    clear: float
    """The exact bay, mm."""
    spacer: float
    """The bay as a tape can set it, mm."""
    display: str
    """The length as a person reads it."""
    closing_bay: float
    """What is left for the last bay if the spacer is stepped along, mm."""
    closing_bay_display: str
    """The closing bay as a person reads it."""
    worst: dict[str, Drift]
    """By EN 336 tolerance class, every stud of the run off its size the same way."""
    likely: dict[str, Drift]
    """The same as the root of the summed squares."""


class OpeningOut(Result):
    """An opening as it is framed: the structural hole, mm."""

    name: str
    """What it is called."""
    kind: Literal["door", "window", "gap"]
    """`door`, `window` or `gap`."""
    left: float
    """Of the hole, from the wall's left end, mm."""
    right: float
    """Of the hole, from the wall's left end, mm."""
    bottom: float
    """Of the hole, above the underside of the sole plate, mm."""
    top: float
    """Of the hole, above the underside of the sole plate, mm."""
    framing: str
    """The rule that framed it."""
    pieces: tuple[str, ...]
    """The marks of its timbers."""


class Change(Result):
    """What differs from the design since a wall was measured."""

    mark: str
    """Of the piece that is to be cut again."""
    what: Literal["length", "place", "added", "gone"]
    """What changed: its length or place, or that it was added or is gone."""
    designed: float | None = None
    """mm."""
    measured: float | None = None
    """mm."""
    display: str
    """A sentence."""


class PlanOut(Result):
    """Where the wall stands: the outer corner of its left end in the world, and its direction in degrees."""

    start: PointOut
    """Its left end seen from outside, X and Y, mm."""
    direction: float
    """In which it runs from there, degrees from X towards Y."""
    depth: float
    """From its outer face to its inner, mm."""


class CourseOut(Result):
    """A level course of one wall: what is seen of it."""

    number: int
    """From the lowest, counted alike on all walls of the same cladding."""
    bottom: float
    """mm over the underside of the sole plate; below it where negative."""
    top: float
    """Of what is seen; the highest point where it runs out under a slope."""
    display: str
    """The bottom edge as a person reads it."""
    rip: float | None = None
    """The width that its boards are ripped to, mm, where they are."""
    boards: tuple[str, ...]
    """Marks, left to right."""


class CladdingOut(Result):
    """A wall's cladding, or its lining, in numbers."""

    rule: str
    """The cladding rule that was used."""
    build_out: float
    """From the frame's face to the face of the cladding, mm."""
    cavity: float
    """Between the frame's face and the back of the boards, mm."""
    gap: float | None = None
    """Between boards, for them to swell, mm; none where they lap freely."""
    width_change: float | None = None
    """By how much the widest board changes over the site's swing of moisture, mm."""
    lap: float | None = None
    """The least by which boards of full width lap, mm; none where they don't."""
    bottom: float
    """Of the lowest board, mm over the underside of the sole plate; below it where negative."""
    area_m2: float
    """Of the face, less its openings."""
    membrane_m2: float
    """Of membrane over the whole face, laps not counted: a breather outside, a vapour check inside."""
    fixings: int
    """Nails or screws, of battens too."""


class BoardCount(Result):
    """How many boards of one length."""

    length: float
    """As bought, mm."""
    count: int
    """How many of it."""


class BoardsOut(Result):
    """The boards from which all cladding of one kind is cut, by the heading joints chosen; or the sheets."""

    role: str
    """What its pieces are."""
    section: tuple[float, float]
    """Thickness and width, mm."""
    material: str
    """Strength class or name."""
    lengths: tuple[BoardCount, ...]
    """What is taken, by length; of sheets, whose width is in `section`, by their height."""
    value: float
    """Of these lengths: money where all on sale have a price, else mm of board."""
    bound: float | None = None
    """No choice of joints and cuts takes less; none where a wall could not keep the joints apart."""


class CutOut(Result):
    """An edge of an opening within a course: where boards are notched."""

    wall: str
    """The wall's name."""
    opening: str
    """The opening's name."""
    edge: Literal["sill", "head"]
    """Of the opening."""
    at: float
    """From the underside of the sole plate to the edge of the notch, mm."""
    above_bottom: float
    """From the course's bottom edge, mm."""
    display: str
    """The latter as a person reads it."""


class RodCourse(Result):
    """A course as the storey rod has it."""

    number: int
    """Counted from the lowest."""
    walls: tuple[str, ...]
    """The walls on which it lies."""
    bottom: float
    """Of what is seen, mm over the underside of the sole plate; below it where negative."""
    top: float
    """Height of its upper edge, mm."""
    seen: float
    """The height seen, mm."""
    display: str
    """The bottom edge as a person reads it."""
    seen_display: str
    """How much of it is seen, as a person reads it."""
    cut_outs: tuple[CutOut, ...] = ()
    """What is cut from its boards at openings."""


class WallOut(Result):
    """One framed wall, seen from outside."""

    name: str
    """What it is called."""
    length: float
    """End to end, mm."""
    display: str
    """The length as a person reads it."""
    plan: PlanOut
    top_line: tuple[PointOut, ...]
    """(x, z) of the wall's top from left to right, mm."""
    rules: dict[str, str]
    """The rule used, by family."""
    pieces: tuple[Piece, ...]
    """All of its timber, cladding and lining."""
    marks: dict[str, tuple[Mark, ...]]
    """By plate."""
    bays: tuple[BayOut, ...]
    """Clear gaps between studs, from the left."""
    spacers: tuple[Spacer, ...]
    """Blocks to set its bays by."""
    openings: tuple[OpeningOut, ...]
    """Its doors, windows and gaps."""
    cladding: CladdingOut | None = None
    """Where it is clad."""
    courses: tuple[CourseOut, ...] = ()
    """Of its cladding, upwards."""
    lining: CladdingOut | None = None
    """Where its inside is lined."""
    lining_courses: tuple[CourseOut, ...] = ()
    """Of its lining, upwards."""
    changes: tuple[Change, ...] = ()
    """Against the design, where the wall was measured."""
    weight_kg: float
    """Of its pieces, kg."""


class CuttingRow(Result):
    """Alike pieces: one setting of the saw."""

    section: tuple[float, float]
    """Breadth and depth, mm."""
    material: str
    """Strength class or name."""
    grade: Literal["straight", "short"]
    """`short`: bent timber will do."""
    role: str
    """Of the pieces; several are joined by a comma."""
    length: float
    """Of the blank, over the long points, mm."""
    short_length: float
    """Over the short points, mm; a rip that runs out to a point is an end."""
    trim_allowance: float
    """To be left on, mm; not in `length`."""
    display: str
    """What to cut to, the allowance included."""
    short_display: str
    """The short side as a person reads it."""
    ends: tuple[CutEnd, CutEnd]
    """How its left and right end are cut."""
    rip: float | None = None
    """Of boards or sheets narrower than they are bought: the width that is left where they are widest, mm."""
    taper: tuple[Taper, ...] | None = None
    """Of boards ripped along a slope: each rip, from the left."""
    notched: bool | None = None
    """Of boards: that an opening is cut out of their side, the same one of each."""
    face: Literal["outside", "inside"] | None = None
    """Of boards and sheets that are not all square: the face of the frame that it lies on. Left and right are
    as seen from outside on both, so that lining is told from its back."""
    count: int
    """How many alike."""
    gangs: tuple[int, ...]
    """How many to clamp and cut in each pass."""
    marks: tuple[str, ...]
    """Of the pieces."""


class BuyingRow(Result):
    """The run of timber needed of one section and material, before it is planned into lengths."""

    section: tuple[float, float]
    """Breadth and depth, mm."""
    material: str
    """Strength class or name."""
    pieces: int
    """How many pieces are cut from it."""
    total_length: float
    """Of all pieces end to end, mm, without kerfs and offcuts."""
    display: str
    """The length in all, as a person reads it."""
    longest: float
    """The longest piece, mm."""
    volume_m3: float
    """Of its pieces, m3."""
    weight_kg: float
    """Of its pieces, kg."""
    lengths: tuple[BuyingLine, ...] = ()
    """What to ask the merchant for, and what to take from what is on hand, by the saw plan."""
    spare: SpareOrder | None = None
    """How many lengths more to order, since some will come bent."""


class Finding(Result):
    """Something to look at. Advisory, never an approval."""

    level: Level
    """`stop`: do not build it so; `warn`: think again; `note`: good to know."""
    code: str
    """Stable, for programs."""
    message: str
    """A sentence for the builder."""
    wall: str | None = None
    """The wall it is about; none where it is the building."""
    pieces: tuple[str, ...] = ()
    """Marks."""
    value: float | None = None
    """What was found."""
    limit: float | None = None
    """What the value is held against."""
    basis: str
    """The published source, or common practice."""


def gravest_first(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings in the order of their levels, `stop` first; those of one level as they came."""
    levels = get_args(Level)
    return tuple(sorted(findings, key=lambda finding: levels.index(finding.level)))


class Layout(Result):
    """A building laid out."""

    format: Literal["soleplate.layout/1"] = "soleplate.layout/1"
    name: str
    """The building's."""
    units: Units
    """Of the displayed lengths; all numbers are mm."""
    building: dict[str, Any]
    """The building file as it was read, bare numbers in its own unit."""
    walls: tuple[WallOut, ...]
    """In the order of the plan."""
    storey_rod: tuple[RodCourse, ...] = ()
    """The courses of all walls that are clad with level boards, upwards."""
    lining_rod: tuple[RodCourse, ...] = ()
    """The same of all that is lined with level boards, partitions included."""
    boards: tuple[BoardsOut, ...] = ()
    """The boards and battens that cladding and lining are cut from."""
    cutting_list: tuple[CuttingRow, ...]
    """What to cut, one row for each setting of the saw."""
    buying_list: tuple[BuyingRow, ...]
    """What timber it takes, by section and material."""
    saw_plan: SawPlan | None = None
    """How to saw it all, where the building file says what timber can be had."""
    factory_ends: FactoryEnds | None = None
    """Which pieces keep a factory end by the saw plan, and how many cut ends are to be brushed."""
    findings: tuple[Finding, ...]
    """What to look at again, the gravest first."""
    cautions: tuple[str, ...]
    """What holds for every building."""
    weight_kg: float
    """Of all pieces, kg."""
