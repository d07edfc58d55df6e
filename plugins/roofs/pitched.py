"""Closed forms of a rafter: places are r, level from the eaves wall's outer face, and z, both mm.

NAVEDTRA 14044 p 2-34 has the run of a pent roof as the span less the width of the high wall's plate: the
measuring line goes through the outer top edge of the low plate and the inner one of the high plate, so that
both birdsmouths are alike. The rafters' undersides lie `heel` below that line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from soleplate.engine.rules import Outline, Section

Ends = tuple[float, float]
"""From one place to another along a line, mm."""

NOTCH_SHARE = 0.25
"""Of a rafter's depth, square to its edge, that a birdsmouth may take (IRC R502.8.1, as restated)."""


def longest_seat(pitch: float, depth: float) -> float:
    """How long a birdsmouth's seat may be, so that it takes no more than a quarter of the depth, mm."""
    return depth * NOTCH_SHARE / math.sin(math.radians(pitch))


@dataclass(frozen=True, slots=True)
class Pitched:
    """A rafter: `low` is the height of the measuring line over r = 0.

    It reaches from `start` to `end`, cut plumb, and sits by a birdsmouth at each of `seats`, (r of its plumb
    face, length of its level one). `seat` is that on the plates.
    """

    pitch: float
    section: Section
    low: float
    seat: float
    start: float
    end: float
    seats: tuple[tuple[float, float], ...]

    @property
    def tan(self) -> float:
        """Rise for each mm of run."""
        return math.tan(math.radians(self.pitch))

    @property
    def cos(self) -> float:
        """Run for each mm along the slope."""
        return math.cos(math.radians(self.pitch))

    @property
    def sin(self) -> float:
        """Rise for each mm along the slope."""
        return math.sin(math.radians(self.pitch))

    @property
    def heel(self) -> float:
        """Plumb face of a birdsmouth on a plate, mm."""
        return self.seat * self.tan

    @property
    def plumb(self) -> float:
        """Its depth measured plumb, mm."""
        return self.section.depth / self.cos

    @property
    def over_seat(self) -> float:
        """What is left over a seat, plumb at its heel, mm."""
        return self.plumb - self.heel

    def line(self, r: float) -> float:
        """Height of the measuring line."""
        return self.low + r * self.tan

    def underside(self, r: float) -> float:
        """Height of the underside."""
        return self.line(r) - self.heel

    def top(self, r: float) -> float:
        """Height of the upper edge."""
        return self.underside(r) + self.plumb

    def along(self, r: float) -> float:
        """How far up the slope the upper edge is at r, from r = 0, mm."""
        return r / self.cos

    @property
    def edge(self) -> float:
        """Length of its upper edge, mm."""
        return (self.end - self.start) / self.cos

    @property
    def blank(self) -> float:
        """Length over its long points, mm."""
        return self.edge + self.section.depth * self.tan

    @property
    def inner(self) -> tuple[float, float]:
        """From where to where up the slope a piece square to it, as deep as the rafter, has both its ends."""
        return self.along(self.start), self.along(self.end) - self.section.depth * self.tan

    def taken(self, r: float, seat: float) -> tuple[float, float]:
        """The stretch up the slope where a piece square to it would stand in a plate with its heel at r."""
        back = self.section.depth * self.sin
        return (r - back) / self.cos, (r + seat - back) / self.cos

    def outline(self, seats: tuple[tuple[float, float], ...] | None = None) -> Outline:
        """Its side, (r, z); with other `seats` where they are given."""
        points = [(self.start, self.underside(self.start))]
        for r, seat in self.seats if seats is None else seats:
            foot = self.underside(r)
            points += [(r, foot), (r, foot + seat * self.tan), (r + seat, foot + seat * self.tan)]
        points += [
            (self.end, self.underside(self.end)),
            (self.end, self.top(self.end)),
            (self.start, self.top(self.start)),
        ]
        return tidied(points)

    @property
    def marks(self) -> tuple[float, ...]:
        """Along its upper edge, mm: the low plumb cut, the plumb line of each heel, the upper plumb cut."""
        return (0.0, *((r - self.start) / self.cos for r, _ in self.seats), self.edge)


def tidied(points: list[tuple[float, float]]) -> Outline:
    """An outline without doubled corners, and without spikes back along a plumb end."""
    kept: list[tuple[float, float]] = []
    for point in points:
        if not kept or math.dist(point, kept[-1]) > 1e-6:
            kept.append(point)
    while len(kept) > 3 and math.dist(kept[0], kept[-1]) <= 1e-6:
        kept.pop()
    # Where a heel is in the plumb cut itself, the rafter begins at the seat.
    if abs(kept[0][0] - kept[1][0]) <= 1e-9:
        del kept[0]
    return tuple(kept)


def mirrored(outline: Outline) -> Outline:
    """An outline in the plane of the side, where u is r turned round so that depth grows along the eaves."""
    return tuple((-r, z) for r, z in reversed(outline))
