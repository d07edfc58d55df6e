"""The order of work as an answer: the order, and what was found while it was looked for."""

from __future__ import annotations

from typing import Final

from soleplate.engine.building_file import Building
from soleplate.engine.layout import FindingOut, Layout, OrderOfWork, Result, gravest_first
from soleplate.engine.registry import Registry
from soleplate.engine.work_order import work_order
from soleplate.viewer.page import raising_steps
from soleplate.viewer.words import ENGLISH

DRAWN: Final = "drawn"
"""What an order of work is asked for as, to be shown on the page."""


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


def order_html(answer: OrderAnswer, layout: Layout) -> str:
    """The order of a layout as the page shows it: a figure a step, or of each thing in the way."""
    return raising_steps(layout, answer.order_of_work, answer.findings, ENGLISH)
