"""A wall's sheets: its elevation, and under it or on the next what to mark and what to cut."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import Layout, PlateLength, WallOut
from soleplate.viewer.drawings import told_of
from soleplate.viewer.paper import Page, PaperName, scale_text
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
from soleplate.viewer.sheets.crowns import crowns
from soleplate.viewer.sheets.elevation import Elevation, elevation
from soleplate.viewer.sheets.inside import from_inside, parts_from_inside
from soleplate.viewer.sheets.lists import cutting_table, notices, rows_of
from soleplate.viewer.sheets.parts import SheetPart
from soleplate.viewer.sheets.picture import Picture
from soleplate.viewer.sheets.placing import placing_table, to_place
from soleplate.viewer.words import Texts, anchor_text, brace_text, plate_text, size_text, weight_text


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

    What is needed to set the wall out stands under its drawings where they leave room for it.
    """
    texts = told_of(wall, texts)
    said = texts.sheets
    drawn = elevation(wall, layout, rows, paper, texts)
    sub = said.seen.format(length=wall.display, pieces=len(wall.pieces), weight=weight_text(wall.weight_kg))
    under, left = _shared(
        _setting_out(wall, layout, texts), drawn.page, [picture for _, picture in drawn.parts]
    )
    sheets: list[SheetOf] = []
    for part, picture in drawn.parts:
        title, seen = _of_part(wall, part, sub, layout, texts)
        sheets.append(
            SheetOf(
                f"wall-{number}-{part.number}", title, seen, said.elevation, scale_text(drawn.scale),
                [drawing(picture), *(under if part.ends else [])],
                landscape=drawn.page.landscape, of=wall.name,
            )
        )  # fmt: skip
    parts = [part for part, _ in drawn.parts]
    inner = parts_from_inside(parts, wall.length)
    outside = _Side(
        wall,
        parts,
        "cladding",
        said.cladding,
        said.seen_outside,
        said.by_rod,
        said.courses_of,
        said.places_of,
    )
    inside = _Side(
        from_inside(wall),
        inner,
        "lining",
        said.lining,
        said.seen_inside,
        said.by_heights,
        said.lining_courses_of,
        said.lining_places_of,
    )
    clad, left = _boarded(outside, number, layout, rows, drawn, left, texts)
    # The frame is told as it is seen from outside: nothing of it goes under what is seen from inside.
    lined, left_of_lining = _boarded(inside, number, layout, rows, drawn, [], texts)
    sheets += [*clad, *lined]
    left = [*left, *left_of_lining]
    kind = said.bench if left else said.cuts
    bench = [*itertools.chain.from_iterable(left), *_to_cut(wall, layout, bevels, texts)]
    sheets.append(SheetOf(f"wall-{number}-bench", wall.name, said.bench_sub, kind, said.no_scale, bench))
    return sheets


def _of_part(wall: WallOut, part: SheetPart, seen: str, layout: Layout, texts: Texts) -> tuple[str, str]:
    """Title and line under it of a sheet that shows a wall or a part of it."""
    said, units = texts.sheets, layout.units
    if part.count == 1:
        return wall.name, seen
    left, right = format_length(part.left, units), format_length(part.right, units)
    return (
        said.wall_part.format(wall=wall.name, number=part.number, count=part.count),
        said.part_of_wall.format(seen=seen, left=left, right=right),
    )


@dataclass(frozen=True, slots=True)
class _Side:
    """A face of the frame with what lies on it, the wall turned so that it is seen from there."""

    wall: WallOut
    parts: Sequence[SheetPart]
    id: str
    kind: str
    seen: str
    counted: str
    courses: str
    places: str


