"""Templates of bevelled ends at full size, to wrap round the timber, with bars to check the print against.

A template is the end's surface laid flat: the face with the bevel, the edge at its short point, the far
face with the bevel the other way, and the edge at its long point. 1 unit is 1 mm on the sheet.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import svg

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.shapes import Point
from soleplate.viewer.drawings import lettering, shortened, text_width, wrapped
from soleplate.viewer.markup import figure
from soleplate.viewer.paper import FIGURES
from soleplate.viewer.sheets.bevels import Bevel
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts, section_text, small_length

BAR: Final = 100.0
"""Length of the bars to check the print against, mm."""

BELOW: Final = 28.0
"""How much of the timber a template reaches below the short point, mm."""

LEAST_BELOW: Final = 15.0
"""The same where the sheet has no more room, mm."""

ABOVE: Final = 7.0
"""What is left above the long point, to fold it by."""

COLUMN: Final = 17.0
"""Width at the left that the upright bar takes."""

FOOT: Final = 12.0
"""Height at the foot that the level bar takes."""

ROW: Final = 1.25
"""Between lines of lettering, in text sizes."""

MOST_LINES: Final = 3
"""Of marks over a template; the cutting list tells the template of each piece in any case."""

_LEAST_EDGE: Final = 12.0
"""mm of an edge that is worth folding round."""

_TIMBER, _WASTE = "#f6e3bd", "#f4f2ec"


@dataclass(frozen=True, slots=True)
class _Strip:
    """One side of the timber, laid flat: from `left`, as wide as it is, with the cut's line across it."""

    left: float
    width: float
    line: tuple[Point, ...]
    text: str

    @property
    def right(self) -> float:
        return self.left + self.width


@dataclass(frozen=True, slots=True)
class _Template:
    """A bevel with what is said over it, and how much height it takes."""

    bevel: Bevel
    name: str
    fall: str
    whose: tuple[str, ...]
    most: float
    """Height that a sheet has for it, mm."""

    @property
    def over(self) -> float:
        return (1.4 + ROW * len(self.whose)) * FIGURES + ABOVE

    @property
    def deep(self) -> float:
        return max(back for _, back in self.bevel.line)

    @property
    def below(self) -> float:
        """What it reaches below the short point: less on a sheet with little room."""
        return max(min(BELOW, self.most - self.over - self.deep - 2.0), LEAST_BELOW)

    @property
    def height(self) -> float:
        return self.over + self.deep + self.below + 2.0


def template_pictures(
    bevels: Sequence[Bevel], room: tuple[float, float], units: Units, texts: Texts
) -> tuple[list[Picture], list[Bevel]]:
    """The templates on as few sheets as they take, each with its bars; and those too large for a sheet."""
    width, height = room[0] - COLUMN, room[1] - FOOT
    sheets: list[list[_Template]] = []
    filled, too_large = 0.0, []
    for bevel in bevels:
        template = _said(bevel, width, height, units, texts)
        if bevel.breadth > width or template.height > height:
            too_large.append(bevel)
            continue
        if not sheets or filled + template.height > height:
            sheets.append([])
            filled = 0.0
        sheets[-1].append(template)
        filled += template.height
    return [_sheet(each, room, units, texts) for each in sheets], too_large


def _said(bevel: Bevel, width: float, most: float, units: Units, texts: Texts) -> _Template:
    words, deep = texts.sheets, max(back for _, back in bevel.line)
    whose = words.bevel_for.format(
        section=section_text((bevel.breadth, bevel.depth), units), marks=" ".join(bevel.marks)
    )
    lines = wrapped(whose, FIGURES, width)
    if len(lines) > MOST_LINES:
        lines = [*lines[: MOST_LINES - 1], shortened(" ".join(lines[MOST_LINES - 1 :]), FIGURES, width)]
    return _Template(
        bevel,
        words.bevel.format(name=bevel.name, angles=angles_text(bevel)),
        words.bevel_fall.format(fall=small_length(deep, units), across=format_length(bevel.breadth, units)),
        tuple(lines),
        most,
    )


def _sheet(templates: Sequence[_Template], room: tuple[float, float], units: Units, texts: Texts) -> Picture:
    parts: list[svg.Element] = [*_bars(room[1], texts)]
    y = 0.0
    for template in templates:
        parts += _template(template, y, room[0] - COLUMN, units, texts)
        y += template.height
    names = ", ".join(template.bevel.name for template in templates)
    return picture(parts, (0.0, 0.0, *room), texts.sheets.bevels_alt.format(names=names))


def _template(template: _Template, top: float, room: float, units: Units, texts: Texts) -> list[svg.Element]:
    size, bevel = FIGURES, template.bevel
    name = lettering(template.name, COLUMN, top + 0.6 * size, size, anchor="start")
    name.font_weight = "bold"
    after = COLUMN + text_width(f"{template.name}  ", size)
    lines = [name, lettering(template.fall, after, top + 0.6 * size, size, anchor="start")]
    lines += [
        lettering(line, COLUMN, top + (0.6 + ROW * row) * size, size, anchor="start")
        for row, line in enumerate(template.whose, 1)
    ]
    long_point = top + template.over
    foot = long_point + template.deep + template.below
    strips = _strips(bevel, room, units, texts)
    return [*lines, *_shapes(strips, long_point, foot), *_lettered(strips, bevel, long_point, foot, texts)]


