"""Obstacles in the world: what stands round the building, with heights above the sole plates' underside."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from soleplate.engine.building_file import Building, Mm, Obstacle, UnbuildableError, pointer_to
from soleplate.engine.layout import WallOut
from soleplate.engine.raising.axes import Axes
from soleplate.engine.shapes import (
    TOUCH,
    Outline,
    Point,
    Prism,
    area,
    clip,
    convex_parts,
    gap,
    pairs,
)

PAST_ENDS: Final = 1000.0
"""mm past both ends of a wall that what runs beside it goes on (a default, invented)."""

ROOM_THICK: Final = 2000.0
"""mm. How far that reaches which leaves but so much room outside a wall (a default, invented)."""

LONGEST_SITE: Final = 30_000.0
"""mm. A wider site is none for one small building: ways of carrying are looked for over all of it."""


@dataclass(frozen=True, slots=True)
class Obstruction:
    """An obstacle in the world.

    Its `corners` are in the order of the file; of one beside a wall its near face comes first. `prisms` fill
    it. `bottom` and `top` are above the sole plates' underside, mm; it `hangs` where it is off the ground.
    """

    name: str
    corners: Outline
    bottom: float
    top: float
    hangs: bool
    pointer: str
    prisms: tuple[Prism, ...]

    def between(self, bottom: float, top: float) -> Obstruction:
        """The same at other heights."""
        prisms = tuple(replace(each, bottom=bottom, top=top) for each in self.prisms)
        return replace(self, bottom=bottom, top=top, prisms=prisms)

    def pushed(self, edge: int, by: float) -> Obstruction:
        """The same with one outermost edge pushed back, mm; nothing is left of it that lay before there."""
        start, end = list(pairs(self.corners))[edge]
        if area(self.corners) < 0.0:
            start, end = end, start
        size = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
        inwards = (-(end[1] - start[1]) / size * by, (end[0] - start[0]) / size * by)
        line = [(x + inwards[0], y + inwards[1]) for x, y in (start, end)]
        cut = [replace(each, outline=clip(each.outline, line[0], line[1])) for each in self.prisms]
        return replace(self, prisms=tuple(each for each in cut if each.outline))

    def outermost(self) -> Iterator[tuple[int, float]]:
        """Each edge that all of it lies behind, and how far it reaches from there, mm."""
        turn = 1.0 if area(self.corners) > 0.0 else -1.0
        for index, ((x0, y0), (x1, y1)) in enumerate(pairs(self.corners)):
            size = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
            depths = [
                turn * ((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / size for x, y in self.corners
            ]  # fmt: skip
            if min(depths) >= -TOUCH:
                yield index, max(depths)


def obstructions_of(building: Building, walls: Sequence[WallOut]) -> tuple[Obstruction, ...]:
    """All that stands round a building, its `room` among it.

    Raises:
        UnbuildableError: one stands in a wall, or the site is too wide.
    """
    site = building.site
    asked = [(each, pointer_to("site", "obstacles", index)) for index, each in enumerate(site.obstacles)]
    asked += [
        (Obstacle(name=f"room {wall}"[:60], beside=wall, clear=clear, thick=ROOM_THICK), place)
        for wall, clear in site.room.items()
        for place in [pointer_to("site", "room", wall)]
    ]
    places = {wall.name: wall for wall in walls}
    made = tuple(_obstruction(each, pointer, site.ground or 0.0, places) for each, pointer in asked)
    _refuse_in_walls(made, places)
    framing = site.framing_place.polygon if site.framing_place is not None else ()
    if made or framing:
        _refuse_wide([p for each in made for p in each.corners], framing, walls)
    return made


def _obstruction(asked: Obstacle, pointer: str, ground: float, places: Mapping[str, WallOut]) -> Obstruction:
    corners = asked.polygon if asked.polygon is not None else _beside(asked, places)
    outline = corners if area(corners) > 0.0 else corners[::-1]
    bottom, top = asked.bottom - ground, asked.top - ground
    prisms = tuple(Prism(part, bottom, top) for part in convex_parts(outline))
    return Obstruction(asked.name, corners, bottom, top, asked.bottom > 0.0, pointer, prisms)


def _beside(asked: Obstacle, places: Mapping[str, WallOut]) -> Outline:
    """The outline of what runs beside a wall, from the right end of its near face."""
    assert asked.beside is not None and asked.clear is not None  # noqa: PT018, S101 - the model says so
    wall = places[asked.beside]
    axes = Axes.of(wall)
    near, far = -asked.clear, -asked.clear - asked.thick
    others = [each for each in places.values() if each is not wall]
    left, right = asked.along or _clear_of(axes, wall.length, (far, near), others)
    return tuple(axes.point(s, t) for s, t in ((right, near), (left, near), (left, far), (right, far)))


def _clear_of(
    axes: Axes, length: float, across: tuple[float, float], others: Iterable[WallOut]
) -> tuple[float, float]:
    """The stretch of what runs beside a wall and past its ends; at a re-entrant corner it ends there."""
    left, right = -PAST_ENDS, length + PAST_ENDS
    whole = Prism(axes.over(left, right, *across), 0.0, 1.0)
    for other in map(_footprint, others):
        if gap(whole, other) < -TOUCH:
            along = [axes.local(point)[0] for point in other.outline]
            if max(along) < length / 2:
                left = max(left, max(along))
            elif min(along) > length / 2:
                right = min(right, min(along))
    return left, right


def _footprint(wall: WallOut) -> Prism:
    """Of its bare frame, as high as its highest point."""
    outline = Axes.of(wall).over(0.0, wall.length, 0.0, wall.plan.depth)
    return Prism(outline, 0.0, max(z for _, z in wall.top_line))


def _refuse_in_walls(made: Iterable[Obstruction], places: Mapping[str, WallOut]) -> None:
    """Refuse what stands over a wall's bare footprint, lower than its highest top."""
    for each in made:
        for name, standing in places.items():
            wall = _footprint(standing)
            depths = [-gap(prism, wall) for prism in each.prisms]
            if each.bottom < wall.top - TOUCH and each.top > TOUCH and max(depths) > TOUCH:
                raise UnbuildableError.at(
                    each.pointer,
                    "{obstacle} stands in wall {wall} by {depth}; accepted is a place clear of the walls, or"
                    " a bottom over them",
                    obstacle=each.name,
                    wall=name,
                    depth=Mm(max(depths), ".0f"),
                )


def _refuse_wide(corners: Sequence[Point], framing: Sequence[Point], walls: Iterable[WallOut]) -> None:
    points = [*corners, *framing, *(p for wall in walls for p in _footprint(wall).outline)]
    xs, ys = zip(*points, strict=True)
    wide = max(max(xs) - min(xs), max(ys) - min(ys))
    if wide > LONGEST_SITE + TOUCH:
        raise UnbuildableError.at(
            "/site",
            "the building and what stands round it are {wide} across; accepted are up to {most}",
            wide=Mm(wide, ".0f"),
            most=Mm(LONGEST_SITE, ".0f"),
        )
