"""The yard: a question with all that stands round it, so that other obstacles can be tried."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

from soleplate.engine.building_file import Building
from soleplate.engine.layout import Layout
from soleplate.engine.raising.asking import offered_ways
from soleplate.engine.raising.carrying import Carrying, Ground
from soleplate.engine.raising.ground import with_ground
from soleplate.engine.raising.obstacles import Obstruction, obstructions_of
from soleplate.engine.raising.panels import SitePanel, panels_of
from soleplate.engine.raising.question import RaisingQuestion, question_of
from soleplate.engine.raising.search import Clock, OrderSearch, Preference
from soleplate.engine.registry import Registry
from soleplate.engine.shapes import Outline


@dataclass(frozen=True)
class Yard:
    """A question, what stands round it, and the `place` where frames are made, if there is one."""

    question: RaisingQuestion
    obstructions: tuple[Obstruction, ...]
    place: Outline
    preference: Preference
    _hits: dict[Obstruction, int] = field(default_factory=dict, compare=False)

    def blocked(self, obstructions: Sequence[Obstruction]) -> int:
        """The bits of the question that obstacles hit."""
        found = 0
        for each in obstructions:
            if each not in self._hits:
                self._hits[each] = self.question.hits(each)
            found |= self._hits[each]
        return found

    def routes(self, obstructions: Sequence[Obstruction]) -> Carrying:
        """What knows how panels are carried past these obstacles."""
        return Carrying(self.ground, obstructions)

    @cached_property
    def ground(self) -> Ground:
        """Over which panels are carried."""
        question = self.question
        return Ground(question.carries, question.carriers, question.panels, self.place)

    def search(
        self,
        obstructions: Sequence[Obstruction] | None = None,
        clock: Clock | None = None,
        routes: Carrying | None = None,
    ) -> OrderSearch:
        """The search with these obstacles; with all that there are unless given."""
        there = self.obstructions if obstructions is None else obstructions
        return OrderSearch(
            self.question,
            self.blocked(there),
            routes or self.routes(there),
            preference=self.preference,
            clock=clock,
        )


def yard_of(layout: Layout, building: Building, registry: Registry) -> Yard:
    """The yard of a building that is laid out.

    Raises:
        UnbuildableError: an obstacle stands in a wall, the site is too wide, or a way is not known.
        RuleError: a rule failed, or returned what cannot be.
    """
    building = with_ground(building, layout)
    obstructions = obstructions_of(building, layout.walls)
    return yard_with(panels_of(layout, building, obstructions), obstructions, building, registry)


def yard_with(
    panels: Sequence[SitePanel],
    obstructions: tuple[Obstruction, ...],
    building: Building,
    registry: Registry,
) -> Yard:
    """The yard of these panels; raises as `yard_of`."""
    site = building.site
    question = question_of(panels, offered_ways(panels, building, registry), site)
    place = site.framing_place.polygon if site.framing_place is not None else ()
    return Yard(question, obstructions, place, site.preference)
