"""Floors as they come out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from soleplate.engine.layout.pieces import Piece
from soleplate.engine.layout.result import Record
from soleplate.engine.layout.walls import (
    BayOut,
    CladdingOut,
    CourseOut,
    Mark,
    OpeningOut,
    PlateLength,
    Spacer,
    ViewOut,
)
from soleplate.engine.shapes import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class FloorOut(Record):
    """A framed floor, seen from above. Its frame's plane is a `plan`, in which u and v run over the joists.

    What is said of the left end or the lower edge is said of that plane: of joists from front to back u runs
    along the front from the left and v from front to back; of joists from left to right u runs from front to
    back, and v from the right side to the left.
    """

    name: str
    """What it is called."""
    kind: Literal["floor"] = "floor"
    """What it is among the parts."""
    length: float
    """Of its frame along the front, mm."""
    width: float
    """Of its frame from front to back, mm."""
    display: str
    """Both as a person reads them."""
    runs: Literal["front-back", "left-right"]
    """The way that its joists run."""
    views: dict[str, ViewOut]
    """The planes in which its pieces are told, by name."""
    rules: dict[str, str]
    """The rules used, by what they do."""
    pieces: tuple[Piece, ...]
    """All of its timber and its deck."""
    marks: dict[str, tuple[Mark, ...]]
    """By rim joist: from its left end to the near face of each joist."""
    plate_lengths: tuple[PlateLength, ...]
    """The same by the lengths that each rim joist is jointed of."""
    bays: tuple[BayOut, ...]
    """Clear gaps between joists that reach the first rim joist, from its left end."""
    spacers: tuple[Spacer, ...]
    """Blocks to set its bays by."""
    openings: tuple[OpeningOut, ...] = ()
    """Its hatches, in its plan."""
    deck: CladdingOut | None = None
    """Where it is decked."""
    courses: tuple[CourseOut, ...] = ()
    """Of its boards, upwards in its plan."""
    pads: tuple[Point, ...] = ()
    """Centres of the pads under its bearers, X and Y in the world, mm."""
    pad_size: float | None = None
    """Side of a pad, mm."""
    diagonal: float
    """From corner to corner of its frame, mm: both alike, it is square."""
    diagonal_display: str
    """The same as a person reads it."""
    deck_m2: float = 0.0
    """Of its deck as laid."""
    insulation_m2: float | None = None
    """Between its timbers, where insulation was asked for."""
    insulation: float | None = None
    """How thick that is, mm."""
    weight_kg: float
    """Of its pieces, kg."""
