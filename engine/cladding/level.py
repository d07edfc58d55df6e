"""Level boards: strips in courses, the battens behind them, and the levels that courses meet."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from soleplate.engine.cladding.region import FINE
from soleplate.engine.cladding.rule import Battens, Course, Face, Span, Strip
from soleplate.engine.timber import Section

Nails = Callable[[Course], tuple[float, ...]]


def level_strips(
    face: Face,
    courses: Sequence[Course],
    section: Section,
    material: str,
    depth: tuple[float, float],
    *,
    on_battens: bool = False,
    nails: Nails = lambda course: (),
) -> Iterator[Strip]:
    """A strip along the face for each course under its top; under a level one the last is ripped."""
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
        )


def upright_battens(face: Face, battens: Battens, bottom: float) -> Iterator[Strip]:
    """A batten on every stud, from `bottom` up to the roof, kept clear of openings and of each other."""
    thickness, width = battens.section[0], min(battens.section[1], face.length)
    studs = {(support.near, support.far) for support in face.studs}
    placed: list[float] = []
    # What stands beside an opening or at an end comes first: boards end there.
    for _, left in sorted(_batten_left(face, near, far, width) for near, far in studs):
        if all(abs(left - other) >= width - FINE for other in placed):
            placed.append(left)
    for left in sorted(placed):
        span = Span(left, left + width, bottom, face.highest)
        yield Strip(
            "batten",
            Section(*battens.section),
            battens.material,
            whole=span,
            seen=span,
            depth=(-thickness, 0.0),
            upright=True,
        )


def _batten_left(face: Face, near: float, far: float, width: float) -> tuple[bool, float]:
    """Whether a stud's batten may give way to others, and its left edge, mm."""
    left = (near + far - width) / 2
    is_free = True
    for hole in face.holes:
        if near < hole.left < far + FINE:
            left, is_free = hole.left - width, False
            break
        if near - FINE < hole.right < far:
            left, is_free = hole.right, False
            break
    within = min(max(left, face.left), face.right - width)
    return is_free and within == left, within


def level_tops(faces: Sequence[Face]) -> list[float]:
    """The heights of level tops, each once, upwards."""
    return sorted({round(face.level_top, 6) for face in faces if face.level_top is not None})


def opening_edges(faces: Sequence[Face]) -> tuple[list[float], list[float]]:
    """The heights of sills, and those of heads, clearance included, each once, upwards; no floors."""
    holes = [hole for face in faces for hole in face.holes]
    sills = {round(hole.bottom, 6) for hole in holes if math.isfinite(hole.bottom)}
    return sorted(sills), sorted({round(hole.top, 6) for hole in holes if math.isfinite(hole.top)})
