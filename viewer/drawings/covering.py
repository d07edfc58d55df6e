"""What covers a slope, as seen square to it: sheets or strips in order, laps, windows, battens."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import svg

from soleplate.engine.building_file import Units, format_figure
from soleplate.engine.layout import CoveringOut, CoveringPartOut, Layout, SlopeOut
from soleplate.viewer.drawings.lettering import FONTS, LetteringBox, lettering, spread, text_width
from soleplate.viewer.drawings.tones import TONES
from soleplate.viewer.lists import starts_left
from soleplate.viewer.markup import svg_text
from soleplate.viewer.words import ENGLISH, Texts

INK = "#2b2d30"
PAPER = "#fffdf8"
LEAST_PIXELS = 10.5
"""Of lettering on a screen."""

_Shapes = list[svg.Element]
CoveringPicture = tuple[_Shapes, tuple[float, float, float, float]]
"""Elements whose unit is 1 mm, and what they take up: x, y, width and height."""


def covering_svg(layout: Layout, slope: SlopeOut, texts: Texts = ENGLISH) -> str:
    """Draw a slope's covering; 1 unit is 1 mm, the outline's corner at x 0, y running down the slope.

    Raises:
        ValueError: the slope has no covering.
    """
    if slope.covering is None:
        raise ValueError(f"{slope.name} has no covering")
    first, last = slope.covering.parts[0], slope.covering.parts[-1]
    wide, tall = abs(last.right - first.left), last.top - first.bottom
    size = min(max(wide / 64, tall / 44, 46.0), 90.0)
    drawn, (x, y, width, height) = draw_covering(slope, slope.covering, layout.units, size, texts)
    title = texts.covering.seen.format(slope=slope.name)
    heading = [lettering(title, x + 0.5 * size, y - 0.8 * size, 1.1 * size, anchor="start")]
    width = max(width, text_width(title, 1.1 * size) + size)
    view = svg.ViewBoxSpec(x, y - 2 * size, width, height + 2.5 * size)
    paper = svg.Rect(x=view.min_x, y=view.min_y, width=view.width, height=view.height, fill=PAPER)
    scale = LEAST_PIXELS / size
    return svg_text(
        svg.SVG(
            viewBox=view,
            width=round(float(view.width) * scale),
            height=round(float(view.height) * scale),
            class_=["covering"],
            extra={"role": "img", "aria-label": title},
            elements=[
                paper,
                svg.G(fill=INK, color=INK, extra={"font-family": FONTS}, elements=[*heading, *drawn]),
            ],
        )
    )


def draw_covering(
    slope: SlopeOut, covering: CoveringOut, units: Units, size: float, texts: Texts
) -> CoveringPicture:
    """A slope's covering with its figures, lettering of `size` mm."""
    parts = covering.parts
    left, right = min(part.left for part in parts), max(part.right for part in parts)
    bottom, top = parts[0].bottom, parts[-1].top
    thin = 0.05 * size
    drawn: list[svg.Element] = [_sheet(part, size) for part in parts]
    drawn += [_hidden(one, other, thin) for one, other in itertools.pairwise(parts)]
    drawn += [_batten(row, left, right, thin) for row in _rows(covering)]
    drawn += [_chain(*ends, thin) for ends in _walls(slope, left, right, bottom, top)]
    for hole in slope.openings:
        drawn += _window(hole.left, hole.right, hole.bottom, hole.top, thin)
    drawn += _numbers(slope, covering, units, size, texts)
    along = sorted({part.left for part in parts} | {right} if starts_left(slope) else _from_right(parts))
    told = [_far(x, left, right, slope) for x in along]
    below, foot = _figures_below(along, told, -bottom, units, size)
    drawn += below
    up = sorted({part.bottom for part in parts} | {top})
    beside, reach = _figures_beside(up, left, bottom, units, size)
    drawn += beside
    drawn += _start(covering, starts_left(slope), size, texts)
    edge, far = left - reach - 0.5 * size, right + 0.8 * size
    return drawn, (edge, -top - 0.8 * size, far - edge, top + 0.8 * size + foot + 0.5 * size)


def _from_right(parts: Sequence[CoveringPartOut]) -> set[float]:
    return {part.right for part in parts} | {min(part.left for part in parts)}


def _far(x: float, left: float, right: float, slope: SlopeOut) -> float:
    """How far from the corner at which it begins."""
    return x - left if starts_left(slope) else right - x


def _sheet(part: CoveringPartOut, size: float) -> svg.Rect:
    return svg.Rect(
        x=part.left, y=-part.top, width=part.right - part.left, height=part.top - part.bottom,
        fill=TONES["covering"].ground, fill_opacity=0.55, stroke="currentColor", stroke_width=0.09 * size,
    )  # fmt: skip


def _hidden(one: CoveringPartOut, over: CoveringPartOut, thin: float) -> svg.Line:
    """The edge of one that lies under the next."""
    if one.bottom < over.bottom:
        ends = (one.left, one.top), (one.right, one.top)
    else:
        x = one.right if one.left < over.left else one.left
        ends = (x, one.bottom), (x, one.top)
    return _line(*ends, thin, dash=(8 * thin, 5 * thin))


def _rows(covering: CoveringOut) -> list[float]:
    if covering.first_batten is None or covering.gauge is None:
        return []
    return [covering.first_batten + number * covering.gauge for number in range(covering.battens)]


def _batten(row: float, left: float, right: float, thin: float) -> svg.Line:
    return _line((left, row), (right, row), 0.8 * thin, dash=(3 * thin, 6 * thin))


