"""The family of rules that raise walls, and what one is told of a wall and of the site.

All is told in the wall's own axes, mm: s along it from its left end seen from outside, t inwards from its
outer face, z up from the underside of its sole plate.
"""

from __future__ import annotations

from abc import abstractmethod
from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Literal

from soleplate.engine.rules.rule import Rule
from soleplate.engine.shapes import Outline, Prism, Quarter, rectangle


@dataclass(frozen=True, slots=True)
class PanelSpan:
    """A stretch of a wall under one slope of its top: `height` is that of its higher end, mm."""

    left: float
    right: float
    height: float


@dataclass(frozen=True, slots=True)
class Panel:
    """What is raised in one go: a wall, or one of the parts that it is built in.

    `build_out` is how far its cladding stands out of its outer face, 0 where it is raised bare; `clad_first`
    is whether it must be clad before, since there is no room to do it later. `is_inside` is of a partition,
    which has deck on both sides. `weight_kg` is what is raised,
    and `centre` the height of its centre of gravity.
    """

    name: str
    length: float
    depth: float
    spans: tuple[PanelSpan, ...]
    build_out: float
    clad_first: bool
    is_inside: bool
    weight_kg: float
    centre: float

    @property
    def height(self) -> float:
        """Of its highest point, mm."""
        return max(span.height for span in self.spans)

    @property
    def is_clad(self) -> bool:
        """Whether it is raised with its cladding on."""
        return self.build_out > 0.0

    @property
    def standing(self) -> tuple[Prism, ...]:
        """Where it stands in the end: a prism for each span."""
        return tuple(
            Prism(rectangle(span.left, span.right, -self.build_out, self.depth), 0.0, span.height)
            for span in self.spans
        )


@dataclass(frozen=True, slots=True)
class SiteOut:
    """What a rule is told of the site: whether frames can be made on the `deck` or at another `place`.

    `ground` is how far the ground lies below the sole plates. The rest is as in the building file, mm. What
    stands round the building is the engine's to look at.
    """

    deck: bool
    place: bool
    ground: float
    working_room: float
    head_room: float
    carry_width: float
    hand_height: float


@dataclass(frozen=True, slots=True)
class Route:
    """A wall that is carried from where it is made: a rectangle in plan, kept between two heights, mm.

    It ends with its middle at `to`, in the wall's axes, and its length along the wall. The engine looks for
    the way there.
    """

    length: float
    width: float
    bottom: float
    top: float
    to: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Movement:
    """One way in which a panel comes to stand.

    `swept` is all that it takes up on its way, and at last. `route` is how it gets to where that begins,
    where it is carried there. `share` is the most of its weight that is lifted at once; none is where it is
    built up piece by piece. `clad` is whether its cladding is on. One of the `spots`, if there are any, must
    be free to stand in, and all that is `free`. `how` tells ways of one rule apart: `from the left`.
    `ground` is how far out of the wall free ground is needed, mm.
    """

    swept: Sequence[Prism | Quarter]
    route: Route | None = None
    share: float = 1.0
    clad: bool = False
    spots: Sequence[Prism] = ()
    free: Sequence[Prism] = ()
    on_deck: bool = True
    how: str = ""
    ground: float = 0.0


class RaisingRule(Rule):
    """Base of the rules that raise walls.

    What a rule returns depends on the panel and the site alone, never on other walls: what stands in the way
    the engine finds out.
    """

    family = "raising_rules"
    is_open: ClassVar[bool] = False
    """Whether a wall that picks this rule may also be raised in any other way that comes into question."""

    clad: Literal["before", "after"] | None = None
    """Whether the wall is clad before it is raised or after; else before where there is no room after."""

    @abstractmethod
    def ways(self, panel: Panel, site: SiteOut) -> Sequence[Movement]:
        """Return the ways in which a panel can be raised; none where this is no way for it."""


def plan_of(volume: Prism | Quarter) -> Outline:
    """What lies under a volume."""
    return volume.outline if isinstance(volume, Prism) else volume.plan
