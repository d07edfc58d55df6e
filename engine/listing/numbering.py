"""Third stage: members become pieces with marks, lengths, cut ends, grades and weights."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import chain
from typing import Final, Literal

from soleplate.engine.building_file import MM3_PER_M3, Timber, Units, format_length
from soleplate.engine.covering import Board, Cladding
from soleplate.engine.finishing import Finish
from soleplate.engine.framing import Part, Stretch, panel_at, timber_of, weight_of
from soleplate.engine.layout import CutEnd, Fixing, HousingOut, NotchOut, Piece, Taper
from soleplate.engine.rules import Facing
from soleplate.engine.shapes import (
    TOUCH,
    End,
    EndFixing,
    Housing,
    Member,
    Notch,
    Point,
    Rip,
    Roles,
    notches,
    rounded,
    shape,
)

Made = Literal["factory", "fresh"]
_FACTORY_DOWN: Final[tuple[Made, Made]] = ("factory", "fresh")
"""End grain that soaked up more preservative belongs where it is wettest (common practice, no source)."""


def prefixes(names: Sequence[str], kept: Sequence[str] = ()) -> dict[str, str]:
    """A short, unique prefix for each wall: its initial, or as much of its name as tells it apart.

    Names are used in capitals; those that stay alike get a number. Those `kept` are for others.
    """
    result: dict[str, str] = {}
    taken = set(kept)
    for name in names:
        letters = "".join(character for character in name.upper() if character.isalnum()) or "W"
        if letters[-1].isdigit():
            letters += "-"
        initials = (letters[:size] for size in range(1, len(letters) + 1) if not letters[size - 1].isdigit())
        numbered = (f"{letters[:1]}{number}-" for number in range(2, len(names) + 2))
        result[name] = next(choice for choice in chain(initials, numbered) if choice not in taken)
        taken.add(result[name])
    return result


def ordered(members: Sequence[Member], roles: Roles) -> list[Member]:
    """Members in the order of their numbers: by kind, then left to right, then upwards, then inwards.

    What lies in the side of a slope has its place along the eaves by its depth.
    """

    def key(member: Member) -> tuple[int, str, int, float, float, float]:
        rank, name = roles[member.role].rank
        near = round(member.depth[0], 3)
        left, far = (near, member.left) if member.view == "side" else (round(member.left, 3), near)
        return (rank, name, member.layer, left, round(member.bottom, 3), far)

    return sorted(members, key=key)


def number_pieces(part: Part, prefix: str, units: Units, short_up_to: float) -> list[tuple[Member, Piece]]:
    """Every member of a part with its piece, numbered from 1 behind the part's prefix.

    Args:
        part: a framed one.
        prefix: of its marks.
        units: of the displayed lengths.
        short_up_to: how long a piece may be to come from bent lengths, mm.
    """
    return [
        (member, _piece(member, f"{prefix}{number}", part, units, short_up_to))
        for number, member in enumerate(ordered(part.members, part.roles), start=1)
    ]


def number_boards(
    cladding: Cladding, prefix: str, first: int, units: Units, panels: Sequence[Stretch] = ()
) -> list[tuple[Board, Piece]]:
    """Every batten, board and sheet with its piece, numbered from `first` on behind the wall's prefix.

    They come after the frame, so that no mark of a timber depends on what the wall is clad with. Of a wall in
    `panels`, what overhangs its ends is of the outermost.
    """
    overhung = [
        (left if number else -math.inf, right if number < len(panels) - 1 else math.inf)
        for number, (left, right) in enumerate(panels)
    ]
    timbers: dict[str, Timber] = {}
    numbered: list[tuple[Board, Piece]] = []
    for number, board in enumerate(cladding.boards, start=first):
        name = board.strip.material
        if name not in timbers:
            timbers[name] = Timber.named(
                name, cladding.rule.density if name == cladding.rule.material else None
            )
        piece = _board(board, f"{prefix}{number}", timbers[name], cladding.surface.facing, units)
        on = panel_at(overhung, board.member.left, board.member.right)
        numbered.append((board, piece if on is None else replace(piece, panel=on)))
    return numbered


def _board(board: Board, mark: str, timber: Timber, facing: Facing, units: Units) -> Piece:
    member = board.member
    lies_level = not (board.strip.raking or board.strip.upright)
    cut = shape(member, ripped=lies_level)
    return Piece(
        mark=mark,
        role=member.role,
        tone=board.role.tone or None,
        section=(rounded(member.section[0]), rounded(member.section[1])),
        material=timber.name,
        length=rounded(cut.length),
        short_length=rounded(cut.short_length),
        display=format_length(cut.length, units),
        ends=_cut_ends(cut.ends),
        outline=_points(member.outline),
        depth=(rounded(member.depth[0]), rounded(member.depth[1])),
        view=None if member.view == "face" else member.view,
        face=facing,
        grade="straight",
        course=board.course,
        rip=None if (rip := board.rip) is None else rounded(rip),
        taper=tuple(_taper(each) for each in cut.rips) or None,
        notches=None,
        notched=True if board.is_notched else None,
        seen=tuple(_points(outline) for outline in board.seen),
        fixed_at=_points(board.fixed_at),
        weight_kg=rounded(member.volume * board.strip.solid / MM3_PER_M3 * timber.density),
    )


def number_finish(
    finishes: Sequence[Finish], prefix: str, first: int, units: Units
) -> list[tuple[Member, Piece]]:
    """Every piece that finishes an opening, opening by opening, numbered from `first` on.

    They come after boards, so that no mark of those depends on how an opening is finished.
    """
    each = [
        (member, finish, facing)
        for finish in finishes
        for facing, members in _by_face(finish)
        for member in members
    ]
    return [
        (member, _finish(member, finish, facing, f"{prefix}{number}", units))
        for number, (member, finish, facing) in enumerate(each, start=first)
    ]


def _by_face(finish: Finish) -> tuple[tuple[Facing, tuple[Member, ...]], ...]:
    done = finish.done
    hung = tuple(member for leaf in done.leaves for member in leaf.members)
    return ("outside", (*done.outside, *hung)), ("inside", done.inside)


def _finish(member: Member, finish: Finish, facing: Facing, mark: str, units: Units) -> Piece:
    rule = finish.rule
    name = member.material or rule.material
    timber = Timber.named(name, rule.density if name == rule.material else None)
    cut = shape(member)
    across = _widest(member)
    return Piece(
        mark=mark,
        role=member.role,
        section=(rounded(member.section[0]), rounded(member.section[1])),
        material=timber.name,
        length=rounded(cut.length),
        short_length=rounded(cut.short_length),
        display=format_length(cut.length, units),
        ends=_cut_ends(cut.ends),
        outline=_points(member.outline),
        depth=(rounded(member.depth[0]), rounded(member.depth[1])),
        view=None if member.view == "face" else member.view,
        of_sheet=member.of_sheet or None,
        face=facing,
        grade="straight",
        rip=rounded(across) if across < member.section.depth - TOUCH else None,
        notches=None if member.is_box else tuple(map(_notch, notches(member.outline, member.grain))) or None,
        weight_kg=rounded(member.volume / MM3_PER_M3 * timber.density),
    )


def _widest(member: Member) -> float:
    """How broad a piece is where it is broadest, on its face or through the wall, mm."""
    on_face = member.right - member.left if member.is_upright else member.top - member.bottom
    return max(on_face, member.depth[1] - member.depth[0])


def _ripped(member: Member) -> float | None:
    """How wide a piece is that is sawn narrower than its section, mm."""
    slope = math.radians(member.grain)
    across = [z * math.cos(slope) - x * math.sin(slope) for x, z in member.outline]
    widest = max(max(across) - min(across), member.depth[1] - member.depth[0])
    return rounded(widest) if widest < member.section.depth - TOUCH else None


def _taper(rip: Rip) -> Taper:
    (start, start_width), (end, end_width) = rip.start, rip.end
    return Taper(
        from_=rounded(start),
        to=rounded(end),
        from_width=rounded(start_width),
        to_width=rounded(end_width),
        angle=rounded(rip.angle),
    )


def _points(points: Sequence[Point]) -> tuple[Point, ...]:
    return tuple([(rounded(x), rounded(z)) for x, z in points])


def _piece(member: Member, mark: str, part: Part, units: Units, short_up_to: float) -> Piece:
    cut = shape(member)
    section = part.sold if member.section == part.section else member.section
    role = part.roles[member.role]
    stands = part.foot is not None and role.stands and member.bottom <= part.foot + TOUCH
    timber = timber_of(member, part.timber)
    # What is bent and cut short is timber; a sheet has no short grade.
    short = role.short and not member.of_sheet and cut.length <= short_up_to
    sloped = stands and cut.ends[1].cut != "square"
    return Piece(
        mark=mark,
        role=member.role,
        tone=role.tone or None,
        section=(rounded(section[0]), rounded(section[1])),
        material=timber.name,
        length=rounded(cut.length),
        short_length=rounded(cut.short_length),
        display=format_length(cut.length, units),
        ends=_cut_ends(cut.ends, _FACTORY_DOWN if stands else (None, None)),
        fixings=member.fixings and _fixings(member.fixings),
        outline=_points(member.outline),
        depth=(rounded(member.depth[0]), rounded(member.depth[1])),
        view=None if member.view == "face" else member.view,
        of_sheet=member.of_sheet or None,
        grade="short" if short else "straight",
        rip=_ripped(member) if role.ripped else None,
        trim_allowance=rounded(part.trim_allowance) if sloped else 0.0,
        notches=None if member.is_box else tuple(map(_notch, notches(member.outline, member.grain))) or None,
        panel=part.panel_of(member),
        housings=_housings(member) if member.housings else None,
        weight_kg=rounded(weight_of(member, part.timber)),
    )


def _notch(notch: Notch) -> NotchOut:
    return NotchOut(
        kind=notch.kind,
        from_low_end=rounded(notch.from_low_end),
        seat=rounded(notch.seat),
        heel=rounded(notch.heel),
        hap=rounded(notch.hap),
        edge=notch.edge,
    )


def _housings(member: Member) -> tuple[HousingOut, ...]:
    """From its foot or left end."""
    slope = math.radians(member.grain)
    start = min(_along(point, slope) for point in member.outline)
    told = (_housing(each, member, slope, start) for each in member.housings)
    return tuple(sorted(told, key=lambda each: each.from_))


def _housing(housing: Housing, member: Member, slope: float, start: float) -> HousingOut:
    along = [_along(point, slope) - start for point in housing.outline]
    between = abs(housing.grain - member.grain) % 180.0
    return HousingOut(
        face="outside" if housing.depth[0] < member.depth[0] + TOUCH else "inside",
        from_=rounded(min(along)),
        to=rounded(max(along)),
        deep=rounded(housing.depth[1] - housing.depth[0]),
        width=rounded(housing.width),
        angle=rounded(min(between, 180.0 - between)),
        rises="right" if housing.grain > 0.0 else "left",
        outline=_points([(x - member.left, z - member.bottom) for x, z in housing.outline]),
    )


def _along(point: Point, slope: float) -> float:
    return point[0] * math.cos(slope) + point[1] * math.sin(slope)


# Most pieces are cut and fixed like others, whose ends they share: a building has thousands.
@lru_cache(maxsize=1024)
def _fixings(ends: tuple[EndFixing, EndFixing]) -> tuple[Fixing, Fixing]:
    left, right = ends
    return Fixing(count=left.count, way=left.way), Fixing(count=right.count, way=right.way)


@lru_cache(maxsize=1024)
def _cut_ends(
    ends: tuple[End, End], made: tuple[Made, Made] | tuple[None, None] = (None, None)
) -> tuple[CutEnd, CutEnd]:
    (start, end), (first, last) = ends, made
    return _cut_end(start, first), _cut_end(end, last)


def _cut_end(end: End, made: Made | None) -> CutEnd:
    angles = tuple(rounded(angle) for angle in end.angles)
    return CutEnd(
        cut=end.cut,
        angle=angles[0] if end.cut == "bevel" else None,
        angles=angles if len(angles) > 1 else None,
        widths=tuple(rounded(width) for width in end.widths) or None,
        long_point=end.long_point if end.cut != "square" else None,
        end=made,
    )
