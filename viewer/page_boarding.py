"""A wall's cladding and lining in lists: what goes up in which order, and where each piece lies."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, get_args

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import Piece, WallOut
from soleplate.engine.shapes import bounds
from soleplate.viewer.face import Side
from soleplate.viewer.markup import Child, Markup, element, table
from soleplate.viewer.texts import Texts
from soleplate.viewer.tiers import Tier, kind_of, left_edge, tiers
from soleplate.viewer.wording import role_text, size_text, small_length

_COURSES: Final = {"outside": "courses", "inside": "lining-courses"}


def boarding_tables(wall: WallOut, units: Units, texts: Texts) -> Iterator[Markup]:
    """The tiers on both faces of a wall, from the frame outwards; level boards by their courses.

    A table of a tier has the class `tier`, and its face's; `behind` where others hide it, and `together`
    where it is put up as a whole.
    """
    sides: tuple[Side, ...] = get_args(Side)
    for facing in sides:
        laid = tiers(wall, facing)
        if laid:
            yield element("h3", texts.boarded[facing])
        is_told = False
        for tier in laid:
            if all(piece.course is None for piece in tier.pieces):
                yield _tier(wall, tier, units, texts)
            elif not is_told:
                yield _courses(wall, facing, units, texts)
                is_told = True


def _tier(wall: WallOut, tier: Tier, units: Units, texts: Texts) -> Markup:
    rows: list[tuple[Child, ...]] = [
        (
            piece.mark,
            element("strong", format_length(left_edge(wall, piece, tier.facing), units)),
            format_length(bounds(piece.outline)[2], units),
            _size(piece, units),
        )
        for piece in tier.pieces
    ]
    name = texts.tier.format(role=role_text(tier.role, texts), number=tier.number, count=tier.count)
    size = texts.clear_size if tier.kind.sheet else texts.length
    head = (texts.piece, texts.left_edge_from[tier.facing], texts.lower_edge_from, size)
    kinds = ["tier", tier.facing]
    kinds += ["behind"] if tier.is_behind else []
    kinds += ["together"] if tier.kind.carries else []
    return table(name, head, rows, class_=" ".join(kinds), wide=False)


def _size(piece: Piece, units: Units) -> str:
    """The length of a board; the width by the height of a sheet."""
    if not kind_of(piece).sheet:
        return piece.display
    left, right, bottom, top = bounds(piece.outline)
    return size_text(right - left, top - bottom, units)


def _courses(wall: WallOut, facing: Side, units: Units, texts: Texts) -> Markup:
    """From the lowest upwards, each board as it is seen from its side."""
    lengths = {piece.mark: piece.display for piece in wall.pieces}
    is_inside = facing == "inside"
    rows: list[tuple[Child, ...]] = [
        (
            f"{course.number}",
            element("strong", course.display),
            small_length(course.rip, units) if course.rip else "",
            ", ".join(
                texts.board_of.format(mark=mark, length=lengths[mark])
                for mark in (reversed(course.boards) if is_inside else course.boards)
            ),
        )
        for course in (wall.lining_courses if is_inside else wall.courses)
    ]
    name = texts.lining_courses if is_inside else texts.courses
    head = (
        texts.course,
        texts.lower_edge,
        texts.ripped_to,
        texts.boards_inside if is_inside else texts.boards,
    )
    return table(name, head, rows, class_=_COURSES[facing])
