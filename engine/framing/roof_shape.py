"""The roof as a rule that frames it is told of it: from the plan, and from framed walls where they are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal, Protocol

from soleplate.engine.building_file import (
    Building,
    DuoPitchRoof,
    Mm,
    MonoPitchRoof,
    PlanWall,
    Rectangle,
    RoofPlanes,
    SingleWalls,
    UnbuildableError,
)
from soleplate.engine.rules import Plate, RoofRule, RoofShape, SlopeShape, Wall, WallUnder, picked
from soleplate.engine.shapes import TOUCH, View

POINTER: Final = "/roof/frame"

Side = Literal["front", "right", "back", "left"]
OPPOSITE: Final[Mapping[str, Side]] = {"front": "back", "back": "front", "left": "right", "right": "left"}


class Standing(Protocol):
    """A framed wall, as far as a roof is concerned."""

    @property
    def wall(self) -> Wall:
        """It, with its members."""

    @property
    def raised(self) -> float:
        """How far plates lie over the line that the roof gives it, mm."""

    @property
    def breaks(self) -> tuple[float, ...]:
        """Between its panels, mm from its left."""

    @property
    def covered(self) -> tuple[float, float]:
        """How far what lies on its outside and on its inside stands off its frame, mm."""


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of the outline, seen from outside: its left corner, the way along it, and its length, mm."""

    corner: tuple[float, float]
    run: tuple[float, float]
    length: float

    @property
    def inwards(self) -> tuple[float, float]:
        return -self.run[1], self.run[0]

    def along(self, place: tuple[float, float]) -> float:
        """How far along it a place in plan is, mm."""
        return sum((a - b) * c for a, b, c in zip(place, self.corner, self.run, strict=True))

    def extent(self, plan: PlanWall) -> tuple[float, float]:
        """What a wall takes up along it, mm."""
        places = [self.along(plan.point(x, y)) for x in (0.0, plan.length) for y in (0.0, plan.depth)]
        return min(places), max(places)


def roof_frame_of(building: Building) -> RoofRule | None:
    """The rule that frames the roof, where the building file picks one."""
    return next(iter(picked(RoofRule, building.roof)), None)


def slope_name(wall: str) -> str:
    """What the slope over the wall under its eaves is called."""
    return f"roof {wall}"


def slope_names(building: Building) -> tuple[str, ...]:
    """What the slopes of a framed roof are called; none where the roof has no frame."""
    roof = building.roof
    if roof_frame_of(building) is None or not isinstance(roof, MonoPitchRoof | DuoPitchRoof):
        return ()
    return tuple(slope_name(wall) for wall in _eaves(roof))


def roof_shape(
    building: Building,
    plans: Sequence[PlanWall],
    planes: RoofPlanes,
    standing: Mapping[str, Standing] | None = None,
) -> RoofShape:
    """The roof over walls in plan; of framed ones with their studs, and with plates that lie over their tops.

    Raises:
        UnbuildableError: the outline is no rectangle, or plates lie over the walls' tops by unlike heights.
    """
    outline, roof = building.outline, building.roof
    if not isinstance(outline, Rectangle):
        what = "walls on their own" if isinstance(outline, SingleWalls) else "a plan with corners"
        raise UnbuildableError.at(
            POINTER,
            f"a roof is framed over a rectangle, and the outline is {what}; accepted is one that has"
            f" length and"
            " width, or a roof without a frame",
        )
    assert isinstance(roof, MonoPitchRoof | DuoPitchRoof)  # noqa: S101 - only those pick a frame
    sides = _sides(outline)
    by_name = {plan.name: plan for plan in plans}
    raised = _raised(plans, standing)
    eaves = _eaves(roof)
    slopes = []
    for name in eaves:
        side = sides[name]
        far = by_name[OPPOSITE[name]]
        over = outline.width if name in ("front", "back") else outline.length
        low = planes.height(side.corner) + raised
        tangent = _tangent(planes)
        run = over if len(eaves) == 1 else (_ridge(planes) - planes.height(side.corner)) / tangent
        plates = [_plate(by_name[name], side, 0.0, low, standing)]
        if len(eaves) == 1:
            at = over - far.depth
            plates.append(_plate(far, side, at, low + at * tangent, standing))
        view = View("eaves", (*side.corner, 0.0), (*side.run, 0.0), (0.0, 0.0, 1.0))
        slopes.append(SlopeShape(name, view, side.length, run, tuple(plates)))
    first = sides[eaves[0]]
    carrying = {eaves[0], OPPOSITE[eaves[0]]}
    along = [
        WallUnder(plan.name, *first.extent(plan), _covered(plan, first, standing), plan.is_partition)
        for plan in plans
        if plan.name not in carrying and abs(plan.run[0] * first.run[0] + plan.run[1] * first.run[1]) < 0.5
    ]
    running = {wall.name for wall in along} | carrying
    return RoofShape(
        form=roof.form,
        pitch=planes.pitch,
        length=first.length,
        width=outline.width if eaves[0] in ("front", "back") else outline.length,
        slopes=tuple(slopes),
        along=tuple(sorted(along, key=lambda wall: wall.left)),
        across=tuple(plan.name for plan in plans if plan.name not in running),
        material=building.frame.material,
    )


