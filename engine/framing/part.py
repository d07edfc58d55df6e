"""Parts: framed timber that is set out, numbered, covered and listed together, whatever way it lies."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from soleplate.engine.building_file import MM3_PER_M3, PlanWall, Timber
from soleplate.engine.shapes import ROLES, TOUCH, Member, Roles, Section, View

Stretch = tuple[float, float]
"""From one place along a wall to another, mm."""

PartKind = Literal["wall", "floor", "slope"]


@dataclass(frozen=True, slots=True)
class Part:
    """A framed wall, floor or slope: its members, each in one of its views.

    `timber` is what its members are of that do not say, `section` the usual one as measured and `sold` the
    same as it is sold. Uprights that stand at `foot` mm above the lower edge stand where it is wettest;
    without it none do. `trim_allowance` is left on uprights under a slope, mm. A wall that is built in
    `panels` has the stretch of each, from the left.
    """

    name: str
    kind: PartKind
    views: tuple[View, ...]
    members: tuple[Member, ...]
    timber: Timber
    section: Section
    sold: Section
    foot: float | None = None
    trim_allowance: float = 0.0
    roles: Roles = field(default=ROLES, repr=False, compare=False)
    panels: tuple[Stretch, ...] = ()

    def panel_of(self, member: Member) -> int | None:
        """The panel that a member is of; `None` of what bridges a break, or goes on once all panels stand.

        Upper plates do: they tie panels, and plates that leave the wall go over its neighbours.
        """
        return panel_at(self.panels, member.left, member.right) if member.layer == 0 else None


def wall_view(plan: PlanWall) -> View:
    """The face of a wall as it is seen from outside: u from its left end, v up from its underside."""
    return View("face", (*plan.start, 0.0), (*plan.run, 0.0), (0.0, 0.0, 1.0))


def panel_at(panels: Sequence[Stretch], left: float, right: float) -> int | None:
    """The panel, counted from 1, that has all from one place to another; `None` where a break is between."""
    for number, (start, end) in enumerate(panels, 1):
        if start - TOUCH <= left and right <= end + TOUCH:
            return number
    return None


def timber_of(member: Member, usual: Timber) -> Timber:
    """What a member is of, where the usual timber is that of its part."""
    return usual if member.material in (None, usual.name) else Timber.named(str(member.material))


def weight_of(member: Member, usual: Timber) -> float:
    """Its weight, kg, where the usual timber is that of its part."""
    return member.volume / MM3_PER_M3 * timber_of(member, usual).density
