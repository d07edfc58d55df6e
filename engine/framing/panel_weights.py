"""How heavy panels are, before it is known where a wall is broken."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from soleplate.engine.building_file import Timber
from soleplate.engine.framing.breaking import broken
from soleplate.engine.framing.infill import Infill
from soleplate.engine.framing.jointing import cut_at
from soleplate.engine.framing.part import weight_of
from soleplate.engine.rules import Wall
from soleplate.engine.shapes import TOUCH, Member


class PanelWeights:
    """The weight of each panel that a wall may be broken into, kg.

    What a break changes lies beside it. So what is left of one break and what is right of another, less the
    whole wall, is what lies between.

    Args:
        wall: with its plates.
        infill: of the wall in one piece.
        divided: its plates that breaks divide, each whole.
        timber: what its members are of that do not say.
    """

    def __init__(self, wall: Wall, infill: Infill, divided: Sequence[Member], timber: Timber) -> None:
        members = (*infill.uprights, *infill.noggins, *divided)
        self._length = wall.length
        self.whole = sum(weight_of(member, timber) for member in members)

        @cache
        def sides(x: float) -> tuple[float, float]:
            there = broken(wall, infill, (x,))
            parts = (part for plate in divided for part in cut_at(plate, _within(plate, x)))
            left = right = 0.0
            for member in (*there.uprights, *there.noggins, *parts):
                if member.right < x + TOUCH:
                    left += weight_of(member, timber)
                else:
                    right += weight_of(member, timber)
            return left, right

        self._sides = sides

    def between(self, left: float, right: float) -> float:
        """The weight of the panel from one place to another, kg."""
        before = self._sides(right)[0] if right < self._length else self.whole
        after = self._sides(left)[1] if left > 0.0 else self.whole
        return before + after - self.whole


def _within(plate: Member, x: float) -> tuple[float, ...]:
    return (x,) if plate.left + TOUCH < x < plate.right - TOUCH else ()
