"""The question put to the search: what every movement and brace meets, worked out once, as bit masks.

Panels have a bit each in the order in which they are given. What is held against obstacles has a bit in
the mask of what an obstacle `hits`: each movement, each spot to stand in, and each brace.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from soleplate.engine.building_file import Site
from soleplate.engine.raising.asking import OfferedWay
from soleplate.engine.raising.braces import TemporaryBrace, braces_of
from soleplate.engine.raising.obstacles import Obstruction
from soleplate.engine.raising.panels import MEETING, SitePanel
from soleplate.engine.rules import Movement, team_lift
from soleplate.engine.shapes import TOUCH, Point, Prism, Volume, bounds, gap, shortfall

FIT: Final = -5.0
"""mm. So much a wall may rub past those that stand: a fit eased by hand (common practice, no source)."""

Held = tuple[tuple[Volume, float], ...]
"""Volumes in the world that obstacles must stay clear of, each by a clearance, mm."""

Cost = tuple[int, int, int, int, int, int]
"""What counts, the first the most: lifts over the limit, walls framed standing, walls raised from off the
deck, steps that panels stand braced alone, g x m carried in a straight line, and walls clad early without
need. With `braced-least` the third and the fourth change places."""

NOTHING: Final[Cost] = (0, 0, 0, 0, 0, 0)


@dataclass(frozen=True, slots=True)
class Carry:
    """A route in the world: where the middle of what is carried ends, and the way that it lies there."""

    number: int
    to: Point
    run: Point
    length: float
    width: float
    bottom: float
    top: float


@dataclass(frozen=True, slots=True)
class RaisingWay:
    """One way of raising one panel.

    `bit` is its bit among what obstacles hit, `stands` the panels that may not stand yet, `spots` the same
    pairs of the places to stand in, and `braces` the bits of the braces that are in its way. `cost` is what
    it costs by itself. `floor` is what it lifts at once at the most, kg.
    """

    panel: int
    number: int
    rule: str
    movement: Movement
    swept: tuple[Volume, ...]
    bit: int
    stands: int
    spots: tuple[tuple[int, int], ...]
    braces: int
    cost: Cost
    peak_kg: float
    carry: Carry | None


@dataclass(frozen=True, slots=True)
class PlacedBrace:
    """A brace; `stands` are the panels that stand in its place, `bit` its bit among what obstacles hit."""

    brace: TemporaryBrace
    bit: int
    stands: int


@dataclass(frozen=True)
class RaisingQuestion:
    """All that the search has to know.

    `ways` are those of each panel, the cheapest first. `touching` are the panels that each one meets, and
    `across` those of them that it holds upright and is held by. `after` are those that must stand before it.
    `held` is what obstacles are held against, by bit.
    """

    panels: tuple[SitePanel, ...]
    ways: tuple[tuple[RaisingWay, ...], ...]
    braces: tuple[tuple[PlacedBrace, ...], ...]
    touching: tuple[int, ...]
    across: tuple[int, ...]
    after: tuple[int, ...]
    held: tuple[Held, ...]

    @property
    def everything(self) -> int:
        """The mask of all panels."""
        return (1 << len(self.panels)) - 1

    def names(self, mask: int) -> tuple[str, ...]:
        """The names of the panels of a mask, in their order."""
        return tuple(panel.name for index, panel in enumerate(self.panels) if mask >> index & 1)

    def hits(self, obstruction: Obstruction) -> int:
        """The mask of what an obstacle is in the way of."""
        found = 0
        for index, (held, extent) in enumerate(zip(self.held, self._extents, strict=True)):
            if _is_near(extent, obstruction) and short_of(held, obstruction) > 0.0:
                found |= 1 << index
        return found

    @cached_property
    def _extents(self) -> tuple[tuple[float, float, float, float], ...]:
        """Of all that is held, widened by its clearances."""
        return tuple(
            (
                min(v.extent[0] - c for v, c in held),
                max(v.extent[1] + c for v, c in held),
                min(v.extent[2] - c for v, c in held),
                max(v.extent[3] + c for v, c in held),
            )
            for held in self.held
        )

    @cached_property
    def carries(self) -> tuple[Carry, ...]:
        """All routes, by their numbers."""
        every = (way.carry for ways in self.ways for way in ways if way.carry is not None)
        return tuple(sorted(every, key=lambda carry: carry.number))

    @cached_property
    def carriers(self) -> tuple[int, ...]:
        """Of each route the panel that is carried."""
        panels = {way.carry.number: way.panel for ways in self.ways for way in ways if way.carry}
        return tuple(panels[carry.number] for carry in self.carries)


def short_of(held: Held, obstruction: Obstruction) -> float:
    """By how much an obstacle is too near at the worst, mm; 0 where it is not."""
    return max(
        (shortfall(volume, prism, clearance) for volume, clearance in held for prism in obstruction.prisms),
        default=0.0,
    )


def question_of(
    panels: Sequence[SitePanel], offered: Sequence[Sequence[OfferedWay]], site: Site
) -> RaisingQuestion:
    """The question of a site: which panels meet, and what each way and brace meets."""
    making = _Making(panels, site)
    braces = tuple(making.braces(index) for index in range(len(panels)))
    ways: list[tuple[RaisingWay, ...]] = []
    for index, each in enumerate(offered):
        made = [making.way(index, way, braces) for way in each]
        ways.append(tuple(sorted(made, key=lambda way: (way.cost, way.carry is not None, way.number))))
    touching, across = making.meeting()
    return RaisingQuestion(
        panels=tuple(panels),
        ways=tuple(ways),
        braces=braces,
        touching=touching,
        across=across,
        after=tuple(across[i] if panel.panel.is_inside else 0 for i, panel in enumerate(panels)),
        held=tuple(making.held),
    )


class _Making:
    """Gives out bits while the question is made."""

    def __init__(self, panels: Sequence[SitePanel], site: Site) -> None:
        self.held: list[Held] = []
        self._panels = panels
        self._site = site
        self._limit = team_lift(site.people, site.lift_each)
        self._ways = 0
        self._carries = 0
        place = site.framing_place
        self._made_at = _centre(place.polygon) if place is not None else None
        self._gaps = [[gap(a.footprint, b.footprint) for b in panels] for a in panels]
        self._extents = [
            tuple(f(each.extent[k] for each in panel.standing) for k, f in enumerate((min, max, min, max)))
            for panel in panels
        ]

    def meeting(self) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """Which panels each one touches, and which of those run across it."""
        touching, across = [0] * len(self._panels), [0] * len(self._panels)
        for i, one in enumerate(self._panels):
            for j, other in enumerate(self._panels):
                if i != j and self._gaps[i][j] <= MEETING and _shares_a_face(one, other):
                    touching[i] |= 1 << j
                    run, run2 = one.axes.run, other.axes.run
                    if abs(run[0] * run2[1] - run[1] * run2[0]) > 0.5:
                        across[i] |= 1 << j
        return tuple(touching), tuple(across)

    def braces(self, index: int) -> tuple[PlacedBrace, ...]:
        """The ways of bracing a panel."""
        placed = []
        for brace in braces_of(self._panels[index], self._panels):
            bit = self._hold((raker, 0.0) for raker in brace.rakers)
            placed.append(PlacedBrace(brace, bit, self._stands(index, brace.rakers)))
        return tuple(placed)

    def way(self, index: int, offered: OfferedWay, braces: Sequence[Sequence[PlacedBrace]]) -> RaisingWay:
        """A way with what it meets."""
        panel, movement, site = self._panels[index], offered.movement, self._site
        place = panel.axes.place
        swept, free = tuple(map(place, movement.swept)), tuple(map(place, movement.free))
        spots = tuple(
            (self._hold([(spot, 0.0)]), self._stands(index, [spot])) for spot in map(place, movement.spots)
        )
        self._ways += 1
        peak = panel.panel.weight_kg * movement.share
        return RaisingWay(
            panel=index,
            number=self._ways,
            rule=offered.rule,
            movement=movement,
            swept=swept,
            bit=self._hold([*((v, site.clearance) for v in swept), *((v, 0.0) for v in free)]),
            stands=self._stands(index, (*swept, *free)),
            spots=spots,
            braces=self._braces_hit(index, swept, braces),
            cost=self._cost(panel, movement, peak),
            peak_kg=peak,
            carry=self._carry(panel, movement),
        )

    def _hold(self, held: Iterable[tuple[Volume, float]]) -> int:
        self.held.append(tuple(held))
        return 1 << (len(self.held) - 1)

    def _stands(self, index: int, volumes: Iterable[Volume]) -> int:
        """The other panels that volumes of this panel meet once they stand."""
        every, found = list(volumes), 0
        for other, panel in enumerate(self._panels):
            if other == index:
                continue
            # Walls that are measured longer than drawn may stand in each other by more than that.
            fit = min(FIT, self._gaps[index][other])
            if any(_hits(v, panel.standing, self._extents[other], fit) for v in every):
                found |= 1 << other
        return found

    def _braces_hit(
        self, index: int, swept: Sequence[Volume], braces: Sequence[Sequence[PlacedBrace]]
    ) -> int:
        """The bits of the braces of other panels that a movement meets."""
        found = 0
        for other, placed in enumerate(braces):
            for each in placed if other != index else ():
                if any(shortfall(v, raker, FIT) > 0.0 for v in swept for raker in each.brace.rakers):
                    found |= each.bit
        return found

    def _cost(self, panel: SitePanel, movement: Movement, peak: float) -> Cost:
        carried = 0.0
        if movement.route is not None and self._made_at is not None:
            middle = panel.axes.point(panel.panel.length / 2, panel.panel.depth / 2)
            carried = panel.panel.weight_kg * math.dist(self._made_at, middle)
        return (
            int(peak > self._limit + 1e-9),
            int(movement.share == 0.0),
            int(not movement.on_deck),
            0,
            round(carried),
            int(panel.is_pinned and movement.clad),
        )

    def _carry(self, panel: SitePanel, movement: Movement) -> Carry | None:
        route = movement.route
        if route is None:
            return None
        self._carries += 1
        return Carry(
            self._carries - 1,
            panel.axes.point(*route.to),
            panel.axes.run,
            route.length,
            route.width,
            route.bottom,
            route.top,
        )


def _hits(volume: Volume, prisms: Sequence[Prism], extent: Sequence[float], clearance: float) -> bool:
    own, near = volume.extent, clearance - TOUCH
    if (
        extent[0] - own[1] >= near
        or own[0] - extent[1] >= near
        or extent[2] - own[3] >= near
        or own[2] - extent[3] >= near
    ):
        return False
    return any(shortfall(volume, prism, clearance) > 0.0 for prism in prisms)


def _shares_a_face(one: SitePanel, other: SitePanel) -> bool:
    """Whether two panels lie along each other for a stretch, and do not meet at a corner alone."""
    a, b = one.footprint.extent, other.footprint.extent
    along = (min(a[1], b[1]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[2], b[2]))
    return max(along) > TOUCH


def _is_near(extent: tuple[float, float, float, float], obstruction: Obstruction) -> bool:
    left, right, front, back = bounds(
        [p for prism in obstruction.prisms for p in prism.outline] or [(0.0, 0.0)]
    )
    return left < extent[1] and right > extent[0] and front < extent[3] and back > extent[2]


def _centre(polygon: Sequence[Point]) -> Point:
    """The centroid of a polygon."""
    x, y = polygon[0]
    twice = moment_x = moment_y = 0.0
    for (x0, y0), (x1, y1) in zip(polygon, (*polygon[1:], polygon[0]), strict=True):
        cross = (x0 - x) * (y1 - y) - (x1 - x) * (y0 - y)
        twice += cross
        moment_x += (x0 + x1 - 2 * x) * cross
        moment_y += (y0 + y1 - 2 * y) * cross
    return (x + moment_x / twice / 3, y + moment_y / twice / 3)
