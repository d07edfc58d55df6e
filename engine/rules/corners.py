"""The family of rules that make corners and tees."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from soleplate.engine.building_file import Tee, WallEnd
from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.walls import Wall
from soleplate.engine.shapes import Member


@dataclass(frozen=True, slots=True)
class Corner:
    """One end of a wall at a corner. `left_face` turns distances from that end into places along the wall."""

    wall: Wall
    end: Literal["left", "right"]
    meets: WallEnd

    def left_face(self, nearest: float, along: float) -> float:
        """The left face of a piece `along` mm wide whose side nearest the end is `nearest` mm from it."""
        return nearest if self.end == "left" else self.wall.length - nearest - along


class CornerRule(Rule):
    """Base of the rules that make corners, and tees where a partition meets a wall."""

    family = "corner_rules"

    @abstractmethod
    def lay_corner(self, corner: Corner) -> Sequence[Member]:
        """Return what stands at a corner besides the end stud, which is always there."""

    @abstractmethod
    def lay_tee(self, tee: Tee, wall: Wall) -> Sequence[Member]:
        """Return what stands in `wall` where a partition meets its inside."""
