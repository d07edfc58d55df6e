"""A saw plan as bars: each set-up once, to scale, as it lies at the saw; 1 unit is 1 mm along a length.

A bar is dark all over and its pieces lie on it, so that what shows between them is the saw cut.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import svg

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import CAUTIONS
from soleplate.engine.sawing import FactoryEnds, SawPlan
from soleplate.viewer.drawings.elevation import INK, LEAST_PIXELS, PAPER
from soleplate.viewer.drawings.frame import TAG_INK
from soleplate.viewer.drawings.lettering import FONTS, lettering, shortened, text_width, wrapped
from soleplate.viewer.drawings.saw_bar import BarSheet, draw_bar, figures_width, plain, wedge, words_of
from soleplate.viewer.drawings.tones import saw_fill, saw_patterns
from soleplate.viewer.lists import SetUp, set_ups
from soleplate.viewer.markup import figure, svg_text
from soleplate.viewer.words import ENGLISH, Texts, timber_text

TEXTS_ALONG: Final = 52
"""How many text sizes the longest length takes."""

A_PART: Final = 8
"""Set-ups on one of a page's drawings, which print whole."""

TIMBER: Final = 2.0
"""Height of a line that tells section and material, in text sizes."""


def saw_plan_svg(
    plan: SawPlan,
    units: Units,
    *,
    ends: FactoryEnds | None = None,
    standalone: bool = True,
    texts: Texts = ENGLISH,
) -> str:
    """Draw a plan, of a building or of any parts; a length's start is at x 0.

    With `ends` pieces lie so that they keep the factory ends told there (`soleplate.viewer.lists.set_ups`). A
    drawing that stands alone brings its own paper, patterns and cautions; one within a page finds the
    patterns there (`saw_patterns`). Prices are left out where nothing costs anything.
    """
    bars = set_ups(plan, ends)
    sheet = _sheet(plan, bars, units, texts)
    return svg_text(_drawing(sheet, bars, texts.saw_plan, keyed=True, standalone=standalone))


def saw_plan_parts(
    plan: SawPlan, units: Units, *, ends: FactoryEnds | None = None, texts: Texts = ENGLISH
) -> list[str]:
    """As `saw_plan_svg` within a page, in drawings of at most `A_PART` set-ups, the key on the first."""
    bars = set_ups(plan, ends)
    sheet = _sheet(plan, bars, units, texts)
    parts = [bars[start : start + A_PART] for start in range(0, len(bars), A_PART)]
    return [
        svg_text(
            _drawing(
                sheet,
                part,
                texts.set_ups_from.format(first=part[0].number, last=part[-1].number),
                keyed=index == 0,
                standalone=False,
            )
        )
        for index, part in enumerate(parts)
    ]


def stacked(sheet: BarSheet, bars: Sequence[SetUp], y: float) -> tuple[list[svg.Element], float]:
    """Bars under each other from `y` down, each timber told over its first bar; and where they end."""
    size = sheet.size
    parts: list[svg.Element] = []
    told = None
    for bar in bars:
        timber = timber_of(sheet, bar)
        if timber and timber != told:
            line = shortened(timber, 1.1 * size, sheet.width - 2 * size)
            heading = lettering(line, size - sheet.before, y + 0.7 * size, 1.1 * size, anchor="start")
            heading.font_weight = "bold"
            parts.append(heading)
            y += TIMBER * size
            told = timber
        drawn, high = draw_bar(sheet, bar, y)
        parts.append(drawn)
        y += high
    return parts, y


def timber_of(sheet: BarSheet, bar: SetUp) -> str:
    """What a bar is of, as a person reads it."""
    return timber_text(bar.like.section, bar.like.material, sheet.units)


