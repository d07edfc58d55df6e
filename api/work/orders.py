"""The order of work as an answer: the order, and what was found while it was looked for."""

from __future__ import annotations

from soleplate.engine.building_file import Building
from soleplate.engine.layout import FindingOut, Layout, OrderOfWork, Result, gravest_first
from soleplate.engine.registry import Registry
from soleplate.engine.work_order import work_order


class OrderAnswer(Result):
    """The order of work of a building, or what is in the way of one."""

    order_of_work: OrderOfWork | None = None
    """Null for walls on their own, which have none."""
    findings: tuple[FindingOut, ...]
    """What to look at, the gravest first: of the order alone."""

    @property
    def is_lasting(self) -> bool:
        """Whether the same building always gives it: one that was given up depends on the time there was."""
        return all(finding.code != "order-not-searched" for finding in self.findings)


def order_answer(building: Building, layout: Layout, registry: Registry) -> OrderAnswer:
    """The order of work of a building that is laid out.

    Raises:
        UnbuildableError: an obstacle stands in a wall, the site is too wide, or a way is not known.
        RuleError: a rule failed, or returned what cannot be.
    """
    order, found = work_order(layout, building, registry)
    names = {wall.name for wall in layout.walls}
    told = (each.told(building.units, names, {}) for each in found)
    return OrderAnswer(order_of_work=order, findings=gravest_first(told))
