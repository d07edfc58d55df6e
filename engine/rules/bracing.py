"""The family of rules that brace walls: what keeps a frame from racking besides sheets."""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from soleplate.engine.rules.findings import Finding
from soleplate.engine.rules.goods import Goods, GoodsKind
from soleplate.engine.rules.rule import Rule
from soleplate.engine.rules.surfaces import Facing
from soleplate.engine.rules.walls import Wall
from soleplate.engine.shapes import Member, Outline, Point, overlap


@dataclass(frozen=True, slots=True)
class Strap:
    """A steel strap on one face of a frame, mm; `wrap` goes round each plate and is not in its length."""

    kind: GoodsKind
    face: Facing
    thickness: float
    wrap: float


@dataclass(frozen=True, slots=True)
class Brace:
    """One brace of a wall: from its foot up to its head, along its centre line, mm.

    `outline` is the whole of it on the wall's face, `length` is over its long points. It is of `members`, or
    is a `strap`. What is `let_in` lies flush in a face: the engine cuts housings for it into all that it
    crosses. It is fixed by so many nails `at_ends`, at each, and `at_crossings`, at every upright crossed.
    """

    foot: Point
    head: Point
    width: float
    length: float
    outline: Outline
    members: tuple[Member, ...] = ()
    let_in: bool = False
    strap: Strap | None = None
    at_ends: int = 0
    at_crossings: int = 0

    @property
    def kind(self) -> Literal["cut in", "let in", "strap"]:
        """How it is made."""
        if self.strap is not None:
            return "strap"
        return "let in" if self.let_in else "cut in"

    def crossed(self, members: Sequence[Member]) -> list[Member]:
        """The uprights that it crosses."""
        return [each for each in members if each.is_upright and overlap(each.outline, self.outline)]


@dataclass(frozen=True, slots=True)
class Braced:
    """The braces that a wall gets, the timbers that are left out for them, goods besides straps, findings."""

    braces: tuple[Brace, ...]
    left_out: tuple[Member, ...] = ()
    goods: tuple[Goods, ...] = ()
    findings: tuple[Finding, ...] = ()


class BracingRule(Rule):
    """Base of the rules that brace walls."""

    family = "bracing_rules"

    @abstractmethod
    def brace_wall(self, wall: Wall) -> Braced:
        """Return the braces of a finished frame.

        Members of it that only fill, such as noggins, may be left out. The engine checks the result as it
        checks every frame, and counts the straps.

        Raises:
            CannotFrame: the wall has no room for a brace.
        """
