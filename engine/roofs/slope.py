"""A framed slope, as every later stage takes it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from soleplate.engine.framing import FilledRun, Part, slope_name
from soleplate.engine.registry import Asked
from soleplate.engine.roofs.setting_out import SlopeTask
from soleplate.engine.rules import Finding, FramedSlope, Hole, RoofRule, SlopeShape, Wall
from soleplate.engine.shapes import Member, View

ROOF: Final = "roof"
"""The roof as a whole, where a rule of it is told."""


@dataclass(frozen=True, slots=True)
class SlopeFrame:
    """A framed slope: `lying` has its rafters as they are seen square to it, `members` are all of its timber.

    `rafters` are the left faces of those that reach from end to end, x along the eaves.
    """

    rule: RoofRule
    task: SlopeTask
    shape: SlopeShape
    lying: Wall
    members: tuple[Member, ...]
    rafters: tuple[tuple[float, Member], ...]
    openings: tuple[tuple[Hole, str, tuple[Member, ...]], ...]
    runs: tuple[FilledRun, ...]
    asked: Asked
    findings: tuple[Finding, ...]

    @property
    def name(self) -> str:
        """By the wall under its eaves."""
        return slope_name(self.slope.wall)

    @property
    def slope(self) -> FramedSlope:
        """As its rule returned it."""
        return self.task.slope

    @property
    def views(self) -> tuple[View, ...]:
        """Those that its pieces lie in; of a deck the slope's own, from the deck's lower edge up."""
        deck, across = self.slope.deck, self.slope.view("slope")
        if deck is None:
            return self.slope.views
        return (*self.slope.views, View("deck", across.point(0.0, deck.bottom), across.right, across.up))

    @property
    def part(self) -> Part:
        """The slope as every later stage takes it."""
        section = self.slope.lying.section
        return Part(
            name=self.name,
            kind="slope",
            views=self.views,
            members=self.members,
            timber=self.task.timber,
            section=section,
            sold=section,
            roles=self.lying.roles,
        )
