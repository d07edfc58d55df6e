"""Slopes of a roof as they come out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from soleplate.engine.layout.pieces import Piece
from soleplate.engine.layout.result import Record
from soleplate.engine.layout.walls import (
    BayOut,
    Change,
    CladdingOut,
    CourseOut,
    Mark,
    OpeningOut,
    PlateLength,
    Spacer,
    ViewOut,
)


@dataclass(frozen=True, slots=True, kw_only=True)
class RafterCardOut(Record):
    """What a rafter of a slope is set out by: all figures from its low plumb cut, along its upper edge."""

    blank: float
    """Over its long points, mm."""
    short_length: float
    """Over its short points, mm."""
    plumb_cut: float
    """Its depth measured plumb, mm."""
    pitch: float
    """Degrees off level; so much off square are the plumb cuts."""
    rise_in_12: float
    """The same as a rise in a run of 12."""
    hap: float
    """What is left over a birdsmouth's heel, plumb, mm."""
    seat: float
    """A birdsmouth's level face on a plate, mm."""
    heel: float
    """Its plumb face, mm."""
    marks: tuple[float, ...]
    """The low plumb cut, the plumb line of each heel and the upper plumb cut, mm."""
    displays: tuple[str, ...]
    """The marks as a person reads them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CoveringPartOut(Record):
    """One sheet or strip of a covering as it lies, mm.

    It is told along the eaves from the outline's corner, and up the slope from over the outer face of the
    wall under the eaves.
    """

    left: float
    """Seen from outside."""
    right: float
    """Seen from outside."""
    bottom: float
    """Negative past the wall."""
    top: float
    """Up the slope."""
    cut_to: float | None = None
    """How wide it is cut, where it is narrower than it is bought."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CoveringOut(Record):
    """What covers a slope, counted."""

    kind: Literal["sheet", "roll"]
    """Sheets side by side, or strips from rolls one above the other."""
    sheets: int | None = None
    """How many sheets."""
    rolls: int | None = None
    """How many strips of a roll."""
    width: float
    """Of a sheet or roll over all, mm."""
    piece_length: float
    """Of a sheet or strip, mm."""
    lap: float
    """Of each over the one laid before it, mm."""
    overhang: float
    """How far it reaches past the lower edge of what it lies on, mm."""
    parts: tuple[CoveringPartOut, ...]
    """Every sheet or strip, in the order in which they are laid."""
    battens: int = 0
    """How many rows of battens."""
    first_batten: float | None = None
    """The middle of the lowest, up the slope as `parts` are told, mm."""
    gauge: float | None = None
    """From centre to centre of the battens, mm."""
    area_m2: float
    """Of what is covered."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClosingOut(Record):
    """What stays open over the blocks, or beside the soffits, that close the eaves of a slope."""

    gap: float
    """Over blocks, square to the deck; beside soffits level, mm."""
    free_mm2_each_m: float
    """The area of the gap for each metre of eaves, rafters taken off: where there are two eaves, the less."""
    mesh_m: float
    """How long all gaps are, those on raked plates too, m."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SlopeOut(Record):
    """A framed slope of a roof."""

    name: str
    """What it is called: by the wall under its eaves."""
    kind: Literal["slope"] = "slope"
    """What it is among the parts."""
    length: float
    """Of its side of the outline, mm."""
    display: str
    """The length as a person reads it."""
    views: dict[str, ViewOut]
    """The planes in which its pieces are told, by name."""
    rules: dict[str, str]
    """The rules used, by what they do."""
    pieces: tuple[Piece, ...]
    """All of its timber and its deck."""
    marks: dict[str, tuple[Mark, ...]]
    """By plate: to the near face of each rafter on it, from the outline's left corner seen from outside."""
    plate_lengths: tuple[PlateLength, ...] = ()
    """The same of each plate as a whole, which is of the wall under it and has its own lengths there."""
    bays: tuple[BayOut, ...]
    """Clear gaps between rafters."""
    spacers: tuple[Spacer, ...]
    """Blocks to set its bays by."""
    openings: tuple[OpeningOut, ...] = ()
    """Its roof windows."""
    deck: CladdingOut | None = None
    """Where it is decked."""
    courses: tuple[CourseOut, ...] = ()
    """Of its boards, upwards."""
    card: RafterCardOut
    """What its rafters are set out by; where it was measured out of parallel, one in the middle."""
    changes: tuple[Change, ...] = ()
    """What was changed by measuring it."""
    closing: ClosingOut | None = None
    """Where blocks or soffits close its eaves."""
    insulation: float | None = None
    """How thick insulation between its rafters is, mm; none without it."""
    insulation_m2: float | None = None
    """What rafters, noggins and windows leave for it."""
    vapour_m2: float | None = None
    """Of the layer that checks vapour under it."""
    covering: CoveringOut | None = None
    """Where it has a covering."""
    deck_m2: float = 0.0
    """Of its deck as laid."""
    weight_kg: float
    """Of its pieces, kg."""
