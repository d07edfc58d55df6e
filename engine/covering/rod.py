"""Courses as they are told: those of each wall, and the storey rod that serves them all."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Literal

from soleplate.engine.building_file import MM2_PER_M2, Units, format_length
from soleplate.engine.covering.boards import Board
from soleplate.engine.covering.covering import Cladding
from soleplate.engine.layout import CladdingOut, CourseOut, CutOut, Piece, RodCourse
from soleplate.engine.rules import Course, Hole, Surface, board_movement
from soleplate.engine.shapes import FINE, area, rounded, under


def courses_out(
    cladding: Cladding, numbered: Sequence[tuple[Board, Piece]], units: Units
) -> tuple[CourseOut, ...]:
    """The courses of one wall; those over its top are left out."""
    by_course: dict[int | None, list[tuple[Board, Piece]]] = {}
    for board, piece in numbered:
        by_course.setdefault(board.course, []).append((board, piece))
    found = []
    for course in cladding.courses:
        if members := by_course.get(course.number):
            rips = [board.strip.across for board, _ in members if board.strip.is_ripped]
            found.append(
                CourseOut(
                    number=course.number,
                    bottom=rounded(course.bottom),
                    top=rounded(max(z for board, _ in members for outline in board.seen for _, z in outline)),
                    display=format_length(course.bottom, units),
                    rip=rounded(min(rips)) if rips else None,
                    boards=tuple(piece.mark for _, piece in members),
                )
            )
    return tuple(found)


def cladding_out(cladding: Cladding, swing: float) -> CladdingOut | None:
    """A wall's cladding in numbers, if there is any; `swing` is that of its moisture, in per cent."""
    if not cladding.boards:
        return None
    rule = cladding.rule
    widths = [
        board.strip.section.depth for board in cladding.boards if board.role.covers and not board.role.sheet
    ]
    moves = board_movement(max(widths), swing, rule.swelling_gap, rule.material) if widths else None
    face = cladding.surface
    bottom = min(board.member.bottom for board in cladding.boards)
    gross = area(under(face.top, face.left, face.right, bottom))
    holes = sum(_area_of(hole, face, bottom) for hole in face.holes)
    return CladdingOut(
        rule=rule.name,
        build_out=rounded(rule.build_out),
        gap=moves.gap if moves else None,
        width_change=rounded(moves.change) if moves else None,
        cavity=rounded(rule.cavity),
        lap=rounded(min(laps)) if (laps := _laps(cladding)) else None,
        bottom=rounded(bottom),
        area_m2=rounded((gross - holes) / MM2_PER_M2),
        membrane_m2=rounded(gross / MM2_PER_M2),
        fixings=sum(len(board.fixed_at) for board in cladding.boards),
    )


def _area_of(hole: Hole, face: Surface, bottom: float) -> float:
    """Of an opening, or of what a partition takes up over `bottom`, mm2."""
    if math.isinf(hole.top):
        return area(under(face.top, hole.left, hole.right, bottom))
    return (hole.right - hole.left) * (hole.top - max(hole.bottom, bottom))


def _laps(cladding: Cladding) -> set[float]:
    """By how much boards of full width go on behind what is seen of them, mm."""
    return {
        lap
        for strip in {board.strip for board in cladding.boards if not board.strip.is_ripped}
        for lap in (
            strip.whole.top - strip.seen.top,
            strip.seen.left - strip.whole.left,
            strip.whole.right - strip.seen.right,
        )
        if lap > FINE
    }


def storey_rod(claddings: Iterable[Cladding], units: Units) -> tuple[RodCourse, ...]:
    """The courses of all these faces, upwards; those whose cladding has the same courses share them."""
    groups: dict[tuple[Course, ...], list[Surface]] = {}
    for cladding in claddings:
        if cladding.courses:
            groups.setdefault(cladding.courses, []).append(cladding.surface)
    found = [
        _rod_course(course, {face.part: face for face in faces if face.highest > course.bottom + FINE}, units)
        for courses, faces in groups.items()
        for course in courses
    ]
    return tuple(sorted(found, key=lambda course: (course.bottom, course.number)))


def _rod_course(course: Course, faces: Mapping[str, Surface], units: Units) -> RodCourse:
    return RodCourse(
        number=course.number,
        walls=tuple(faces),
        bottom=rounded(course.bottom),
        top=rounded(course.top),
        seen=rounded(course.seen),
        display=format_length(course.bottom, units),
        seen_display=format_length(course.seen, units),
        cut_outs=tuple(_cut_outs(course, faces.items(), units)),
    )


def _cut_outs(course: Course, faces: Iterable[tuple[str, Surface]], units: Units) -> Iterator[CutOut]:
    for name, face in faces:
        for hole in face.holes:
            edges: tuple[tuple[Literal["sill", "head"], float], ...]
            edges = (("sill", hole.bottom), ("head", hole.top))
            for edge, at in edges:
                if math.isfinite(at) and course.bottom + FINE < at < course.top - FINE:
                    yield CutOut(
                        wall=name,
                        opening=hole.name,
                        edge=edge,
                        at=rounded(at),
                        above_bottom=rounded(at - course.bottom),
                        display=format_length(at - course.bottom, units),
                    )
