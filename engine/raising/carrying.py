"""Carrying: the way from where frames are made to where one is set down, by flood fill."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.raising.grid import CELL, TURNS, CarriedShape, Grid
from soleplate.engine.raising.obstacles import Obstruction
from soleplate.engine.raising.panels import SitePanel
from soleplate.engine.raising.question import Carry
from soleplate.engine.raising.search import NotSearchedError
from soleplate.engine.shapes import TOUCH, Outline, Point, Prism, bounds, contains

MOST_FILLS: Final = 400
"""Ways looked for in one search."""

ROUND: Final = 1000.0
"""mm. So far round the building and the place where frames are made the middle of what is carried may go:
what lies beyond is not known (invented)."""

EIGHTH: Final = TURNS // 4
"""Steps of an eighth of a turn."""

Pose = tuple[float, float, float]
"""The middle in plan, mm, and the direction, degrees from X towards Y."""


@dataclass(frozen=True, slots=True)
class _Asked:
    """What is kept of one carry: its grid, what blocks it, where it may begin, and where it ends."""

    grid: Grid
    free: int
    turning: int
    panels: tuple[tuple[int, int], ...]
    starts: int
    goal: int


@dataclass(frozen=True, slots=True)
class _Known:
    """A way that was found: its poses, and the panels that would be in it."""

    poses: tuple[Pose, ...]
    meets: int


class Carrying:
    """Looks for ways, and keeps those that it found and the sets of panels that leave none.

    Both hold for more than what was asked: a way for every set of panels that it does not meet, and that
    there is none for every set with more panels.
    """

    def __init__(
        self,
        carries: Sequence[Carry],
        panels: Sequence[SitePanel],
        obstructions: Sequence[Obstruction],
        place: Outline,
        owners: Sequence[int],
    ) -> None:
        self._carries = carries
        self._panels = panels
        self._obstructions = obstructions
        self._place = place
        self._owners = owners
        self._asked: dict[int, _Asked] = {}
        self._ways: dict[int, list[_Known]] = {}
        self._none: dict[int, list[int]] = {}
        self.fills = 0

    def way(self, carry: int, standing: int) -> tuple[Pose, ...] | None:
        """The way of a carry while panels stand; `None` where none is found."""
        others = (1 << len(self._panels)) - 1 & ~(1 << self._owners[carry])
        for asked in (others, standing):
            known = self._look_up(carry, standing)
            if known is not None:
                return known or None
            if asked == others and self._is_none(carry, others):
                continue
            self._fill(carry, asked)
        return self._look_up(carry, standing) or None

    def known(self, carry: int, standing: int) -> bool | None:
        """Whether there is a way, where that is known without looking."""
        found = self._look_up(carry, standing)
        return None if found is None else bool(found)

    def _look_up(self, carry: int, standing: int) -> tuple[Pose, ...] | None:
        """The way that is known; `()` where it is known that there is none."""
        for known in self._ways.get(carry, ()):
            if not known.meets & standing:
                return known.poses
        return () if self._is_none(carry, standing) else None

    def _is_none(self, carry: int, standing: int) -> bool:
        return any(fewer & ~standing == 0 for fewer in self._none.get(carry, ()))

    def _fill(self, carry: int, standing: int) -> None:
        if carry not in self._asked:
            self._asked[carry] = self._prepared(self._carries[carry])
        asked = self._asked[carry]
        free, turning = asked.free, asked.turning
        for index, (held, swept) in enumerate(asked.panels):
            if standing >> index & 1:
                free &= ~held
                turning &= ~swept
        self.fills += 1
        if self.fills > MOST_FILLS:
            raise NotSearchedError(self.fills)
        places = _flood(asked.grid, free, turning, asked.starts, asked.goal)
        if places is None:
            self._none.setdefault(carry, []).append(standing)
            return
        meets = 0
        cells = sum(1 << place for place in set(places))
        turned = 0
        for one, other in itertools.pairwise(places):
            turned |= _turning_on(asked.grid, one, other)
        for index, (held, swept) in enumerate(asked.panels):
            if cells & held or turned & swept:
                meets |= 1 << index
        self._ways.setdefault(carry, []).append(_Known(_poses(asked.grid, places), meets))

    def _prepared(self, carry: Carry) -> _Asked:
        grid = self._grid(carry)
        shape = CarriedShape(grid, carry.length, carry.width)

        def meets(prisms: Sequence[Prism]) -> list[Prism]:
            return [p for p in prisms if min(p.top, carry.top) - max(p.bottom, carry.bottom) > TOUCH]

        held, swept = shape.blocked(meets([p for each in self._obstructions for p in each.prisms]))
        every = sum(grid.every << turn * grid.turn for turn in range(TURNS))
        starts = sum(
            1 << y * grid.row + x
            for y in range(grid.along)
            for x in range(grid.across)
            if contains(self._place, (grid.corner[0] + x * CELL, grid.corner[1] + y * CELL))
        )
        return _Asked(
            grid=grid,
            free=every & ~held,
            turning=every & ~swept,
            panels=tuple(shape.blocked(meets(panel.standing)) for panel in self._panels),
            starts=sum(starts << turn * grid.turn for turn in range(TURNS)),
            goal=grid.bit(0, carry.to),
        )

    def _grid(self, carry: Carry) -> Grid:
        """Over the building and the place, and so far round them; the middle of a cell is where it ends."""
        points: list[Point] = [*self._place, carry.to]
        points += [p for panel in self._panels for p in panel.footprint.outline]
        left, right, front, back = bounds(points)
        room = ROUND + CELL / 2
        x, y = carry.to
        before = [math.floor((at - low + room) / CELL) for at, low in ((x, left), (y, front))]
        after = [math.floor((high - at + room) / CELL) for at, high in ((x, right), (y, back))]
        return Grid(
            (x - before[0] * CELL, y - before[1] * CELL),
            before[0] + after[0] + 1,
            before[1] + after[1] + 1,
            carry.run,
        )


def _flood(grid: Grid, free: int, turning: int, starts: int, goal: int) -> list[int] | None:
    """The places of the bits from a start to the goal, by waves from the starts; `None` where none comes."""
    row, turn = grid.row, grid.turn
    last = (TURNS - 1) * turn
    lowest = (1 << turn) - 1
    wave = starts & free
    seen, waves = wave, [wave]
    while wave and not wave & goal:
        # Turning on and back: half a turn on, the rectangle lies as it did at first.
        on = wave & turning
        spread = wave << 1 | wave >> 1 | wave << row | wave >> row
        spread |= (on << turn) | (on >> last & lowest)
        back = (wave >> turn | (wave & lowest) << last) & turning
        wave = (spread | back) & free & ~seen
        seen |= wave
        waves.append(wave)
    if not wave & goal:
        return None
    place = goal.bit_length() - 1
    places = [place]
    for earlier in reversed(waves[:-1]):
        bit = 1 << place
        on = (bit << turn) | (bit >> last & lowest) if bit & turning else 0
        back = (bit >> turn | (bit & lowest) << last) & turning
        near = (bit << 1 | bit >> 1 | bit << row | bit >> row) & earlier or (on | back) & earlier
        place = (near & -near).bit_length() - 1
        places.append(place)
    return places[::-1]


def _turning_on(grid: Grid, one: int, other: int) -> int:
    """The bit of that of two places at which turning on to the other begins; 0 where they lie alike."""
    before, after = one // grid.turn, other // grid.turn
    if before == after:
        return 0
    return 1 << (one if (before + 1) % TURNS == after else other)


def _poses(grid: Grid, places: Sequence[int]) -> tuple[Pose, ...]:
    """The poses of a way: where it goes on in another manner, and within turns so that each is under 90."""
    kept = [places[0]]
    for before, place, after in zip(places, places[1:], places[2:], strict=False):
        is_turning = place // grid.turn != after // grid.turn
        if after - place != place - before or (is_turning and place // grid.turn % EIGHTH == 0):
            kept.append(place)
    kept += places[-1:] if len(places) > 1 else []
    base = math.degrees(math.atan2(grid.run[1], grid.run[0]))
    poses = []
    for place in kept:
        turn, (x, y) = grid.pose(place)
        poses.append((round(x, 3) + 0.0, round(y, 3) + 0.0, round((base + 180.0 * turn / TURNS) % 180.0, 3)))
    return tuple(poses)