def _strips(bevel: Bevel, room: float, units: Units, texts: Texts) -> list[_Strip]:
    """The sides that fit, in the order in which they come round the timber."""
    words = texts.sheets
    face = words.face.format(breadth=format_length(bevel.breadth, units))
    edge = words.edge.format(depth=format_length(bevel.depth, units))
    first, last = bevel.line[0][1], bevel.line[-1][1]
    mirrored = tuple((bevel.breadth - across, back) for across, back in reversed(bevel.line))
    sides = (
        (bevel.breadth, bevel.line, face),
        (bevel.depth, ((0.0, last), (bevel.depth, last)), edge),
        (bevel.breadth, mirrored, face),
        (bevel.depth, ((0.0, first), (bevel.depth, first)), edge),
    )
    strips: list[_Strip] = []
    left = COLUMN
    for width, line, text in sides:
        rest = COLUMN + room - left
        if width > rest:
            if len(line) == 2 and line[0][1] == line[1][1] and rest > _LEAST_EDGE:
                part = min(rest, 40.0)
                strips.append(_Strip(left, part, ((0.0, line[0][1]), (part, line[0][1])), ""))
            break
        strips.append(_Strip(left, width, line, text))
        left += width
    return strips


def _shapes(strips: Sequence[_Strip], long_point: float, foot: float) -> list[svg.Element]:
    """Timber, waste, folds and the cut line all round."""
    left, right = strips[0].left, strips[-1].right
    cut = [(strip.left + across, long_point + back) for strip in strips for across, back in strip.line]
    top = long_point - ABOVE
    folds: list[svg.Element] = [
        svg.Line(x1=strip.right, y1=top, x2=strip.right, y2=foot) for strip in strips[:-1]
    ]
    outline = [(left, top), (right, top), (right, foot), (left, foot)]
    timber = [*cut, (right, foot), (left, foot)]
    waste = [(left, top), (right, top), *reversed(cut)]
    return [
        _polygon(timber, _TIMBER),
        _polygon(waste, _WASTE),
        svg.Polygon(points=_points(outline), fill="none", stroke="currentColor", stroke_width=0.25),
        svg.Polyline(points=_points(cut), fill="none", stroke="currentColor", stroke_width=0.5),
        svg.G(stroke="currentColor", stroke_width=0.25, stroke_dasharray=[3, 1.5], elements=folds),
        svg.Line(
            x1=left, y1=long_point, x2=strips[0].right, y2=long_point,
            stroke="currentColor", stroke_width=0.25, stroke_dasharray=[1, 1],
        ),
    ]  # fmt: skip


def _lettered(
    strips: Sequence[_Strip], bevel: Bevel, long_point: float, foot: float, texts: Texts
) -> list[svg.Element]:
    size = FIGURES
    drawn: list[svg.Element] = []
    for strip in strips:
        middle = (strip.left + strip.right) / 2
        lines = [strip.text] if text_width(strip.text, size) < strip.width - 2 else strip.text.split(" ", 1)
        for index, line in enumerate(lines):
            y = foot - (len(lines) - index - 0.5) * 1.25 * size - 1.0
            drawn.append(lettering(shortened(line, size, strip.width - 2), middle, y, size))
    drawn += _points_named(strips, long_point, texts)
    drawn.append(lettering(f"{bevel.name} {angles_text(bevel)}", *_in_face(strips[0], foot), 1.15 * size))
    drawn.append(
        lettering(
            texts.sheets.waste, (strips[-1].left + strips[-1].right) / 2, long_point - 0.5 * ABOVE, size
        )
    )
    return drawn


def _points_named(strips: Sequence[_Strip], long_point: float, texts: Texts) -> list[svg.Element]:
    """On the edges of the timber, which of the cut's points each has."""
    deepest = max(back for strip in strips for _, back in strip.line)
    named: list[svg.Element] = []
    for strip in strips[1::2]:
        back = strip.line[0][1]
        text = {0.0: texts.sheets.long_point, deepest: texts.sheets.short_point}.get(back)
        if text is not None and text_width(text, FIGURES) < strip.width - 2:
            middle = (strip.left + strip.right) / 2
            named.append(lettering(text, middle, long_point + back + 0.9 * FIGURES, FIGURES))
    return named


def _in_face(strip: _Strip, foot: float) -> tuple[float, float]:
    """A place on the face clear of the cut and of the lettering at the foot."""
    return (strip.left + strip.right) / 2, foot - 2.6 * FIGURES


def angles_text(bevel: Bevel) -> str:
    """A bevel's angles off square."""
    return " / ".join(f"{figure(round(angle, 2))}°" for angle in bevel.angles)


def _bars(height: float, texts: Texts) -> list[svg.Element]:
    """An upright and a level bar of 100 mm, each with strokes every 10 mm: printers stretch either way."""
    x, y = 9.0, height - 6.5
    strokes: list[svg.Element] = []
    for step in range(11):
        reach = 3.0 if step % 5 == 0 else 1.8
        strokes.append(svg.Line(x1=x, y1=y - 10 * step, x2=x + reach, y2=y - 10 * step))
        strokes.append(svg.Line(x1=x + 10 * step, y1=y, x2=x + 10 * step, y2=y - reach))
    strokes.append(svg.Line(x1=x, y1=y, x2=x, y2=y - BAR, stroke_width=0.5, class_=["bar"]))
    strokes.append(svg.Line(x1=x, y1=y, x2=x + BAR, y2=y, stroke_width=0.5, class_=["bar"]))
    return [
        svg.G(stroke="currentColor", stroke_width=0.25, elements=strokes),
        lettering(texts.sheets.bar, x - 2.6, y - BAR / 2, FIGURES, turned=True),
        lettering(texts.sheets.bar, x + BAR / 2, y + 3.2, FIGURES),
    ]


def _polygon(corners: Sequence[Point], fill: str) -> svg.Polygon:
    return svg.Polygon(points=_points(corners), fill=fill)


def _points(corners: Sequence[Point]) -> list[svg.Point]:
    return [svg.Point(x, y) for x, y in corners]
