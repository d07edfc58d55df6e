"""The family of rules that frame roofs."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from soleplate.engine.rules.cladding import CladdingRule
from soleplate.engine.rules.findings import Finding
from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.walls import Hole
from soleplate.engine.shapes import Member, View

Positions = Sequence[float]
"""Left faces of timbers along a part, mm."""


@dataclass(frozen=True, slots=True)
class Plate:
    """A plate that carries rafters: its outer face at `at` mm, level, from the eaves wall's outer face.

    `depth` is how far it reaches inwards, `breadth` how thick it is, `top` the height of the measuring line
    over its outer face, mm. Inwards is uphill of a plate at the eaves.
    """

    wall: str
    at: float
    depth: float
    breadth: float
    top: float


@dataclass(frozen=True, slots=True)
class SlopeShape:
    """One slope: along the wall under its eaves, `length` mm, and `run` mm level up to its high end.

    `eaves` is the face of that wall; `studs` are the left faces of its studs.
    """

    wall: str
    eaves: View
    length: float
    run: float
    plates: tuple[Plate, ...]
    studs: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class RoofShape:
    """The roof over a rectangle `length` by `width` mm, its `pitch` in degrees."""

    form: Literal["mono-pitch", "duo-pitch"]
    pitch: float
    length: float
    width: float
    slopes: tuple[SlopeShape, ...]


@dataclass(frozen=True, slots=True)
class Deck:
    """What covers a slope: a rule, and the rectangle of the slope's plane that it covers, mm."""

    rule: CladdingRule
    left: float
    right: float
    bottom: float
    top: float
    holes: tuple[Hole, ...] = ()


@dataclass(frozen=True, slots=True)
class FramedSlope:
    """A slope framed: its members, each in one of its views, and what its deck may cover."""

    wall: str
    views: tuple[View, ...]
    members: tuple[Member, ...]
    deck: Deck | None = None


@dataclass(frozen=True, slots=True)
class RoofFrame:
    """What a roof rule returns: its slopes, the ridge with the first of them."""

    slopes: tuple[FramedSlope, ...]
    findings: tuple[Finding, ...] = ()


class RoofRule(Rule):
    """Base of the rules that frame roofs; members may pick rules of other families, as a floor rule's may."""

    family = "roof_rules"

    @abstractmethod
    def drop(self, shape: RoofShape) -> float:
        """Return by how much the tops of walls that run with the slope lie lower than the roof says, mm."""

    @abstractmethod
    def lay_roof(self, shape: RoofShape, spacing: Positions) -> RoofFrame:
        """Return the frame; `spacing` are the left faces of the rafters along the eaves.

        Raises:
            CannotFrame: it cannot be framed so; the message says what would do.
        """
