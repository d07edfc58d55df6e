"""Blocks that close the eaves: over the plates, with a gap for air under the deck.

Over the walls that run with the slope the outermost rafters close the roof. Blocks between rungs keep what
flies out of the room before them.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Final, Literal

from soleplate.engine.rules import (
    ALONG,
    TOUCH,
    UPRIGHT,
    AnyLength,
    BlockRow,
    Limits,
    Member,
    Model,
    Name,
    Outline,
    Plate,
    RoofShape,
    Section,
    SlopeShape,
    clip,
    rectangle,
)
from soleplate.plugins.roofs.members import RafterSection
from soleplate.plugins.roofs.pitched import Ends, Pitched, mirrored

if TYPE_CHECKING:
    from soleplate.plugins.roofs.rafters import Rafters

LEAST_BLOCK: Final = 10.0
"""mm. A shorter block, or a lower one, cannot be held (common practice, no source)."""


class Blocking(Model):
    """Blocks between the rafters over the plates, and between rungs over raked plates."""

    rule: Literal["blocking"]
    """Its name."""
    gap: Annotated[AnyLength, Limits(0.0, 100.0)] = 30.0
    """What stays open over them for air, square to the deck."""
    section: RafterSection | None = None
    """What they are sawn from, as [thickness, width]; else the rafters' section."""
    material: Name | None = None
    """What they are of; else of the rafters'."""


class LeftOpen(Model):
    """Nothing closes the eaves."""

    rule: Literal["open"]
    """Its name."""


def blocking_of(rule: Rafters) -> Blocking | None:
    """The blocks that close the eaves: where there is a deck, unless something else is said."""
    if rule.closing is None:
        return Blocking(rule="blocking") if rule.deck is not None else None
    return rule.closing if isinstance(rule.closing, Blocking) else None


