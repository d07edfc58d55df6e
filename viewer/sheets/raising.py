"""The raising sheets: six steps a sheet, each a plan with what to do; or what is in the way of an order."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Final

import svg

from soleplate.engine.layout import Layout, OrderOfWork, SitePlan, WorkStep
from soleplate.viewer.drawings import SiteView, draw_blocked, draw_change, draw_step, extent_of, raise_of
from soleplate.viewer.lists import (
    change_told,
    hours_told,
    names_told,
    none_told,
    raised_seen,
    sentence,
    step_name,
    step_told,
    way_name,
    way_told,
)
from soleplate.viewer.paper import FIGURES, WORDS, Page, PaperName
from soleplate.viewer.pictures import Raised, raised
from soleplate.viewer.sheets.blocks import Block, Column, SheetOf, breakable, head, listed, table, tick, words
from soleplate.viewer.sheets.picture import picture
from soleplate.viewer.words import Texts

COLUMNS: Final = 2
ON_A_SHEET: Final = 6
BETWEEN: Final = 5.0
"""Between columns of figures, mm."""

HEAD: Final = 6.5
LINE: Final = 4.7
BELOW: Final = 4.5
"""What a figure's name takes, each line of its text, and the space under it, mm."""

LEAST: Final = 30.0
MOST: Final = 64.0
"""How high a figure is drawn, mm."""

PICTURE: Final = 36.0
"""The breadth of a picture of what stands, beside the plan of its step, mm; its room with it is as high."""

LETTER: Final = 0.39 * WORDS
"""The width of a letter in running text, mm, rather too much."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A figure before it has its size: what is drawn, and what stands under it."""

    draw: Callable[[SiteView], list[svg.Element]]
    alt: str
    name: str
    lines: tuple[str, ...]
    step: WorkStep | None = None
    """That it is of: it is ticked off."""
    pictures: Raised | None = None
    """Where what stands after it is shown too."""

    def height(self, width: float) -> float:
        """Of all but the drawing, mm."""
        count = sum(1 + int(len(line) * LETTER / width) for line in self.lines)
        return HEAD + LINE * count + BELOW


def raising_sheets(layout: Layout, paper: PaperName, texts: Texts) -> list[SheetOf]:
    """The sheets of the order of work of a layout, or of what is in the way of one."""
    order, said = layout.order_of_work, texts.raising
    if order is None:
        return []
    if order.site is None or order.possible is None:
        return [
            SheetOf("raising-1", said.title, "", said.title, texts.sheets.no_scale, [words(said.unknown)])
        ]
    page = Page(paper, landscape=False)
    width = (page.room[0] - BETWEEN * (COLUMNS - 1)) / COLUMNS
    told = list(_steps(layout, order, texts) if order.possible else _blocked(layout, order, texts))
    title, lead = (said.title, said.lead) if order.possible else (said.none, said.lead_none)
    sheets: list[SheetOf] = []
    first: list[Block] = [] if order.possible else [words(none_told(order, texts))]
    left = told
    while left:
        taken, high = _fitting(left, width, page.room[1] - (12.0 if first else 0.0))
        blocks = [*first, _figures(left[:taken], order, order.site, (width, high), texts)]
        sheets.append(
            SheetOf(f"raising-{len(sheets) + 1}", title, lead, said.title, texts.sheets.no_scale, blocks)
        )
        left, first = left[taken:], []
    if order.may_help and not order.possible:
        more = [head(said.may_help), listed(sentence(each.display) for each in order.may_help)]
        last = sheets[-1]
        sheets[-1] = SheetOf(
            last.id, last.title, last.sub, last.document_type, last.scale, [*last.blocks, *more]
        )
    if order.possible:
        sheets.append(_hours(order, texts))
    return sheets


def _steps(layout: Layout, order: OrderOfWork, texts: Texts) -> Iterator[Figure]:
    pictures = raised(layout, order)
    for step in order.steps:
        told = step_told(order, step, texts)
        alt = texts.raising.alt.format(
            number=step.number, sentence=told.sentence, walls=names_told(step.standing, texts)
        )
        yield Figure(
            partial(draw_step, order, step),
            alt,
            f"{step.number}  {told.name}",
            told.paragraphs,
            step,
            pictures if pictures is not None and pictures.has(step) else None,
        )


