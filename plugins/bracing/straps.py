"""Steel straps in pairs: two that cross on one face of the frame, each in tension by turns."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import Field

from soleplate.engine.rules import (
    PRACTICE,
    AnyLength,
    Brace,
    Braced,
    Goods,
    GoodsKind,
    Limits,
    Outline,
    Strap,
    Wall,
    bounds,
)
from soleplate.plugins.bracing.diagonals import Diagonal, Rises, corner_to_corner, from_corner, whole_band
from soleplate.plugins.bracing.let_in import corners_of, every_so_far, top_at
from soleplate.plugins.bracing.placing import Diagonals

STRAP: Final = GoodsKind("bracing strap", "m", 0.05, PRACTICE)
TENSIONER: Final = GoodsKind("strap tensioner", "piece", 0.0, PRACTICE)
NAIL: Final = GoodsKind("strap nail", "piece", 0.1, PRACTICE)
NAIL_SIZE: Final = (2.8, 30.0)
"""mm (common practice, no source)."""

AT_ENDS: Final = 4
AT_CROSSINGS: Final = 2
"""Nails at each end, some of them where the strap is wrapped round the plate, and at each stud (common
practice, no source)."""


class StrapPairs(Diagonals):
    """Two steel straps that cross on one face, wrapped round both plates and drawn tight.

    A strap only pulls, so one of a pair works whichever way the wall is pushed. Straps are goods, and are
    bought by the metre, wraps and some spare counted.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "straps"},
        {"rule": "straps", "ends": "left", "angle": 50, "face": "inside", "tensioners": False},
    )
    least: ClassVar[float] = 30.0
    most: ClassVar[float] = 60.0

    rule: Literal["straps"] = "straps"
    angle: Annotated[float, Field(ge=30.0, le=60.0)] | None = None
    """From level, in degrees, of the one that rises from the end; else as near to 45 as there is room for.
    Flatter or steeper than 30 to 60, a strap hardly holds (common practice, no source)."""
    width: Annotated[AnyLength, Limits(10.0, 100.0)] = 30.0
    """Across a strap: 30 mm (AS 1684, as the Housing Industry Association of Australia restates it)."""
    thickness: Annotated[AnyLength, Limits(0.3, 3.0)] = 0.8
    """Of the steel: 0.8 mm (from the same)."""
    wrap: Annotated[AnyLength, Limits(0.0, 500.0)] | None = None
    """What goes round each plate; else as much as the wall is deep."""
    face: Literal["outside", "inside"] = "outside"
    """The face of the frame that they lie on."""
    tensioners: bool = True
    """Whether each has a tensioner, by which it is drawn tight once the wall is plumb."""

    def brace_wall(self, wall: Wall) -> Braced:
        """Return the straps of a wall; see `BracingRule`.

        Raises:
            CannotFrame: there is no room for a pair.
        """
        braces, found = self._placed(wall)
        nails = sum(2 * AT_ENDS + AT_CROSSINGS * len(brace.crossed(wall.members)) for brace in braces)
        tight = [Goods(TENSIONER, float(len(braces)), (self.width,))] if self.tensioners else []
        goods = (*tight, Goods(NAIL, float(nails), NAIL_SIZE))
        return Braced(tuple(braces), goods=goods, findings=tuple(found))

    def _corners(self, wall: Wall, rises: Rises) -> Sequence[float]:
        return corners_of(wall, rises)

    def _off_studs(self, wall: Wall, rises: Rises) -> Sequence[float]:
        return every_so_far(wall, rises)

    def _angle_between(self, wall: Wall, foot: float, head: float) -> float | None:
        made = corner_to_corner((foot, 0.0), (head, top_at(wall, head)), self.width)
        return None if made is None else made.angle

    def _in_the_way(self, wall: Wall) -> Sequence[tuple[str, Outline]]:
        """Nothing but openings: straps lie over the timbers."""
        return ()

    def _laid(self, wall: Wall, foot: float, angle: float, rises: Rises) -> tuple[Brace, ...]:
        one = from_corner((foot, 0.0), angle, rises, self.width)
        outline = whole_band(wall, one)
        if outline is None:
            return ()
        left, right, _, _ = bounds(outline)
        far = right if rises == "right" else left
        other = corner_to_corner((far, 0.0), (foot, top_at(wall, foot)), self.width)
        if other is None or not self.least <= other.angle <= self.most:
            return ()
        pair = [self._strap(wall, diagonal) for diagonal in (one, other)]
        return tuple(each for each in pair if each is not None) if None not in pair else ()

    def _strap(self, wall: Wall, diagonal: Diagonal) -> Brace | None:
        outline, ends = whole_band(wall, diagonal), diagonal.centre_line(wall.outline)
        if outline is None or ends is None:
            return None
        wrap = wall.section.depth if self.wrap is None else self.wrap
        return Brace(
            foot=ends[0],
            head=ends[1],
            width=self.width,
            length=diagonal.length(outline),
            outline=outline,
            strap=Strap(STRAP, self.face, self.thickness, wrap),
            at_ends=AT_ENDS,
            at_crossings=AT_CROSSINGS,
        )