@dataclass(frozen=True)
class Blocks:
    """The blocks of one slope, whose rafter is `rafter`."""

    blocking: Blocking
    rule: Rafters
    shape: RoofShape
    slope: SlopeShape
    rafter: Pitched

    @property
    def section(self) -> Section:
        """What they are sawn from."""
        return self.blocking.section or self.rule.section

    @property
    def thick(self) -> float:
        """How thick they are, mm."""
        return self.section.breadth

    @property
    def least(self) -> float:
        """Shorter ones are left out: what stays open then is no larger than the gap, mm."""
        return max(self.blocking.gap, LEAST_BLOCK)

    @cached_property
    def over_plates(self) -> tuple[tuple[Plate, Ends, float], ...]:
        """The plates with the r between which blocks stand on each, and how high they are to be, mm.

        They are flush with the walls' outer faces. Square to the deck the gap is least over their low side.
        """
        found = []
        for plate, is_high in zip(self.slope.plates, (False, True), strict=False):
            start = plate.at + plate.depth - self.thick if is_high else plate.at
            over = self.rafter.top(start) - self.rafter.line(plate.at)
            found.append((plate, (start, start + self.thick), over - self.blocking.gap / self.rafter.cos))
        return tuple(found)

    @property
    def taken(self) -> tuple[Ends, ...]:
        """The stretches up the slope in which a piece square to it would stand in a block over a plate."""
        back = self.rafter.section.depth * self.rafter.sin
        return tuple(
            ((near - back) / self.rafter.cos, far / self.rafter.cos)
            for _, (near, far), high in self.over_plates
            if high >= LEAST_BLOCK
        )

    def rows(self) -> Iterator[BlockRow]:
        """Those over the plates, in one piece; no board is wider than its section."""
        rafter, length = self.rafter, self.slope.length
        for plate, (near, far), high in self.over_plates:
            if high < LEAST_BLOCK:
                continue
            low = rafter.line(plate.at)
            top = low + min(high, self.section.depth)
            if plate is self.slope.plates[0]:
                view, depth = "eaves", (near - rafter.start, far - rafter.start)
                box = rectangle(plate.left, plate.right, low, top)
            else:
                view, depth = "eaves high", (rafter.end - far, rafter.end - near)
                box = rectangle(length - plate.right, length - plate.left, low, top)
            yield BlockRow(
                Member(
                    "blocking", self.section, box, depth, ALONG, material=self.blocking.material, view=view
                ),
                self.least,
            )

    def beside_walls(
        self, walls: tuple[Ends, Ends], outermost: Ends, rungs: Sequence[float], *, is_ladder: bool
    ) -> Iterator[Member]:
        """The blocks on the walls that run with the slope, and in the corners beside them.

        `walls` is what those take up along the eaves, `outermost` the outer faces of the outermost rafters;
        `rungs` are the rungs' middles up the slope, in order.
        """
        thick = self.thick if is_ladder else self.rule.section.breadth
        sides = ((walls[0][0], walls[0][0] + thick), (walls[1][1] - thick, walls[1][1]))
        rooms = ((sides[0][1], outermost[0]), (outermost[1], sides[1][0]))
        for (left, right), room in zip(sides, rooms, strict=True):
            through = [
                plate.left < right - TOUCH and left < plate.right - TOUCH for plate in self.slope.plates
            ]
            if is_ladder:
                for outline in self._along(through, rungs):
                    yield self._block(outline, (left, right), -self.rafter.pitch, "side")
            if room[1] - room[0] > self.least + TOUCH:
                yield from self._in_corners(through, room, rungs)

    def _along(self, through: Sequence[bool], rungs: Sequence[float]) -> Iterator[Outline]:
        """The sides of the blocks between rungs, (r, z) turned round, on a raked plate.

        Where a plate under the eaves runs `through`, they begin behind the block on it, and sit on it.
        """
        rafter, shape = self.rafter, self.shape
        plates = tuple(zip(self.slope.plates, through, strict=True))
        start = self._behind(rafter.seat, is_through=through[0])
        end = rafter.end
        if shape.form == "mono-pitch":
            end = shape.width - self._behind(self.slope.plates[1].depth, is_through=through[1])
        notched = self.rule.raked_plates == "as set out"
        seats = () if notched else tuple((plate.at, rafter.seat) for plate, over in plates if over)
        whole = rafter.outline(seats)
        down = self.blocking.gap / rafter.cos
        whole = clip(whole, (1.0, rafter.top(1.0) - down), (0.0, rafter.top(0.0) - down))
        if notched:
            whole = clip(whole, (0.0, rafter.line(0.0)), (1.0, rafter.line(1.0)))
        whole = clip(clip(whole, (start, 1.0), (start, 0.0)), (end, 0.0), (end, 1.0))
        half = rafter.section.breadth / 2
        edges = [-math.inf, *(edge for at in rungs for edge in (at - half, at + half)), math.inf]
        for low, high in zip(edges[::2], edges[1::2], strict=True):
            outline = self._between(whole, low, high)
            if outline:
                yield mirrored(outline)

    def _behind(self, clear: float, *, is_through: bool) -> float:
        """How far from a wall's outer face blocks on a raked plate begin; behind a plate that goes through.

        That is behind the block on that, or `clear` of the plate, where no more than the gap stays open then.
        """
        if not is_through:
            return 0.0
        return clear if self.thick < clear <= self.thick + self.blocking.gap else self.thick

    def _between(self, outline: Outline, low: float, high: float) -> Outline:
        """What of a side lies between two places up the slope, cut square to it; nothing where too short."""
        rafter = self.rafter

        def across(at: float) -> tuple[tuple[float, float], tuple[float, float]]:
            foot = at * rafter.cos, rafter.top(0.0) + at * rafter.sin
            return foot, (foot[0] - rafter.sin, foot[1] + rafter.cos)

        if high < math.inf:
            outline = clip(outline, *across(high))
        if low > -math.inf:
            outline = clip(outline, *reversed(across(low)))
        along = [r * rafter.cos + z * rafter.sin for r, z in outline]
        up = [z * rafter.cos - r * rafter.sin for r, z in outline]
        is_block = outline and max(along) - min(along) >= self.least and max(up) - min(up) >= LEAST_BLOCK
        return outline if is_block else ()

    def _in_corners(self, through: Sequence[bool], room: Ends, rungs: Sequence[float]) -> Iterator[Member]:
        """What stands on a raked plate beside the outermost rafter, where no plate goes through under it."""
        rafter, half = self.rafter, self.rafter.section.breadth / 2
        foot = rafter.line if self.rule.raked_plates == "as set out" else rafter.underside
        down = self.blocking.gap / rafter.cos
        if rafter.top(0.0) - down - foot(0.0) < LEAST_BLOCK or room[1] - room[0] > self.section.depth:
            return
        nears = [0.0] if self.shape.form == "duo-pitch" else [0.0, self.shape.width - self.thick]
        for near, over in zip(nears, through, strict=True):
            far = near + self.thick
            reach = ((near - rafter.section.depth * rafter.sin) / rafter.cos, far / rafter.cos)
            if over or any(reach[0] < rung + half and rung - half < reach[1] for rung in rungs):
                continue
            outline = (
                (near, foot(near)),
                (far, foot(far)),
                (far, rafter.top(far) - down),
                (near, rafter.top(near) - down),
            )
            yield self._block(mirrored(outline), room, UPRIGHT, "side")

    def _block(self, outline: Outline, depth: Ends, grain: float, view: str) -> Member:
        return Member(
            "blocking", self.section, outline, depth, grain, material=self.blocking.material, view=view
        )
