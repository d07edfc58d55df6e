"""The plan: what a building file says of it, and the walls that come of it.

World: X to the right along the front seen from outside, Y from front to back, origin at the front-left
outer corner of the frame, in mm. Walls go round anticlockwise seen from above, so that each one's inside
is on the left of its direction, and its left end, seen from outside, is where it starts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Final, Literal, Self

from pydantic import Discriminator, Field, Tag, model_validator

from soleplate.engine.building_file.figures import Mm, Reach
from soleplate.engine.building_file.model import (
    AnyLength,
    Coordinate,
    Items,
    Limits,
    Model,
    Name,
    unbuildable,
)
from soleplate.engine.shapes import TOUCH, bounds

Through = Literal["front-back", "left-right", "pinwheel"]
Plan = tuple[float, float]

SIDES: Final = ("front", "right", "back", "left")
SHORTEST_WALL: Final = 50.0
LONGEST_WALL: Final = 60_000.0
MOST_WALLS: Final = 1_000
LOWEST_WALL: Final = 100.0
Height = Annotated[AnyLength, Limits(LOWEST_WALL, 20_000.0)]
"""From the underside of the sole plate to the top of a wall."""
WallLength = Annotated[AnyLength, Limits(SHORTEST_WALL, LONGEST_WALL)]


class Partition(Model):
    """A wall inside a rectangular building, from one outer wall to the one opposite."""

    name: Name
    """What it is called; no other wall may have that name."""
    runs: Literal["front-back", "left-right"]
    """Which way it runs: from the front wall to the back one, or from the left to the right."""
    at: WallLength
    """Its centre line: from the left outer face if it runs front to back, else from the front one."""


class Rectangle(Model):
    """A rectangular building, walls `front`, `right`, `back` and `left`."""

    length: WallLength
    """Along the front, over the frame's outer faces."""
    width: WallLength
    """From front to back, over the frame's outer faces."""
    through: Through = "front-back"
    """Which walls run the full length; the others fit between them. `pinwheel`: each at its right end."""
    partitions: Annotated[tuple[Partition, ...], Items(0, 20)] = ()
    """Walls inside."""


