"""Checks of boards that are left too narrow, by the height of a face, a slope or an opening. Advisory."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from soleplate.engine.rules import (
    NARROWEST_RIP,
    PRACTICE,
    Building,
    CladdingRule,
    Count,
    Facing,
    Finding,
    FindingKind,
    Layout,
    Listed,
    Mm,
    Piece,
    Rectangle,
    at_least,
    hookimpl,
    picked,
    said,
)

SAME: Final = 0.5
"""mm. Under a limit by less than this is not under it."""

MOST_TOLD: Final = 12
"""Courses named in one sentence."""

SIDES: Final[tuple[tuple[Facing, str, str], ...]] = (
    ("outside", "cladding", ""),
    ("inside", "lining", "in its lining, "),
)
"""The two sides of a part, the member that picks the rule of each, and how what is found there begins."""

NARROW_COURSE: Final = FindingKind(
    "narrow-rip",
    "warn",
    PRACTICE,
    "little is seen of {courses}, less than {least}, and such strips split as they are ripped or fixed:"
    " another height, drop, cover or exposure would do, or a trim over them",
)

NARROW_BOARD: Final = FindingKind(
    "narrow-board",
    "warn",
    PRACTICE,
    "{boards} narrow, or narrow beside an opening, down to {worst}, where {least} and more does not split:"
    " move the opening, take boards of another width, or cover the strip with the trim",
)


@hookimpl
def check_layout(layout: Layout, building: Building) -> Iterable[Finding]:
    """Return findings on narrow strips of level boards, by their courses, and of upright ones."""
    found: list[Finding] = []
    for part in layout.parts:
        for facing, member, where in SIDES:
            boards = [p for p in part.pieces if p.face == facing and _is_board(layout, p)]
            if boards:
                least = _least(building, part.name, member)
                own = (*_courses(boards, least), *_standing(boards))
                found += (each.on(part.name).after(where) for each in own)
    return found


def _is_board(layout: Layout, piece: Piece) -> bool:
    role = layout.role_of(piece)
    return role.covers and not role.sheet


def _least(building: Building, part: str, member: str) -> float:
    """What should be seen of a course of a part at the least, mm."""
    outline, own = building.outline, building.walls.get(part)
    is_partition = isinstance(outline, Rectangle) and part in {each.name for each in outline.partitions}
    if is_partition and getattr(own, member, None) is None:
        member = "lining"
    rules = picked(CladdingRule, own, building.defaults, member=member)
    return min((rule.least_rip for rule in rules), default=NARROWEST_RIP)


def _courses(boards: Sequence[Piece], least: float) -> Iterator[Finding]:
    """What is to be said of level boards of which nowhere as much as `least` mm is seen."""
    narrow: dict[int, list[tuple[float, str]]] = {}
    for piece in boards:
        heights = [z for outline in piece.seen or () for _, z in outline]
        if piece.course is not None and heights and max(heights) - min(heights) < least - SAME:
            narrow.setdefault(piece.course, []).append((max(heights) - min(heights), piece.mark))
    if narrow:
        told = (
            said("course {number} ({seen})", number=number, seen=Mm(min(those)[0], ".0f"))
            for number, those in list(narrow.items())[:MOST_TOLD]
        )
        yield NARROW_COURSE.of(
            pieces=tuple(mark for those in narrow.values() for _, mark in those),
            value=round(min(min(those)[0] for those in narrow.values()), 3),
            limit=least,
            courses=Listed(tuple(told)),
            least=Mm(least, ".0f"),
        )


def _standing(boards: Sequence[Piece]) -> Iterator[Finding]:
    """What is to be said of upright boards that are narrow somewhere, and not as they are bought."""
    widths = {
        piece.mark: _narrowest_leg(piece)
        for piece in boards
        if piece.course is None and piece.section[1] >= NARROWEST_RIP
    }
    narrow = {mark: width for mark, width in widths.items() if width < NARROWEST_RIP - SAME}
    if narrow:
        worst = min(narrow.values())
        yield NARROW_BOARD.of(
            pieces=tuple(narrow),
            value=round(worst, 3),
            limit=NARROWEST_RIP,
            boards=Count(len(narrow), "board is", "boards are"),
            worst=Mm(worst, ".0f"),
            least=at_least(NARROWEST_RIP),
        )


def _narrowest_leg(piece: Piece) -> float:
    """The least width between two plumb edges of a board, mm: of its tip under a slope it tells nothing."""
    edges = list(zip(piece.outline, (*piece.outline[1:], piece.outline[0]), strict=True))
    heights = sorted({z for _, z in piece.outline})
    least = math.inf
    for low, high in itertools.pairwise(heights):
        middle = (low + high) / 2
        crossed = sorted(
            (min(x0, x1), max(x0, x1)) for (x0, z0), (x1, z1) in edges if min(z0, z1) < middle < max(z0, z1)
        )
        for (near, left), (right, far) in zip(crossed[::2], crossed[1::2], strict=True):
            if left - near < SAME and far - right < SAME:
                least = min(least, right - left)
    return least


@hookimpl
def register_finding_kinds() -> list[FindingKind]:
    """Offer the kinds of findings."""
    return [NARROW_COURSE, NARROW_BOARD]
