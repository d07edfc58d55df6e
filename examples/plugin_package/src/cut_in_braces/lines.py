"""A drawing layer: the lines of the braces, and how steep they are."""

from __future__ import annotations

from collections.abc import Sequence

from cut_in_braces.reading import angle, braces, centre_line
from soleplate.engine.rules import DrawingLayer, Drawn, DrawnLine, DrawnText, Layout, WallOut


class BraceLines(DrawingLayer):
    """The centre line of each piece of a brace, and the angle of the lowest."""

    name = "brace-lines"

    def draw(self, wall: WallOut, layout: Layout) -> Sequence[Drawn]:
        """Return a line for each piece, and a text at the foot of each brace, mm."""
        drawn: list[Drawn] = []
        named: set[float] = set()
        for piece in sorted(braces(wall), key=lambda piece: centre_line(piece)[0][1]):
            line, steep = centre_line(piece), round(angle(piece), 1)
            drawn.append(DrawnLine(line, f"brace {piece.mark}"))
            if steep not in named:
                named.add(steep)
                middle = ((line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2)
                drawn.append(DrawnText(middle, f"{min(steep, 180.0 - steep):g} degrees"))
        return drawn
