"""The first birdsmouth of a rafter at 1:5, with its plumb and level lines and their figures."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import svg

from soleplate.engine.building_file import format_figure
from soleplate.engine.layout import Layout, SlopeOut
from soleplate.engine.shapes import Point, bounds, clip
from soleplate.viewer.drawings import lettering, text_width
from soleplate.viewer.paper import scale_text
from soleplate.viewer.sheets.fitting import LETTERING
from soleplate.viewer.sheets.picture import Picture, picture
from soleplate.viewer.words import Texts

SCALE: Final = 5


def heel_picture(slope: SlopeOut, rafter: Sequence[Point], layout: Layout, texts: Texts) -> Picture:
    """The heel nearest to the low end of a `rafter` whose upper edge lies level, at v = 0; mm."""
    card, units, size = slope.card, layout.units, LETTERING * SCALE
    pitch, mark = math.radians(card.pitch), card.marks[1]
    sin, cos = math.sin(pitch), math.cos(pitch)
    heel = mark - card.hap * sin, -card.hap * cos
    seat = heel[0] + card.seat * cos, heel[1] - card.seat * sin
    foot = heel[0] - card.heel * sin, heel[1] - card.heel * cos
    said = {
        name: text.format(figure=format_figure(getattr(card, name), units))
        for name, text in texts.card_heel.items()
    }
    beside = (mark + heel[0]) / 2 + 0.5 * size
    left, right = foot[0] - 4 * size, max(seat[0] + 3 * size, beside + text_width(said["hap"], size))
    shown = clip(clip(tuple(rafter), (left, 1.0), (left, 0.0)), (right, 0.0), (right, 1.0))
    thin = 0.05 * size
    under = bounds(shown)[2] - 1.1 * size
    from_seat = (seat[0] + heel[0]) / 2, (seat[1] + heel[1]) / 2
    from_heel = (foot[0] + heel[0]) / 2, (foot[1] + heel[1]) / 2
    shapes: list[svg.Element] = [
        svg.Polygon(
            points=[svg.Point(u, -v) for u, v in shown],
            fill="#f2e6cf", stroke="currentColor", stroke_width=0.09 * size,
        ),
        _line((mark, 0.0), foot, thin, dashed=True),
        _line(heel, seat, 3 * thin),
        _line(heel, foot, 3 * thin),
        lettering(format_figure(mark, units), mark, -0.9 * size, size),
        lettering(said["hap"], beside, -heel[1] / 2, size, anchor="start"),
        _line(from_seat, (heel[0] + 1.4 * size, under + size / 2), thin),
        lettering(said["seat"], heel[0] + size, -under, size, anchor="start"),
        _line(from_heel, (foot[0] - 0.9 * size, under + size / 2), thin),
        lettering(said["heel"], foot[0] - 0.5 * size, -under, size, anchor="end"),
    ]  # fmt: skip
    scale = scale_text(SCALE)
    shapes.append(lettering(scale, right, -0.9 * size, size, anchor="end"))
    edge = min(left, foot[0] - size - text_width(said["heel"], size))
    far = max(right, heel[0] + 1.5 * size + text_width(said["seat"], size))
    view = (edge - size / 2, -1.7 * size, far - edge + size, 1.7 * size - under + 0.8 * size)
    alt = texts.card_heel_alt.format(slope=slope.name, scale=scale, **said)
    return picture(shapes, view, alt, scale=SCALE)


def _line(one: Point, other: Point, wide: float, *, dashed: bool = False) -> svg.Line:
    return svg.Line(
        x1=one[0], y1=-one[1], x2=other[0], y2=-other[1], stroke="currentColor", stroke_width=wide,
        stroke_dasharray=[6 * wide, 4 * wide] if dashed else None,
    )  # fmt: skip
