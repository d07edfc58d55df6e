"""How boards move across the grain as their moisture changes.

Lengths are mm, moisture is in per cent of the dry weight. All is proportional, as the sources take it;
timber along its grain hardly moves and is left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, NamedTuple

from soleplate.engine.building_file import Mm
from soleplate.engine.rules.findings import Finding, FindingKind


class Rate(NamedTuple):
    """A rate of movement and where it is published."""

    value: float
    source: str


EN_336: Final = "EN 336: 0.25 % of the width for each 1 % of moisture (European redwood and whitewood)"
FLOORING: Final = "Wood Handbook (1987), tangential, as restated in flooring tables"
HANDBOOK: Final = "Wood Handbook (FPL-GTR-190) Table 13-5, tangential"

ACROSS_GRAIN: Final = {
    "softwood": Rate(0.0025, EN_336),
    "Douglas fir": Rate(0.00267, FLOORING),
    "southern yellow pine": Rate(0.00265, FLOORING),
    "heart pine": Rate(0.00263, FLOORING),
    "red alder": Rate(0.00256, HANDBOOK),
    "red oak": Rate(0.00369, HANDBOOK),
    "white oak": Rate(0.00365, HANDBOOK),
    "chestnut": Rate(0.00234, HANDBOOK),
}
"""Change of width for each 1 % of moisture, as a share of the width, of flat-sawn boards, which move most.
The table holds from 6 to 14 % of moisture, EN 336 up to 30 %."""


def across_grain(material: str) -> Rate:
    """The rate of a timber, and the general one of softwood for a name that is not known."""
    return ACROSS_GRAIN.get(material, ACROSS_GRAIN["softwood"])


def width_change(width: float, moisture: float, rate: float) -> float:
    """How much wider (or, with less moisture, narrower) a board gets, mm.

    Width times rate times change of moisture: the Wood Handbook's eq 13-2.

    Args:
        width: across the grain, mm.
        moisture: change in per cent; negative where it dries.
        rate: for each 1 %, as a share; see `ACROSS_GRAIN`.
    """
    return width * rate * moisture


@dataclass(frozen=True, slots=True)
class BoardMovement:
    """What a board's width does over a swing of moisture, and the gap left for it; mm."""

    width: float
    swing: float
    change: float
    gap: float | None
    source: str

    @property
    def is_enough(self) -> bool:
        """Whether the gap takes up the change; so too where boards lap and have none."""
        return self.gap is None or self.gap >= self.change


def board_movement(
    width: float, swing: float, gap: float | None = None, material: str = "softwood"
) -> BoardMovement:
    """The change of a board's width over a swing of moisture, beside the gap.

    Args:
        width: of the board, mm.
        swing: from driest to wettest in use, in per cent of moisture, at least 0.
        gap: between boards, mm; `None` where they lap freely.
        material: a name of `ACROSS_GRAIN`; any other counts as softwood.
    """
    rate = across_grain(material)
    return BoardMovement(width, swing, abs(width_change(width, swing, rate.value)), gap, rate.source)


_CHANGE: Final = "a board of {width} changes by {change} in width over {swing:g} % of moisture"

FREE: Final = FindingKind("board-movement", "note", EN_336, f"{_CHANGE}; fix each board so that it can move")
ENOUGH: Final = FindingKind(
    "board-movement", "note", EN_336, f"{_CHANGE}; the gap of {{gap}} between boards takes it up"
)
TOO_LITTLE: Final = FindingKind(
    "board-movement",
    "warn",
    EN_336,
    f"{_CHANGE}, and the gap between boards is {{gap}}; leave more, or fix the boards wet",
)


def movement_finding(movement: BoardMovement, part: str | None, where: str) -> Finding:
    """What is to be said of a board's movement: a note, or a warning where the gap is less than it.

    `part` is the one wall it concerns, if so; `where` is what the sentence begins with, such as the names of
    several walls.
    """
    kind = FREE if movement.gap is None else ENOUGH if movement.is_enough else TOO_LITTLE
    gap = movement.gap if movement.gap is not None else 0.0
    return kind.of(
        part=part,
        value=round(movement.change, 3),
        limit=movement.gap,
        basis=movement.source,
        width=Mm(movement.width),
        change=Mm(movement.change, ".1f"),
        swing=movement.swing,
        gap=Mm(gap),
    ).after(where)
