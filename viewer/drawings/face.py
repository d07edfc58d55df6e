"""The wall's face on the drawing: from (x, z), z up, to the drawing's (x, y), y down; 1 unit is 1 mm.

The underside of the sole plate is the drawing's y 0. Seen from inside, x is mirrored; texts are set by
their place alone and so stay readable.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import svg

from soleplate.engine.building_file import Units
from soleplate.engine.layout import Piece, WallOut
from soleplate.engine.shapes import Point
from soleplate.viewer.drawings.lettering import LetteringBox
from soleplate.viewer.words import Texts

Side = Literal["outside", "inside"]


@dataclass(frozen=True, slots=True)
class Face:
    """A wall as it is drawn from one side, with the size of its lettering in mm."""

    wall: WallOut
    side: Side
    units: Units
    texts: Texts
    lettering: float | None = None
    """Size of the lettering where the paper says it, mm; else it goes by the wall."""

    @property
    def length(self) -> float:
        """Of the wall, mm."""
        return self.wall.length

    @property
    def frame(self) -> list[Piece]:
        """The wall's timbers, without its cladding and lining."""
        return [piece for piece in self.wall.pieces if piece.is_frame]

    @property
    def cladding(self) -> list[Piece]:
        """The battens, boards and sheets outside."""
        return self.on("outside")

    def on(self, facing: Side) -> list[Piece]:
        """The battens, boards and sheets on one face of the frame."""
        return [piece for piece in self.wall.pieces if piece.face == facing]

    @property
    def drop(self) -> float:
        """How far cladding reaches below the sole plate, mm."""
        return max(0.0, -self.wall.cladding.bottom) if self.wall.cladding else 0.0

    @property
    def height(self) -> float:
        """The wall's greatest, mm."""
        return max(z for _, z in self.wall.top_line)

    @property
    def size(self) -> float:
        """Of the lettering: in proportion to the wall, and within what can be told beside a stud."""
        if self.lettering is not None:
            return self.lettering
        return min(max(self.length / 64, self.height / 44, 46.0), 90.0)

    def x(self, x: float) -> float:
        """Across the drawing."""
        return x if self.side == "outside" else self.length - x

    def point(self, point: Point) -> svg.Point:
        """A place of the face on the drawing."""
        return svg.Point(self.x(point[0]), -point[1] + 0.0)

    def points(self, outline: Sequence[Point]) -> list[svg.Point]:
        """A line or an outline on the drawing."""
        return [self.point(point) for point in outline]

    def box(self, left: float, right: float, bottom: float, top: float) -> LetteringBox:
        """An upright rectangle of the face on the drawing."""
        one, other = self.x(left), self.x(right)
        return LetteringBox(min(one, other), max(one, other), -top, -bottom)
