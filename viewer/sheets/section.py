"""Sections on sheets at 1:20, parted at match lines where one is too wide, with heights and what is cut."""

from __future__ import annotations

import itertools
from typing import Final

import svg

from soleplate.engine.building_file import format_figure, format_length
from soleplate.engine.layout import Layout
from soleplate.viewer.drawings import (
    CutThrough,
    SectionDrawing,
    cuts_through,
    drawn_as,
    lettering,
    text_width,
    tone_patterns,
)
from soleplate.viewer.paper import SCALES, Page, PaperName, scale_text
from soleplate.viewer.sheets.blocks import Block, Column, SheetOf, blocks_height, drawing, head, table, words
from soleplate.viewer.sheets.elevation import letter
from soleplate.viewer.sheets.fitting import BETWEEN, LETTERING
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts, role_text, section_text

SCALE: Final = 20
"""1 to this, at which a carpenter measures off a section."""

CHAIN: Final = (2.4, 0.35, 0.15, 0.35, 0.15, 0.35)
"""A chain line, long dashed double-dotted (ISO 128), in text sizes."""

MOST_PARTS: Final = 4
"""A section that would take more sheets at a scale is drawn smaller."""


def section_sheets(layout: Layout, paper: PaperName, texts: Texts) -> list[SheetOf]:
    """The sheets of each section, and under the last of each what is cut there."""
    return [
        sheet for through in cuts_through(layout) for sheet in _sheets(through, layout, paper, texts)
    ]  # fmt: skip


def _sheets(through: CutThrough, layout: Layout, paper: PaperName, texts: Texts) -> list[SheetOf]:
    said, page = texts.sections, Page(paper, landscape=False)
    pictures, scale = _pictures(through, layout, page, texts)
    name = said.names[through.kind]
    datum = said.datum["floor" if layout.floors else ""]
    notes = words(f"{datum} {said.seen}")
    told: list[Block] = [head(said.cut_here), _pieces(through, layout, texts)]
    sub = said.sub[through.seen_from].format(at=format_length(through.at, layout.units))
    sheets: list[SheetOf] = []
    for number, drawn in enumerate(pictures, 1):
        blocks = [drawing(drawn), notes]
        room = page.room[1] - drawn.height - BETWEEN
        title = (
            name if len(pictures) == 1 else said.part.format(section=name, number=number, count=len(pictures))
        )
        last = number == len(pictures)
        fits = blocks_height([notes, *told], page.room[0]) <= room
        blocks += told if last and fits else []
        place = f"section-{through.kind}-{number}"
        sheets.append(SheetOf(place, title, sub, said.title, scale_text(scale), blocks, of=name))
        if last and not fits:
            place = f"section-{through.kind}-pieces"
            sheets.append(SheetOf(place, name, sub, said.title, texts.sheets.no_scale, told, of=name))
    return sheets


def _pictures(through: CutThrough, layout: Layout, page: Page, texts: Texts) -> tuple[list[Picture], int]:
    """The section whole, or in as few parts as fit the sheet, from 1:20 on smaller."""
    for scale in SCALES[SCALES.index(SCALE) :]:
        made = SectionDrawing(through, layout, LETTERING * scale, texts)
        for count in range(1, MOST_PARTS + 1):
            drawn = [_part(made, number, count, scale) for number in range(1, count + 1)]
            if all(each.width <= page.room[0] and each.height <= page.room[1] for each in drawn):
                return drawn, scale
    return drawn, scale


def _part(made: SectionDrawing, number: int, count: int, scale: int) -> Picture:
    """A part of a section between match lines; heights stand at its ends."""
    size, texts = made.size, made.texts
    left, right, low, high = made.extent
    lines = [left + (right - left) * index / count for index in range(count + 1)]
    start, end = lines[number - 1], lines[number]
    begins, ends = number == 1, number == count
    clip = svg.ClipPath(
        id="part",
        elements=[svg.Rect(x=start, y=-high - size, width=end - start, height=high - low + 4 * size)],
    )
    shapes: list[svg.Element] = [] if count == 1 else [clip]
    shapes.append(svg.G(clip_path="url(#part)" if count > 1 else None, elements=made.drawn()))
    edge, far = start - size, end + size
    if begins:
        beside, reach = made.beside(at_left=True)
        shapes += beside
        edge = left - reach
    if ends:
        beside, reach = made.beside(at_left=False)
        shapes += beside
        far = right + reach
    shapes += _labels(made, start, end, begins=begins, ends=ends)
    top, foot = -high - 1.2 * size, -low + 2.2 * size
    if count > 1:
        shapes += _match_lines(made, (start, end), number, count, top, foot)
    string, foot = _string(made, start, end, foot)
    shapes += string
    roles = [drawn_as(shown.piece) for shown in made.through.cut]
    said = texts.sections
    alt = said.alt.format(
        section=said.names[made.through.kind],
        name=made.layout.name,
        scale=scale_text(scale),
        wide=format_length(right - left, made.units),
        low=format_figure(low, made.units),
        high=format_length(high, made.units),
    )
    view = (edge, top, far - edge, foot - top)
    return picture(shapes, view, alt, scale=scale, defs=[tone_patterns(roles)])


