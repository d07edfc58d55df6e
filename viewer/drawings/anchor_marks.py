"""What holds sole plates down, on an elevation: a stroke through the plate with its head over it."""

from __future__ import annotations

import svg

from soleplate.viewer.drawings.face import Face
from soleplate.viewer.markup import figure
from soleplate.viewer.words import anchor_text

INK = "#1f2123"


def anchor_marks(face: Face) -> list[svg.Element]:
    """A mark for each anchor, which tells on pointing what it is and where."""
    tops = {piece.mark: max(z for _, z in piece.outline) for piece in face.frame}
    marks: list[svg.Element] = []
    # A part of a wall has some of its plates.
    for anchor in (each for each in face.wall.anchors if each.plate in tops):
        top, half = tops[anchor.plate] + 0.3 * face.size, 0.22 * face.size
        x = figure(round(face.x(anchor.at), 1))
        path = f"M{x},0V{figure(round(-top, 1))}m{figure(round(-half, 1))},0h{figure(round(2 * half, 1))}"
        title = svg.Title(text=f"{anchor_text(anchor, face.units, face.texts)}: {anchor.display}")
        marks.append(svg.Path(extra={"d": path}, elements=[title]))
    if not marks:
        return []
    width = round(0.09 * face.size, 2)
    return [svg.G(class_=["anchors"], fill="none", stroke=INK, stroke_width=width, elements=marks)]
