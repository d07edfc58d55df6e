"""A drawing cut to its size on the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import svg

from soleplate.viewer.markup import figure, svg_text
from soleplate.viewer.paper import FIGURE_FONT

INK = "#1f2123"


@dataclass(frozen=True, slots=True)
class Picture:
    """An SVG drawing, how large it stands on the sheet in mm, and what it shows, in words."""

    svg: str
    width: float
    height: float
    alt: str


def picture(
    parts: Sequence[svg.Element],
    view: tuple[float, float, float, float],
    alt: str,
    *,
    scale: float = 1.0,
    defs: Sequence[svg.Element] = (),
) -> Picture:
    """A picture of elements whose unit is 1 mm in the world, at 1:`scale`; `view` is x, y, width, height."""
    x, y, width, height = view
    on_paper = width / scale, height / scale
    root = svg.SVG(
        viewBox=svg.ViewBoxSpec(x, y, width, height),
        extra={
            "width": f"{figure(on_paper[0])}mm",
            "height": f"{figure(on_paper[1])}mm",
            "role": "img",
            "aria-label": alt,
        },
        elements=[
            *defs,
            svg.G(fill=INK, color=INK, extra={"font-family": FIGURE_FONT}, elements=list(parts)),
        ],
    )
    return Picture(svg_text(root), *on_paper, alt)
