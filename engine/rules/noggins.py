"""The family of rules that set noggins."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from soleplate.engine.rules.bays import Bay
from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.walls import Wall
from soleplate.engine.shapes import EndFixing


@dataclass(frozen=True, slots=True)
class NogginPlace:
    """A noggin between two uprights: its bay, its underside, and how each end is fixed."""

    bay: Bay
    bottom: float
    fixings: tuple[EndFixing, EndFixing]


class NogginRule(Rule):
    """Base of the rules that set noggins."""

    family = "noggin_rules"

    @classmethod
    def begun_with(cls, rows: int) -> Mapping[str, Any] | None:
        """Return what a new building picks of this rule, for so many rows in each wall; see `StudRule`."""
        del rows
        return None

    def behind(self) -> float | None:
        """Return the height of the sheets behind whose joints rows lie, counted from the foot, mm.

        `None` where rows lie otherwise. Rungs of a roof's ladders stand behind the same joints.
        """
        return None

    @abstractmethod
    def place_noggins(self, wall: Wall) -> Sequence[NogginPlace]:
        """Return the noggins, row by row, left to right.

        A noggin is as thick as the wall's studs are broad and as deep as the wall. One that does not fit,
        under a slope or against an opening's timbers, is left out by the engine and reported.
        """
