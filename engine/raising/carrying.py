"""Carrying: the way from where frames are made to where one is set down, by flood fill."""

from __future__ import annotations

import itertools
import math
import zlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from soleplate.engine.raising.grid import CELL, TURNS, CarriedShape, Cells, Grid
from soleplate.engine.raising.obstacles import Obstruction
from soleplate.engine.raising.panels import SitePanel
from soleplate.engine.raising.question import Carry, PlacedBrace
from soleplate.engine.raising.search import NotSearchedError
from soleplate.engine.shapes import TOUCH, Outline, Point, Prism, area, bounds, convex_parts

MOST_FILLS: Final = 400
"""Ways looked for in one search."""

MOST_CHOICES: Final = 9
"""Choices of one brace for each panel that are tried."""

NOWHERE: Final = Cells(0, 0, 0, 0)

Braced = tuple[tuple[PlacedBrace, ...], ...]
"""For each panel that stands by a brace alone those that it may have."""

LARGE: Final = 1_000_000
"""Bits of a grid whose waves are packed."""

ROUND: Final = 1000.0
"""mm. So far round the building and the place where frames are made the middle of what is carried may go:
what lies beyond is not known (invented)."""

EIGHTH: Final = TURNS // 4
"""Steps of an eighth of a turn."""

Pose = tuple[float, float, float]
"""The middle in plan, mm, and the direction, degrees from X towards Y."""


@dataclass(frozen=True, slots=True)
class _Carried:
    """One carry on its grid: its shape, where it may begin, and where it ends."""

    grid: Grid
    shape: CarriedShape
    carry: Carry
    starts: int
    goal: int

    def blocked(self, prisms: Sequence[Prism]) -> Cells:
        """The places at which it meets prisms."""
        carry = self.carry
        return self.shape.blocked(
            [p for p in prisms if min(p.top, carry.top) - max(p.bottom, carry.bottom) > TOUCH]
        )


@dataclass(frozen=True, slots=True)
class _Known:
    """A way that was found: its poses, the panels that would be in it, and the places that it takes up."""

    poses: tuple[Pose, ...]
    meets: int
    taken: Cells


class Ground:
    """Over which things are carried: what meets them, worked out once for all obstacles that are tried.

    Args:
        carries: all routes, by their numbers.
        owners: of each the panel that is carried.
        panels: all that will stand.
        place: where frames are made.
    """

    def __init__(
        self, carries: Sequence[Carry], owners: Sequence[int], panels: Sequence[SitePanel], place: Outline
    ) -> None:
        self.owners = owners
        self.panels = panels
        self._carries = carries
        self._place = place
        self._made: dict[int, _Carried] = {}
        self._met: dict[tuple[int, int], Cells] = {}
        self._hit: dict[tuple[int, Obstruction], Cells] = {}
        self._crossed: dict[tuple[int, int], Cells] = {}

    def carried(self, number: int) -> _Carried:
        """A carry on its grid."""
        if number not in self._made:
            self._made[number] = self._prepared(self._carries[number])
        return self._made[number]

    def hit(self, number: int, obstruction: Obstruction) -> Cells:
        """The places at which an obstacle blocks a carry."""
        key = number, obstruction
        if key not in self._hit:
            self._hit[key] = self.carried(number).blocked(obstruction.prisms)
        return self._hit[key]

    def met(self, number: int, standing: int) -> Cells:
        """The places at which panels that stand block a carry."""
        found = NOWHERE
        for index, panel in enumerate(self.panels):
            if standing >> index & 1:
                key = number, index
                if key not in self._met:
                    self._met[key] = self.carried(number).blocked(panel.standing)
                found = found.with_those_of(self._met[key])
        return found

    def crossed(self, number: int, brace: PlacedBrace) -> Cells:
        """The places at which a panel's brace blocks a carry."""
        key = number, brace.bit
        if key not in self._crossed:
            self._crossed[key] = self.carried(number).blocked(brace.brace.rakers)
        return self._crossed[key]

    def narrowed(self, number: int, width: float) -> Ground:
        """The same for one carry alone, of another width."""
        return Ground(
            [replace(self._carries[number], number=0, width=width)],
            [self.owners[number]],
            self.panels,
            self._place,
        )

    def _prepared(self, carry: Carry) -> _Carried:
        grid = self._grid(carry)
        shape = CarriedShape(grid, carry.length, carry.width)
        place = self._place if area(self._place) > 0.0 else self._place[::-1]
        starts = grid.held(convex_parts(place))
        return _Carried(
            grid=grid,
            shape=shape,
            carry=carry,
            starts=sum(starts << turn * grid.turn for turn in range(TURNS)),
            goal=grid.bit(0, carry.to),
        )

    def _grid(self, carry: Carry) -> Grid:
        """Over the building and the place, and so far round them; the middle of a cell is where it ends."""
        points: list[Point] = [*self._place, carry.to]
        points += [p for panel in self.panels for p in panel.footprint.outline]
        left, right, front, back = bounds(points)
        room = ROUND
        x, y = carry.to
        before = [math.floor((at - low + room) / CELL) for at, low in ((x, left), (y, front))]
        after = [math.floor((high - at + room) / CELL) for at, high in ((x, right), (y, back))]
        return Grid(
            (x - before[0] * CELL, y - before[1] * CELL),
            before[0] + after[0] + 1,
            before[1] + after[1] + 1,
            carry.run,
        )


