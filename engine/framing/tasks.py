"""What the steps of framing ask of what they frame: a wall, or a floor that lies on its face."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Protocol

from soleplate.engine.building_file import LengthYield
from soleplate.engine.rules import OpeningRule, Rule, families


@dataclass(frozen=True, slots=True)
class Chosen:
    """The rules of one part, by the member of the file that picks them; `framings` has one for each hole."""

    by_member: Mapping[str, tuple[Rule, ...]]
    framings: tuple[OpeningRule, ...]

    def every(self, member: str, base: type[families.AnyRule]) -> tuple[families.AnyRule, ...]:
        """The rules that a member picks, in order."""
        return tuple(rule for rule in self.by_member[member] if isinstance(rule, base))

    def maybe(self, member: str, base: type[families.AnyRule]) -> families.AnyRule | None:
        """The rule that a member picks, if there is one."""
        return next(iter(self.every(member, base)), None)

    def one(self, member: str, base: type[families.AnyRule]) -> families.AnyRule:
        """The rule that a member of a family that needs one picks."""
        (rule,) = self.every(member, base)
        return rule


class FramingTask(Protocol):
    """Something to be framed: its rules, where its openings stand in the file, and how pieces are told.

    `called` gives what is no wall its own names of pieces, by those of a wall: of a floor a stud is a joist.
    """

    @property
    def rules(self) -> Chosen:
        """Those of its families."""

    @property
    def called(self) -> Mapping[str, str]:
        """Other names of its pieces, by the usual ones."""

    @property
    def longest(self) -> LengthYield:
        """What the longest length of its plates' timber yields."""

    def pointer(self, opening: int) -> str:
        """The JSON pointer of one of its openings."""

    def pointer_to_height(self, opening: int) -> str:
        """The JSON pointer of what makes one of its openings as high as it is."""
