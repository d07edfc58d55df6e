"""The plan of the building, small: the way round it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Final

import svg

from soleplate.engine.layout import Layout, WallOut
from soleplate.engine.shapes import Point, bounds
from soleplate.viewer.drawings.lettering import FONTS, lettering, shortened
from soleplate.viewer.drawings.panels import breaks_of
from soleplate.viewer.markup import svg_text
from soleplate.viewer.words import ENGLISH, Texts, wall_id

_TIMBER: Final = "#e5b14e"
_PAPER: Final = "#fffdf8"


def fragment(wall: str) -> str:
    """Where a wall's section is in the same document."""
    return f"#{wall_id(wall)}"


def plan_svg(
    layout: Layout,
    chosen: str | None = None,
    *,
    texts: Texts = ENGLISH,
    address: Callable[[str], str] = fragment,
) -> str:
    """Draw the walls from above, 1 unit 1 mm, the front at the bottom; each is a link to its `address`.

    The wall called `chosen` is emphasised. Openings are gaps. The ink is the surrounding text's colour.
    """
    corners = [corner for wall in layout.walls for corner in wall_rectangle(wall, 0.0, wall.length)]
    left, right, bottom, top = bounds(corners)
    size = max((right - left) / 17, (top - bottom) / 14, 100.0)
    # The name stands outside the wall, so the margin holds one line.
    margin = 2.0 * size
    walls: list[svg.Element] = [
        _link(wall, size, texts, address(wall.name), is_chosen=wall.name == chosen) for wall in layout.walls
    ]
    return svg_text(
        svg.SVG(
            viewBox=svg.ViewBoxSpec(
                left - margin, -top - margin, right - left + 2 * margin, top - bottom + 2 * margin
            ),
            class_=["plan"],
            extra={"role": "group", "aria-label": texts.plan.format(name=layout.name)},
            elements=[svg.G(fill="currentColor", extra={"font-family": FONTS}, elements=walls)],
        )
    )


def _link(wall: WallOut, size: float, texts: Texts, address: str, *, is_chosen: bool) -> svg.A:
    label = texts.go_to_wall.format(wall=wall.name)
    thick = 0.3 * size if is_chosen else 0.06 * size
    parts: list[svg.Element] = [
        _shape(wall, 0.0, wall.length, "timber", fill=_TIMBER, stroke_width=thick),
        *(
            _shape(wall, opening.left, opening.right, "gap", fill=_PAPER, stroke_width=0.06 * size)
            for opening in wall.openings
        ),
        *_breaks(wall, size),
        _touch_area(wall, size),
        _name(wall, size, is_chosen=is_chosen),
    ]
    current = {"aria-current": "true"} if is_chosen else {}
    return svg.A(
        href=address,
        class_=["chosen"] if is_chosen else None,
        data={"wall": wall_id(wall.name)},
        extra={"aria-label": label, **current},
        elements=parts,
    )


def _breaks(wall: WallOut, size: float) -> list[svg.Element]:
    """A stroke across the wall, and past both its faces, where panels meet."""
    ends = [
        wall_points(wall_rectangle(wall, x, x, outwards=0.2 * size, inwards=0.2 * size)[1:3])
        for x in breaks_of(wall)
    ]
    return [
        svg.Polyline(points=points, fill="none", stroke="currentColor", stroke_width=0.1 * size)
        for points in ends
    ]


def wall_rectangle(
    wall: WallOut, left: float, right: float, *, outwards: float = 0.0, inwards: float = 0.0
) -> tuple[Point, ...]:
    """A stretch of a wall in the world's X and Y, mm; grown across by `outwards` and `inwards`."""
    (x0, y0), angle = wall.plan.start, math.radians(wall.plan.direction)
    along, across = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    near, far = -outwards, wall.plan.depth + inwards
    places = ((left, near), (right, near), (right, far), (left, far))
    return tuple((x0 + x * along[0] + y * across[0], y0 + x * along[1] + y * across[1]) for x, y in places)


def wall_points(corners: Sequence[Point]) -> list[svg.Point]:
    """Corners in the world's X and Y on the drawing, whose y runs down."""
    return [svg.Point(x, -y) for x, y in corners]


def _shape(
    wall: WallOut, left: float, right: float, class_: str, *, fill: str, stroke_width: float
) -> svg.Polygon:
    return svg.Polygon(
        points=wall_points(wall_rectangle(wall, left, right)),
        class_=[class_],
        fill=fill,
        stroke="currentColor",
        stroke_width=stroke_width,
    )


def _touch_area(wall: WallOut, size: float) -> svg.Polygon:
    """A finger is thicker than a wall: what can be touched reaches over its name and as far inside."""
    corners = wall_rectangle(wall, 0.0, wall.length, outwards=1.8 * size, inwards=0.8 * size)
    return svg.Polygon(points=wall_points(corners), class_=["touch"], fill="none", pointer_events="all")


def _name(wall: WallOut, size: float, *, is_chosen: bool) -> svg.Text:
    """The name beside the wall's outer face, reading along it and never upside down."""
    (x0, y0), (x1, y1), *_ = wall_rectangle(wall, 0.0, wall.length, outwards=size)
    upright = abs(y1 - y0) > abs(x1 - x0)
    text = shortened(wall.name, size, max(wall.length, 3 * size))
    drawn = lettering(text, (x0 + x1) / 2, -(y0 + y1) / 2, size, turned=upright)
    drawn.font_weight = "bold" if is_chosen else None
    return drawn
