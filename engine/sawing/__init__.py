"""Planning the sawing: what to buy, how to cut it, and a proof of how good that is.

In: a `SawPlanRequest`, parts and the stock to cut them from. Out: a `SawPlan`, with a bound that no plan is
below. The solver is imported with the first plan, not with this package: that takes 0.3 s.
"""

from __future__ import annotations

from soleplate.engine.sawing.answer import BuyingLine, SawCut, SawLength, SawPlan, SectionSummary
from soleplate.engine.sawing.check import check_plan
from soleplate.engine.sawing.ends import FactoryEnds, KeptEnd, keeping_factory_ends
from soleplate.engine.sawing.faults import check_request, read_request
from soleplate.engine.sawing.request import (
    LengthOnHand,
    LengthOnSale,
    Objective,
    SawPlanRequest,
    SectionStock,
    WantedPart,
)
from soleplate.engine.sawing.spares import SpareOrder, spare_order

__all__ = [
    "BuyingLine",
    "FactoryEnds",
    "KeptEnd",
    "LengthOnHand",
    "LengthOnSale",
    "Objective",
    "SawCut",
    "SawLength",
    "SawPlan",
    "SawPlanRequest",
    "SectionStock",
    "SectionSummary",
    "SpareOrder",
    "WantedPart",
    "check_plan",
    "check_request",
    "keeping_factory_ends",
    "plan_sawing",
    "read_request",
    "spare_order",
]


def plan_sawing(request: SawPlanRequest) -> SawPlan:
    """The best plan found within the time budget, with a bound on what any plan can reach.

    See `soleplate.engine.sawing.plan.plan_sawing`, which this calls once the solver is imported.

    Raises:
        UnbuildableError: a part fits no stock, or the stock does not suffice; parts and sections are named.

    """
    from soleplate.engine.sawing import plan

    return plan.plan_sawing(request)
