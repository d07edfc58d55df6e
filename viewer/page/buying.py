"""What to buy and what to take from what is on hand, as the page's tables."""

from __future__ import annotations

from collections.abc import Sequence

from soleplate.engine.layout import Layout
from soleplate.viewer.lists import (
    Wanted,
    besides_timber,
    from_on_hand,
    is_priced,
    to_buy,
    to_note,
    total_cost,
)
from soleplate.viewer.markup import Child, Markup, element, joined, table
from soleplate.viewer.words import Texts


def buying_tables(layout: Layout, texts: Texts) -> Markup:
    """The lengths by section and material, or the run where none are counted; prices where there are some."""
    goods = besides_timber(layout, texts)
    bought, on_hand, notes = to_buy(layout, texts), from_on_hand(layout, texts), to_note(layout, texts)
    return joined(
        _table(texts.to_buy, bought, texts, priced=is_priced(layout)) if bought else "",
        element("p", element("strong", total)) if (total := total_cost(layout, texts)) else "",
        _table(texts.from_on_hand, on_hand, texts, priced=False) if on_hand else "",
        _goods(goods, texts) if goods else "",
        element("ul", *(element("li", note) for note in notes), class_="to-note") if notes else "",
        element("h3", texts.run_of_timber),
        element("p", texts.run_note),
    )


def _table(name: str, lines: Sequence[Wanted], texts: Texts, *, priced: bool) -> Markup:
    head = (texts.lengths, texts.section, *([texts.price] if priced else []))
    rows: list[tuple[Child, ...]] = [
        (
            _with_remark(line.lengths, line.remark),
            line.timber,
            *([_with_remark(line.price, line.each)] if priced else []),
        )
        for line in lines
    ]
    return joined(element("h3", name), table(name, head, rows, class_="to-buy", named=False))


def _goods(lines: Sequence[Wanted], texts: Texts) -> Markup:
    rows: list[tuple[Child, ...]] = [(line.lengths, _with_remark(line.timber, line.remark)) for line in lines]
    head, name = (texts.to_buy, texts.goods), texts.besides_timber
    return joined(element("h3", name), table(name, head, rows, class_="to-buy", named=False))


def _with_remark(text: str, remark: str) -> Child:
    return joined(text, element("small", remark)) if remark else text