def _sheet(plan: SawPlan, bars: Sequence[SetUp], units: Units, texts: Texts) -> BarSheet:
    reach = max(length.stock_length for length in plan.lengths)
    size, priced = max(round(reach / TEXTS_ALONG), 1), plan.cost > 0
    said = [line for bar in bars for line in words_of(bar, units, texts, priced=priced)]
    before = (max(figures_width(line, 1.06) for line in said) + 2.6) * size
    offcuts = [format_length(bar.like.offcut, units) for bar in bars] + [texts.offcut]
    after = (max(figures_width(text, 1.0) for text in offcuts) + 2.4) * size
    return BarSheet(size, reach, round(before), round(after), units, priced, texts)


def _drawing(sheet: BarSheet, bars: Sequence[SetUp], name: str, *, keyed: bool, standalone: bool) -> svg.SVG:
    size, left = sheet.size, -sheet.before
    parts: list[svg.Element] = []
    y = 0.8 * size
    if standalone:
        parts.append(lettering(name, left + size, y + 0.6 * size, 1.3 * size, anchor="start"))
        y += 2 * size
    if keyed:
        key, y = saw_key(sheet, bars, y)
        parts.append(key)
    drawn, y = stacked(sheet, bars, y)
    parts += drawn
    if standalone:
        for line in (
            line for text in CAUTIONS[:2] for line in wrapped(text, 0.85 * size, sheet.width - 2 * size)
        ):
            parts.append(lettering(line, left + size, y + 0.5 * size, 0.85 * size, anchor="start"))
            y += 1.1 * size
        y += 0.5 * size
    view = svg.ViewBoxSpec(left, 0, sheet.width, y)
    before: list[svg.Element] = []
    if standalone:
        paper = svg.Rect(x=left, y=0, width=sheet.width, height=y, fill=PAPER)
        before = [svg.Title(text=name), saw_patterns(), paper]
    scale = LEAST_PIXELS / size
    return svg.SVG(
        viewBox=view,
        width=round(sheet.width * scale),
        height=round(y * scale),
        class_=["saw-bars"],
        extra={"role": "group", "aria-label": name},
        elements=[
            *before,
            svg.G(
                fill="currentColor",
                color=INK if standalone else None,
                stroke_width=0.09 * size,
                extra={"font-family": FONTS, "font-size": figure(size)},
                elements=parts,
            ),
        ],
    )


def saw_key(sheet: BarSheet, bars: Sequence[SetUp], top: float) -> tuple[svg.G, float]:
    """What the tones and signs stand for, those alone that are there; and how far down it reaches."""
    size, texts = sheet.size, sheet.texts
    there = {
        "bought": any(not bar.like.on_hand for bar in bars),
        "on-hand": any(bar.like.on_hand for bar in bars),
        "offcut": True,
        "kerf": True,
        "factory": any(piece.kept for bar in bars for piece in bar.sawn[0]),
    }
    drawn: list[svg.Element] = []
    x, right = -sheet.before + size, sheet.reach + sheet.after - size
    for name in (name for name, is_there in there.items() if is_there):
        wide = 2.4 * size + text_width(texts.saw_key[name], size) + 1.2 * size
        if x + wide > right:
            x, top = -sheet.before + size, top + 1.6 * size
        drawn.append(_sample(sheet, name, x, top))
        drawn.append(plain(texts.saw_key[name], x + 2.4 * size, top + 0.5 * size, size))
        x += wide
    return svg.G(class_=["key"], elements=drawn), top + 2.2 * size


def _sample(sheet: BarSheet, name: str, x: float, top: float) -> svg.Element:
    size = sheet.size
    if name == "factory":
        return wedge(size, x + 0.6 * size, top + 0.5 * size, 1.0, "")
    if name == "kerf":
        sides: list[svg.Element] = [
            svg.Rect(x=x + across * size, y=top, width=0.8 * size, height=size) for across in (0, 1)
        ]
        between = svg.Rect(x=x + 0.8 * size, y=top, width=0.2 * size, height=size, fill=TAG_INK)
        return svg.G(fill=saw_fill("bought"), elements=[*sides, between])
    return svg.Rect(x=x, y=top, width=1.8 * size, height=size, fill=saw_fill(name), stroke=TAG_INK)
