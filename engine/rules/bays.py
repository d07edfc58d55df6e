"""Bays: the clear spaces between uprights."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from soleplate.engine.shapes import Member, TopLine, span_at


@dataclass(frozen=True, slots=True)
class Bay:
    """The clear space between two uprights at some height, mm."""

    left: float
    right: float

    @property
    def clear(self) -> float:
        """Mm."""
        return self.right - self.left


def bays_at(
    height: float, members: Sequence[Member], openings: Sequence[tuple[float, float]], underside: TopLine
) -> tuple[Bay, ...]:
    """The bays at a height, left to right; those that an opening or a piece lies in are left out.

    Args:
        height: above the part's lower edge, mm.
        members: of the part.
        openings: from left to right, of those at that height, mm.
        underside: where uprights end; one that does counts above its top too.
    """

    def reaches_up(member: Member) -> bool:
        return member.is_upright and abs(member.top - underside.highest(member.left, member.right)) < 1.0

    crossing = [
        member for member in members if member.bottom < height and (height < member.top or reaches_up(member))
    ]
    uprights = sorted((member.left, member.right) for member in crossing if member.is_upright)
    # A raked plate is in the way only where it lies at that height.
    taken = [span_at([(z, x) for x, z in m.outline], height) for m in crossing if not m.is_upright]
    taken += openings
    bays: list[Bay] = []
    reach = uprights[0][1] if uprights else 0.0
    for left, right in uprights[1:]:
        if left > reach + 1.0 and not any(a < left - 0.01 and b > reach + 0.01 for a, b in taken):
            bays.append(Bay(reach, left))
        reach = max(reach, right)
    return tuple(bays)
