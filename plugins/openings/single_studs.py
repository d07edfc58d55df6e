"""Openings between single studs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar, Literal

from soleplate.engine.rules import (
    FramedOpening,
    Hole,
    OpeningRule,
    Wall,
    level,
)
from soleplate.plugins.openings.fitting import (
    full_stud,
    over_head,
    refuse_ends,
    refuse_flat,
    refuse_low,
    sill_of,
)


class SingleStuds(OpeningRule):
    """One full stud at each side, a flat head and a flat sill between them, and cripples above and below.

    For light walls and narrow openings: nothing but the head carries what is above.
    """

    frames_hatches: ClassVar[bool] = True
    usual_for_hatches: ClassVar[bool] = True
    examples: ClassVar[Sequence[Mapping[str, Any]]] = ({"rule": "single-studs"},)

    rule: Literal["single-studs"] = "single-studs"

    def frame_opening(self, hole: Hole, wall: Wall) -> FramedOpening:
        """Return the framing, mm; see `OpeningRule`.

        Raises:
            CannotFrame: studs, head or sill do not fit in.
        """
        breadth = wall.breadth
        top = hole.top + breadth
        refuse_flat(hole, wall)
        refuse_ends(hole, wall, breadth, "stud")
        refuse_low("head", top, hole.left, hole.right, wall)
        sill, under, reported = sill_of(hole, wall)
        over, more = over_head(hole.left, hole.right, top, wall)
        return FramedOpening(
            members=(
                full_stud("stud", hole.left - breadth, wall),
                full_stud("stud", hole.right, wall),
                level("head", wall.section, (hole.left, hole.right, hole.top, top), wall.through_wall),
                *sill,
            ),
            left=hole.left - breadth,
            right=hole.right + breadth,
            over=over,
            under=under,
            findings=(*reported, *more),
        )
