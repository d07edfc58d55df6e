"""Pieces: timber with a mark."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated, Literal

from pydantic import Field

from soleplate.engine.layout.result import Record
from soleplate.engine.shapes import LongPoint, Point


@dataclass(frozen=True, slots=True, kw_only=True)
class CutEnd(Record):
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


Turn = Literal["over", "end for end"]
"""How a piece is turned to be its mirror image: an upright over, anything else end for end."""


def mirrored_ends(ends: tuple[CutEnd, CutEnd], turn: Turn) -> tuple[CutEnd, CutEnd]:
    """The ends of a piece as they are seen once it is turned."""
    if turn == "end for end":
        return ends[1], ends[0]
    sides: dict[LongPoint | None, LongPoint] = {"left": "right", "right": "left"}
    first, second = (
        replace(
            end,
            angles=end.angles and end.angles[::-1],
            widths=end.widths and end.widths[::-1],
            long_point=sides.get(end.long_point, end.long_point),
        )
        for end in ends
    )
    return first, second


@dataclass(frozen=True, slots=True, kw_only=True)
class Fixing(Record):
    """How one end of a piece is fixed."""

    count: int
    """Nails or screws."""
    way: Literal["through", "skew"]
    """Straight through the timber it meets, or skewed."""
    when: str | None = None
    """When it has to be driven, where the order matters: before the piece that will lie over its heads."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Taper(Record):
    """A straight rip along a level board's upper edge, where the roof cuts it nearer to along than across.

    Between its tapers, and from one to an end of the board, the upper edge runs level.
    """

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


@dataclass(frozen=True, slots=True, kw_only=True)
class NotchOut(Record):
    """What is cut into the side of a piece of the frame, mm."""

    kind: Literal["birdsmouth", "notch"]
    """A birdsmouth is cut into a rafter, where it sits on a plate."""
    from_low_end: float
    """Of a birdsmouth: along the upper edge from the low end to the plumb line of its heel. Else from the
    left end or the foot to where it starts."""
    seat: float
    """Of a birdsmouth its level face; else how long it is."""
    heel: float
    """Of a birdsmouth its plumb face; else how deep it is."""
    hap: float
    """What is left over the seat, plumb, of a birdsmouth; else across the piece."""
    edge: Literal["left", "right", "top", "bottom"] | None = None
    """The edge that it is cut into, as the piece lies in its view. Of a row of the cutting list it is left
    out where pieces that are turned over have it on the other side."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HousingOut(Record):
    """What is cut out of a face of a piece, so that another one lies flush in it, mm."""

    face: Literal["outside", "inside"]
    """Of the frame, in which it is cut."""
    from_: Annotated[float, Field(alias="from")]
    """Along the piece, from its foot or left end to where the housing starts."""
    to: float
    """From the same to where it ends."""
    deep: float
    """Into the face."""
    width: float
    """Across what is let in."""
    angle: float
    """Between what is let in and the length of the piece, degrees."""
    rises: Literal["left", "right"]
    """Which way what is let in rises, seen from outside."""
    outline: tuple[Point, ...]
    """(x, z), anticlockwise, from the lower left corner of what bounds the piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece(Record):
    """One piece of timber: a prism, its outline in the wall's face extruded over a depth interval."""

    mark: str
    """What is written on it; unique in the building."""
    role: str
    """What it is in the wall."""
    tone: str | None = None
    """Of a role that a plugin brings: the role that ships like which it is drawn and put up."""
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
    outline: tuple[Point, ...]
    """(x, z), anticlockwise, mm. Boards of one face lap by their profile: there their outlines overlap at one
    depth."""
    depth: tuple[float, float]
    """From the wall's outer face, or the plane of its view, inwards, mm."""
    view: str | None = None
    """The view of its part in whose plane its outline lies; none where that is a wall's face."""
    of_sheet: bool | None = None
    """That it is sawn from a sheet, whose thickness is in `section` with its own width: a packer."""
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
    notches: tuple[NotchOut, ...] | None = None
    """Of a piece of the frame that has some: each, from its low end."""
    housings: tuple[HousingOut, ...] | None = None
    """What is cut out of its faces, from its foot or left end; `weight_kg` is without it."""
    notched: bool | None = None
    """Of a board: that an opening is cut out of its side, as its outline shows."""
    seen: tuple[tuple[Point, ...], ...] | None = None
    """Of cladding and lining: the outlines of what is seen of it, mm."""
    fixed_at: tuple[Point, ...] | None = None
    """Of cladding and lining: where it is fixed, (x, z), mm."""
    panel: int | None = None
    """The panel of its wall that it is of: 1, 2, ... from the left. None where the wall is in one piece, and
    of what bridges a break or goes on once all panels stand. Boards tell which they lie on."""
    weight_kg: float
    """Its weight, kg."""

    @property
    def is_frame(self) -> bool:
        """Whether it is of the frame itself, not of its cladding or lining."""
        return self.face is None