def _labels(made: SectionDrawing, start: float, end: float, *, begins: bool, ends: bool) -> list[svg.Element]:
    """What stands inside: at both ends where there is room for both, else at those that have some."""
    face, other = made.inside
    room = (min(end, other) - face) if begins else 0.0
    needed = [
        made.label_room(at_left=True) if begins else 0.0,
        made.label_room(at_left=False) if ends else 0.0,
    ]
    shapes: list[svg.Element] = []
    if begins and ends and sum(needed) > room:
        return made.within(at_left=True) if needed[0] <= room else []
    if begins and needed[0] <= end - face:
        shapes += made.within(at_left=True)
    if ends and needed[1] <= other - start:
        shapes += made.within(at_left=False)
    return shapes


def _match_lines(
    made: SectionDrawing, between: tuple[float, float], number: int, count: int, top: float, foot: float
) -> list[svg.Element]:
    """A chain line where the section goes on, named by a letter on both sheets."""
    drawn: list[svg.Element] = []
    size = made.size
    for x, which, outwards in ((between[0], number - 1, -1.0), (between[1], number, 1.0)):
        if 0 < which < count:
            drawn.append(
                svg.Line(
                    x1=x, y1=top, x2=x, y2=foot, stroke="currentColor", stroke_width=0.1 * size,
                    stroke_dasharray=[round(step * size) for step in CHAIN],
                )
            )  # fmt: skip
            said = made.texts.sheets.match_line.format(letter=letter(which))
            drawn.append(lettering(said, x + 0.6 * outwards * size, top / 2, 0.9 * size, turned=True))
    return drawn


def _string(made: SectionDrawing, start: float, end: float, top: float) -> tuple[list[svg.Element], float]:
    """Overhangs and width along the foot; of a part the lengths that lie wholly in it, and the whole."""
    size = made.size
    drawn: list[svg.Element] = []
    stops = made.stops()
    y = top + 1.2 * size
    for left, right in itertools.pairwise(stops):
        here = max(left, start), min(right, end)
        if here[1] - here[0] < 0.5:
            continue
        drawn.append(_line(here[0], y, here[1], y, size))
        drawn += [_tick(x, y, size) for x in (left, right) if start - 0.5 <= x <= end + 0.5]
        text = format_figure(right - left, made.units)
        middle = sum(here) / 2
        wide = text_width(text, 0.9 * size)
        below = wide > here[1] - here[0]
        if below:
            middle = min(max(middle, start + wide / 2), end - wide / 2)
        drawn.append(lettering(text, middle, y + (0.8 if below else -0.7) * size, 0.9 * size))
    return drawn, y + 1.5 * size


def _line(x1: float, y1: float, x2: float, y2: float, size: float) -> svg.Line:
    return svg.Line(x1=x1, y1=y1, x2=x2, y2=y2, stroke="currentColor", stroke_width=0.06 * size)


def _tick(x: float, y: float, size: float) -> svg.Line:
    reach = 0.28 * size
    return svg.Line(
        x1=x - reach, y1=y + reach, x2=x + reach, y2=y - reach, stroke="currentColor",
        stroke_width=0.14 * size,
    )  # fmt: skip


def _pieces(through: CutThrough, layout: Layout, texts: Texts) -> Block:
    """What is cut or seen, by part and kind: its section, material and marks."""
    columns = [
        Column(texts.sheets.piece, 30.0),
        Column(texts.sheets.section, "auto", "figure"),
        Column(texts.material, 34.0),
        Column(texts.sheets.marks, "rest", "figure"),
    ]
    rows: dict[tuple[str, tuple[float, float], str], list[str]] = {}
    for shown in (*through.cut, *through.beyond):
        piece = shown.piece
        rows.setdefault((piece.role, piece.section, piece.material), []).append(piece.mark)
    return table(
        columns,
        (
            (
                role_text(role, texts),
                section_text(section, layout.units),
                material,
                " ".join(dict.fromkeys(marks)),
            )
            for (role, section, material), marks in rows.items()
        ),
    )
