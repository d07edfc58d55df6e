"""The job book: which sheets there are, in which order, and what stands in their title block."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from typing import Any, Final

from soleplate.engine.laying_out import layout_json
from soleplate.engine.layout import PRACTICE, Layout
from soleplate.engine.sawing import SawPlan
from soleplate.viewer import paper as sizes
from soleplate.viewer.drawings import drawn_parts
from soleplate.viewer.lists import cutting_rows, how_good
from soleplate.viewer.markup import carriable
from soleplate.viewer.paper import Page, PaperName, SheetOptions, paper_for, scale_text
from soleplate.viewer.sheets.bars import bar_pictures
from soleplate.viewer.sheets.bevels import Bevel, bevels
from soleplate.viewer.sheets.blocks import (
    Block,
    SheetOf,
    breakable,
    drawing,
    head,
    listed,
    words,
)
from soleplate.viewer.sheets.cover import with_cover
from soleplate.viewer.sheets.covering import covering_sheets
from soleplate.viewer.sheets.joints import joint_sheets
from soleplate.viewer.sheets.leaves import leaf_sheets
from soleplate.viewer.sheets.lists import buying_blocks, cutting_table, saw_table
from soleplate.viewer.sheets.pads import pad_sheets
from soleplate.viewer.sheets.rafter import rafter_sheets
from soleplate.viewer.sheets.raising import raising_sheets
from soleplate.viewer.sheets.rod import notches_told, rod_pictures
from soleplate.viewer.sheets.section import section_sheets
from soleplate.viewer.sheets.templates import angles_text, template_pictures
from soleplate.viewer.sheets.wall import wall_sheets
from soleplate.viewer.words import ENGLISH, Texts, section_text

USE: Final = 19.0
"""Height that the words on how to use the templates take, mm."""

USE_UPRIGHT: Final = 24.0
"""The same on an upright sheet."""

NOTES: Final = 15.0
"""Height that the words above the saw plan's bars take, mm."""


def job_book(layout: Layout, options: SheetOptions, texts: Texts = ENGLISH) -> dict[str, Any]:
    """The whole book as the typesetter's template takes it."""
    paper = options.paper or paper_for(layout.units)
    sheets = book_sheets(layout, paper, texts)
    short, long = sizes.PAPERS[paper]
    said = texts.sheets
    return {
        "title": f"{layout.name}: {said.job_book}",
        "language": texts.language,
        "caution": said.caution,
        "lacking": said.lacking,
        "continued": said.continued,
        "paper": {"short": short, "long": long},
        "page": {
            "binding": sizes.BINDING, "edge": sizes.EDGE, "inset": sizes.INSET, "block": sizes.BLOCK,
            "block_width": sizes.BLOCK_WIDTH, "note": sizes.NOTE, "heading": sizes.HEADING,
            "gap": sizes.GAP,
        },
        "lettering": {
            "words": sizes.WORDS, "figures": sizes.FIGURES, "marks": sizes.MARKS,
            "word_font": sizes.WORD_FONT, "figure_font": sizes.FIGURE_FONT,
        },
        "block": {
            "names": {
                "owner": said.owner, "title": said.title, "document_type": said.document_type,
                "creator": said.creator, "approval": said.approval, "identification": said.identification,
                "revision": said.revision, "date": said.date, "scale": said.scale, "sheet": said.sheet,
                "of": said.sheet_of,
            },
            "values": {
                "owner": options.owner, "creator": options.creator, "approval": "",
                "identification": identification(layout), "revision": options.revision, "date": options.date,
            },
        },
        "sheets": [_as_data(sheet, layout) for sheet in sheets],
    }  # fmt: skip


def identification(layout: Layout) -> str:
    """Eight figures by which sheets of one layout are told from those of any other."""
    return hashlib.sha256(layout_json(layout)).hexdigest()[:8].upper()


def _as_data(sheet: SheetOf, layout: Layout) -> dict[str, Any]:
    return {
        "id": sheet.id,
        "title": carriable(sheet.title),
        "name": carriable(layout.name),
        "subtitle": "" if sheet.id == "cover" else carriable(sheet.title),
        "sub": breakable(sheet.sub),
        "type": sheet.document_type,
        "scale": sheet.scale,
        "landscape": sheet.landscape,
        "blocks": list(sheet.blocks),
    }


