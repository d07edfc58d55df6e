"""Where pieces are fixed, as small marks: a dot for each nail or screw, a stroke at the ends of noggins."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

import svg

from soleplate.engine.layout import Fixing, Piece
from soleplate.engine.shapes import bounds
from soleplate.viewer.drawings.face import Face
from soleplate.viewer.markup import figure

INK = "#7a1f00"


def fixing_marks(face: Face, pieces: Sequence[Piece]) -> list[svg.Element]:
    """The fixings of pieces, as far as the layout tells them; nothing where it tells none.

    A dot is the place of a fixing. A stroke at a noggin's end is one too: level where it goes straight in,
    slanted where it is skewed; how many there are is told, and not their places.
    """
    dots = "".join(f"M{_at(face, x, z)}h0" for piece in pieces for x, z in piece.fixed_at or ())
    strokes = "".join(stroke for piece in pieces for stroke in _ends(face, piece))
    drawn: list[svg.Element] = [
        _path(path, face.size * wide) for path, wide in ((dots, 0.3), (strokes, 0.12)) if path
    ]
    if not drawn:
        return []
    group = svg.G(
        class_=["layer", "fixings"],
        fill="none",
        stroke=INK,
        pointer_events="none",
        extra={"stroke-linecap": "round"},
        elements=drawn,
    )
    return [group]


def _path(path: str, width: float) -> svg.Path:
    return svg.Path(stroke_width=round(width, 1), extra={"d": path})


def _at(face: Face, x: float, z: float) -> str:
    return f"{figure(round(face.x(x), 1))},{figure(round(-z, 1))}"


def _ends(face: Face, piece: Piece) -> Iterator[str]:
    if piece.fixings is None:
        return
    left, right, bottom, top = bounds(piece.outline)
    for fixing, end, inwards in zip(piece.fixings, (left, right), (1.0, -1.0), strict=True):
        yield from _strokes(face, fixing, end, inwards, (bottom, top))


def _strokes(
    face: Face, fixing: Fixing, end: float, inwards: float, upright: tuple[float, float]
) -> Iterable[str]:
    """From the timber that the end meets into it."""
    (bottom, top), reach = upright, 0.45 * face.size
    for number in range(fixing.count):
        z = bottom + (top - bottom) * (number + 0.5) / fixing.count
        rise = 0.0 if fixing.way == "through" else 0.7 * reach
        yield f"M{_at(face, end - inwards * reach, z - rise)}L{_at(face, end + inwards * reach, z + rise)}"
