"""Saw plans and variants as lines of text, to be read at the saw or in a terminal."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.sawing import BuyingLine, SawLength, SawPlan, SectionSummary
from soleplate.engine.what_if import Variant, WhatIf


def saw_plan_lines(plan: SawPlan) -> Iterator[str]:
    """The plan: what to buy, then each set-up with its cuts and their running positions in mm."""
    count = len(plan.lengths)
    yield f"{count} lengths, {plan.set_ups} set-ups; cost {plan.cost:.2f}, waste {plan.waste:.0f} mm"
    if len({section.objective for section in plan.sections}) < 2:
        yield _how_good(plan)
    else:
        yield from (f"{_timber(section)}: {_how_good(section)}" for section in plan.sections)
    yield ""
    for line in plan.buying:
        source = "on hand" if line.on_hand else "buy"
        cost = f"  {line.cost:.2f}" if line.cost else ""
        yield f"{source:>7}  {line.count:3d} x {_named(line)}{cost}"
    for set_up, alike in groupby(plan.lengths, key=lambda length: length.set_up):
        lengths = list(alike)
        yield ""
        yield from _set_up_lines(set_up, lengths)


def _how_good(plan: SawPlan | SectionSummary) -> str:
    best = f"no plan has less {'cost' if plan.objective == 'cost' else plan.objective}"
    if plan.proven:
        return f"proven best: {best}"
    return f"not proven best: the best there is may be {plan.gap:.2%} better (bound {plan.bound:g})"


def _named(length: SawLength | BuyingLine) -> str:
    """A length as it is asked for: how long, its section and material, and that it is bent."""
    words = [f"{length.stock_length:.0f} mm", *([timber] if (timber := _timber(length)) else [])]
    return " ".join(words) + (", bent" if length.grade == "short" else "")


def _timber(of: SawLength | BuyingLine | SectionSummary) -> str:
    """Section and material, as far as they are named."""
    size = [f"{of.section[0]:g} x {of.section[1]:g}"] if of.section else []
    return " ".join([*size, *([of.material] if of.material else [])])


def _set_up_lines(set_up: int, lengths: list[SawLength]) -> Iterator[str]:
    first = lengths[0]
    source = ", on hand" if first.on_hand else ""
    yield f"set-up {set_up}: {len(lengths)} x {_named(first)}{source}"
    for index, cut in enumerate(first.cuts):
        marks = ", ".join(dict.fromkeys(length.cuts[index].mark for length in lengths))
        yield f"  {cut.from_:8.1f} to {cut.to:8.1f}  {cut.length:8.1f} mm  {marks}"
    yield f"  offcut {first.offcut:.0f} mm"


def what_if_lines(answer: WhatIf, units: Units) -> Iterator[str]:
    """The variants as a table, and the size that saves most."""
    yield f"{'':50} {'timber':>16} {'waste':>14} {'cost':>9} {'widest bay':>14} {'saved':>14}"
    yield _variant_line(answer.as_drawn, units)
    for title, variants in (("other studs", answer.studs), ("other sizes", answer.sizes)):
        yield f"{title}:"
        for variant in variants:
            yield _variant_line(variant, units)
    if answer.best_size is None:
        yield "no size tried takes less timber"
    else:
        yield f"most timber saved: {answer.best_size.what}"


def _variant_line(variant: Variant, units: Units) -> str:
    if variant.problem is not None:
        return f"{variant.what:50} cannot be built so: {variant.problem}"
    timber, waste = format_length(variant.timber or 0.0, units), format_length(variant.waste or 0.0, units)
    cost = "" if variant.cost is None else f"{variant.cost:.2f}"
    saved = "" if variant.saved is None else format_length(variant.saved, units)
    proven = "" if variant.proven else "  (not proven best)"
    bay = format_length(variant.widest_bay or 0.0, units)
    return f"{variant.what:50} {timber:>16} {waste:>14} {cost:>9} {bay:>14} {saved:>14}{proven}"
