"""The ends of a piece drawn small, as it lies at the saw: its foot or left end on the left."""

from __future__ import annotations

import math
from typing import Final

import svg

from soleplate.engine.layout import CutEnd
from soleplate.viewer.lettering import FONTS, lettering
from soleplate.viewer.markup import Markup, element, joined
from soleplate.viewer.serialise import figure, svg_text
from soleplate.viewer.texts import Texts

_TALL: Final = 20.0
"""Of the drawn piece; it is drawn without regard to its section."""
_LONG: Final = 74.0
_MOST: Final = 42.0
"""How far a cut may reach along the drawing: a steeper one is drawn so and bears its true angle."""
_EDGE: Final = 2.0

_UPPER: Final = frozenset({"left", "top"})
"""Long points that lie above: an upright is laid down with its foot on the left."""


class CutEnds:
    """The drawings of a list's ends: each kind is drawn once, and shown wherever it is needed.

    They are told in words beside, hence hidden from readers.
    """

    def __init__(self, texts: Texts) -> None:
        self._texts = texts
        self._kinds: dict[tuple[CutEnd, bool], int] = {}

    def shown(self, ends: tuple[CutEnd, CutEnd]) -> Markup:
        """Both ends of a piece, each with the angle off square of its cut."""
        return joined(*(self._shown(end, is_first=not index) for index, end in enumerate(ends)))

    def _shown(self, end: CutEnd, *, is_first: bool) -> Markup:
        number = self._kinds.setdefault((end.model_copy(update={"end": None}), is_first), len(self._kinds))
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
    if end.cut == "double bevel" and end.angles:
        above, below = (
            min(_TALL / 2 * math.tan(math.radians(min(abs(angle), 80.0))), _MOST)
            for angle in (end.angles[0], end.angles[-1])
        )
        return [(_EDGE + above, upper), (_EDGE, (upper + lower) / 2), (_EDGE + below, lower)]
    if end.cut == "shaped":
        middle = (upper + lower) / 2
        return [(_EDGE, upper), (_EDGE, middle), (_EDGE + 8, middle), (_EDGE + 8, lower)]
    return [(_EDGE, upper), (_EDGE, lower)]


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
