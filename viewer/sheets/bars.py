"""The saw plan's bars on sheets: as many set-ups to a sheet as it has room for."""

from __future__ import annotations

import svg

from soleplate.engine.building_file import format_length
from soleplate.engine.layout import Layout
from soleplate.engine.sawing import SawPlan
from soleplate.viewer.drawings import (
    TIMBER,
    BarSheet,
    draw_bar,
    figures_width,
    saw_key,
    saw_patterns,
    stacked,
    timber_of,
    words_of,
)
from soleplate.viewer.lists import SetUp, set_ups
from soleplate.viewer.markup import figure
from soleplate.viewer.paper import FIGURES
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts


def bar_pictures(layout: Layout, plan: SawPlan, room: tuple[float, float], texts: Texts) -> list[Picture]:
    """The bars in their order, all in one proportion, each picture as wide as the room in mm."""
    bars = set_ups(plan, layout.factory_ends)
    sheet, scale = _sheet(layout, plan, bars, room[0], texts)
    key, below_key = saw_key(sheet, bars, 0.3 * sheet.size)
    pictures: list[Picture] = []
    for group in _grouped(sheet, bars, room[1] * scale, below_key):
        drawn, y = stacked(sheet, group, 0.3 * sheet.size if pictures else below_key)
        alt = texts.set_ups_from.format(first=group[0].number, last=group[-1].number)
        pictures.append(_picture(sheet, drawn if pictures else [key, *drawn], y, scale, alt))
    return pictures


def _grouped(sheet: BarSheet, bars: list[SetUp], most: float, below_key: float) -> list[list[SetUp]]:
    """The set-ups of each sheet, by the height they take."""
    groups: list[list[SetUp]] = [[]]
    filled, told = below_key, None
    for bar in bars:
        timber, high = timber_of(sheet, bar), draw_bar(sheet, bar, 0.0)[1]
        if groups[-1] and filled + high + (TIMBER * sheet.size if timber != told else 0.0) > most:
            groups.append([])
            filled, told = 0.3 * sheet.size, None
        filled += high + (TIMBER * sheet.size if timber != told else 0.0)
        told = timber
        groups[-1].append(bar)
    return groups


def _sheet(
    layout: Layout, plan: SawPlan, bars: list[SetUp], width: float, texts: Texts
) -> tuple[BarSheet, float]:
    """The proportion at which the longest length, and what stands at its sides, takes the sheet's width."""
    units, priced = layout.units, plan.cost > 0
    said = [line for bar in bars for line in words_of(bar, units, texts, priced=priced)]
    before = max(figures_width(line, 1.06) for line in said) + 1.6
    offcuts = [format_length(bar.like.offcut, units) for bar in bars] + [texts.offcut]
    after = max(figures_width(text, 1.0) for text in offcuts) + 1.6
    reach = max(length.stock_length for length in plan.lengths)
    scale = reach / (width - (before + after) * FIGURES)
    size = FIGURES * scale
    return BarSheet(size, reach, before * size, after * size, units, priced, texts), scale


def _picture(sheet: BarSheet, parts: list[svg.Element], high: float, scale: float, alt: str) -> Picture:
    drawn = svg.G(stroke_width=0.09 * sheet.size, extra={"font-size": figure(sheet.size)}, elements=parts)
    view = -sheet.before, 0.0, sheet.width, high
    return picture([drawn], view, alt, scale=scale, defs=[saw_patterns()])
