"""The lists on sheets: to cut, to buy, and what was found."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Final

from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import CuttingRow, FindingOut, Layout, WallOut
from soleplate.engine.sawing import SawPlan
from soleplate.viewer.lists import (
    OnSheet,
    Setting,
    Wanted,
    besides_timber,
    from_on_hand,
    is_priced,
    set_ups,
    sheet_columns,
    to_buy,
    to_note,
    total_cost,
)
from soleplate.viewer.sheets.bevels import Bevel
from soleplate.viewer.sheets.blocks import (
    Block,
    Cell,
    Column,
    head,
    listed,
    notice,
    strong,
    table,
    tick,
    words,
)
from soleplate.viewer.words import (
    Texts,
    stuff_text,
    timber_text,
    weight_text,
)

TINTS: Final[Mapping[str, str]] = {"stop": "#d55e00", "warn": "#e69f00", "note": "#0072b2"}
"""By level of a finding (Okabe and Ito)."""

MOST_APART: Final = 8
"""Characters of a short side that has a column of its own: feet and inches would leave the ends no room."""


def cutting_table(
    rows: Iterable[tuple[CuttingRow, Sequence[str]]],
    layout: Layout,
    bevels: Sequence[Bevel],
    texts: Texts,
    *,
    clamped: bool,
) -> Block:
    """Rows of the cutting list with the marks to tell of each; `clamped` adds how to gang them."""
    names = {mark: bevel.name for bevel in reversed(bevels) for mark in bevel.marks}
    every = [
        Setting(
            row,
            marks,
            layout.units,
            texts,
            template=", ".join(sorted({names[mark] for mark in marks if mark in names})),
            clamped=clamped,
        )
        for row, marks in rows
    ]
    shorts = [told.row.short_display for told in every if told.is_short]
    apart = bool(shorts) and max(map(len, shorts)) <= MOST_APART
    templates = any(told.template for told in every)
    columns = sheet_columns(apart=apart, templates=templates)
    made: list[Sequence[Cell] | str] = []
    timber = None
    for told in every:
        if (of := _timber(told)) != timber:
            timber = of
            made.append(of)
        placed = replace(told, apart=apart)
        made.append([tick(), *(_cell(column, placed) for column in columns)])
    is_roomy = not apart and not templates
    return table(
        [
            Column(texts.sheets.done),
            *(
                Column(
                    column.head(texts),
                    column.roomy if is_roomy and column.roomy is not None else column.width,
                    column.face,
                    column.right,
                )
                for column in columns
            ),
        ],
        made,
    )


def _timber(told: Setting) -> str:
    """What heads the rows of one timber."""
    row = told.row
    timber = stuff_text(row, told.units, told.texts)
    return f"{timber}, {told.texts.grades[row.grade]}" if row.grade == "short" else timber


def _cell(column: OnSheet, told: Setting) -> Cell:
    said = column.cell(told)
    return said if column.small is None else strong(said, column.small(told))


def rows_of(wall: WallOut, layout: Layout) -> list[tuple[CuttingRow, list[str]]]:
    """The cutting list's rows that a wall has pieces in, with its own marks alone."""
    own = {piece.mark for piece in wall.pieces}
    rows = ((row, [mark for mark in row.marks if mark in own]) for row in layout.cutting_list)
    return [(row.told_of(marks), marks) for row, marks in rows if marks]


def notices(findings: Iterable[FindingOut], texts: Texts, *, with_wall: bool) -> list[Block]:
    """Findings, each with its level, its pieces and its basis."""
    made = []
    for finding in findings:
        place = f"{finding.part}: " if with_wall and finding.part else ""
        marks = f" ({' '.join(finding.pieces)})" if finding.pieces else ""
        basis = texts.basis.format(basis=finding.basis)
        text = f"{place}{finding.message}{marks}. {basis}"
        made.append(notice(texts.levels[finding.level], text, TINTS[finding.level]))
    return made


def saw_table(layout: Layout, plan: SawPlan, texts: Texts) -> Block:
    """Every set-up with its cuts in order: the piece, its length, and where it ends on the stock."""
    said, units = texts.sheets, layout.units
    columns = [
        Column(said.done),
        Column(said.set_up, "auto", "figure", right=True),
        Column(texts.lengths, "auto", "figure"),
        Column(said.cut_to, "auto", "figure", right=True),
        Column(said.ends_at, "auto", "figure", right=True),
        Column(said.marks, "rest", "figure"),
    ]
    rows: list[Sequence[Cell] | str] = []
    told = None
    for bar in set_ups(plan, layout.factory_ends):
        timber = timber_text(bar.like.section, bar.like.material, units)
        if timber and timber != told:
            rows.append(timber)
            told = timber
        stock = texts.lengths_alike.format(
            count=bar.count, length=format_length(bar.like.stock_length, units)
        )
        for index, piece in enumerate(bar.sawn[0]):
            end = said.far_end if piece.from_far_end else format_figure(piece.end, units)
            first: list[Cell] = [f"{bar.number}", strong(stock)] if index == 0 else ["", ""]
            marks = " ".join(bar.marks(index))
            rows.append([tick(), *first, format_figure(piece.length, units), end, marks])
    return table(columns, rows)


def buying_blocks(layout: Layout, texts: Texts) -> list[Block]:
    """What to ask the merchant for and what is on hand; and the run of each section."""
    blocks: list[Block] = []
    for name, lines, priced in (
        (texts.to_buy, to_buy(layout, texts), is_priced(layout)),
        (texts.from_on_hand, from_on_hand(layout, texts), False),
    ):
        if lines:
            blocks += [head(name), _lengths(lines, texts, priced=priced)]
        if priced:
            blocks.append(words(total_cost(layout, texts)))
    if goods := besides_timber(layout, texts):
        blocks += [head(texts.besides_timber), _goods(goods, texts)]
    if notes := to_note(layout, texts):
        blocks.append(listed(notes))
    return [*blocks, head(texts.run_of_timber), words(texts.run_note), _run(layout, texts)]


def _lengths(lines: Sequence[Wanted], texts: Texts, *, priced: bool) -> Block:
    columns = [
        Column(texts.sheets.done),
        Column(texts.lengths, "auto", "figure"),
        Column(texts.section, "rest", "figure"),
        *([Column(texts.price, "auto", "figure", right=True)] if priced else []),
    ]
    return table(
        columns,
        (
            (
                tick(),
                strong(line.lengths, line.remark),
                line.timber,
                *([strong(line.price, line.each)] if priced else []),
            )
            for line in lines
        ),
    )


def _goods(lines: Sequence[Wanted], texts: Texts) -> Block:
    columns = [
        Column(texts.sheets.done),
        Column(texts.to_buy, "auto", "figure"),
        Column(texts.goods, "rest", "figure"),
    ]
    rows = ((tick(), strong(line.lengths), strong(line.timber, line.remark)) for line in lines)
    return table(columns, rows)


def _run(layout: Layout, texts: Texts) -> Block:
    columns = [
        Column(texts.section, "rest", "figure"),
        Column(texts.pieces, "auto", "figure", right=True),
        Column(texts.run_total, "auto", "figure", right=True),
        Column(texts.longest, "auto", "figure", right=True),
        Column(texts.weight, "auto", "figure", right=True),
    ]
    return table(
        columns,
        (
            (
                stuff_text(row, layout.units, texts),
                f"{row.pieces}",
                row.display,
                format_length(row.longest, layout.units),
                weight_text(row.weight_kg),
            )
            for row in layout.buying_list
        ),
    )