class Carrying:
    """Looks for ways past obstacles, and keeps those that it found and the sets of panels that leave none.

    Both hold for more than what was asked: a way for every set of panels that it does not meet, and that
    there is none for every set with more panels.
    """

    def __init__(self, ground: Ground, obstructions: Sequence[Obstruction]) -> None:
        self._ground = ground
        self._obstructions = obstructions
        self._open: dict[int, Cells] = {}
        self._ways: dict[int, list[_Known]] = {}
        self._none: dict[int, list[int]] = {}
        self._past: dict[tuple[int, int, Braced], _Known | None] = {}
        self.fills = 0

    def way(self, carry: int, standing: int, braced: Braced = ()) -> tuple[Pose, ...] | None:
        """The way of a carry while panels stand, some of them by braces; `None` where none is found.

        Args:
            carry: by its number.
            standing: the panels that stand.
            braced: for each panel that stands by a brace alone those that it may have.
        """
        if not braced:
            return self._unbraced(carry, standing)
        found = self._past_braces(carry, standing, braced)
        return None if found is None else found.poses

    def crossed(self, carry: int, standing: int, braced: Braced) -> int:
        """The bits of the braces, of those that panels may have, that are in the way that is found."""
        found = self._past_braces(carry, standing, braced) if braced else None
        if found is None:
            return 0
        every = (brace for braces in braced for brace in braces)
        return sum(brace.bit for brace in every if _share(found.taken, self._ground.crossed(carry, brace)))

    def _past_braces(self, carry: int, standing: int, braced: Braced) -> _Known | None:
        """A way that leaves each panel one of its braces: the way without any, if it does, else another."""
        key = carry, standing, braced
        if key not in self._past:
            self._past[key] = self._looked_for(carry, standing, braced)
        return self._past[key]

    def _looked_for(self, carry: int, standing: int, braced: Braced) -> _Known | None:
        if self._unbraced(carry, standing) is None:
            return None
        ground = self._ground
        for known in self._ways[carry]:
            if not known.meets & standing and all(
                any(not _share(known.taken, ground.crossed(carry, brace)) for brace in braces)
                for braces in braced
            ):
                return known
        free = self._free(carry).without(ground.met(carry, standing))
        for chosen in itertools.islice(itertools.product(*braced), MOST_CHOICES):
            left = free
            for brace in chosen:
                left = left.without(ground.crossed(carry, brace))
            found = self._filled(carry, standing, left)
            if not isinstance(found, int):
                return found
        return None

    def _unbraced(self, carry: int, standing: int) -> tuple[Pose, ...] | None:
        ground = self._ground
        # A way past all other panels holds for every set of them; where none is past nothing, none is at all.
        asked = (1 << len(ground.panels)) - 1 & ~(1 << ground.owners[carry]) if standing else 0
        while True:
            known = self._look_up(carry, standing)
            if known is not None:
                return known or None
            cut = self._cut(carry, asked)
            if cut is None:
                cut = self._fill(carry, asked)
            # Next without those that are in the way, as far as they need not stand.
            asked = asked & ~cut | standing

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
        return self._cut(carry, standing) is not None

    def _cut(self, carry: int, standing: int) -> int | None:
        """Panels among those that stand that are known to leave no way; `None` where none are."""
        return next((fewer for fewer in self._none.get(carry, ()) if fewer & ~standing == 0), None)

    def _fill(self, carry: int, standing: int) -> int:
        """Look for a way while panels stand, and keep it; without one, the panels that shut it off."""
        free = self._free(carry).without(self._ground.met(carry, standing))
        found = self._filled(carry, standing, free)
        if not isinstance(found, int):
            self._ways.setdefault(carry, []).append(found)
            return 0
        cut = self._round(carry, standing, found)
        self._none.setdefault(carry, []).append(cut)
        return cut

    def _round(self, carry: int, standing: int, reached: int) -> int:
        """The panels of those that stand that bound what is reached: while they stand no more is."""
        ground = self._ground
        carried = ground.carried(carry)
        grid, free = carried.grid, self._free(carry)
        last, lowest = (TURNS - 1) * grid.turn, (1 << grid.turn) - 1
        near = Cells(
            _next(grid, free, reached) | carried.starts,
            reached | reached >> 1,
            reached | reached >> grid.row,
            reached | reached >> grid.turn | (reached & lowest) << last,
        )
        return sum(
            1 << index
            for index in range(len(ground.panels))
            if standing >> index & 1 and _share(near, ground.met(carry, 1 << index))
        )

    def _filled(self, carry: int, standing: int, free: Cells) -> _Known | int:
        """The way through what is free, while panels stand; else the places that are reached."""
        ground = self._ground
        carried = ground.carried(carry)
        grid = carried.grid
        self.fills += 1
        if self.fills > MOST_FILLS:
            raise NotSearchedError(self.fills)
        places = _flood(grid, free, carried.starts, carried.goal)
        if isinstance(places, int):
            return places
        taken = _taken(grid, places)
        others = (1 << len(ground.panels)) - 1 & ~standing & ~(1 << ground.owners[carry])
        meets = sum(
            1 << index
            for index in range(len(ground.panels))
            if others >> index & 1 and _share(taken, ground.met(carry, 1 << index))
        )
        return _Known(_poses(grid, places), meets, taken)

    def _free(self, carry: int) -> Cells:
        """The places that obstacles leave free."""
        if carry not in self._open:
            grid = self._ground.carried(carry).grid
            every = sum(grid.every << turn * grid.turn for turn in range(TURNS))
            free = Cells(every, every, every, every)
            for each in self._obstructions:
                free = free.without(self._ground.hit(carry, each))
            self._open[carry] = free
        return self._open[carry]


