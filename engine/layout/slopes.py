"""Slopes of a roof as they come out."""

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
    """By plate."""
    plate_lengths: tuple[PlateLength, ...] = ()
    """The same by the lengths that each plate is jointed of."""
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
    deck_m2: float = 0.0
    """Of its deck as laid."""
    weight_kg: float
    """Of its pieces, kg."""
