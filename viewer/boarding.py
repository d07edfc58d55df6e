"""Cladding and lining on an elevation: what lies on the near and the far face of the frame."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import svg

from soleplate.engine.geometry import bounds
from soleplate.engine.layout import Piece
from soleplate.viewer.board_marks import mark_boards
from soleplate.viewer.cladding import draw_boards, label_courses
from soleplate.viewer.face import Face
from soleplate.viewer.fixing_marks import fixing_marks
from soleplate.viewer.frame import TAG_INK
from soleplate.viewer.layers import BOARDED, FIXINGS, Sheet
from soleplate.viewer.lettering import Places
from soleplate.viewer.tiers import BATTEN, Tier, tiers


@dataclass(frozen=True, slots=True)
class Boarding:
    """Pieces of one layer that are shown together, drawn, with the places taken by what is told of them."""

    classes: list[str]
    pieces: list[Piece]
    drawn: svg.G
    places: Places


def boardings(face: Face, sheet: Sheet, places: Places, *, is_near: bool) -> list[Boarding]:
    """What lies on one face of the frame, from the frame outwards: what is behind, and what hides it.

    What is told of either is kept clear of what is in `places` already.
    """
    found: list[Boarding] = []
    for layer, facing in BOARDED.items():
        if layer not in sheet.layers or (facing == face.side) is not is_near:
            continue
        laid = tiers(face.wall, facing)
        for is_behind in (True, False):
            told = [tier for tier in laid if tier.is_behind is is_behind]
            if told:
                taken = places.copy()
                classes = [layer, "near" if is_near else "far", "behind" if is_behind else "top"]
                numbers = [] if is_behind else label_courses(face, facing, taken)
                drawn = svg.G(class_=["layer", *classes], elements=_drawn(face, sheet, told, numbers, taken))
                pieces = [piece for tier in told for piece in tier.pieces]
                found.append(Boarding(classes, pieces, drawn, taken))
    return found


def _drawn(
    face: Face, sheet: Sheet, told: Sequence[Tier], numbers: list[svg.Element], places: Places
) -> list[svg.Element]:
    """Boards and where they are fixed, the furthest tier first; the numbers of courses, and the marks."""
    parts: list[svg.Element] = []
    for tier in told if told[0].facing == face.side else reversed(told):
        boards = draw_boards(face, tier.pieces, sheet.rows, placed=not sheet.standalone)
        parts.append(svg.G(stroke=TAG_INK, stroke_width=4, elements=boards))
        if FIXINGS in sheet.layers:
            parts += fixing_marks(face, tier.pieces)
    if numbers:
        parts.append(svg.G(fill=TAG_INK, pointer_events="none", elements=numbers))
    if "marks" in sheet.layers:
        parts += _marks(face, told, places)
    return parts


def _marks(face: Face, told: Sequence[Tier], places: Places) -> list[svg.Element]:
    """The marks tier by tier, from the outermost, so that none stands on what hides its piece.

    Those of battens are `covered`: nothing is seen of a batten once the boards are on.
    """
    marks: list[svg.Element] = []
    for tier in reversed(told):
        marks.append(mark_boards(face, tier.pieces, places, covered=tier.role == BATTEN))
        for piece in tier.pieces:
            places.take([face.box(*bounds(piece.outline))])
    return marks


def overhangs(face: Face, sheet: Sheet) -> tuple[float, float]:
    """How far boards reach beyond the left and the right end of the wall as it is drawn, mm."""
    edges = [
        face.x(edge)
        for layer, facing in BOARDED.items()
        if layer in sheet.layers
        for piece in face.on(facing)
        for edge in bounds(piece.outline)[:2]
    ]
    return max(0.0, -min(edges, default=0.0)), max(0.0, max(edges, default=0.0) - face.length)
