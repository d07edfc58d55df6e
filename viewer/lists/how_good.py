"""How good a saw plan is, for the page and the sheets."""

from __future__ import annotations

import math

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.sawing import SawPlan, SectionSummary
from soleplate.viewer.markup import figure
from soleplate.viewer.words import Texts, money_text, timber_text


def how_good(plan: SawPlan, units: Units, texts: Texts) -> str:
    """What is proven of a plan, in a sentence; one for each section where they aim at different things."""
    if len({section.objective for section in plan.sections}) < 2:
        return _said(plan, units, texts)
    return " ".join(
        f"{timber_text(section.section, section.material, units)}: {_said(section, units, texts)}"
        for section in plan.sections
    )


def _said(plan: SawPlan | SectionSummary, units: Units, texts: Texts) -> str:
    """The share is rounded up, so that it holds."""
    if plan.proven:
        return texts.no_better[plan.objective]
    bounds = {
        "cost": money_text(plan.bound),
        "waste": format_length(plan.bound, units),
        "lengths": f"{math.ceil(plan.bound)}",
    }
    gap = figure(math.ceil(plan.gap * 1000) / 10)
    return texts.within[plan.objective].format(gap=gap, bound=bounds[plan.objective])
