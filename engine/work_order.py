"""The order of work of a building; where there is none, whether other walls running through would help."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import get_args

from soleplate.engine.building_file import (
    Building,
    BuildingError,
    ClosedPlan,
    Rectangle,
    Through,
    said,
)
from soleplate.engine.laying_out import lay_out
from soleplate.engine.layout import ENGLISH, Helps, Layout, OrderOfWork, gravest_first
from soleplate.engine.raising import has_order, order_of_work
from soleplate.engine.registry import Registry
from soleplate.engine.rules import Finding


def work_order(
    layout: Layout, building: Building, registry: Registry
) -> tuple[OrderOfWork | None, tuple[Finding, ...]]:
    """The order of work of a building that is laid out, and what was found; none of walls on their own.

    Raises:
        UnbuildableError: an obstacle stands in a wall, the site is too wide, or a way is not known.
        RuleError: a rule failed, or returned what cannot be.
    """
    order, found = order_of_work(layout, building, registry)
    if order is None or order.possible is not False:
        return order, found
    others = tuple(_other_corners(building, registry))
    return replace(order, may_help=(*others, *order.may_help)), found


def with_work_order(
    layout: Layout, building: Building, registry: Registry, sentences: Mapping[str, str] = ENGLISH
) -> Layout:
    """A layout with its order of work, and what was found while it was looked for; raises as `work_order`."""
    order, found = work_order(layout, building, registry)
    names = {wall.name for wall in layout.walls}
    told = [each.told(building.units, names, sentences) for each in found]
    findings = gravest_first(dict.fromkeys((*layout.findings, *told)))
    return layout.model_copy(update={"order_of_work": order, "findings": findings})


def _other_corners(building: Building, registry: Registry) -> Iterator[Helps]:
    """Which other walls could run through at the corners for an order, each tried."""
    outline = building.outline
    if not isinstance(outline, Rectangle | ClosedPlan):
        return
    for through in get_args(Through):
        if through == outline.through:
            continue
        changed = building.model_copy(update={"outline": outline.model_copy(update={"through": through})})
        try:
            helps = has_order(lay_out(changed, registry), changed, registry)
        except BuildingError:
            continue
        if helps:
            display = said("there is an order with the corners {through}", through=through)
            yield Helps(what="through", to=through, display=display.told(building.units))