def _flood(grid: Grid, free: Cells, starts: int, goal: int) -> list[int] | int:
    """The bits' places from a start to the goal, by waves from the starts; else all that is reached."""
    wave = starts & free.held
    seen, waves = wave, [_kept(wave, grid)]
    while wave and not wave & goal:
        wave = _next(grid, free, wave) & ~seen
        seen |= wave
        waves.append(_kept(wave, grid))
    if not wave & goal:
        return seen
    place = goal.bit_length() - 1
    places = [place]
    for kept in reversed(waves[:-1]):
        # Ways lead back as they lead there.
        near = _next(grid, free, 1 << place) & _again(kept)
        place = (near & -near).bit_length() - 1
        places.append(place)
    return places[::-1]


def _next(grid: Grid, free: Cells, wave: int) -> int:
    """The places that are one step from those of a wave."""
    row, turn = grid.row, grid.turn
    last, lowest = (TURNS - 1) * turn, (1 << turn) - 1
    on = wave & free.on
    found = (wave & free.right) << 1 | wave >> 1 & free.right
    found |= (wave & free.up) << row | wave >> row & free.up
    # Half a turn on, the rectangle lies as it did at first.
    found |= on << turn | on >> last & lowest
    found |= (wave >> turn | (wave & lowest) << last) & free.on
    return found & free.held


def _taken(grid: Grid, places: Sequence[int]) -> Cells:
    """What a way takes up."""
    taken = [sum(1 << place for place in set(places)), 0, 0, 0]
    for one, other in itertools.pairwise(places):
        turns = one // grid.turn, other // grid.turn
        if turns[0] != turns[1]:
            taken[3] |= 1 << (one if (turns[0] + 1) % TURNS == turns[1] else other)
        else:
            taken[1 if abs(one - other) == 1 else 2] |= 1 << min(one, other)
    return Cells(*taken)


def _share(one: Cells, other: Cells) -> bool:
    """Whether two have places in common."""
    return any(ours & theirs for ours, theirs in zip(one, other, strict=True))


def _kept(wave: int, grid: Grid) -> int | bytes:
    """A wave to be kept: on a large grid packed, since hundreds of them are mostly zeros."""
    bits = TURNS * grid.turn
    return wave if bits < LARGE else zlib.compress(wave.to_bytes(bits // 8 + 1, "little"), 1)


def _again(kept: int | bytes) -> int:
    return kept if isinstance(kept, int) else int.from_bytes(zlib.decompress(kept), "little")


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
