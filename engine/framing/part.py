"""Parts: framed timber that is set out, numbered, covered and listed together, whatever way it lies."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from soleplate.engine.building_file import PlanWall, Timber
from soleplate.engine.shapes import ROLES, Member, Roles, Section, View

PartKind = Literal["wall", "floor", "slope"]


@dataclass(frozen=True, slots=True)
class Part:
    """A framed wall, floor or slope: its members, each in one of its views.

    `timber` is what its members are of that do not say, `section` the usual one as measured and `sold` the
    same as it is sold. Uprights that stand at `foot` mm above the lower edge stand where it is wettest;
    without it none do. `trim_allowance` is left on uprights under a slope, mm.
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


def wall_view(plan: PlanWall) -> View:
    """The face of a wall as it is seen from outside: u from its left end, v up from its underside."""
    return View("face", (*plan.start, 0.0), (*plan.run, 0.0), (0.0, 0.0, 1.0))
