"""How good a saw plan is, for the page and the sheets."""

from __future__ import annotations

import math

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.sawing import SawPlan
from soleplate.viewer.markup import figure
from soleplate.viewer.words import Texts, money_text


def how_good(plan: SawPlan, units: Units, texts: Texts) -> str:
    """What is proven of a plan, in a sentence; the share is rounded up, so that it holds."""
    if plan.proven:
        return texts.no_better[plan.objective]
    bounds = {
        "cost": money_text(plan.bound),
        "waste": format_length(plan.bound, units),
        "lengths": f"{math.ceil(plan.bound)}",
    }
    gap = figure(math.ceil(plan.gap * 1000) / 10)
    return texts.within[plan.objective].format(gap=gap, bound=bounds[plan.objective])
