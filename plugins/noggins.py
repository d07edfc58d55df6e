"""Noggin rules: rows of short pieces between studs, straight or staggered."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Iterable, Iterator, Sequence
from typing import Annotated, Final, Literal, Self

from pydantic import Field, model_validator

from soleplate.engine.geometry import TOUCH
from soleplate.engine.hookspecs import hookimpl
from soleplate.engine.members import EndFixing
from soleplate.engine.model import Length, Limits, unbuildable
from soleplate.engine.rules import Bay, NogginPlace, NogginRule, StuddedWall

THROUGH: Final = EndFixing(2, "through")
SKEWED: Final = EndFixing(2, "skew")
"""Two fixings at an end at least, so that a noggin can't turn (common practice, no source)."""

Height = Annotated[Length, Limits(20.0, 20_000.0)]


class NogginRows(NogginRule):
    """Rows of noggins: by number, at heights, or behind the horizontal edges of sheets."""

    rows: Annotated[int, Field(ge=1, le=10)] | None = None
    """How many rows, evenly between the plates; one where nothing else is given."""
    heights: Annotated[tuple[Height, ...], Field(min_length=1, max_length=10, strict=False)] | None = None
    """The rows' centre lines, from the underside of the sole plate."""
    behind_sheets: Annotated[Length, Limits(300.0, 6_000.0)] | None = None
    """The height of a sheet: a row behind every horizontal edge."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if sum(value is not None for value in (self.rows, self.heights, self.behind_sheets)) > 1:
            raise unbuildable("accepted is one of rows, heights and behind_sheets")
        return self

    def lines(self, wall: StuddedWall) -> list[float]:
        """The rows' centre lines, mm."""
        if self.heights is not None:
            return sorted(self.heights)
        if self.behind_sheets is not None:
            top = wall.underside.highest(0.0, wall.length)
            return [self.behind_sheets * k for k in range(1, int(top // self.behind_sheets) + 1)]
        rows = self.rows or 1
        bottom, top = wall.sole_thickness, wall.underside.lowest(0.0, wall.length)
        return [bottom + (top - bottom) * k / (rows + 1) for k in range(1, rows + 1)]

    def place_noggins(self, wall: StuddedWall) -> Sequence[NogginPlace]:
        """Every row over every bay at its height."""
        return [
            place for line in self.lines(wall) for place in self.row(wall.bays_at(line), line, wall.breadth)
        ]

    @abstractmethod
    def row(self, bays: Sequence[Bay], line: float, thickness: float) -> Iterator[NogginPlace]:
        """The noggins of one row."""


class StraightNoggins(NogginRows):
    """Noggins in line; where two meet at a stud, the second one is skewed."""

    rule: Literal["straight"] = "straight"
    """Picks this rule."""

    examples = ({"rule": "straight", "heights": [1200]}, {"rule": "straight", "behind_sheets": 1200})

    def row(self, bays: Sequence[Bay], line: float, thickness: float) -> Iterator[NogginPlace]:
        """All on the line."""
        for index, bay in enumerate(bays):
            is_next = index > 0 and bay.left - bays[index - 1].right < 2 * thickness + TOUCH
            yield NogginPlace(bay, line - thickness / 2, (SKEWED if is_next else THROUGH, THROUGH))


class StaggeredNoggins(NogginRows):
    """Noggins by turns above and below the line, so that both ends are fixed straight through the stud."""

    rule: Literal["staggered"] = "staggered"
    """Picks this rule."""
    start: Literal["left", "right"] = "left"
    """The end whose first noggin is above the line."""

    examples = ({"rule": "staggered", "rows": 1},)

    def row(self, bays: Sequence[Bay], line: float, thickness: float) -> Iterator[NogginPlace]:
        """By turns on the line and under it."""
        for index, bay in enumerate(bays):
            turn = index if self.start == "left" else len(bays) - 1 - index
            yield NogginPlace(bay, line if turn % 2 == 0 else line - thickness, (THROUGH, THROUGH))


@hookimpl
def register_noggin_rules() -> Iterable[type[NogginRule]]:
    """The noggin rules that ship with Soleplate."""
    return [StraightNoggins, StaggeredNoggins]
