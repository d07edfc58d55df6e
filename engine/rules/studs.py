"""The family of rules that space studs."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from soleplate.engine.rules.rule import Rule


@dataclass(frozen=True, slots=True)
class Run:
    """A clear space for studs, joists or rafters, from the timber at its left to that at its right.

    Places are mm along the part, which is `length` long; each timber is `breadth` wide. `place` is `whole`
    for a space from plate to plate, `over` or `under` for cripples above or below an opening. `stud_lines`
    are the centre lines of studs that stand where panes meet.
    """

    left: float
    right: float
    place: Literal["whole", "over", "under"]
    breadth: float
    length: float
    stud_lines: tuple[float, ...] = ()

    @property
    def clear(self) -> float:
        """Mm."""
        return self.right - self.left


class StudRule(Rule):
    """Base of the rules that space studs."""

    family = "stud_rules"

    @classmethod
    def begun_with(cls, centres: float | str) -> Mapping[str, Any] | None:
        """Return what a new building picks of this rule, where studs are to be `centres` apart at the most.

        The members are as in a building file; `None` where a new building does not pick it.
        """
        del centres
        return None

    @abstractmethod
    def place_studs(self, run: Run) -> Sequence[float]:
        """Return the left faces of the studs in a run, mm from the part's left end, left to right.

        It spaces joists and rafters too. The timbers at both ends of the run are there already. A stud that
        would overlap one of them may be returned: the engine leaves it out. Studs may not overlap each
        other.
        """