def _boarded(
    side: _Side,
    number: int,
    layout: Layout,
    rows: Mapping[str, int],
    drawn: Elevation,
    left: Sequence[list[Block]],
    texts: Texts,
) -> tuple[list[SheetOf], list[list[Block]]]:
    """The sheets of what lies on a face, and what has no room on them.

    What is `left` to be told of the wall goes under the last drawing too, after what is told of the face.
    """
    wall = side.wall
    clad = clad_pictures(wall, side.parts, layout, rows, drawn.scale, side.kind, texts)
    told: list[list[Block]] = []
    if not clad:
        return [], list(left)
    if to_place(wall):
        name = side.places.format(wall=wall.name)
        told.append([head(name), placing_table(wall, layout, texts)])
    if wall.courses:
        told.append([head(side.courses.format(wall=wall.name)), course_table(wall, layout, texts)])
    under, rest = _shared([*told, *left], drawn.page, [picture for _, picture in clad])
    # What was left of the wall before comes first again, findings before all.
    rest.sort(key=lambda group: any(group is each for each in told))
    sub = f"{side.seen} {side.counted}" if wall.courses else side.seen
    sheets = [
        SheetOf(
            f"wall-{number}-{side.id}-{part.number}", *_of_part(wall, part, sub, layout, texts), side.kind,
            scale_text(drawn.scale), [drawing(picture), *(under if index == len(clad) else [])],
            landscape=drawn.page.landscape, of=wall.name,
        )
        for index, (part, picture) in enumerate(clad, 1)
    ]  # fmt: skip
    return sheets, rest


def _shared(
    groups: Sequence[list[Block]], page: Page, pictures: Sequence[Picture]
) -> tuple[list[Block], list[list[Block]]]:
    """The groups that have room under the last drawing; and the rest."""
    width, height = page.room
    room = height - pictures[-1].height - 4.0 if pictures else 0.0
    under: list[Block] = []
    rest: list[list[Block]] = []
    for group in groups:
        tall = blocks_height(group, width)
        if tall <= room:
            room -= tall
            under += group
        else:
            rest.append(group)
    return under, rest


def _setting_out(wall: WallOut, layout: Layout, texts: Texts) -> list[list[Block]]:
    """What is needed to set the wall out, by headings."""
    said = texts.sheets
    found = [finding for finding in layout.findings if finding.part == wall.name]
    groups: list[list[Block]] = []
    if found:
        groups.append([head(said.look), *notices(found, texts, with_wall=False)])
    if wall.changes:
        groups.append([head(said.changes), listed(change.display for change in wall.changes)])
    square, *heights = assembly(wall, layout, texts)
    if wall.panels:
        groups.append([head(texts.panels), _panels(wall, layout, texts)])
    groups += [square, crowns(wall, layout, texts)]
    for length in wall.plate_lengths:
        if length.marks:
            figures = [(mark.mark, format_figure(mark.at, layout.units)) for mark in length.marks]
            groups.append([head(marks_head(length, texts)), running_marks(figures)])
    groups += heights
    for kind, anchors in itertools.groupby(wall.anchors, lambda each: anchor_text(each, layout.units, texts)):
        figures = [
            (f"{number}", format_figure(each.at, layout.units)) for number, each in enumerate(anchors, 1)
        ]
        groups.append([head(said.held_down.format(kind=kind)), running_marks(figures)])
    if wall.braces:
        said_of = (brace_text(brace, layout.units, texts) for brace in wall.braces)
        groups.append([head(texts.bracing), listed(said_of)])
    if wall.spacers:
        groups.append([head(said.spacers), listed(_spacers(wall, layout, texts))])
    if wall.openings:
        groups.append([head(said.openings), _openings(wall, layout, texts)])
    return groups


def _panels(wall: WallOut, layout: Layout, texts: Texts) -> Block:
    """Each panel: where it begins, how long it is, and what its frame weighs."""
    columns = [
        Column(texts.panel_head, "auto", "figure", right=True),
        Column(texts.panel_from, "auto", "figure", right=True),
        Column(texts.panel_length, "auto", "figure", right=True),
        Column(texts.panel_weight, "rest", "figure"),
    ]
    return table(
        columns,
        (
            (
                f"{panel.number}",
                format_length(panel.start, layout.units),
                panel.display,
                weight_text(panel.weight_kg),
            )
            for panel in wall.panels or ()
        ),
    )


def marks_head(length: PlateLength, texts: Texts) -> str:
    """What stands over the running marks of a plate, or of one length of it."""
    said = texts.sheets.marks_of if length.alone else texts.sheets.marks_of_length
    if length.panel is not None:
        said = texts.sheets.marks_of_panel
    plate = plate_text(length, texts)
    return said.format(plate=plate, mark=length.mark, start=length.display, panel=length.panel)


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
                f"{opening.name} ({texts.opening_kinds[opening.kind]})",
                size_text(opening.right - opening.left, opening.top - opening.bottom, units),
                format_length(opening.left, units),
                format_length(opening.bottom, units),
                " ".join(opening.pieces),
            )
            for opening in wall.openings
        ),
    )