def _blocked(layout: Layout, order: OrderOfWork, texts: Texts) -> Iterator[Figure]:
    units, said = layout.units, texts.raising
    for change in order.in_the_way:
        told = change_told(change, units, texts)
        name = f"{said.something}: {said.together.join(change.obstacles)}"
        drawn = partial(draw_change, order, change, units)
        yield Figure(drawn, told, name, (told,))
    for way in order.ways:
        told = way_told(way, units, texts)
        name = way_name(way, texts)
        drawn = partial(draw_blocked, order, way, units)
        yield Figure(drawn, f"{name}: {told}", name, (told,))


def _fitting(figures: Sequence[Figure], width: float, room: float) -> tuple[int, float]:
    """How many of the next figures a sheet takes, whole rows of them, and how high they are drawn."""
    for count in range(ON_A_SHEET, 0, -COLUMNS):
        taken = figures[:count]
        rows = [taken[at : at + COLUMNS] for at in range(0, len(taken), COLUMNS)]
        text = sum(max(each.height(width) for each in row) for row in rows)
        high = (room - text) / len(rows)
        if high >= LEAST or count == COLUMNS:
            return min(count, len(figures)), min(max(high, LEAST), MOST)
    raise AssertionError


def _figures(
    figures: Sequence[Figure], order: OrderOfWork, site: SitePlan, room: tuple[float, float], texts: Texts
) -> Block:
    """Figures beside and below each other, each as large as its room lets it be; all plans at one scale."""
    width, height = room
    if any(each.pictures for each in figures):
        width -= PICTURE
    steps = [raise_of(order, each.step) or each.step for each in figures if each.step is not None]
    left, right, front, back = extent_of(order, site, steps)
    scale = max((right - left) / width, (back - front) / height)
    view = SiteView(site, left, right, front, back, FIGURES * scale)
    cells = []
    for each in figures:
        drawn = picture(each.draw(view), view.box, each.alt, scale=scale)
        cells.append(
            {
                "svg": drawn.svg, "width": drawn.width, "height": drawn.height, "alt": drawn.alt,
                "name": breakable(each.name), "lines": [breakable(line) for line in each.lines],
                "ticked": each.step is not None,
                **({"beside": _beside(each.pictures, each.step, height, texts)}
                   if each.pictures is not None and each.step is not None else {}),
            }
        )  # fmt: skip
    return {"kind": "figures", "columns": COLUMNS, "gap": BETWEEN, "cells": cells}


def _beside(pictures: Raised, step: WorkStep, height: float, texts: Texts) -> dict[str, object]:
    """What stands after a step, as large as there is room beside its plan."""
    drawn, box = pictures.elements(step)
    made = picture(drawn, box, raised_seen(step, texts), scale=max(box[2] / PICTURE, box[3] / height))
    return {"svg": made.svg, "width": made.width, "height": made.height, "alt": made.alt}


def _hours(order: OrderOfWork, texts: Texts) -> SheetOf:
    """What has to be dry, step by step, and when one may stop."""
    said = texts.raising
    columns = [
        Column(texts.sheets.done),
        Column(said.step, "auto", "figure", right=True),
        Column(said.what, "rest"),
        Column(said.time, "auto", "figure", right=True),
        Column(said.when, "auto"),
    ]
    rows = [
        (
            tick(), f"{step.number}", step_name(step, texts), f"{step.hours:.2f}",
            ", ".join(
                [_when(step, texts), *([said.one_go] if step.whole else [])]
            ),
        )
        for step in order.steps
    ]  # fmt: skip
    return SheetOf(
        "dry-hours", said.dry_hours, said.dry_lead, said.title, texts.sheets.no_scale,
        [listed(hours_told(order, texts)), table(columns, rows)],
    )  # fmt: skip


def _when(step: WorkStep, texts: Texts) -> str:
    return step.during or (texts.raising.dry if step.dry else texts.raising.under_cover)
