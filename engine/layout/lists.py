"""Lists: what to cut and to buy, and the courses of the storey rod."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Literal

from soleplate.engine.layout.pieces import CutEnd, HousingOut, NotchOut, Taper, Turn, mirrored_ends
from soleplate.engine.layout.result import Record
from soleplate.engine.sawing import BuyingLine, SpareOrder


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardCount(Record):
    """How many boards of one length."""

    length: float
    """As bought, mm."""
    count: int
    """How many of it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardsOut(Record):
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


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOut(Record):
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


@dataclass(frozen=True, slots=True, kw_only=True)
class RodCourse(Record):
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


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingRow(Record):
    """Alike pieces: one setting of the saw."""

    section: tuple[float, float]
    """Breadth and depth, mm."""
    material: str
    """Strength class or name."""
    grade: Literal["straight", "short"]
    """`short`: bent timber will do."""
    of_sheet: bool | None = None
    """That they are strips of a sheet, `section` its thickness and their width."""
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
    notches: tuple[NotchOut, ...] | None = None
    """Of pieces of the frame that have some: the same ones of each, from the low end."""
    housings: tuple[HousingOut, ...] | None = None
    """What is cut out of faces, the same of each, from the foot or left end."""
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
    panels: tuple[str | None, ...] | None = None
    """Of each of the pieces, in the order of their marks: the wall and the number of the panel that it is of,
    as `front 1`. None where none of them is of a panel."""
    turned: tuple[str, ...] | None = None
    """Of `marks` those that are the mirror image of what is told here: they are cut like the others, and then
    turned."""
    turn: Turn | None = None
    """How they are turned: `over`, so that an upright has its other face out, or `end for end`."""

    def told_of(self, marks: Collection[str]) -> CuttingRow:
        """The row as most of these of its pieces are, and those of them that are turned then."""
        turned = tuple(mark for mark in self.turned or () if mark in marks)
        if self.turn is not None and 2 * len(turned) > len(marks):
            rest = tuple(mark for mark in self.marks if mark in marks and mark not in turned)
            return replace(self, ends=mirrored_ends(self.ends, self.turn)).turned_so(rest)
        return self.turned_so(turned)

    def turned_so(self, turned: tuple[str, ...]) -> CuttingRow:
        """The same with other pieces turned."""
        return replace(self, turned=turned or None, turn=self.turn if turned else None)


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyingRow(Record):
    """The run of timber needed of one section and material, before it is planned into lengths."""

    section: tuple[float, float]
    """Breadth and depth, mm."""
    material: str
    """Strength class or name."""
    of_sheet: bool | None = None
    """That they are strips of a sheet, `section` its thickness and their width: no lengths of them are sold,
    and none are planned."""
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
