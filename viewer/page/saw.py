"""The page's saw plan: how good it is, the bars, the same as a table, and the factory ends."""

from __future__ import annotations

from collections.abc import Iterator

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import Layout
from soleplate.engine.sawing import FactoryEnds, SawPlan
from soleplate.viewer.drawings import saw_plan_parts
from soleplate.viewer.lists import SetUp, costs_all, how_good, set_ups
from soleplate.viewer.markup import Child, Markup, element, joined, table
from soleplate.viewer.words import Texts, money_text, timber_text


def saw_plan(layout: Layout, texts: Texts) -> Markup:
    """The section of the saw plan; empty for a layout without one. Money is told only where there is some."""
    plan = layout.saw_plan
    if plan is None:
        return Markup("")
    bars = set_ups(plan, layout.factory_ends)
    boards = [
        element("div", Markup(part), class_="board", tabindex="0", role="group", aria_label=texts.saw_plan)
        for part in saw_plan_parts(plan, layout.units, ends=layout.factory_ends, texts=texts)
    ]
    note = [texts.saw_note]
    if any(piece.from_far_end for bar in bars for piece in bar.sawn[0]):
        note += [" ", texts.far_end_note]
    return element(
        "section",
        element("h2", texts.saw_plan),
        _facts(plan, bars, layout.units, texts),
        element("p", *note),
        *boards,
        _table(plan, bars, layout.units, texts),
        _ends(layout, plan, layout.factory_ends, texts) if layout.factory_ends else "",
        id="saw-plan",
    )


def _facts(plan: SawPlan, bars: list[SetUp], units: Units, texts: Texts) -> Markup:
    on_hand = sum(length.on_hand for length in plan.lengths)
    lengths = texts.lengths_both if on_hand else texts.lengths_bought
    share = 100 * plan.waste / sum(length.stock_length for length in plan.lengths)
    cost = texts.cost if costs_all(plan) else texts.cost_of_priced
    facts = [
        *([(cost, money_text(plan.cost))] if plan.cost > 0 else []),
        (texts.how_good, how_good(plan, units, texts)),
        (texts.lengths, lengths.format(bought=plan.bought, on_hand=on_hand)),
        (texts.waste, texts.waste_of.format(waste=format_length(plan.waste, units), share=f"{share:.1f}")),
        (texts.set_ups, f"{len(bars)}"),
    ]
    cells = [element("div", element("dt", name), element("dd", said)) for name, said in facts]
    return element("dl", *cells, class_="saw-facts")


def _table(plan: SawPlan, bars: list[SetUp], units: Units, texts: Texts) -> Markup:
    rows: list[tuple[Child, ...]] = [
        (
            _lengths(plan, bar, units, texts),
            element("ol", *(element("li", said) for said in _cuts(bar, units, texts))),
            format_length(bar.like.offcut, units) if bar.like.offcut >= 0.5 else "",
        )
        for bar in bars
    ]
    head = (texts.lengths, texts.cuts_in_order, texts.offcut)
    return table(texts.saw_plan, head, rows, class_="sawing", named=False)


def _lengths(plan: SawPlan, bar: SetUp, units: Units, texts: Texts) -> Markup:
    like = bar.like
    about = [
        texts.set_up.format(number=bar.number),
        timber_text(like.section, like.material, units),
        texts.on_hand if like.on_hand else "",
        texts.bent if like.grade == "short" else "",
        texts.each.format(price=money_text(like.price)) if plan.cost > 0 and like.price else "",
    ]
    stock = texts.lengths_alike.format(count=bar.count, length=format_length(like.stock_length, units))
    sawn = " ".join(mark for index in range(len(bar.sawn[0])) for mark in bar.marks(index))
    told = element("span", stock, data_sawn=sawn, data_from=", ".join([stock, about[0]]))
    return joined(told, element("small", ", ".join(said for said in about if said)))


def _cuts(bar: SetUp, units: Units, texts: Texts) -> Iterator[str]:
    for index, piece in enumerate(bar.sawn[0]):
        said = texts.cut_from_far_end if piece.from_far_end else texts.cut_to_here
        yield said.format(
            marks=", ".join(bar.marks(index)),
            length=format_length(piece.length, units),
            end=format_length(piece.end, units),
        )


def _ends(layout: Layout, plan: SawPlan, ends: FactoryEnds, texts: Texts) -> Markup:
    """Which uprights keep a factory end, and which have none; a piece that is not planned is not told."""
    kept = {each.mark for each in ends.kept}
    planned = {cut.mark for length in plan.lengths for cut in length.cuts}
    uprights = [piece.mark for piece in layout.standing if piece.mark in planned]
    said = [texts.brush.format(count=ends.fresh)]
    for text, marks in (
        (texts.kept_foot, [mark for mark in uprights if mark in kept]),
        (texts.fresh_foot, [mark for mark in uprights if mark not in kept]),
    ):
        if marks:
            said.append(text.format(marks=", ".join(marks)))
    return joined(
        element("h3", texts.factory_ends),
        element("ul", *(element("li", line) for line in said), class_="to-note"),
    )
