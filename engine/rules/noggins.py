"""The family of rules that set noggins."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass

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
    brings = "noggin"

    @abstractmethod
    def place_noggins(self, wall: Wall) -> Sequence[NogginPlace]:
        """Return the noggins, row by row, left to right.

        A noggin is as thick as the wall's studs are broad and as deep as the wall. One that does not fit,
        under a slope or against an opening's timbers, is left out by the engine and reported.
        """
