"""The page's lists: what to cut, what to buy, and what was found."""

from __future__ import annotations

from collections.abc import Sequence

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import Layout
from soleplate.viewer.drawings import CutEnds
from soleplate.viewer.lists import OnPage, Setting, page_columns, settings
from soleplate.viewer.markup import Child, Markup, element, joined, table, table_of
from soleplate.viewer.page.buying import buying_tables
from soleplate.viewer.page.wall import finding_list
from soleplate.viewer.words import Texts, section_text, weight_text


def cutting_list(layout: Layout, texts: Texts) -> Markup:
    """One row for each setting of the saw; `data-cut` is the row's number, as on the drawings' pieces."""
    ends = CutEnds(texts)
    every = settings(layout, texts)
    columns = page_columns(layout)
    rows = [_cutting_row(index, told, columns, ends.shown(told.row)) for index, told in enumerate(every)]
    return element(
        "section",
        element("h2", texts.cutting_list),
        table_of(
            texts.cutting_list,
            [column.head(texts) for _, column in columns],
            rows,
            class_="cutting",
            named=False,
        ),
        ends.kinds(),
        id="cutting-list",
    )


def _cutting_row(index: int, told: Setting, columns: Sequence[tuple[str, OnPage]], drawn: Markup) -> Markup:
    (name, first), *others = columns
    return element(
        "tr",
        element("th", _words(name, first, told), scope="row"),
        *(_cell(name, column, told, drawn) for name, column in others),
        id=f"cut-{index}",
        data_cut=f"{index}",
    )


def _cell(name: str, column: OnPage, told: Setting, drawn: Markup) -> Markup:
    said = _words(name, column, told)
    if column.is_drawn:
        words = element("span", said, data_field=name)
        picture = element("span", drawn, class_="drawn", data_drawn=name)
        said = element("div", picture, words, class_=f"both-{name}")
    is_plain = column.small is None and not column.is_drawn
    return element(
        "td",
        said,
        data_field=name if is_plain else None,
        class_=name,
        data_label=column.head(told.texts) if column.is_labelled else None,
    )


def _words(name: str, column: OnPage, told: Setting) -> Child:
    """The text of a cell, with what is written small beneath it."""
    if column.small is None:
        return column.cell(told)
    beneath, small = column.small
    return joined(
        element("span", column.cell(told), data_field=name),
        element("small", small(told), data_field=beneath),
    )


def buying_list(layout: Layout, texts: Texts) -> Markup:
    """What to buy, and the run of timber of each section."""
    head = (
        texts.section,
        texts.material,
        texts.pieces,
        texts.run_total,
        texts.longest,
        texts.volume,
        texts.weight,
    )
    rows: list[tuple[Child, ...]] = [
        (
            section_text(row.section, layout.units),
            f"{row.material}, {texts.strip_of_sheet}" if row.of_sheet else row.material,
            f"{row.pieces}",
            row.display,
            format_length(row.longest, layout.units),
            f"{row.volume_m3:.3f} m³",
            weight_text(row.weight_kg),
        )
        for row in layout.buying_list
    ]
    return element(
        "section",
        element("h2", texts.buying_list),
        buying_tables(layout, texts),
        table(texts.buying_list, head, rows, class_="buying", named=False),
        id="buying-list",
    )


def findings(layout: Layout, texts: Texts) -> Markup:
    """All findings, each with its wall."""
    said = finding_list(layout.findings, texts) or element("p", texts.no_findings)
    note = element("p", texts.findings_note)
    return element("section", element("h2", texts.findings), note, said, id="findings")


def cautions(layout: Layout, texts: Texts) -> Markup:
    """What holds for every building."""
    said = [element("li", caution) for caution in layout.cautions]
    return element("section", element("h2", texts.cautions), element("ul", *said), id="cautions")
