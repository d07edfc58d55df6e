"""The family of rules that hold walls down: what fixes sole plates to the base, and keeps damp from them."""

from __future__ import annotations

from abc import abstractmethod
from dataclasses import dataclass

from soleplate.engine.rules.findings import Finding
from soleplate.engine.rules.goods import Goods, GoodsKind
from soleplate.engine.rules.rule import Rule
from soleplate.engine.shapes import Section


@dataclass(frozen=True, slots=True)
class SoleLength:
    """One length of a sole plate as it lies, from `left` to `right`, mm along its wall.

    `taken` are the feet of what stands on it, left to right. `on_floor` says that a timber floor of the
    building lies below, else a base.
    """

    part: str
    left: float
    right: float
    section: Section
    taken: tuple[tuple[float, float], ...]
    on_floor: bool = False


@dataclass(frozen=True, slots=True)
class Anchor:
    """What holds a sole plate down at one place, mm along its wall, in the middle of the plate.

    `diameter` and `length` are its own, mm.
    """

    at: float
    kind: GoodsKind
    diameter: float
    length: float


@dataclass(frozen=True, slots=True)
class HeldDown:
    """What holds one length of a sole plate down, left to right, what lies under it, and what was found."""

    anchors: tuple[Anchor, ...]
    goods: tuple[Goods, ...] = ()
    findings: tuple[Finding, ...] = ()


class HoldingDownRule(Rule):
    """Base of the rules that hold walls down."""

    family = "holding_down_rules"

    @abstractmethod
    def hold_down(self, sole: SoleLength) -> HeldDown:
        """Return what holds a length of a sole plate down.

        The engine counts the anchors themselves. Each lies within the length, clear of the feet on it, no two
        in one place.

        Raises:
            CannotFrame: the rule cannot serve what the wall stands on.
        """