class ClosedPlan(Model):
    """Any closed plan whose corners are all right angles: an L, a U."""

    corners: Annotated[
        tuple[Annotated[tuple[Coordinate, Coordinate], Field(strict=False)], ...],
        Items(4, 60),
    ]
    """The outer corners of the frame in order, as [X, Y]; start at the front left one."""
    names: Annotated[tuple[Name, ...], Items(4, 60)] | None = None
    """The walls' names: the first one is that from the first corner to the second. Else `A`, `B`, `C` ..."""
    through: Through = "front-back"
    """Which walls run through at corners: those along X (`front-back`), along Y, or each at its right end."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        count = len(self.corners)
        if self.names is not None and len(self.names) != count:
            raise unbuildable(
                f"{len(self.names)} names for {count} walls; accepted is one name for each wall"
            )
        for (x0, y0), (x1, y1) in _sides(self.corners):
            if (x0 == x1) == (y0 == y1):
                raise unbuildable(
                    f"the side from ({x0:g}, {y0:g}) to ({x1:g}, {y1:g}) runs along neither X nor Y;"
                    " accepted are plans whose corners are all right angles"
                )
        for (a, b), (_, c) in zip(
            _sides(self.corners), _sides(self.corners[1:] + self.corners[:1]), strict=True
        ):
            if (a[0] == b[0]) == (b[0] == c[0]):
                raise unbuildable(f"the corner ({b[0]:g}, {b[1]:g}) lies on a straight side; leave it out")
            if not SHORTEST_WALL <= abs(b[0] - a[0]) + abs(b[1] - a[1]) <= LONGEST_WALL:
                raise unbuildable(
                    "the side from ({x0:g}, {y0:g}) to ({x1:g}, {y1:g}) is {length} long; accepted is {room}",
                    x0=a[0],
                    y0=a[1],
                    x1=b[0],
                    y1=b[1],
                    length=Mm(abs(b[0] - a[0]) + abs(b[1] - a[1])),
                    room=Reach(SHORTEST_WALL, LONGEST_WALL),
                )
        _refuse_crossing(self.corners)
        return self

    def anticlockwise(self) -> tuple[tuple[Plan, ...], tuple[str, ...]]:
        """Corners and wall names, going round anticlockwise from the first corner."""
        names = self.names or tuple(_letters(len(self.corners)))
        doubled_area = sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in _sides(self.corners))
        if doubled_area > 0:
            return self.corners, names
        return (self.corners[0], *self.corners[:0:-1]), names[::-1]


class SingleWall(Model):
    """A wall on its own."""

    name: Name
    """What it is called."""
    length: WallLength
    """End to end."""
    heights: Annotated[tuple[Height, Height], Field(strict=False)] | None = None
    """Its heights over both ends, as [left, right], where the roof does not give them."""
    carries_roof: bool = False
    """Whether a roof or floor rests on it."""


class SingleWalls(Model):
    """Walls on their own: partitions, or panels made on a bench."""

    walls: Annotated[tuple[SingleWall, ...], Items(1, MOST_WALLS)]
    """The walls; each stands for itself."""


def _kind(value: Any) -> str:
    if isinstance(value, Model):
        return type(value).__name__
    if isinstance(value, dict) and "walls" in value:
        return "SingleWalls"
    if isinstance(value, dict) and "corners" in value:
        return "ClosedPlan"
    return "Rectangle"


AnyOutline = Annotated[
    Annotated[Rectangle, Tag("Rectangle")]
    | Annotated[ClosedPlan, Tag("ClosedPlan")]
    | Annotated[SingleWalls, Tag("SingleWalls")],
    Discriminator(_kind),
]


@dataclass(frozen=True, slots=True)
class WallEnd:
    """One end of a wall.

    `kind` says what happens there: it runs `through` a corner, `butts` against the wall that does, meets
    the face of a wall as a `tee`, or is `free`. `neighbour` is the other wall's name and `neighbour_depth`
    its depth in mm. At a `reentrant` corner the building's outside is the small angle.
    """

    kind: Literal["through", "butts", "tee", "free"]
    neighbour: str | None = None
    neighbour_depth: float = 0.0
    reentrant: bool = False


@dataclass(frozen=True, slots=True)
class Tee:
    """Where a partition of `depth` mm meets this wall's inside: its centre line, mm from the left end."""

    partition: str
    centre: float
    depth: float


@dataclass(frozen=True, slots=True)
class PlanWall:
    """A wall in plan. `start` is the outer corner of its left end, `run` the unit vector to the right.

    `faces` are, of a partition, the walls that its outer face and its inner one look at.
    """

    name: str
    start: Plan
    run: Plan
    length: float
    depth: float
    ends: tuple[WallEnd, WallEnd]
    tees: tuple[Tee, ...] = ()
    faces: tuple[str, str] | None = None

    @property
    def is_partition(self) -> bool:
        """Whether it stands inside, between two walls, so that both its faces are indoors."""
        return all(end.kind == "tee" for end in self.ends)

    @property
    def inwards(self) -> Plan:
        """The unit vector from its outer face to its inner one."""
        return (-self.run[1], self.run[0])

    def point(self, x: float, y: float) -> Plan:
        """The world's X and Y of the place `x` along and `y` in from the outer face."""
        inwards = self.inwards
        return (
            self.start[0] + x * self.run[0] + y * inwards[0],
            self.start[1] + x * self.run[1] + y * inwards[1],
        )


def wall_names(outline: Rectangle | ClosedPlan | SingleWalls) -> tuple[str, ...]:
    """The names of all walls, in the order in which they are laid out."""
    if isinstance(outline, Rectangle):
        return (*SIDES, *(partition.name for partition in outline.partitions))
    if isinstance(outline, ClosedPlan):
        return outline.anticlockwise()[1]
    return tuple(wall.name for wall in outline.walls)


