"""Cladding and lining on an elevation: what lies on the near and the far face of the frame."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import svg

from soleplate.engine.layout import Piece
from soleplate.engine.shapes import Outline, bounds, clip, is_convex
from soleplate.viewer.drawings.board_marks import mark_boards
from soleplate.viewer.drawings.cladding import draw_boards, label_courses
from soleplate.viewer.drawings.face import Face
from soleplate.viewer.drawings.fixing_marks import fixing_marks
from soleplate.viewer.drawings.frame import TAG_INK
from soleplate.viewer.drawings.laid_slopes import LaidSlope
from soleplate.viewer.drawings.layers import BOARDED, FIXINGS, WallSheet
from soleplate.viewer.drawings.lettering import Places
from soleplate.viewer.drawings.tiers import Tier, tiers


@dataclass(frozen=True, slots=True)
class Boarding:
    """Pieces of one layer that are shown together, drawn, with the places taken by what is told of them."""

    classes: list[str]
    pieces: list[Piece]
    drawn: svg.G
    places: Places


def boardings(face: Face, sheet: WallSheet, places: Places, *, is_near: bool) -> list[Boarding]:
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
    face: Face, sheet: WallSheet, told: Sequence[Tier], numbers: list[svg.Element], places: Places
) -> list[svg.Element]:
    """Each tier, the furthest from the eye first: its boards, where they are fixed, their marks.

    `data-tier` is its number, counted from the frame. The numbers of courses come last.
    """
    is_near = told[0].facing == face.side
    marks = _marks(face, told, places) if "marks" in sheet.layers else {}
    parts: list[svg.Element] = []
    for tier in told if is_near else reversed(told):
        boards = draw_boards(face, tier.pieces, sheet.rows, placed=not sheet.standalone)
        shapes: list[svg.Element] = [svg.G(stroke=TAG_INK, stroke_width=4, elements=boards)]
        if FIXINGS in sheet.layers:
            shapes += fixing_marks(face, tier.pieces)
        if tier.number in marks:
            shapes.append(marks[tier.number])
        parts.append(svg.G(data={"tier": tier.number}, elements=shapes))
    if numbers:
        parts.append(svg.G(fill=TAG_INK, pointer_events="none", elements=numbers))
    return parts


def _marks(face: Face, told: Sequence[Tier], places: Places) -> dict[int, svg.G]:
    """The marks of each tier, from the outermost, so that none stands on what hides its piece.

    Those of battens are `covered`: nothing is seen of a batten once the boards are on.
    """
    marks: dict[int, svg.G] = {}
    for tier in reversed(told):
        marks[tier.number] = mark_boards(face, tier.pieces, places, covered=tier.kind.carries)
        if tier is not told[0]:
            for piece in tier.pieces:
                for part in _boxes(piece.outline):
                    places.take([face.box(*part)])
    return marks


def _boxes(outline: Outline) -> list[tuple[float, float, float, float]]:
    """What bounds an outline, corner by corner where it is notched: left, right, bottom and top."""
    if is_convex(outline):
        return [bounds(outline)]
    edges = sorted({x for x, _ in outline})
    strips = (
        clip(clip(outline, (left, 1.0), (left, 0.0)), (right, 0.0), (right, 1.0))
        for left, right in itertools.pairwise(edges)
    )
    return [bounds(strip) for strip in strips if strip]


def overhangs(face: Face, sheet: WallSheet) -> tuple[float, float]:
    """How far boards reach beyond the left and the right end of the wall as it is drawn, mm.

    Of a slope its timbers too: verges lie beyond the walls.
    """
    timbers = face.frame if isinstance(face.wall, LaidSlope) else []
    edges = [face.x(edge) for piece in timbers for edge in bounds(piece.outline)[:2]]
    edges += [
        face.x(edge)
        for layer, facing in BOARDED.items()
        if layer in sheet.layers
        for piece in face.on(facing)
        for edge in bounds(piece.outline)[:2]
    ]
    return max(0.0, -min(edges, default=0.0)), max(0.0, max(edges, default=0.0) - face.length)
