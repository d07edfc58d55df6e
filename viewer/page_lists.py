"""The page's lists: what to cut, what to buy, and what was found."""

from __future__ import annotations

from soleplate.engine.layout import CuttingRow, Layout
from soleplate.engine.units import format_length
from soleplate.viewer.markup import Markup, element, joined, table, table_of
from soleplate.viewer.page_wall import finding_list
from soleplate.viewer.texts import Texts
from soleplate.viewer.wording import ends_text, section_text, weight_text


def cutting_list(layout: Layout, texts: Texts) -> Markup:
    """One row for each setting of the saw; `data-cut` is the row's number, as on the drawings' pieces."""
    head = (
        texts.cut_to, texts.count, texts.section, texts.role, texts.ends, texts.short_side, texts.gangs,
        texts.grade, texts.material, texts.marks,
    )  # fmt: skip
    rows = [_cutting_row(index, row, layout, texts) for index, row in enumerate(layout.cutting_list)]
    return element(
        "section",
        element("h2", texts.cutting_list),
        table_of(texts.cutting_list, head, rows, class_="cutting"),
        id="cutting-list",
    )


def _cutting_row(index: int, row: CuttingRow, layout: Layout, texts: Texts) -> Markup:
    units = layout.units
    trim = texts.trim.format(length=format_length(row.trim_allowance, units)) if row.trim_allowance else ""
    cells: dict[str, str | Markup] = {
        "count": f"{row.count}",
        "section": section_text(row.section, units),
        "role": row.role,
        "ends": ends_text(row.ends, texts),
        "short": row.short_display,
        "gangs": " + ".join(f"{gang}" for gang in row.gangs),
        "grade": texts.grades[row.grade],
        "material": row.material,
        "marks": ", ".join(row.marks),
    }
    length = joined(
        element("span", row.display, data_field="length"),
        element("small", trim, data_field="trim") if trim else "",
    )
    return element(
        "tr",
        element("th", length, scope="row"),
        *(element("td", cell, data_field=name, class_=name) for name, cell in cells.items()),
        id=f"cut-{index}",
        data_cut=f"{index}",
    )


def buying_list(layout: Layout, texts: Texts) -> Markup:
    """The run of timber of each section."""
    head = (
        texts.section,
        texts.material,
        texts.pieces,
        texts.run_total,
        texts.longest,
        texts.volume,
        texts.weight,
    )
    rows: list[tuple[str | Markup, ...]] = [
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
        element("p", texts.buying_note),
        table(texts.buying_list, head, rows, class_="buying"),
        id="buying-list",
    )


def findings(layout: Layout, texts: Texts) -> Markup:
    """All findings, each with its wall."""
    said = finding_list(list(layout.findings), texts, with_wall=True) or element("p", texts.no_findings)
    note = element("p", texts.findings_note)
    return element("section", element("h2", texts.findings), note, said, id="findings")


def cautions(layout: Layout, texts: Texts) -> Markup:
    """What holds for every building."""
    said = [element("li", caution) for caution in layout.cautions]
    return element("section", element("h2", texts.cautions), element("ul", *said), id="cautions")