def _sides(outline: Rectangle) -> dict[str, _Side]:
    length, width = outline.length, outline.width
    return {
        "front": _Side((0.0, 0.0), (1.0, 0.0), length),
        "right": _Side((length, 0.0), (0.0, 1.0), width),
        "back": _Side((length, width), (-1.0, 0.0), length),
        "left": _Side((0.0, width), (0.0, -1.0), width),
    }


def _eaves(roof: MonoPitchRoof | DuoPitchRoof) -> tuple[Side, ...]:
    """The sides that have eaves at the foot of a slope."""
    if isinstance(roof, MonoPitchRoof):
        return (OPPOSITE[roof.high_side],)
    return ("front", "back") if roof.ridge == "left-right" else ("left", "right")


def _tangent(planes: RoofPlanes) -> float:
    """The rise for each mm of run."""
    _, rise_x, rise_y = planes.planes[0]
    return abs(rise_x) + abs(rise_y)


def _ridge(planes: RoofPlanes) -> float:
    """The height at which two planes meet, mm."""
    (z0, x0, y0), (z1, x1, y1) = planes.planes
    at = (z1 - z0) / ((x0 - x1) + (y0 - y1))
    return z0 + (x0 + y0) * at


def _plate(
    plan: PlanWall, side: _Side, at: float, top: float, standing: Mapping[str, Standing] | None
) -> Plate:
    left, right = side.extent(plan)
    studs: Iterable[tuple[float, float]] = ()
    covered = 0.0
    if standing is not None:
        covered, _ = standing[plan.name].covered
        wall, breaks = standing[plan.name].wall, standing[plan.name].breaks
        # The end studs of two panels carry as one, over the break.
        studs = [
            (m.left, m.right)
            for m in wall.members
            if m.is_upright
            and wall.roles[m.role].full_height
            and not any(min(abs(m.left - x), abs(m.right - x)) < TOUCH for x in breaks)
        ]
        studs += [(x - wall.breadth / 2, x + wall.breadth / 2) for x in breaks]
    forwards = plan.run == side.run
    lefts = {round(left + a if forwards else right - b, 6) for a, b in studs}
    return Plate(plan.name, at, plan.depth, left, right, top, tuple(sorted(lefts)), covered)


def _raised(plans: Sequence[PlanWall], standing: Mapping[str, Standing] | None) -> float:
    """How far plates lie over the line that the roof gives the outer walls, mm: alike on all of them."""
    if standing is None:
        return 0.0
    outer = [plan.name for plan in plans if not plan.is_partition]
    raised = {name: standing[name].raised for name in outer}
    low, high = min(raised, key=lambda name: raised[name]), max(raised, key=lambda name: raised[name])
    if raised[high] - raised[low] > TOUCH:
        raise UnbuildableError.at(
            POINTER,
            "the plates of wall {high} lie {more} over the line of the roof and those of wall {low} {less};"
            " accepted are plates that lie alike over it on all outer walls, or under it",
            high=high,
            more=Mm(raised[high]),
            low=low,
            less=Mm(raised[low]),
        )
    return raised[low]


def _covered(plan: PlanWall, side: _Side, standing: Mapping[str, Standing] | None) -> tuple[float, float]:
    """How far what lies on a wall stands off it, at its left and at its right along a side, mm."""
    if standing is None:
        return (0.0, 0.0)
    outside, inside = standing[plan.name].covered
    across = sum(a * b for a, b in zip(plan.inwards, side.run, strict=True))
    return (outside, inside) if across > 0.0 else (inside, outside)
