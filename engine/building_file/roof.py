"""The roof: what a building file says of it, and the top line that it gives each wall."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final, Literal, Self

from pydantic import AfterValidator, Field, model_validator

from soleplate.engine.building_file.figures import Mm, at_least, at_most
from soleplate.engine.building_file.model import Coordinate, Model, unbuildable
from soleplate.engine.building_file.outline import LOWEST_WALL, Height, Plan, PlanWall
from soleplate.engine.shapes import TopLine

STEEPEST: Final = 80.0
"""Degrees. Steeper than this is a wall."""

AGREE: Final = 0.5
"""mm. Heights and pitch that are all given must agree within this."""

Side = Literal["front", "right", "back", "left"]


def _refuse_steep(pitch: float) -> float:
    if pitch > STEEPEST:
        raise unbuildable(f"a pitch of {pitch:g} degrees; accepted is over 0 and up to {STEEPEST:g} degrees")
    return pitch


Pitch = Annotated[float, Field(gt=0.0, le=90.0), AfterValidator(_refuse_steep)]


class LevelRoof(Model):
    """All walls have one height."""

    form: Literal["level"]
    height: Height
    """From the underside of the sole plates to the top of the head plates."""


class MonoPitchRoof(Model):
    """One slope. Give two of `low_height`, `high_height` and `pitch`."""

    form: Literal["mono-pitch"]
    high_side: Side
    """The side that the roof rises to."""
    low_height: Height | None = None
    """From the underside of the sole plate to the top of the head plate of the low wall."""
    high_height: Height | None = None
    """The same for the high wall."""
    pitch: Pitch | None = None
    """The slope in degrees."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        given = [self.low_height, self.high_height, self.pitch]
        if sum(value is not None for value in given) < 2:
            raise unbuildable(
                "too little is known of the roof; give two of low_height, high_height and pitch"
            )
        return self


class DuoPitchRoof(Model):
    """Two slopes of one pitch that meet in a ridge. Give two of `low_height`, `ridge_height` and `pitch`."""

    form: Literal["duo-pitch"]
    ridge: Literal["left-right", "front-back"]
    """The direction that the ridge runs in."""
    low_height: Height | None = None
    """From the underside of the sole plate to the outer top edge of the wall under the lower eaves."""
    ridge_height: Height | None = None
    """From the underside of the sole plates to where the two slopes meet."""
    pitch: Pitch | None = None
    """The slope of both sides, in degrees."""
    ridge_offset: Coordinate = 0.0
    """How far the ridge is off the middle: positive is towards the back, or towards the right."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        given = [self.low_height, self.ridge_height, self.pitch]
        if sum(value is not None for value in given) < 2:
            raise unbuildable(
                "too little is known of the roof; give two of low_height, ridge_height and pitch"
            )
        return self


AnyRoof = Annotated[LevelRoof | MonoPitchRoof | DuoPitchRoof, Field(discriminator="form")]


@dataclass(frozen=True, slots=True)
class RoofPlanes:
    """The roof as a height over every place in plan: the lower of its planes.

    A plane is (height at the origin, rise per mm of X, rise per mm of Y); heights in mm.
    """

    planes: tuple[tuple[float, float, float], ...]
    pitch: float

    def height(self, place: Plan) -> float:
        """The height of the roof over a place in plan, mm."""
        return min(z + rise_x * place[0] + rise_y * place[1] for z, rise_x, rise_y in self.planes)


def roof_planes(roof: LevelRoof | MonoPitchRoof | DuoPitchRoof, walls: Sequence[PlanWall]) -> RoofPlanes:
    """The planes of a roof over the outer faces of the walls.

    A mono-pitch roof passes through the outer top edge of the low wall's plate and the inner top edge of
    the high wall's (NAVEDTRA 14044 p 2-34: the run of a pent roof is the span less the high plate's
    width), so with depth d, span W and pitch p: high = low + (W - d) tan p.

    Raises:
        pydantic_core.PydanticCustomError: heights and pitch contradict, or the ridge is off the building.
    """
    if isinstance(roof, LevelRoof):
        return RoofPlanes(((roof.height, 0.0, 0.0),), 0.0)
    low, high = _extent(walls)
    if isinstance(roof, MonoPitchRoof):
        axis, rises = _MONO[roof.high_side]
        high_wall = max(
            (wall for wall in walls if wall.run[axis] == 0),
            key=lambda wall: wall.start[axis] * (1.0 if rises else -1.0),
        )
        run = high[axis] - low[axis] - high_wall.depth
        low_height, slope = _low_and_slope(roof.low_height, roof.high_height, roof.pitch, run, "high_height")
        return RoofPlanes(
            (_plane(axis, low[axis] if rises else high[axis], low_height, slope if rises else -slope),),
            math.degrees(math.atan(slope)),
        )
    axis = 1 if roof.ridge == "left-right" else 0
    span = high[axis] - low[axis]
    first, second = span / 2 + roof.ridge_offset, span / 2 - roof.ridge_offset
    if min(first, second) <= 0:
        raise unbuildable(
            "the ridge is {offset} off the middle of a span of {span}; accepted is less than {half}",
            offset=Mm(abs(roof.ridge_offset)),
            span=Mm(span),
            half=at_most(span / 2),
        )
    run = max(first, second)
    low_height, slope = _low_and_slope(roof.low_height, roof.ridge_height, roof.pitch, run, "ridge_height")
    ridge = low_height + slope * run
    return RoofPlanes(
        (
            _plane(axis, low[axis] + first, ridge, slope),
            _plane(axis, low[axis] + first, ridge, -slope),
        ),
        math.degrees(math.atan(slope)),
    )


_MONO: Final[dict[str, tuple[int, bool]]] = {
    "front": (1, False),
    "back": (1, True),
    "left": (0, False),
    "right": (0, True),
}
"""High side to the axis that the slope runs along, and whether it rises with it."""


def _plane(axis: int, at: float, height: float, slope: float) -> tuple[float, float, float]:
    """The plane that has `height` where its axis is `at`, and rises by `slope` per mm along it."""
    origin = height - slope * at
    return (origin, slope, 0.0) if axis == 0 else (origin, 0.0, slope)


def _extent(walls: Sequence[PlanWall]) -> tuple[Plan, Plan]:
    """The least and the greatest X and Y of the walls' outer faces."""
    corners = [wall.point(x, y) for wall in walls for x in (0.0, wall.length) for y in (0.0, wall.depth)]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return (min(xs), min(ys)), (max(xs), max(ys))


