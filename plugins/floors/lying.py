"""How a floor lies: its plane, in which joists stand upright, and places of the world in it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from soleplate.engine.rules import FloorPlan, Hole, View

Runs = Literal["front-back", "left-right"]


@dataclass(frozen=True, slots=True)
class Lying:
    """The plane of a floor whose joists run one way; lengths mm.

    Of joists from front to back u is along the front and v from front to back. Of joists from left to right
    u is from front to back, and v from the right side to the left, so that depth grows downwards.
    """

    plan: FloorPlan
    runs: Runs
    below: float
    """How far the top of the joists lies below the sole plates."""

    @property
    def length(self) -> float:
        """Across the joists."""
        return self.plan.length if self.runs == "front-back" else self.plan.width

    @property
    def width(self) -> float:
        """Along the joists, over the rim joists."""
        return self.plan.width if self.runs == "front-back" else self.plan.length

    @property
    def view(self) -> View:
        """The plane, seen from above."""
        if self.runs == "front-back":
            return View("plan", (0.0, 0.0, -self.below), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
        return View("plan", (self.plan.length, 0.0, -self.below), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0))

    def hole(self, name: str, x: tuple[float, float], y: tuple[float, float]) -> Hole:
        """A rectangle of the world in the plane: its extent along X and along Y."""
        if self.runs == "front-back":
            return Hole(name, "gap", *x, *y)
        return Hole(name, "gap", *y, self.plan.length - x[1], self.plan.length - x[0])
