"""Steel straps on an elevation: bands over the timbers, dashed where they lie on the far face."""

from __future__ import annotations

import svg

from soleplate.viewer.drawings.face import Face
from soleplate.viewer.words import brace_text

STEEL = "#9aa3a8"
INK = "#1f2123"


def strap_marks(face: Face) -> list[svg.Element]:
    """A band for each strap, which tells on pointing what it is and how it is fixed."""
    bands: list[svg.Element] = []
    for brace in face.wall.braces:
        if (strap := brace.strap) is None:
            continue
        near = strap.face == face.side
        bands.append(
            svg.Polygon(
                points=face.points(strap.outline),
                fill=STEEL if near else "none",
                stroke_dasharray=None if near else [round(0.5 * face.size, 1), round(0.3 * face.size, 1)],
                elements=[svg.Title(text=brace_text(brace, face.units, face.texts))],
            )
        )
    if not bands:
        return []
    return [svg.G(class_=["straps"], stroke=INK, stroke_width=round(0.05 * face.size, 2), elements=bands)]
