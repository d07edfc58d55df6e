"""The family of rules that make the tops of walls."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass

from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.walls import Wall
from soleplate.engine.shapes import Member, TopLine


@dataclass(frozen=True, slots=True)
class EndJoin:
    """What a top plate meets at one end of its wall.

    `lap` is the depth of the neighbour where both walls are level, of one height and plated by the same
    rule, so that their upper plates can lap; else 0. `runs_through` tells which of the two it is.
    """

    runs_through: bool
    lap: float
    neighbour_depth: float


@dataclass(frozen=True, slots=True)
class TopPlates:
    """What a top plate rule returns.

    `members` are whole plates, however long: the engine joints them over studs. `underside` is where studs
    end. `top` replaces the wall's top line where plates lie above it. `beyond` is how far plates reach past
    the left and right end, to lap over the neighbours. Joints of plates on different layers are kept
    `joints_apart` where studs within reach allow it, and joints of the sole plate off those above; with 0,
    each plate is jointed on its own.
    """

    members: tuple[Member, ...]
    underside: TopLine
    top: TopLine | None = None
    beyond: tuple[float, float] = (0.0, 0.0)
    joints_apart: float = 0.0


class TopPlateRule(Rule):
    """Base of the rules that make the top of a wall."""

    family = "top_plate_rules"

    @abstractmethod
    def lay_plates(self, wall: Wall, joins: tuple[EndJoin, EndJoin]) -> TopPlates:
        """Return the plates under the wall's top line; `joins` are the wall's left and right end."""
