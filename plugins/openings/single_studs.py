"""Openings between single studs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar, Literal

from soleplate.engine.rules import (
    Beside,
    FramedOpening,
    Hole,
    Member,
    OpeningRule,
    Wall,
    level,
)
from soleplate.plugins.openings.fitting import (
    JAMB_STUD,
    bearings,
    full_stud,
    is_at_plate,
    or_at_plate,
    over_head,
    refuse_ends,
    refuse_flat,
    refuse_low,
    refuse_no_head,
    short_upright,
    sill_of,
)


class SingleStuds(OpeningRule):
    """One full stud at each side, a flat head and a flat sill between them, and cripples above and below.

    For light walls and narrow openings: nothing but the head carries what is above. Up to a top plate that
    carries no roof there is no head.
    """

    frames_hatches: ClassVar[bool] = True
    usual_for_hatches: ClassVar[bool] = True
    examples: ClassVar[Sequence[Mapping[str, Any]]] = ({"rule": "single-studs"},)

    rule: Literal["single-studs"] = "single-studs"

    def stands_beside(self, hole: Hole, wall: Wall) -> Beside:
        """Return one stud; see `OpeningRule`."""
        return Beside(0.0, wall.breadth)

    def frame_opening(self, hole: Hole, wall: Wall) -> FramedOpening:
        """Return the framing, mm; see `OpeningRule`.

        Raises:
            CannotFrame: studs, head or sill do not fit in.
        """
        breadth = wall.breadth
        top = hole.top + breadth
        sides = bearings(hole, 0, breadth)
        left, right = (side.end for side in sides)
        refuse_flat(hole, wall)
        refuse_ends(hole, wall, breadth, "stud")
        sill, under, found = sill_of(hole, wall)
        head: list[Member] = []
        over = None
        if is_at_plate(hole, wall):
            refuse_no_head(breadth, wall)
        else:
            refuse_low("head", top, left, right, wall, or_at_plate(hole, wall))
            over, more = over_head(left, right, top, wall)
            found += more
            head = [level("head", wall.section, (left, right, hole.top, top), wall.through_wall)]
        own = (hole.reach[0] is None, hole.reach[1] is None)
        studs = [
            full_stud("stud", place, wall)
            for place, stands in zip((hole.left - breadth, hole.right), own, strict=True)
            if stands
        ]
        jambs = [short_upright(JAMB_STUD, side.jamb, hole, wall) for side in sides if side.jamb is not None]
        return FramedOpening(
            members=(*studs, *jambs, *head, *sill),
            left=hole.left - breadth if own[0] else left,
            right=hole.right + breadth if own[1] else right,
            over=over,
            under=under,
            findings=tuple(found),
        )
