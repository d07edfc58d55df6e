"""Cover strips round an opening, on one face: at both sides, over the head, and under a window."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from soleplate.engine.rules import (
    UPRIGHT,
    CannotFrame,
    FaceBeside,
    Member,
    Mm,
    Outline,
    Reach,
    Section,
    Span,
    at_least,
    level,
    rectangle,
)

LEAST_COVER: Final = 15.0
"""mm of a cover strip upon the cladding beside the hole (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Round:
    """Where strips go round an opening: their inner edges, `within`, and whether one goes underneath.

    `notch` is the end of a sill that stands out through them, which side strips are cut round: from which
    place to which over it they are no broader than to the hole, `hole`.
    """

    hole: tuple[float, float]
    within: Span
    under: bool
    notch: tuple[float, float] | None = None


def cover_strips(
    around: Round, section: Section, depth: tuple[float, float], material: str
) -> Iterator[Member]:
    """The strips on one face, from the left: sides, head, and what goes underneath."""
    wide, within = section.depth, around.within
    left, right = within.left - wide, within.right + wide
    foot = within.bottom
    for near, far, edge in ((within.left, left, around.hole[0]), (within.right, right, around.hole[1])):
        outline = _side(near, far, edge, foot, within.top, around.notch)
        yield Member("cover strip", section, outline, depth, UPRIGHT, material=material)
    head = (left, right, within.top, within.top + wide)
    yield level("cover strip", section, head, depth, material=material)
    if around.under:
        yield level("cover strip", section, (left, right, foot - wide, foot), depth, material=material)


def _side(
    near: float, far: float, edge: float, foot: float, top: float, notch: tuple[float, float] | None
) -> Outline:
    """A side strip from its inner edge to its outer, notched at its foot round the end of a sill."""
    left, right = min(near, far), max(near, far)
    if notch is None:
        return rectangle(left, right, foot, top)
    low, high = notch
    if near > far:
        return ((left, low), (edge, low), (edge, high), (right, high), (right, top), (left, top))
    return ((edge, low), (right, low), (right, top), (left, top), (left, high), (edge, high))


def refuse_strips(around: Round, section: Section, face: FaceBeside, where: str, covered: float) -> None:
    """Refuse strips that leave the face, or cover too little of what lies on it.

    Args:
        around: where they go.
        section: of the strips, (thickness, width), mm.
        face: that they lie on.
        where: of them, in a word.
        covered: of their width what lies over the lining's edge and the clearance, mm.
    """
    wide = section.depth
    least = covered + LEAST_COVER
    if wide < least:
        raise CannotFrame(
            "{where} cover strips {wide} wide leave {left} on the face beside the opening; accepted is at"
            " least {least}",
            where=where,
            wide=Mm(wide),
            left=Mm(max(wide - covered, 0.0)),
            least=at_least(least),
        )
    left, right = around.within.left - wide, around.within.right + wide
    if left < face.left or right > face.right:
        raise CannotFrame(
            "{where} cover strips reach from {reach} along the wall, and its face from {face}; accepted is an"
            " opening further from the end of the wall, or narrower strips",
            where=where,
            reach=Reach(left, right),
            face=Reach(face.left, face.right),
        )
    top, highest = around.within.top + wide, face.top.lowest(left, right)
    if top > highest:
        raise CannotFrame(
            "the {where} cover strip over it would reach {top}, and the face ends at {highest} there;"
            " accepted is an opening or strip {lower} lower",
            where=where,
            top=Mm(top, ".1f"),
            highest=Mm(highest, ".1f"),
            lower=at_least(top - highest, ".1f"),
        )
