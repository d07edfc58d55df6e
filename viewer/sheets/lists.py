"""The lists on sheets: to cut, to buy, and what was found."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.building_file import Units, format_figure, format_length
from soleplate.engine.layout import CutEnd, CuttingRow, FindingOut, Layout, WallOut
from soleplate.engine.sawing import SawPlan
from soleplate.viewer.lists import Wanted, from_on_hand, is_priced, set_ups, to_buy, to_note
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
    back_text,
    cut_text,
    is_upright,
    rip_text,
    role_text,
    timber_text,
    weight_text,
)

TINTS: Final[Mapping[str, str]] = {"stop": "#d55e00", "warn": "#e69f00", "note": "#0072b2"}
"""By level of a finding (Okabe and Ito)."""

MOST_APART: Final = 8
"""Characters of a short side that has a column of its own: feet and inches would leave the ends no room."""

_ALIKE: Final = 0.0005
"""mm. Sides that differ by less are alike: lengths are put out at 0.001."""


@dataclass(frozen=True, slots=True)
class _Cuts:
    """How a cutting table is laid out, and what its rows are told by."""

    layout: Layout
    templates: Mapping[str, str]
    """By mark."""
    texts: Texts
    clamped: bool
    apart: bool
    """Whether short sides have a column of their own; else they stand under the lengths."""
    has_templates: bool

    @property
    def columns(self) -> list[Column]:
        """As wide as leaves most room for the ends, so that most rows take one line."""
        said = self.texts.sheets
        narrow = self.apart or self.has_templates
        return [
            Column(said.done),
            Column(said.count, "auto", "figure", right=True),
            Column(said.cut_to, "auto", "figure"),
            *([Column(said.short, "auto", "figure")] if self.apart else []),
            Column(said.piece, 21.0 if narrow else 38.0),
            Column(said.ends, "rest"),
            *([Column(said.bevel_template, "auto", "figure")] if self.has_templates else []),
            Column(said.marks, 29.0 if narrow else 52.0, "figure"),
        ]

    def cells(self, row: CuttingRow, marks: Sequence[str]) -> list[Cell]:
        """One setting of the saw, with the marks to tell of it."""
        said, units = self.texts.sheets, self.layout.units
        is_short = row.short_length < row.length - _ALIKE
        remarks = []
        if is_short and not self.apart:
            remarks.append(said.short_side.format(length=row.short_display))
        if row.trim_allowance:
            remarks.append(said.trim.format(length=format_length(row.trim_allowance, units)))
        ends = [
            ends_in_short(row.ends, units, self.texts)
            + rip_text(row, units, self.texts)
            + back_text(row, self.texts)
        ]
        if self.clamped and row.gangs and row.gangs != (1,):
            ends.append(said.gangs.format(gangs=" + ".join(map(str, row.gangs))))
        used = ", ".join(sorted({self.templates[mark] for mark in marks if mark in self.templates}))
        return [
            tick(),
            f"{len(marks)}",
            strong(row.display, ", ".join(remarks)),
            *([row.short_display if is_short else ""] if self.apart else []),
            role_text(row.role, self.texts),
            "; ".join(ends),
            *([used] if self.has_templates else []),
            " ".join(marks),
        ]


def cutting_table(
    rows: Iterable[tuple[CuttingRow, Sequence[str]]],
    layout: Layout,
    bevels: Sequence[Bevel],
    texts: Texts,
    *,
    clamped: bool,
) -> Block:
    """Rows of the cutting list with the marks to tell of each; `clamped` adds how to gang them."""
    rows = list(rows)
    templates = {mark: bevel.name for bevel in reversed(bevels) for mark in bevel.marks}
    shorts = [row.short_display for row, _ in rows if row.short_length < row.length - _ALIKE]
    cuts = _Cuts(
        layout,
        templates,
        texts,
        clamped,
        apart=bool(shorts) and max(map(len, shorts)) <= MOST_APART,
        has_templates=any(mark in templates for _, marks in rows for mark in marks),
    )
    made: list[Sequence[Cell] | str] = []
    told = None
    for row, marks in rows:
        timber = timber_text(row.section, row.material, layout.units)
        if row.grade == "short":
            timber = f"{timber}, {texts.grades[row.grade]}"
        if timber != told:
            made.append(timber)
            told = timber
        made.append(cuts.cells(row, marks))
    return table(cuts.columns, made)


def ends_in_short(ends: tuple[CutEnd, CutEnd], units: Units, texts: Texts) -> str:
    """The cuts that are not square, each with the end that it is on."""
    cut = [cut_text(end, units, texts) for end in ends]
    if all(end.cut == "square" for end in ends):
        return texts.square
    if cut[0] == cut[1]:
        return texts.both_ends.format(end=cut[0])
    names = texts.upright_ends if is_upright(ends) else texts.level_ends
    return "; ".join(
        f"{name} {said}" for name, said, end in zip(names, cut, ends, strict=True) if end.cut != "square"
    )


def rows_of(wall: WallOut, layout: Layout) -> list[tuple[CuttingRow, list[str]]]:
    """The cutting list's rows that a wall has pieces in, with its own marks alone."""
    own = {piece.mark for piece in wall.pieces}
    rows = ((row, [mark for mark in row.marks if mark in own]) for row in layout.cutting_list)
    return [(row, marks) for row, marks in rows if marks]


def notices(findings: Iterable[FindingOut], texts: Texts, *, with_wall: bool) -> list[Block]:
    """Findings, each with its level, its pieces and its basis."""
    made = []
    for finding in findings:
        place = f"{finding.wall}: " if with_wall and finding.wall else ""
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
                timber_text(row.section, row.material, layout.units),
                f"{row.pieces}",
                row.display,
                format_length(row.longest, layout.units),
                weight_text(row.weight_kg),
            )
            for row in layout.buying_list
        ),
    )
