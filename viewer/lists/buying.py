"""What to ask the merchant for and what to take from what is on hand, for the page's list and the sheets'."""

from __future__ import annotations

import math
from dataclasses import dataclass

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import BuyingRow, Layout
from soleplate.engine.sawing import BuyingLine, SawPlan
from soleplate.viewer.words import Texts, goods_text, money_text, stuff_text, timber_text


@dataclass(frozen=True, slots=True)
class Wanted:
    """One line of a list: so many lengths of a timber, or its run where no lengths are counted."""

    lengths: str
    timber: str
    remark: str = ""
    """Under the lengths: that they are not counted."""
    price: str = ""
    each: str = ""
    """The price of one, where there are more."""


def is_priced(layout: Layout) -> bool:
    """Whether anything costs anything."""
    return layout.saw_plan is not None and layout.saw_plan.cost > 0


def costs_all(plan: SawPlan) -> bool:
    """Whether the cost is of all lengths to buy: none is without a price."""
    return all(line.cost > 0 for line in plan.buying if not line.on_hand)


def total_cost(layout: Layout, texts: Texts) -> str:
    """The prices of all lengths and sheets to buy, added up; empty where there are none."""
    if not is_priced(layout):
        return ""
    lines = [line for row in layout.buying_list for line in row.lengths if not line.on_hand]
    is_all = all(row.lengths for row in layout.buying_list) and all(line.cost > 0 for line in lines)
    told = texts.cost if is_all else texts.cost_of_priced
    return texts.total.format(what=told, amount=money_text(math.fsum(line.cost for line in lines)))


def to_buy(layout: Layout, texts: Texts) -> list[Wanted]:
    """All timber that is not on hand, section by section; where no lengths are counted, its run."""
    return [
        wanted
        for row in layout.buying_list
        for wanted in (
            [_counted(line, layout.units, texts) for line in row.lengths if not line.on_hand]
            if row.lengths
            else [_run(row, layout.units, texts)]
        )
    ]


def from_on_hand(layout: Layout, texts: Texts) -> list[Wanted]:
    """The lengths on hand that the saw plan uses."""
    return [
        _counted(line, layout.units, texts)
        for row in layout.buying_list
        for line in row.lengths
        if line.on_hand
    ]


def to_note(layout: Layout, texts: Texts) -> list[str]:
    """What is to be known of the lists: what is not counted yet, and which spares to order."""
    is_uncounted = any(not row.lengths and not row.of_sheet for row in layout.buying_list)
    uncounted = [texts.uncounted_note] if is_uncounted else []
    return [*uncounted, *_spares(layout, texts)]


def besides_timber(layout: Layout, texts: Texts) -> list[Wanted]:
    """What is not sawn from lengths: anchors, membrane, insulation, coverings; each with what it is for."""
    return [
        Wanted(
            row.display,
            goods_text(row, layout.units, texts),
            texts.goods_for.format(parts=", ".join(row.parts)),
        )
        for row in layout.goods
    ]


def _counted(line: BuyingLine, units: Units, texts: Texts) -> Wanted:
    timber = timber_text(line.section, line.material, units)
    return Wanted(
        texts.lengths_alike.format(count=line.count, length=format_length(line.stock_length, units)),
        f"{timber}, {texts.bent}" if line.grade == "short" else timber,
        price=money_text(line.cost) if line.cost else "",
        each=texts.each.format(price=money_text(line.cost / line.count))
        if line.cost and line.count > 1
        else "",
    )


def _run(row: BuyingRow, units: Units, texts: Texts) -> Wanted:
    remark = texts.strips_to_saw if row.of_sheet else texts.uncounted
    return Wanted(
        texts.run_in_all.format(length=row.display),
        stuff_text(row, units, texts),
        remark.format(longest=format_length(row.longest, units)),
    )


def _spares(layout: Layout, texts: Texts) -> list[str]:
    """By section how many to order in all. The spares are of the longest length that is bought.

    A bent length may be any of them, and the longest serves in place of each.
    """
    text = texts.spare if is_priced(layout) else texts.spare_unpriced
    return [
        text.format(
            timber=timber_text(row.section, row.material, layout.units),
            ordered=row.spare.ordered,
            spare=row.spare.spare,
            length=format_length(
                max(line.stock_length for line in row.lengths if not line.on_hand), layout.units
            ),
            chance=math.floor(100 * row.spare.confidence),
        )
        for row in layout.buying_list
        if row.spare and row.spare.spare > 0
    ]