def _low_and_slope(
    low: float | None, high: float | None, pitch: float | None, run: float, high_name: str
) -> tuple[float, float]:
    """The lower height and the slope (rise per mm) from whichever two were given, over a run in mm.

    `high_name` is the member that gives the upper height.
    """
    if run <= 0:
        raise unbuildable("the building is no wider than its high wall is deep")
    if pitch is None:
        assert low is not None  # noqa: S101 - the model holds it
        assert high is not None  # noqa: S101 - the model holds it
        if high <= low:
            raise unbuildable(
                "{high_name} {high} is not over low_height {low}",
                high_name=high_name,
                high=Mm(high),
                low=Mm(low),
            )
        return low, (high - low) / run
    slope = math.tan(math.radians(pitch))
    if low is None:
        assert high is not None  # noqa: S101 - the model holds it
        if high - run * slope < LOWEST_WALL:
            raise unbuildable(
                "{high_name} {high} less {rise} of rise at {pitch:g} degrees leaves {low}; accepted"
                " is at least {least}",
                high_name=high_name,
                high=Mm(high),
                rise=Mm(run * slope, ".0f"),
                pitch=pitch,
                low=Mm(high - run * slope, ".0f"),
                least=at_least(LOWEST_WALL),
            )
        return high - run * slope, slope
    if high is not None and abs(low + run * slope - high) > AGREE:
        raise unbuildable(
            "low_height {low}, {high_name} {high} and pitch {pitch:g} degrees contradict: {low}"
            " rises to {reached} at {pitch:g} degrees; leave one of them out",
            low=Mm(low),
            high_name=high_name,
            high=Mm(high),
            pitch=pitch,
            reached=Mm(low + run * slope, ".1f"),
        )
    return low, slope


def top_line(wall: PlanWall, roof: RoofPlanes) -> TopLine:
    """A wall's top under the roof: (x, z) from its left end to its right.

    A wall along the eaves is level and stays under the roof over its whole depth, so its lower edge
    touches: the outer one of the low wall, the inner one of the high wall. The rest follow the slope.
    """
    places = [0.0, *_creases(wall, roof), wall.length]
    return TopLine(
        tuple(
            (x, min(roof.height(wall.point(x, 0.0)), roof.height(wall.point(x, wall.depth)))) for x in places
        )
    )


def _creases(wall: PlanWall, roof: RoofPlanes) -> list[float]:
    """Where two planes meet over the wall, mm from its left end."""
    if len(roof.planes) < 2:
        return []
    start, end = wall.point(0.0, 0.0), wall.point(wall.length, 0.0)
    (z0, x0, y0), (z1, x1, y1) = roof.planes
    at_start = z0 - z1 + (x0 - x1) * start[0] + (y0 - y1) * start[1]
    at_end = z0 - z1 + (x0 - x1) * end[0] + (y0 - y1) * end[1]
    if at_start * at_end >= 0:
        return []
    crease = wall.length * at_start / (at_start - at_end)
    return [crease] if 1e-6 < crease < wall.length - 1e-6 else []


def carries_roof(wall: PlanWall, roof: RoofPlanes) -> bool:
    """Whether rafters rest on the wall: they do on every wall that does not run with the slope."""
    return all(abs(rise_x * wall.run[0] + rise_y * wall.run[1]) < 1e-9 for _, rise_x, rise_y in roof.planes)
