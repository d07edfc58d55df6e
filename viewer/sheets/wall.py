"""A wall's sheets: its elevation, and under it or on the next what to mark and what to cut."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from soleplate.engine.layout import Layout, WallOut
from soleplate.engine.units import format_figure, format_length
from soleplate.viewer.sheets.assembly import assembly
from soleplate.viewer.sheets.bevels import Bevel
from soleplate.viewer.sheets.blocks import (
    Block,
    Column,
    SheetOf,
    blocks_height,
    drawing,
    head,
    listed,
    running_marks,
    table,
)
from soleplate.viewer.sheets.clad import clad_pictures, course_table
from soleplate.viewer.sheets.elevation import elevation
from soleplate.viewer.sheets.lists import cutting_table, notices, rows_of
from soleplate.viewer.sheets.paper import Page, PaperName, scale_text
from soleplate.viewer.sheets.picture import Picture
from soleplate.viewer.texts import Texts
from soleplate.viewer.wording import size_text, weight_text


def wall_sheets(
    wall: WallOut,
    number: int,
    layout: Layout,
    rows: Mapping[str, int],
    bevels: Sequence[Bevel],
    paper: PaperName,
    texts: Texts,
) -> list[SheetOf]:
    """The sheets of a wall, the `number`th; `rows` are the cutting list's row numbers by mark.

    What is needed to set the wall out stands under its elevation where the sheet has room for it.
    """
    said = texts.sheets
    drawn = elevation(wall, layout, rows, paper, texts)
    sub = said.seen.format(length=wall.display, pieces=len(wall.pieces), weight=weight_text(wall.weight_kg))
    under, bench = _shared(
        _setting_out(wall, layout, texts), drawn.page, [picture for _, picture in drawn.parts]
    )
    sheets: list[SheetOf] = []
    for part, picture in drawn.parts:
        title = wall.name
        if part.count > 1:
            title = said.wall_part.format(wall=wall.name, number=part.number, count=part.count)
        sheets.append(
            SheetOf(
                f"wall-{number}-{part.number}", title, sub, said.elevation, scale_text(drawn.scale),
                [drawing(picture), *(under if part.ends else [])],
                landscape=drawn.page.landscape, of=wall.name,
            )
        )  # fmt: skip
    clad = clad_pictures(wall, layout, rows, drawn, texts)
    courses = [[head(said.courses_of.format(wall=wall.name)), course_table(wall, layout, texts)]]
    beside, rest = _shared(courses if wall.courses else [], drawn.page, [picture for _, picture in clad])
    for part, picture in clad:
        sheets.append(
            SheetOf(
                f"wall-{number}-cladding-{part.number}", wall.name,
                said.cladding_sub if wall.courses else said.cladding_upright, said.cladding,
                scale_text(drawn.scale), [drawing(picture), *(beside if part.ends else [])],
                landscape=drawn.page.landscape,
            )
        )  # fmt: skip
    bench += rest
    kind = said.bench if bench else said.cuts
    bench += _to_cut(wall, layout, bevels, texts)
    sheets.append(SheetOf(f"wall-{number}-bench", wall.name, said.bench_sub, kind, said.no_scale, bench))
    return sheets


def _shared(
    groups: Sequence[list[Block]], page: Page, pictures: Sequence[Picture]
) -> tuple[list[Block], list[Block]]:
    """The groups that go under the last drawing, in their order as long as there is room; and the rest."""
    width, height = page.room
    room = height - pictures[-1].height - 4.0 if pictures else 0.0
    under: list[Block] = []
    for index, group in enumerate(groups):
        room -= blocks_height(group, width)
        if room < 0:
            return under, [block for rest in groups[index:] for block in rest]
        under += group
    return under, []


def _setting_out(wall: WallOut, layout: Layout, texts: Texts) -> list[list[Block]]:
    """What is needed to set the wall out, by headings."""
    said = texts.sheets
    found = [finding for finding in layout.findings if finding.wall == wall.name]
    groups: list[list[Block]] = []
    if found:
        groups.append([head(said.look), *notices(found, texts, with_wall=False)])
    if wall.changes:
        groups.append([head(said.changes), listed(change.display for change in wall.changes)])
    square, *heights = assembly(wall, layout, texts)
    groups.append(square)
    for plate, marks in wall.marks.items():
        if marks:
            figures = [(mark.mark, format_figure(mark.at, layout.units)) for mark in marks]
            groups.append([head(said.marks_of.format(plate=plate)), running_marks(figures)])
    groups += heights
    if wall.spacers:
        groups.append([head(said.spacers), listed(_spacers(wall, layout, texts))])
    if wall.openings:
        groups.append([head(said.openings), _openings(wall, layout, texts)])
    return groups


def _to_cut(wall: WallOut, layout: Layout, bevels: Sequence[Bevel], texts: Texts) -> list[Block]:
    return [
        head(texts.sheets.cut_for.format(wall=wall.name)),
        cutting_table(rows_of(wall, layout), layout, bevels, texts, clamped=False),
    ]


def _spacers(wall: WallOut, layout: Layout, texts: Texts) -> list[str]:
    units = layout.units
    return [
        texts.sheets.spacer.format(
            left=format_length(spacer.from_, units),
            right=format_length(spacer.to, units),
            bays=spacer.bays,
            spacer=spacer.display,
            closing=spacer.closing_bay_display,
        )
        for spacer in wall.spacers
    ]


def _openings(wall: WallOut, layout: Layout, texts: Texts) -> Block:
    units = layout.units
    columns = [
        Column(texts.opening, "rest"),
        Column(texts.clear_size, "auto", "figure"),
        Column(texts.left_edge, "auto", "figure"),
        Column(texts.sill, "auto", "figure"),
        Column(texts.pieces, 48.0, "figure"),
    ]
    return table(
        columns,
        (
            (
                f"{opening.name} ({opening.kind})",
                size_text(opening.right - opening.left, opening.top - opening.bottom, units),
                format_length(opening.left, units),
                format_length(opening.bottom, units),
                " ".join(opening.pieces),
            )
            for opening in wall.openings
        ),
    )
