"""Walls as they come out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field

from soleplate.engine.layout.braces import BraceOut
from soleplate.engine.layout.goods import AnchorOut
from soleplate.engine.layout.pieces import Piece
from soleplate.engine.layout.result import Record, is_empty
from soleplate.engine.shapes import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark(Record):
    """A running mark: along a plate or one length of it, from its left end to an upright's near face."""

    at: float
    """mm, all from one datum."""
    display: str
    """The distance as a person reads it."""
    mark: str
    """The piece that stands there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlateLength(Record):
    """A plate, or one length of it where a door cuts it out or it is jointed, with the marks to put on it.

    Or the head or lintel over an opening, where uprights of one above stand on it.
    """

    plate: str
    """What it is called in the wall's `marks`, or the role of what lies over an opening."""
    over: str | None = None
    """The opening that it lies over, where it is no plate."""
    mark: str | None = None
    """Of the piece, where there is one."""
    start: float
    """Its left end, mm along the plate, from where the wall's `marks` are taken."""
    display: str
    """The start as a person reads it."""
    alone: bool
    """Whether it is the whole plate."""
    panel: int | None = None
    """The panel that it is of, where its wall is built in panels."""
    marks: tuple[Mark, ...]
    """From its own left end; an upright over a joint is marked on the length that has its near face."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BayOut(Record):
    """A clear bay between two uprights that stand on the sole plate."""

    from_: Annotated[float, Field(alias="from")]
    """Right face of the upright at its left, mm from the wall's left end."""
    to: float
    """Left face of the upright at its right."""
    clear: float
    """Between the faces, mm."""
    display: str
    """The clear width as a person reads it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drift(Record):
    """How much shorter or longer than drawn the closing bay can come out, mm."""

    short: float
    """Too short by this, mm."""
    long: float
    """Too long by this, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacer(Record):
    """A spacer cut to step along a run of equal bays, and where stepping it along would end."""

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


@dataclass(frozen=True, slots=True, kw_only=True)
class OpeningOut(Record):
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Change(Record):
    """What differs in one piece: since its wall was measured, or between two revisions of a design."""

    mark: str
    """Of the piece as it is now, or was where it is gone."""
    what: Literal["length", "place", "added", "gone"]
    """What changed: its length or place, or that it was added or is gone."""
    before: float | None = None
    """Its length, or its place along the wall: mm, as designed or in the earlier revision."""
    after: float | None = None
    """The same, mm, as measured or in the later revision."""
    display: str
    """A sentence."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WallChanges(Record):
    """What differs in the pieces of one wall."""

    wall: str
    """Its name; a wall that has another name in the later revision is gone, and another one added."""
    what: Literal["added", "gone", "kept"]
    """Whether both revisions have it."""
    changes: tuple[Change, ...]
    """Piece by piece; of a wall that was added or is gone, all of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ViewOut(Record):
    """A plane in the world: u runs along `right`, v along `up`, and depth inwards, along `up` x `right`."""

    origin: tuple[float, float, float]
    """Where u, v and depth are 0: X, Y and Z, mm."""
    right: tuple[float, float, float]
    """Unit vector."""
    up: tuple[float, float, float]
    """Unit vector."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanOut(Record):
    """Where the wall stands: the outer corner of its left end in the world, and its direction in degrees."""

    start: tuple[float, float]
    """Its left end seen from outside, X and Y, mm."""
    direction: float
    """In which it runs from there, degrees from X towards Y."""
    depth: float
    """From its outer face to its inner, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CourseOut(Record):
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


@dataclass(frozen=True, slots=True, kw_only=True)
class CladdingOut(Record):
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


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelOut(Record):
    """One of the parts in which a wall is built and raised."""

    number: int
    """From the left."""
    start: float
    """Its left end, mm from that of the wall."""
    length: float
    """End to end, mm."""
    display: str
    """The length as a person reads it."""
    weight_kg: float
    """Of its frame as it is raised, kg: without what bridges its breaks, and without cladding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WallOut(Record):
    """One framed wall, seen from outside."""

    name: str
    """What it is called."""
    length: float
    """End to end, mm."""
    display: str
    """The length as a person reads it."""
    plan: PlanOut
    faces: tuple[str, str] | None = None
    """Of a partition: the walls that its outer face and its inner one look at, for both are indoors. What is
    told as seen from outside is seen from the side of the first."""
    views: dict[str, ViewOut]
    """The planes in which its pieces are told, by name: its `face`."""
    top_line: tuple[Point, ...]
    """(x, z) of the wall's top from left to right, mm."""
    rules: dict[str, str]
    """The rule used, by family."""
    pieces: tuple[Piece, ...]
    """All of its timber, cladding and lining."""
    marks: dict[str, tuple[Mark, ...]]
    """By plate, from the wall's left end; along a raked one from the left end of its lower edge."""
    plate_lengths: tuple[PlateLength, ...] = ()
    """The same marks by the lengths that plates lie in, each from its own left end; and those on what carries
    uprights over an opening."""
    panels: tuple[PanelOut, ...] | None = None
    """The parts in which it is built, from the left; none where it is in one piece."""
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
    """Against the design, where this or another wall was measured."""
    insulation: float | None = None
    """How thick insulation between its timbers is, mm, where it was asked for."""
    insulation_m2: float | None = None
    """The area between its timbers that it fills."""
    vapour_m2: float | None = None
    """Of a layer that checks vapour on its inside, openings and laps not counted."""
    anchors: Annotated[tuple[AnchorOut, ...], Field(exclude_if=is_empty)] = ()
    """What holds its sole plates down, left to right; left out where nothing was asked for."""
    braces: Annotated[tuple[BraceOut, ...], Field(exclude_if=is_empty)] = ()
    """What keeps it from racking besides sheets; left out where nothing was asked for."""
    weight_kg: float
    """Of its pieces, kg."""
