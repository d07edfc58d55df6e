"""Level boards: strips in courses, the levels that courses meet, and what openings leave of them."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from typing import Final

from soleplate.engine.building_file import Listed, Mm, said
from soleplate.engine.layout import PRACTICE
from soleplate.engine.rules.cladding import Course, Span, Strip
from soleplate.engine.rules.findings import Finding, FindingKind
from soleplate.engine.rules.surfaces import Surface
from soleplate.engine.shapes import FINE, Section

NARROW_STRIP: Final = FindingKind(
    "narrow-strip",
    "warn",
    PRACTICE,
    "of some courses less than {least} is left at openings: {strips}; they split easily: move the openings or"
    " the first course, or cover them with the trim",
)

Nails = Callable[[Course], tuple[float, ...]]
"""Where across the boards of a course their fixings go, mm from their lower edge; none where it is usual."""


def level_strips(
    face: Surface,
    courses: Sequence[Course],
    section: Section,
    material: str,
    depth: tuple[float, float],
    *,
    on_battens: bool = False,
    nails: Nails = lambda course: (),
    solid: float = 1.0,
) -> Iterator[Strip]:
    """A strip along the face for each course under its top; under a level one the last is ripped.

    `solid` is the share of the section that the profile leaves as timber.
    """
    level, highest = face.level_top, face.highest
    for course in courses:
        if course.bottom >= highest - FINE:
            continue
        board_top = course.board_top if level is None else min(course.board_top, level)
        yield Strip(
            "board",
            section,
            material,
            whole=Span(face.left, face.right, course.bottom, board_top),
            seen=Span(face.left, face.right, course.bottom, min(course.top, board_top)),
            depth=depth,
            course=course.number,
            on_battens=on_battens,
            nails=nails(course),
            solid=solid,
        )


def narrow_at_openings(face: Surface, courses: Sequence[Course], least: float) -> Iterator[Finding]:
    """A remark where less than `least` mm of a course is left under a sill or over a head."""
    found: list[tuple[float, str]] = []
    for hole in face.holes:
        for course in courses:
            if course.bottom + FINE < hole.bottom < course.top - FINE:
                found.append((hole.bottom - course.bottom, f"under {hole.name}"))
            if course.bottom + FINE < hole.top < course.top - FINE and hole.top < face.highest:
                found.append((course.top - hole.top, f"over {hole.name}"))
    narrow = [(rest, where) for rest, where in found if rest < least - FINE]
    if narrow:
        told = (said("{rest} {where}", rest=Mm(rest, ".0f"), where=where) for rest, where in narrow[:12])
        yield NARROW_STRIP.of(
            value=round(min(rest for rest, _ in narrow), 3),
            least=Mm(least, ".0f"),
            strips=Listed(tuple(told)),
        )


def level_tops(faces: Sequence[Surface]) -> list[float]:
    """The heights of level tops, each once, upwards."""
    return sorted({round(face.level_top, 6) for face in faces if face.level_top is not None})


def opening_edges(faces: Sequence[Surface]) -> tuple[list[float], list[float]]:
    """The heights of sills, and those of heads, clearance included, each once, upwards; no floors."""
    holes = [hole for face in faces for hole in face.holes]
    sills = {round(hole.bottom, 6) for hole in holes if math.isfinite(hole.bottom)}
    return sorted(sills), sorted({round(hole.top, 6) for hole in holes if math.isfinite(hole.top)})
