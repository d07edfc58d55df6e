"""The page's lists: what to cut, what to buy, and what was found."""

from __future__ import annotations

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import CuttingRow, Layout
from soleplate.viewer.drawings import CutEnds
from soleplate.viewer.markup import Child, Markup, element, joined, table, table_of
from soleplate.viewer.page.buying import buying_tables
from soleplate.viewer.page.wall import finding_list
from soleplate.viewer.words import Texts, cuts_text, role_text, section_text, weight_text


def cutting_list(layout: Layout, texts: Texts) -> Markup:
    """One row for each setting of the saw; `data-cut` is the row's number, as on the drawings' pieces."""
    head = (
        texts.cut_to, texts.count, texts.section, texts.role, texts.ends, texts.short_side, texts.gangs,
        texts.marks,
    )  # fmt: skip
    ends = CutEnds(texts)
    rows = [
        _cutting_row(index, row, ends.shown(row), layout, texts)
        for index, row in enumerate(layout.cutting_list)
    ]
    return element(
        "section",
        element("h2", texts.cutting_list),
        table_of(texts.cutting_list, head, rows, class_="cutting", named=False),
        ends.kinds(),
        id="cutting-list",
    )


def _cutting_row(index: int, row: CuttingRow, drawn: Markup, layout: Layout, texts: Texts) -> Markup:
    units = layout.units
    trim = texts.trim.format(length=format_length(row.trim_allowance, units)) if row.trim_allowance else ""
    timber = texts.timber.format(material=row.material, grade=texts.grades[row.grade])
    length = joined(
        element("span", row.display, data_field="length"), element("small", trim, data_field="trim")
    )
    section = joined(
        element("span", section_text(row.section, units), data_field="section"),
        element("small", timber, data_field="timber"),
    )
    ends = element(
        "div",
        element("span", drawn, class_="drawn", data_drawn="ends"),
        element("span", cuts_text(row, units, texts), data_field="ends"),
        class_="both-ends",
    )
    cells: tuple[tuple[str | None, str, Child], ...] = (
        ("role", texts.role, role_text(row.role, texts)),
        (None, texts.ends, ends),
        ("short", texts.short_side, row.short_display if row.short_length < row.length else ""),
        ("gangs", texts.gangs, " + ".join(f"{gang}" for gang in row.gangs)),
        ("marks", texts.marks, ", ".join(row.marks)),
    )
    return element(
        "tr",
        element("th", length, scope="row"),
        element("td", f"{row.count}", data_field="count", class_="count"),
        element("td", section, class_="section", data_label=texts.section),
        *(
            element("td", cell, data_field=name, class_=name or "ends", data_label=label)
            for name, label, cell in cells
        ),
        id=f"cut-{index}",
        data_cut=f"{index}",
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
            row.material,
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
