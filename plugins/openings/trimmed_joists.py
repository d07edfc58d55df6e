"""Hatches in floors and roof windows: between whole joists or rafters, doubled where asked, and trimmers."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar, Literal

from soleplate.engine.rules import (
    TOUCH,
    CannotFrame,
    Cripples,
    FramedOpening,
    Hole,
    Mm,
    OpeningRule,
    Wall,
    at_least,
    level,
)
from soleplate.plugins.openings.fitting import full_stud


class TrimmedJoists(OpeningRule):
    """Whole joists at both sides of a hatch, trimmer joists across its ends, and cut joists up to those.

    A doubled joist carries what the trimmers bring to it. It frames windows of level walls in the same way.
    """

    frames_hatches: ClassVar[bool] = True
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "trimmed-joists"},
        {"rule": "trimmed-joists", "doubled": False},
    )

    rule: Literal["trimmed-joists"] = "trimmed-joists"
    doubled: bool = True
    """Whether there are two joists at each side."""

    def frame_opening(self, hole: Hole, wall: Wall) -> FramedOpening:
        """Return the framing, mm; see `OpeningRule`.

        Raises:
            CannotFrame: joists or trimmers do not fit in.
        """
        breadth = wall.breadth
        beside = (2 if self.doubled else 1) * breadth
        _refuse_sides(hole, wall, beside)
        lowest, highest = wall.sole_thickness, wall.underside.lowest(hole.left, hole.right)
        if hole.bottom - breadth < lowest - TOUCH or hole.top + breadth > highest + TOUCH:
            raise CannotFrame(
                "there is no room for trimmers of {breadth} between it and the timbers that joists end at;"
                " accepted is one that is {room} further from them",
                breadth=Mm(breadth),
                room=at_least(max(lowest + breadth - hole.bottom, hole.top + breadth - highest), ".1f"),
            )
        lefts = [hole.left - breadth, hole.right]
        if self.doubled:
            lefts += [hole.left - 2 * breadth, hole.right + breadth]
        trimmers = [
            level("head", wall.section, (hole.left, hole.right, bottom, bottom + breadth), wall.through_wall)
            for bottom in (hole.bottom - breadth, hole.top)
        ]
        return FramedOpening(
            members=(*(full_stud("stud", left, wall) for left in sorted(lefts)), *trimmers),
            left=hole.left - beside,
            right=hole.right + beside,
            over=Cripples(hole.left, hole.right, hole.top + breadth),
            under=Cripples(hole.left, hole.right, hole.bottom - breadth),
        )


def _refuse_sides(hole: Hole, wall: Wall, beside: float) -> None:
    """Refuse joists that do not fit in beside the one at the end; they may take its place."""
    for side, room in (("left", hole.left), ("right", wall.length - hole.right)):
        if abs(room - beside) <= TOUCH or room >= beside + wall.breadth - TOUCH:
            continue
        raise CannotFrame(
            "there are {room} from it to the {side} end, and its joists there take {beside}; accepted is"
            " {beside} exactly, where they take the end one's place, or at least {least}",
            room=Mm(room, ".1f"),
            side=side,
            beside=Mm(beside),
            least=at_least(beside + wall.breadth),
        )
