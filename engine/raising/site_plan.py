"""The site in plan as it comes out, so that steps can be drawn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from soleplate.engine.building_file import Building
from soleplate.engine.layout import PlacedObstacle, PlacedPanel, SitePlan
from soleplate.engine.raising.explaining import ways_of
from soleplate.engine.raising.room import room_of
from soleplate.engine.raising.yard import Yard
from soleplate.engine.shapes import Point, rounded


def site_plan(yard: Yard, building: Building, state: int | None = None) -> SitePlan:
    """Where the panels are to stand, and what stands round them; heights from the building's ground.

    Of a `state` from which nothing more can be raised, what the ways that are left would sweep too.
    """
    ground = building.site.ground or 0.0
    return SitePlan(
        panels=tuple(
            PlacedPanel(name=each.name, wall=each.wall.name, outline=_outline(each.footprint.outline))
            for each in sorted(yard.question.panels, key=lambda panel: panel.name)
        ),
        obstacles=tuple(
            PlacedObstacle(
                name=each.name,
                outline=_outline(each.corners),
                bottom=rounded(each.bottom + ground),
                top=rounded(each.top + ground),
            )
            for each in yard.obstructions
        ),
        framing_place=_outline(yard.place),
        blocked=() if state is None else tuple(_blocked(yard, state)),
    )


def _blocked(yard: Yard, state: int) -> Iterator[tuple[Point, ...]]:
    question = yard.question
    for index in range(len(question.panels)):
        if not state >> index & 1:
            yield from map(room_of, ways_of(question, index))


def _outline(points: Iterable[Point]) -> tuple[Point, ...]:
    return tuple((rounded(x), rounded(y)) for x, y in points)
