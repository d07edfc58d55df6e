"""What a floor lies under, and what its framing asks of its rule."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Literal

from soleplate.engine.building_file import (
    Building,
    LengthYield,
    Rectangle,
    SingleWalls,
    Timber,
    UnbuildableError,
    pointer_to,
)
from soleplate.engine.framing import Chosen, Frame
from soleplate.engine.rules import Doorway, FloorFrame, FloorPlan

Side = Literal["front", "right", "back", "left"]

FLOOR: Final = "floor"
"""What the floor is called."""

_FACES: Final[Mapping[tuple[int, int], Side]] = {
    (1, 0): "front",
    (0, 1): "right",
    (-1, 0): "back",
    (0, -1): "left",
}
"""The way that an outer wall runs to the side of the building that it is on."""


def floor_plan(building: Building, frames: Sequence[Frame]) -> FloorPlan:
    """What the floor lies under.

    Raises:
        UnbuildableError: the outline is no rectangle, or a wall is called as the floor is.
    """
    outline = building.outline
    if not isinstance(outline, Rectangle):
        what = "walls on their own" if isinstance(outline, SingleWalls) else "a plan with corners"
        raise UnbuildableError.at(
            "/floor", f"a floor lies under a rectangle, and the outline is {what}; accepted is one that has"
            " length and width, or no floor",
        )  # fmt: skip
    if any(frame.wall.name == FLOOR for frame in frames):
        raise UnbuildableError.at("/floor", f"a wall is called {FLOOR!r}; accepted is another name for it")
    return FloorPlan(
        outline.length,
        outline.width,
        building.frame.section,
        building.frame.material,
        tuple(doorway for frame in frames for doorway in _doorways(frame)),
    )


def _doorways(frame: Frame) -> Iterator[Doorway]:
    """The doors of an outer wall; those of partitions are indoors."""
    plan = frame.task.plan
    if plan.is_partition:
        return
    side = _FACES[round(plan.run[0]), round(plan.run[1])]
    for hole in frame.wall.holes:
        if hole.kind == "door" and hole.reaches_floor:
            (x0, y0), (x1, y1) = plan.point(hole.left, 0.0), plan.point(hole.right, frame.wall.depth)
            yield Doorway(
                frame.wall.name, hole.name, min(x0, x1), max(x0, x1), min(y0, y1), max(y0, y1), side
            )


@dataclass(frozen=True)
class FloorTask:
    """A floor to be framed, as its rule returned it."""

    building: Building
    frame: FloorFrame

    @cached_property
    def rules(self) -> Chosen:
        """Those that its own rule picked."""
        picked = {"studs": self.frame.spacing, "noggins": self.frame.noggins}
        return Chosen(
            {member: (rule,) if rule is not None else () for member, rule in picked.items()},
            tuple(hatch.framing for hatch in self.frame.hatches if hatch.framing is not None),
        )

    @cached_property
    def called(self) -> Mapping[str, str]:
        """As its rule calls the pieces."""
        return dict(self.frame.called)

    @property
    def timber(self) -> Timber:
        """What its pieces are of that do not say."""
        frame = self.building.frame
        name = self.frame.material or frame.material
        return Timber.named(name, frame.density if name == frame.material else None)

    @property
    def longest(self) -> LengthYield:
        """What the longest length of its rim joists' timber yields."""
        return self.building.stock.longest_of(self.frame.lying.section, self.timber.name)

    def pointer(self, opening: int) -> str:
        """The JSON pointer of one of its hatches."""
        return pointer_to(FLOOR, "openings", self.frame.hatches[opening].index)

    def pointer_to_height(self, opening: int) -> str:
        """The JSON pointer of a hatch: which member is to blame depends on the way that joists run."""
        return self.pointer(opening)
