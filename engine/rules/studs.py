"""The family of rules that space studs."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.walls import PlatedWall


@dataclass(frozen=True, slots=True)
class StudRun:
    """A clear space to be filled with studs, from the timber at its left to that at its right.

    `place` is `wall` for a space from sole plate to top plate, `over` or `under` for cripples above or
    below an opening. `stud_lines` are the centre lines of studs that stand where panes meet.
    """

    left: float
    right: float
    place: Literal["wall", "over", "under"]
    wall: PlatedWall
    stud_lines: tuple[float, ...] = ()

    @property
    def clear(self) -> float:
        """Mm."""
        return self.right - self.left


class StudRule(Rule):
    """Base of the rules that space studs."""

    family = "stud_rules"

    @abstractmethod
    def place_studs(self, run: StudRun) -> Sequence[float]:
        """Return the left faces of the studs in a run, mm from the wall's left end, left to right.

        The timbers at both ends of the run are there already. A stud that would overlap one of them may be
        returned: the engine leaves it out. Studs may not overlap each other.
        """
