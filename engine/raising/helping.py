"""What may help where there is no order: a wall made in parts, tried."""

from __future__ import annotations

from collections.abc import Iterator

from soleplate.engine.building_file import Building, said
from soleplate.engine.layout import Helps
from soleplate.engine.raising.parting import in_parts
from soleplate.engine.raising.search import MOST_PANELS, Clock
from soleplate.engine.raising.yard import Yard, yard_with
from soleplate.engine.registry import Registry

MOST_PARTS = 3
"""In how many parts a wall is tried."""


def parts_that_help(
    yard: Yard, state: int, building: Building, registry: Registry, clock: Clock
) -> Iterator[Helps]:
    """Each wall that does not stand in a state and the fewest parts in which it could be raised.

    Raises:
        NotSearchedError: it took too long.
    """
    panels = yard.question.panels
    for index, panel in enumerate(panels):
        stands = bool(state >> index & 1)
        for number in range(2, MOST_PARTS + 1) if not stands and panel.part is None else ():
            if len(panels) + number - 1 > MOST_PANELS:
                break
            parts = in_parts(panel, number)
            every = sorted(
                (*panels[:index], *parts, *panels[index + 1 :]),
                key=lambda each: (-each.panel.length, each.name),
            )
            if yard_with(every, yard.obstructions, building, registry).search(clock=clock).exists():
                display = said(
                    "there is an order with {wall} made in {parts} parts", wall=panel.name, parts=number
                )
                yield Helps(what="parts", wall=panel.name, parts=number, display=display.told(building.units))
                break
