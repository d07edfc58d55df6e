"""What to ask the merchant for and what to take from what is on hand, by the saw plan, and the spares."""

from __future__ import annotations

import math

from soleplate.engine.layout import Layout
from soleplate.engine.sawing import BuyingLine, SawPlan
from soleplate.engine.units import format_length
from soleplate.viewer.markup import Child, Markup, element, joined, table
from soleplate.viewer.texts import Texts
from soleplate.viewer.wording import money_text, timber_text


def to_buy(layout: Layout, plan: SawPlan, texts: Texts) -> Markup:
    """The lengths by section and material; prices only where there are some."""
    lines = [line for row in layout.buying_list for line in row.lengths]
    bought = [line for line in lines if not line.on_hand]
    on_hand = [line for line in lines if line.on_hand]
    timbers = [
        timber_text(row.section, row.material, layout.units) for row in layout.buying_list if not row.lengths
    ]
    said = [*_spares(layout, plan, texts)]
    if timbers:
        said.append(texts.unplanned_note.format(timbers=", ".join(timbers)))
    return joined(
        _table(texts.to_buy, bought, layout, texts, priced=plan.cost > 0) if bought else "",
        _table(texts.from_on_hand, on_hand, layout, texts, priced=False) if on_hand else "",
        element("ul", *(element("li", line) for line in said), class_="to-note") if said else "",
        element("h3", texts.run_of_timber),
        element("p", texts.planned_note),
    )


def _table(name: str, lines: list[BuyingLine], layout: Layout, texts: Texts, *, priced: bool) -> Markup:
    head = (texts.lengths, texts.section, *([texts.price] if priced else []))
    rows: list[tuple[Child, ...]] = []
    for line in lines:
        stock = texts.lengths_alike.format(
            count=line.count, length=format_length(line.stock_length, layout.units)
        )
        timber = timber_text(line.section, line.material, layout.units)
        if line.grade == "short":
            timber = f"{timber}, {texts.bent}"
        rows.append((stock, timber, *([_price(line, texts)] if priced else [])))
    return joined(element("h3", name), table(name, head, rows, class_="to-buy", named=False))


def _price(line: BuyingLine, texts: Texts) -> Markup:
    each = texts.each.format(price=money_text(line.cost / line.count)) if line.count > 1 else ""
    return joined(money_text(line.cost), element("small", each) if each else "")


def _spares(layout: Layout, plan: SawPlan, texts: Texts) -> list[str]:
    text = texts.spare if plan.cost > 0 else texts.spare_unpriced
    return [
        text.format(
            timber=timber_text(row.section, row.material, layout.units),
            ordered=row.spare.ordered,
            spare=row.spare.spare,
            chance=math.floor(100 * row.spare.confidence),
        )
        for row in layout.buying_list
        if row.spare and row.spare.spare > 0
    ]
