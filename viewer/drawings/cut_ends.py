"""What is sawn of a piece drawn small, as it lies at the saw: its foot or left end on the left."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Final

import svg

from soleplate.engine.layout import CutEnd, CuttingRow
from soleplate.engine.shapes import LongPoint, Point
from soleplate.viewer.drawings.lettering import FONTS, lettering
from soleplate.viewer.markup import Markup, element, figure, joined, svg_text
from soleplate.viewer.words import Texts

_TALL: Final = 20.0
"""Of the drawn piece; it is drawn without regard to its section."""
_LONG: Final = 74.0
_MOST: Final = 42.0
"""How far a cut may reach along the drawing: a steeper one is drawn so and bears its true angle."""
_EDGE: Final = 2.0
_WHOLE: Final = 2 * _LONG
"""Of a board that is drawn from end to end."""
_BELOW: Final = 12.0
"""Its angles stand there, clear of the cuts."""

_UPPER: Final = frozenset({"left", "top"})
"""Long points that lie above: an upright is laid down with its foot on the left."""


class CutEnds:
    """The drawings of a list's ends: each kind is drawn once, and shown wherever it is needed.

    A board that is ripped along a slope is drawn whole, its length without regard to its width.
    They are told in words beside, hence hidden from readers.
    """

    def __init__(self, texts: Texts) -> None:
        self._texts = texts
        self._kinds: dict[tuple[CutEnd, bool], int] = {}

    def shown(self, row: CuttingRow) -> Markup:
        """Both ends of a piece with their angles off square; of a tapered board all of it, with its rips'."""
        if row.taper:
            return Markup(svg_text(_tapered(row)))
        return joined(*(self._shown(end, is_first=not index) for index, end in enumerate(row.ends)))

    def _shown(self, end: CutEnd, *, is_first: bool) -> Markup:
        number = self._kinds.setdefault((replace(end, end=None), is_first), len(self._kinds))
        use = element("use", href=f"#end-{number}")
        return element("svg", use, class_="cut-end", aria_hidden="true")

    def kinds(self) -> Markup:
        """The drawings themselves, to stand once in the document, after all that is shown."""
        symbols: list[svg.Element] = [
            _symbol(number, end, is_first=is_first) for (end, is_first), number in self._kinds.items()
        ]
        holder = svg.SVG(
            width=0, height=0, class_=["patterns"], extra={"aria-hidden": "true"}, elements=symbols
        )
        return Markup(svg_text(holder))


def _symbol(number: int, end: CutEnd, *, is_first: bool) -> svg.Symbol:
    line = _cut_line(end)
    away = _LONG - _EDGE
    body = [(away, _EDGE), *line, (away, _EDGE + _TALL)]
    points = [svg.Point(x if is_first else _LONG - x, y) for x, y in body]
    cut = [svg.Point(x if is_first else _LONG - x, y) for x, y in line]
    return svg.Symbol(
        id=f"end-{number}",
        viewBox=svg.ViewBoxSpec(0, 0, _LONG, 2 * _EDGE + _TALL),
        elements=[
            svg.Polygon(points=points, class_=["wood"]),
            svg.Polyline(points=cut, class_=["cut"]),
            *_angle(end, is_first=is_first),
        ],
    )


def _cut_line(end: CutEnd) -> list[tuple[float, float]]:
    """The cut from the upper edge to the lower one, of an end on the left."""
    upper, lower = _EDGE, _EDGE + _TALL
    if end.cut == "bevel" and end.angle is not None:
        reach = min(_TALL * math.tan(math.radians(min(abs(end.angle), 85.0))), _MOST)
        if end.long_point in _UPPER:
            return [(_EDGE, upper), (_EDGE + reach, lower)]
        return [(_EDGE + reach, upper), (_EDGE, lower)]
    if end.cut == "double bevel" and end.angles and end.widths:
        return _double_line(end.angles, end.widths, end.long_point)
    if end.cut == "shaped":
        middle = (upper + lower) / 2
        return [(_EDGE, upper), (_EDGE, middle), (_EDGE + 8, middle), (_EDGE + 8, lower)]
    return [(_EDGE, upper), (_EDGE, lower)]


def _double_line(
    angles: Sequence[float], widths: Sequence[float], long_point: LongPoint | None
) -> list[tuple[float, float]]:
    """Two faces from the upper edge to the lower one, where they meet in proportion."""
    faces = list(zip(angles, widths, strict=True))
    if long_point in ("bottom", "top"):
        faces.reverse()
    shares = [width / sum(widths) * _TALL for _, width in faces]
    above, below = (
        min(share * math.tan(math.radians(min(angle, 80.0))), _MOST / 2)
        for (angle, _), share in zip(faces, shares, strict=True)
    )
    if long_point in _UPPER:
        above = -above
    elif long_point is not None and long_point != "middle":
        below = -below
    line = [(above, _EDGE), (0.0, _EDGE + shares[0]), (below, _EDGE + _TALL)]
    furthest = min(x for x, _ in line)
    return [(_EDGE + x - furthest, y) for x, y in line]


def _tapered(row: CuttingRow) -> svg.SVG:
    """A level board ripped along its upper edge, as wide as bought at its full height."""
    rips = [((rip.from_, rip.from_width), (rip.to, rip.to_width)) for rip in row.taper or ()]
    first, last = rips[0][0][1], rips[-1][1][1]
    left, right = (
        width * math.tan(math.radians(end.angle or 0.0))
        for end, width in zip(row.ends, (first, last), strict=True)
    )
    ends = ((0.0, 0.0), (left, first)), ((row.length - right, last), (row.length, 0.0))
    upper = [point for line in (ends[0], *rips, ends[1]) for point in line]

    def drawn(points: Iterable[Point]) -> list[svg.Point]:
        across, along = _TALL / row.section[1], (_WHOLE - 2 * _EDGE) / row.length
        return [svg.Point(_EDGE + u * along, _EDGE + _TALL - v * across) for u, v in points]

    return svg.SVG(
        viewBox=svg.ViewBoxSpec(0, 0, _WHOLE, 2 * _EDGE + _TALL + _BELOW),
        class_=["cut-board"],
        extra={"aria-hidden": "true"},
        elements=[
            svg.Polygon(points=drawn(upper), class_=["wood"]),
            *(svg.Polyline(points=drawn(line), class_=["cut"]) for line in (ends[0], *rips, ends[1])),
            *(_rip_angle(rip.angle, drawn(line)) for rip, line in zip(row.taper or (), rips, strict=True)),
        ],
    )


def _rip_angle(angle: float, line: Sequence[svg.Point]) -> svg.Element:
    """Under the board, below the middle of a rip as near as the drawing's ends allow."""
    middle = (float(line[0].x) + float(line[1].x)) / 2
    place = min(max(middle, _EDGE + 12), _WHOLE - _EDGE - 12)
    drawn = lettering(
        f"{figure(round(angle, 1))}°", place, 2 * _EDGE + _TALL + _BELOW / 2, 11, anchor="middle"
    )
    drawn.extra = {"font-family": FONTS}
    return drawn


def _angle(end: CutEnd, *, is_first: bool) -> list[svg.Element]:
    if end.angle is not None:
        said = f"{figure(round(end.angle, 1))}°"
    elif end.angles:
        said = "/".join(f"{figure(round(angle, 1))}°" for angle in end.angles[:2])
    else:
        return []
    drawn = lettering(
        said, _LONG - 4 if is_first else 4, _EDGE + _TALL / 2, 11, anchor="end" if is_first else "start"
    )
    drawn.extra = {"font-family": FONTS}
    return [drawn]