def plan_walls(
    outline: Rectangle | ClosedPlan | SingleWalls, depths: dict[str, float]
) -> tuple[PlanWall, ...]:
    """Set the walls out in plan; `depths` are their depths in mm by name.

    Walls on their own lie one behind the other, a metre apart, since nothing says where they stand.
    """
    if isinstance(outline, SingleWalls):
        free = (WallEnd("free"), WallEnd("free"))
        return tuple(
            PlanWall(wall.name, (0.0, 1000.0 * row), (1.0, 0.0), wall.length, depths[wall.name], free)
            for row, wall in enumerate(outline.walls)
        )
    if isinstance(outline, ClosedPlan):
        corners, names = outline.anticlockwise()
        return _round(corners, names, depths, outline.through)
    length, width = outline.length, outline.width
    corners = ((0.0, 0.0), (length, 0.0), (length, width), (0.0, width))
    walls = _round(corners, SIDES, depths, outline.through)
    return _with_partitions(outline, walls, depths)


def _round(
    corners: Sequence[Plan], names: Sequence[str], depths: dict[str, float], through: Through
) -> tuple[PlanWall, ...]:
    """Walls of a closed plan going round anticlockwise; which one runs on is decided corner by corner."""
    runs = [_unit(start, end) for start, end in _sides(corners)]
    walls: list[PlanWall] = []
    for index, (start, end) in enumerate(_sides(corners)):
        before, after = index - 1, (index + 1) % len(names)
        left = _end(runs[before], runs[index], names[before], depths, through, is_left=True)
        right = _end(runs[index], runs[after], names[after], depths, through, is_left=False)
        shift_left, shift_right = _shift(left), _shift(right)
        run = runs[index]
        length = abs(end[0] - start[0]) + abs(end[1] - start[1])
        walls.append(
            PlanWall(
                names[index],
                (start[0] + shift_left * run[0], start[1] + shift_left * run[1]),
                run,
                length - shift_left - shift_right,
                depths[names[index]],
                (left, right),
            )
        )
    return tuple(walls)


def _end(
    before: Plan, after: Plan, neighbour: str, depths: dict[str, float], through: Through, *, is_left: bool
) -> WallEnd:
    """The end of one wall at the corner between the directions `before` and `after`."""
    own = after if is_left else before
    runs_on = not is_left if through == "pinwheel" else (own[1] == 0) == (through == "front-back")
    reentrant = before[0] * after[1] - before[1] * after[0] < 0
    return WallEnd("through" if runs_on else "butts", neighbour, depths[neighbour], reentrant)


def _shift(end: WallEnd) -> float:
    """How far the frame stops short of the corner, mm.

    At an outer corner a wall that butts stops short by its neighbour's depth. At a re-entrant one the two
    frames meet at the corner only, and the one that runs on goes past it, behind its neighbour.
    """
    if end.reentrant:
        return -end.neighbour_depth if end.kind == "through" else 0.0
    return 0.0 if end.kind == "through" else end.neighbour_depth


def _with_partitions(
    outline: Rectangle, walls: tuple[PlanWall, ...], depths: dict[str, float]
) -> tuple[PlanWall, ...]:
    by_name = {wall.name: wall for wall in walls}
    tees: dict[str, list[Tee]] = {name: [] for name in by_name}
    inside: list[PlanWall] = []
    for partition in outline.partitions:
        depth = depths[partition.name]
        if partition.runs == "front-back":
            hosts, run = ("front", "back"), (0.0, 1.0)
            start = (partition.at + depth / 2, depths["front"])
            length = outline.width - depths["front"] - depths["back"]
        else:
            hosts, run = ("left", "right"), (1.0, 0.0)
            start = (depths["left"], partition.at - depth / 2)
            length = outline.length - depths["left"] - depths["right"]
        ends = (
            WallEnd("tee", hosts[0], depths[hosts[0]]),
            WallEnd("tee", hosts[1], depths[hosts[1]]),
        )
        faces = _faces(outline, partition)
        inside.append(PlanWall(partition.name, start, run, length, depth, ends, faces=faces))
        for host in hosts:
            wall = by_name[host]
            axis = 0 if wall.run[0] else 1
            centre = (partition.at - wall.start[axis]) * wall.run[axis]
            tees[host].append(Tee(partition.name, centre, depth))
    return (
        *(
            PlanWall(
                wall.name, wall.start, wall.run, wall.length, wall.depth, wall.ends,
                tuple(sorted(tees[wall.name], key=lambda tee: tee.centre)),
            )
            for wall in walls
        ),
        *inside,
    )  # fmt: skip