def _walls(
    slope: SlopeOut, left: float, right: float, bottom: float, top: float
) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Over the outer faces of the walls under the eaves and under the verges."""
    upright = [((x, bottom), (x, top)) for x in (0.0, slope.length)]
    return [((left, 0.0), (right, 0.0)), *upright]


def _window(left: float, right: float, bottom: float, top: float, thin: float) -> list[svg.Element]:
    return [
        svg.Rect(
            x=left, y=-top, width=right - left, height=top - bottom,
            fill="#ffffff", stroke="currentColor", stroke_width=2 * thin,
        ),
        _line((left, bottom), (right, top), thin),
        _line((left, top), (right, bottom), thin),
    ]  # fmt: skip


def _numbers(slope: SlopeOut, covering: CoveringOut, units: Units, size: float, texts: Texts) -> _Shapes:
    """The number of each in what is seen of it, clear of windows, and what the last is cut to."""
    drawn: list[svg.Element] = []
    for number, part in enumerate(covering.parts, 1):
        seen = _seen(part, covering.parts[number : number + 1])
        told = f"{number}"
        if part.cut_to is not None:
            cut = texts.covering.cut_to.format(width=format_figure(part.cut_to, units))
            told = f"{number}: {cut}"
        wide, tall = text_width(told, 1.1 * size) + 0.4 * size, 1.5 * size
        turned = wide > seen.right - seen.left
        if turned:
            wide, tall = tall, wide
        box = _clear_box(seen, wide, tall, slope)
        drawn.append(
            svg.Rect(x=box.left, y=box.top, width=wide, height=tall, fill="#ffffff", fill_opacity=0.8)
        )
        drawn.append(lettering(told, *box.centre, 1.1 * size, turned=turned))
    return drawn


def _seen(part: CoveringPartOut, over: Sequence[CoveringPartOut]) -> LetteringBox:
    """What is seen of one under the next."""
    left, right, high = part.left, part.right, part.top
    for other in over:
        if other.bottom > part.bottom:
            high = other.bottom
        elif other.left > part.left:
            right = other.left
        else:
            left = other.right
    return LetteringBox(left, right, -high, -part.bottom)


def _clear_box(seen: LetteringBox, wide: float, tall: float, slope: SlopeOut) -> LetteringBox:
    """A box in the middle of what is seen, or as near to it as windows let it."""
    holes = [LetteringBox(hole.left, hole.right, -hole.top, -hole.bottom) for hole in slope.openings]
    width, height = seen.right - seen.left, seen.bottom - seen.top
    boxes = [
        LetteringBox.around(seen.left + across * width, seen.top + down * height, wide, tall)
        for across, down in itertools.product((0.5, 0.25, 0.75), (0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9))
    ]
    return min(boxes, key=lambda box: sum(box.shared(hole) for hole in holes))


def _figures_below(
    along: Sequence[float], told: Sequence[float], foot: float, units: Units, size: float
) -> tuple[_Shapes, float]:
    """Running figures under the lower edge, reading upwards; and how far down they reach."""
    places = spread(along, 1.2 * size, min(along), max(along))
    texts = [format_figure(figure, units) for figure in told]
    thin, top = 0.05 * size, foot + 1.4 * size
    drawn: list[svg.Element] = []
    for x, place, text in zip(along, places, texts, strict=True):
        drawn.append(_leader([(x, foot), (x, foot + 0.5 * size), (place, top)], thin))
        drawn.append(lettering(text, place, top + 0.2 * size, size, anchor="end", turned=True))
    return drawn, top + 0.2 * size + max(text_width(text, size) for text in texts)


def _figures_beside(
    up: Sequence[float], left: float, bottom: float, units: Units, size: float
) -> tuple[_Shapes, float]:
    """Running figures from the lower edge up, left of it; and how far they reach from there."""
    places = spread(up, 1.2 * size, min(up), max(up))
    texts = [format_figure(v - bottom, units) for v in up]
    thin, edge = 0.05 * size, left - 1.4 * size
    drawn: list[svg.Element] = []
    for v, place, text in zip(up, places, texts, strict=True):
        drawn.append(_leader([(left, -v), (left - 0.5 * size, -v), (edge, -place)], thin))
        drawn.append(lettering(text, edge - 0.2 * size, -place, size, anchor="end"))
    return drawn, 1.6 * size + max(text_width(text, size) for text in texts)


def _start(covering: CoveringOut, from_left: bool, size: float, texts: Texts) -> _Shapes:
    """The corner at which it begins, filled."""
    first = covering.parts[0]
    x, way = (first.left, 1.0) if from_left else (first.right, -1.0)
    y, reach = -first.bottom, 1.1 * size
    corners = [(x, y), (x + way * reach, y), (x, y - reach)]
    return [
        svg.Polygon(points=[svg.Point(*corner) for corner in corners], fill="currentColor"),
        lettering(
            texts.covering.start, x + way * 1.3 * size, y - 0.55 * size, 0.9 * size,
            anchor="start" if from_left else "end",
        ),
    ]  # fmt: skip


def _line(
    one: tuple[float, float], other: tuple[float, float], wide: float, dash: tuple[float, ...] = ()
) -> svg.Line:
    return svg.Line(
        x1=one[0], y1=-one[1], x2=other[0], y2=-other[1], stroke="currentColor", stroke_width=wide,
        stroke_dasharray=[round(step, 1) for step in dash] or None,
    )  # fmt: skip


def _chain(one: tuple[float, float], other: tuple[float, float], thin: float) -> svg.Line:
    """A chain line, long dashed dotted (ISO 128)."""
    return _line(one, other, thin, dash=(24 * thin, 4 * thin, 2 * thin, 4 * thin))


def _leader(corners: Sequence[tuple[float, float]], thin: float) -> svg.Polyline:
    return svg.Polyline(
        points=[svg.Point(*corner) for corner in corners],
        fill="none",
        stroke="currentColor",
        stroke_width=thin,
    )