def book_sheets(layout: Layout, paper: PaperName, texts: Texts) -> list[SheetOf]:
    """The sheets in the order in which they are worked through."""
    found, rows = bevels(layout), cutting_rows(layout)
    sheets = [
        sheet
        for number, wall in enumerate(drawn_parts(layout), 1)
        for sheet in wall_sheets(wall, number, layout, rows, found, paper, texts)
    ]
    sheets += leaf_sheets(layout, paper, texts)
    sheets += [sheet for floor in layout.floors for sheet in pad_sheets(floor, layout, paper, texts)]
    sheets += section_sheets(layout, paper, texts)
    sheets += rafter_sheets(layout, paper, texts)
    sheets += joint_sheets(layout, paper, texts)
    sheets += raising_sheets(layout, paper, texts)
    sheets += covering_sheets(layout, paper, texts)
    sheets += _rods(layout, paper, texts)
    sheets.append(_cutting(layout, found, texts))
    if layout.saw_plan is not None:
        sheets += _sawing(layout, layout.saw_plan, paper, texts)
    sheets.append(_buying(layout, texts))
    sheets += _templates(layout, found, paper, texts)
    return with_cover(sheets, layout, paper, texts)


def _rods(layout: Layout, paper: PaperName, texts: Texts) -> list[SheetOf]:
    """A sheet for each storey rod, where walls are clad or lined in courses."""
    if not (layout.storey_rod or layout.lining_rod):
        return []
    said = texts.sheets
    pictures, scale = rod_pictures(layout, Page(paper, landscape=False).room, texts)
    notches = notches_told(layout, texts)
    last: list[Block] = [head(said.notches), listed(notches)] if notches else []
    return [
        SheetOf(
            f"rod-{number}", said.rod, said.rod_sub, said.rod, scale_text(scale),
            [drawing(picture), *(last if number == len(pictures) else [])],
        )
        for number, picture in enumerate(pictures, 1)
    ]  # fmt: skip


def _cutting(layout: Layout, found: tuple[Bevel, ...], texts: Texts) -> SheetOf:
    said = texts.sheets
    rows = [(row, list(row.marks)) for row in layout.cutting_list]
    sorting = words(said.sorting.format(basis=texts.basis.format(basis=PRACTICE)))
    blocks = [sorting, cutting_table(rows, layout, found, texts, clamped=True)]
    return SheetOf("cutting", said.cutting, said.long_points, said.cutting, said.no_scale, blocks)


def _sawing(layout: Layout, plan: SawPlan, paper: PaperName, texts: Texts) -> list[SheetOf]:
    said = texts.sheets
    width, height = Page(paper, landscape=True).room
    note = texts.saw_note
    if layout.factory_ends is not None:
        note = f"{note} {texts.far_end_note}"
    pictures = bar_pictures(layout, plan, (width, height - NOTES), texts)
    cuts = saw_table(layout, plan, texts)
    sheets = [
        SheetOf(
            f"sawing-{number}", said.sawing, how_good(plan, layout.units, texts), said.sawing, said.no_scale,
            [words(note), drawing(picture)], landscape=True,
        )
        for number, picture in enumerate(pictures, 1)
    ]  # fmt: skip
    return [
        *sheets,
        SheetOf(
            "sawing-cuts",
            said.cuts_in_order,
            how_good(plan, layout.units, texts),
            said.sawing,
            said.no_scale,
            [cuts],
        ),
    ]


def _buying(layout: Layout, texts: Texts) -> SheetOf:
    said = texts.sheets
    return SheetOf(
        "buying", said.buying, said.buying_lead, said.buying, said.no_scale, buying_blocks(layout, texts)
    )


def _templates(layout: Layout, found: tuple[Bevel, ...], paper: PaperName, texts: Texts) -> list[SheetOf]:
    said = texts.sheets
    if not found:
        return []
    sheets: list[SheetOf] = []
    left: Sequence[Bevel] = found
    for landscape, use in ((True, USE), (False, USE_UPRIGHT)):
        width, height = Page(paper, landscape=landscape).room
        pictures, left = template_pictures(left, (width, height - use), layout.units, texts)
        sheets += [
            SheetOf(
                f"templates-{number}", said.bevels, said.bevels_lead, said.templates, scale_text(1),
                [words(said.bevels_use), drawing(picture)], landscape=landscape,
            )
            for number, picture in enumerate(pictures, len(sheets) + 1)
        ]  # fmt: skip
    if left:
        told = [_told(bevel, layout, texts) for bevel in left]
        blocks = [words(said.too_large), listed(told)]
        sheets.append(SheetOf("templates-rest", said.bevels, "", said.templates, said.no_scale, blocks))
    return sheets


def _told(bevel: Bevel, layout: Layout, texts: Texts) -> str:
    section = section_text((bevel.breadth, bevel.depth), layout.units)
    name = texts.sheets.bevel.format(name=bevel.name, angles=angles_text(bevel))
    return f"{name}, {texts.sheets.bevel_for.format(section=section, marks=' '.join(bevel.marks))}"
