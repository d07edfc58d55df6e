"""What work takes, and how it goes into the dry hours that there are."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

from soleplate.engine.building_file import Building, WorkRates
from soleplate.engine.layout import (
    ClosedIn,
    FloorOut,
    Layout,
    Piece,
    SlopeOut,
    WallOut,
    WorkHours,
    WorkStep,
)
from soleplate.engine.raising.decks import deck_of
from soleplate.engine.raising.panels import outside_of
from soleplate.engine.shapes import area, rounded

EACH_MORE: Final = 0.8
"""Of person-hours: so many people take `1 / people ** EACH_MORE` of the time of one (invented)."""

ENDS: Final = 2
"""Joints of a piece that is no plate, one at each end."""

PLATES: Final = frozenset({"sole plate", "head plate", "raked plate", "rim joist", "bearer"})
"""Roles of pieces that others are joined to."""


@dataclass(frozen=True, slots=True)
class Work:
    """The person-hours of a building's work, by the site's rates."""

    rates: WorkRates
    layout: Layout

    def cutting(self) -> float:
        """All pieces of frames."""
        return self.rates.piece * sum(piece.is_frame for piece in self.layout.pieces)

    def joining(self, pieces: Iterable[Piece]) -> float:
        """A frame, of its pieces."""
        return self.rates.joint * ENDS * sum(piece.role not in PLATES for piece in pieces)

    def deck(self, parts: Iterable[FloorOut | SlopeOut]) -> float:
        """The decks of floors or slopes."""
        return self.rates.cladding_m2 * sum(part.deck_m2 for part in parts)

    def cladding(self, wall: WallOut, boards: Sequence[Piece]) -> float:
        """Some of the boards of a wall's outside: their share of its area, by weight."""
        every = sum(piece.weight_kg for piece in outside_of(wall))
        if wall.cladding is None or every <= 0.0:
            return 0.0
        share = sum(piece.weight_kg for piece in boards) / every
        return self.rates.cladding_m2 * wall.cladding.area_m2 * share

    def lining(self, wall: WallOut) -> float:
        """The inside of a wall."""
        return self.rates.cladding_m2 * wall.lining.area_m2 if wall.lining is not None else 0.0

    def cover(self, building: Building) -> float:
        """What covers the roof: its slopes where all are covered, else as much as the plan."""
        covered = [s.covering.area_m2 if s.covering is not None else 0.0 for s in self.layout.roofs]
        is_whole = bool(covered) and all(covered)
        return self.rates.roof_m2 * (sum(covered) if is_whole else plan_m2(building))

    def openings(self) -> float:
        """Its doors and windows."""
        every = (each for wall in self.layout.walls for each in wall.openings)
        return self.rates.door * sum(each.kind != "gap" for each in every)


def plan_m2(building: Building) -> float:
    """Of the plan, m2."""
    return abs(area(deck_of(building))) / 1e6


def shared(hours: float, people: int) -> float:
    """Hours of so many people, of person-hours."""
    return rounded(hours / people**EACH_MORE)


def in_dry_hours(
    steps: Sequence[WorkStep], building: Building
) -> tuple[tuple[WorkStep, ...], ClosedIn | None]:
    """Steps put in order into the dry hours, and when the roof is on; `None` where no dry hours are given.

    What can be broken off goes on in the next hours; what is done in one go and does not fit waits for them.
    """
    given = building.site.dry_hours
    if not given:
        return tuple(steps), None
    roof = max((step.number for step in steps if step.kind == "roof"), default=0)
    period, left = 0, given[0].hours
    placed: list[WorkStep] = []
    lacking, closed = 0.0, None
    for step in steps:
        needed = step.hours if step.dry else 0.0
        while period < len(given) and needed > 1e-9:
            if step.whole and needed > left + 1e-9:
                period, left = period + 1, given[period + 1].hours if period + 1 < len(given) else 0.0
                continue
            done = min(needed, left)
            needed, left = needed - done, left - done
            if needed > 1e-9:
                period, left = period + 1, given[period + 1].hours if period + 1 < len(given) else 0.0
        fits = step.dry and needed <= 1e-9 and period < len(given)
        placed.append(replace(step, during=given[period].name) if fits else step)
        if step.number <= roof and step.dry and not fits:
            lacking += needed
        if step.number == roof and fits:
            closed = given[period].name
    return tuple(placed), ClosedIn(
        after=closed if lacking <= 1e-9 else None,
        short_hours=rounded(lacking),
        before=tuple(step.number for step in steps if step.number < roof and not step.dry),
        later=tuple(step.number for step in steps if step.number > roof),
    )


def all_hours(steps: Sequence[WorkStep]) -> WorkHours:
    """Hours of all steps."""
    return WorkHours(
        dry=rounded(sum(step.hours for step in steps if step.dry)),
        under_cover=rounded(sum(step.hours for step in steps if not step.dry)),
    )
