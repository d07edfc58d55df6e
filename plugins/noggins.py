"""Rules that set noggins: short level pieces between studs, against twisting and behind sheet edges."""

from __future__ import annotations

import itertools
import math
from abc import ABC
from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, ClassVar, Final, Literal, Self

from pydantic import Field, model_validator

from soleplate.engine.rules import (
    NAILING_ROOM,
    TOUCH,
    AnyLength,
    Bay,
    CannotFrame,
    EndFixing,
    Items,
    Limits,
    Mm,
    NogginPlace,
    NogginRule,
    Wall,
    at_least,
    hookimpl,
    unbuildable,
)

MOST_ROWS: Final = 100
"""Behind sheets: more is a slip of the unit."""

THROUGH: Final = EndFixing(2, "through")
SKEWED: Final = EndFixing(2, "skew")
"""Two at an end, so that the noggin cannot turn (common practice, no source)."""


class Rows(NogginRule, ABC):
    """Base of the rules that set noggins in rows: give one of `rows`, `heights` and `behind_sheets`."""

    rows: Annotated[int, Field(ge=1, le=10)] | None = None
    """How many, evenly between the sole plate and the lowest point of the top plate; 1 if none is given."""
    heights: (
        Annotated[
            tuple[Annotated[AnyLength, Limits(1.0, 20_000.0)], ...],
            Items(1, 10),
        ]
        | None
    ) = None
    """The rows' centre lines, from the underside of the sole plate."""
    behind_sheets: Annotated[AnyLength, Limits(300.0, 20_000.0)] | None = None
    """Height of the sheets: a row is centred on every joint between them, counted from the wall's foot."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        given = [self.rows, self.heights, self.behind_sheets]
        if sum(value is not None for value in given) > 1:
            raise unbuildable("accepted is one of rows, heights and behind_sheets")
        return self

    def behind(self) -> float | None:
        """Return `behind_sheets`; see `NogginRule`."""
        return self.behind_sheets

    def lines(self, wall: Wall) -> list[float]:
        """The centre lines of the rows, mm, upwards.

        Raises:
            CannotFrame: two rows are so near that their noggins overlap, or there are too many.
        """
        lines = self._wanted(wall)
        least = self.row_height(wall.breadth)
        for one, other in itertools.pairwise(lines):
            if other - one < least - TOUCH:
                raise CannotFrame(
                    "the rows of noggins at {one} and {other} overlap; accepted are rows at least {least}"
                    " apart",
                    one=Mm(one, ".0f", bare=True),
                    other=Mm(other, ".0f"),
                    least=at_least(least),
                )
        return lines

    def _wanted(self, wall: Wall) -> list[float]:
        if self.heights is not None:
            return sorted(self.heights)
        bottom, line = wall.sole_thickness, wall.underside
        if self.behind_sheets is not None:
            half = wall.breadth / 2
            count = math.floor((line.highest(0.0, wall.length) - half + TOUCH) / self.behind_sheets)
            if count > MOST_ROWS:
                raise CannotFrame(
                    f"{count} rows of noggins; accepted are up to {MOST_ROWS}: use higher sheets"
                )
            joints = [k * self.behind_sheets for k in range(1, count + 1)]
            return [joint for joint in joints if joint - half >= bottom - TOUCH]
        rows = self.rows if self.rows is not None else 1
        top = line.lowest(0.0, wall.length)
        return [bottom + (top - bottom) * row / (rows + 1) for row in range(1, rows + 1)]

    def row_height(self, breadth: float) -> float:
        """How high a row is over all, mm, of noggins `breadth` mm thick."""
        return breadth


def _bays(wall: Wall, line: float) -> list[Bay]:
    """The bays of a row that are wide enough to nail in.

    Of a row over the whole wall the bays are those at half height: the engine leaves its noggins out, and
    reports them.
    """
    over = line >= wall.underside.highest(0.0, wall.length)
    height = (wall.sole_thickness + wall.underside.lowest(0.0, wall.length)) / 2 if over else line
    return [bay for bay in wall.bays_at(height) if bay.clear >= NAILING_ROOM]


class Straight(Rows):
    """Noggins in a straight line, as edges of sheets need them.

    Next to each other they can't all be nailed through both studs. A row is set from the left: its first
    noggin is nailed through at both ends, the others at the right, and skewed at the left, where the noggin
    before is in the way.
    """

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "straight", "rows": 2},
        {"rule": "straight", "heights": [1200]},
        {"rule": "straight", "behind_sheets": 1200},
    )

    rule: Literal["straight"] = "straight"

    def place_noggins(self, wall: Wall) -> Sequence[NogginPlace]:
        """Return the noggins, row by row; see `NogginRule`.

        Raises:
            CannotFrame: rows overlap, or are too many.
        """
        return [place for line in self.lines(wall) for place in self._row(wall, line)]

    @staticmethod
    def _row(wall: Wall, line: float) -> Iterator[NogginPlace]:
        reach = -math.inf
        for bay in _bays(wall, line):
            blocked = bay.left - reach <= 2 * wall.breadth + TOUCH
            yield NogginPlace(bay, line - wall.breadth / 2, (SKEWED if blocked else THROUGH, THROUGH))
            reach = bay.right


class Staggered(Rows):
    """Noggins alternately above and below a line, so that both ends can be nailed straight through."""

    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        {"rule": "staggered", "rows": 1},
        {"rule": "staggered", "heights": [800, 1600], "start": "right"},
    )

    rule: Literal["staggered"] = "staggered"
    start: Literal["left", "right"] = "left"
    """The end of the wall at which the first noggin lies above the line."""

    @classmethod
    def begun_with(cls, rows: int) -> Mapping[str, Any]:
        """Return so many rows at even heights."""
        return {"rule": "staggered", "rows": rows}

    def row_height(self, breadth: float) -> float:
        """A noggin above the line and one below it, mm."""
        return 2 * breadth

    def place_noggins(self, wall: Wall) -> Sequence[NogginPlace]:
        """Return the noggins, row by row; see `NogginRule`.

        Raises:
            CannotFrame: rows overlap, or are too many.
        """
        places: list[NogginPlace] = []
        for line in self.lines(wall):
            bays = _bays(wall, line)
            for index, bay in enumerate(bays):
                step = index if self.start == "left" else len(bays) - 1 - index
                bottom = line if step % 2 == 0 else line - wall.breadth
                places.append(NogginPlace(bay, bottom, (THROUGH, THROUGH)))
        return places


@hookimpl
def register_rules() -> list[type[NogginRule]]:
    """Offer the rules of this module."""
    return [Straight, Staggered]