def _faces(outline: Rectangle, partition: Partition) -> tuple[str, str]:
    """The walls that a partition's outer face and its inner one look at; partitions never cross."""
    beside = [other for other in outline.partitions if other.runs == partition.runs]
    beside.sort(key=lambda other: other.at)
    before, after = ("left", "right") if partition.runs == "front-back" else ("front", "back")
    names = [before, *(other.name for other in beside), after]
    place = names.index(partition.name, 1)
    # It runs from front to back with its outer face to the right, from left to right with that to the front.
    inner, outer = names[place - 1], names[place + 1]
    return (outer, inner) if partition.runs == "front-back" else (inner, outer)


def partition_room(outline: Rectangle, partition: Partition, depths: dict[str, float]) -> tuple[float, float]:
    """The least and the greatest place, mm, of a partition's centre line between the outer walls."""
    if partition.runs == "front-back":
        near, far, over_all = "left", "right", outline.length
    else:
        near, far, over_all = "front", "back", outline.width
    half = depths[partition.name] / 2
    return depths[near] + half, over_all - depths[far] - half


def in_each_other(walls: Sequence[PlanWall]) -> tuple[PlanWall, PlanWall] | None:
    """The first two walls that stand in the same place in plan, the later one last; `None` if none do."""
    footprints = [_footprint(wall) for wall in walls]
    for index, other in enumerate(footprints):
        for first, one in enumerate(footprints[:index]):
            if (
                min(one[1], other[1]) - max(one[0], other[0]) > TOUCH
                and min(one[3], other[3]) - max(one[2], other[2]) > TOUCH
            ):
                return walls[first], walls[index]
    return None


def _footprint(wall: PlanWall) -> tuple[float, float, float, float]:
    """Least and greatest X, least and greatest Y."""
    return bounds([wall.point(0.0, 0.0), wall.point(wall.length, wall.depth)])


def _sides(corners: Sequence[Plan]) -> list[tuple[Plan, Plan]]:
    return list(zip(corners, (*corners[1:], corners[0]), strict=True))


def _unit(start: Plan, end: Plan) -> Plan:
    run, rise = end[0] - start[0], end[1] - start[1]
    size = abs(run) + abs(rise)
    return (run / size, rise / size)


def _letters(count: int) -> list[str]:
    """A to Z, then AA, AB ..."""
    letters = [chr(ord("A") + index) for index in range(26)]
    return (letters + [first + second for first in letters for second in letters])[:count]


def _refuse_crossing(corners: Sequence[Plan]) -> None:
    """Refuse a plan whose sides cross or touch each other away from their common corner."""
    boxes = [(min(a[0], b[0]), max(a[0], b[0]), min(a[1], b[1]), max(a[1], b[1])) for a, b in _sides(corners)]
    for first in range(len(boxes)):
        for second in range(first + 2, len(boxes)):
            if first == 0 and second == len(boxes) - 1:
                continue
            one, other = boxes[first], boxes[second]
            if (
                one[0] <= other[1] and other[0] <= one[1] and one[2] <= other[3] and other[2] <= one[3]
            ):  # fmt: skip
                raise unbuildable(
                    f"side {first + 1} meets side {second + 1};"
                    " accepted are plans whose sides meet only at corners"
                )
