"""What keeps walls from racking, as it comes out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from soleplate.engine.layout.result import Record
from soleplate.engine.shapes import Point


@dataclass(frozen=True, slots=True, kw_only=True)
class StrapOut(Record):
    """A steel strap that braces."""

    kind: str
    """What it is called."""
    face: Literal["outside", "inside"]
    """The face of the frame that it lies on."""
    thickness: float
    """Of it, mm."""
    wrap: float
    """What goes round each plate besides its length, mm."""
    outline: tuple[Point, ...]
    """What it covers of that face: (x, z), anticlockwise, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BraceOut(Record):
    """One brace of a wall."""

    kind: Literal["cut in", "let in", "strap"]
    """Pieces between the studs in one line, a board let into them, or a steel strap on a face."""
    rule: str
    """The rule that set it."""
    rises: Literal["left", "right"]
    """Which way, seen from outside."""
    angle: float
    """From level, degrees."""
    foot: Point
    """The lower end of its centre line: (x, z), mm."""
    head: Point
    """The upper end."""
    width: float
    """Across it, mm."""
    length: float
    """Over its long points, mm."""
    display: str
    """The length as a person reads it."""
    pieces: tuple[str, ...] = ()
    """The marks of its timbers."""
    crosses: tuple[str, ...] = ()
    """The marks of the uprights that it crosses, left to right."""
    at_ends: int = 0
    """Nails at each end; 0 where its pieces tell how they are fixed."""
    at_crossings: int = 0
    """Nails at each upright that it crosses."""
    strap: StrapOut | None = None
    """Of a strap, what else there is to it."""
