"""The cutting list and the buying list: the pieces of all walls, grouped for the saw and for the merchant."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any, Final, Literal

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import BoardsOut, BuyingRow, CuttingRow, HousingOut, NotchOut, Piece, WallOut
from soleplate.engine.listing.twins import Ends, in_mirror, turn_of
from soleplate.engine.sawing import BuyingLine
from soleplate.engine.shapes import ROLES, Point, Roles, rounded

NO_PANELS: Final[Mapping[str, str]] = {}


def cutting_list(
    pieces: Iterable[Piece],
    units: Units,
    gang: int,
    roles: Roles = ROLES,
    panels: Mapping[str, str] = NO_PANELS,
) -> tuple[CuttingRow, ...]:
    """Alike pieces together: one row for each setting of the saw, the longest of a section first.

    Args:
        pieces: of all walls.
        units: of the displayed lengths.
        gang: how many pieces are clamped and cut in one pass at the most.
        roles: those that pieces may have.
        panels: by their marks, what the panels are called that pieces are of.
    """
    groups: dict[tuple[Any, ...], list[Piece]] = {}
    for piece in pieces:
        groups.setdefault(_setting(piece, roles), []).append(piece)
    return tuple(
        _row(group, units, gang, roles, panels)
        for _, group in sorted(groups.items(), key=lambda item: item[0])
    )


def _setting(piece: Piece, roles: Roles) -> tuple[Any, ...]:
    """What makes two pieces alike, in the order of the list; of mirror twins it is the same."""
    return (
        piece.section[1] * -1,
        piece.section[0] * -1,
        piece.material,
        piece.grade != "straight",
        -piece.length,
        -piece.short_length,
        *_ends(piece, roles),
        piece.trim_allowance,
        _handed_on(piece, roles) or "",
        piece.rip or 0.0,
        tuple([(rip.from_, rip.to, rip.from_width, rip.to_width) for rip in piece.taper or ()]),
        _compared_notches(piece),
        _from_its_corner(piece.outline) if piece.notched else (),
        tuple(_housing(each) for each in piece.housings or ()),
        piece.of_sheet or False,
    )


def _compared_notches(piece: Piece) -> tuple[Any, ...]:
    """Its notches as they are compared: turned over, a piece has them all in its other edge."""
    found = piece.notches or ()
    return tuple([(n.kind, n.from_low_end, n.seat, n.heel, n.hap, n.edge != found[0].edge) for n in found])


def _row_notches(group: Sequence[Piece]) -> tuple[NotchOut, ...] | None:
    """The notches of alike pieces, with their edges where those are alike too."""
    first = group[0].notches
    if first is None or all(piece.notches == first for piece in group):
        return first
    return tuple(replace(notch, edge=None) for notch in first)


def _housing(housing: HousingOut) -> tuple[Any, ...]:
    return housing.face, housing.from_, housing.to, housing.deep, housing.outline


def _ends(piece: Piece, roles: Roles) -> tuple[Any, ...]:
    """Its ends, of mirror twins those of one of them, and how the other is turned."""
    ends, turn = _compared(piece.ends), turn_of(piece, roles)
    turned = ends if turn is None else _compared(in_mirror(piece.ends, turn))
    return (ends, "") if turned == ends else (min(ends, turned), turn)


@lru_cache(maxsize=1024)
def _compared(ends: Ends) -> tuple[Any, ...]:
    """Ends as they are compared; thousands of pieces share a few."""
    return tuple(
        (end.cut, end.angle or 0.0, end.angles or (), end.widths or (), end.long_point or "", end.end or "")
        for end in ends
    )


def _handed_on(piece: Piece, roles: Roles) -> Literal["outside", "inside"] | None:
    """The face that a board lies on, where its mirror image may be another board; a batten can be turned."""
    if piece.face is None or roles[piece.role].carries:
        return None
    is_square = all(end.cut == "square" for end in piece.ends)
    return None if is_square and not piece.taper and not piece.notched else piece.face


def _from_its_corner(outline: Sequence[Point]) -> tuple[Point, ...]:
    """An outline by itself, wherever on the wall it lies."""
    left, bottom = min(x for x, _ in outline), min(z for _, z in outline)
    return tuple((rounded(x - left), rounded(z - bottom)) for x, z in outline)


def panel_names(walls: Iterable[WallOut]) -> Mapping[str, str]:
    """What the panels are called that pieces are of, by the marks of the pieces."""
    return {
        piece.mark: f"{wall.name} {piece.panel}"
        for wall in walls
        for piece in wall.pieces
        if piece.panel is not None
    }


def _row(
    group: Sequence[Piece], units: Units, gang: int, roles: Roles, panels: Mapping[str, str]
) -> CuttingRow:
    first = group[0]
    of_panels = tuple(panels.get(piece.mark) for piece in group)
    full, rest = divmod(len(group), gang)
    # Of mirror twins the more are told of; of as many, the same whichever comes first.
    hands = Counter(piece.ends for piece in group)
    ends = min(hands, key=lambda each: (-hands[each], _compared(each)))
    return CuttingRow(
        section=first.section,
        material=first.material,
        grade=first.grade,
        of_sheet=first.of_sheet,
        role=", ".join(dict.fromkeys(piece.role for piece in group)),
        length=first.length,
        short_length=first.short_length,
        trim_allowance=first.trim_allowance,
        display=format_length(first.length + first.trim_allowance, units),
        short_display=format_length(first.short_length, units),
        ends=ends,
        rip=first.rip,
        taper=first.taper,
        notches=_row_notches(group),
        housings=first.housings,
        notched=first.notched,
        face=_handed_on(first, roles),
        count=len(group),
        gangs=(gang,) * full + ((rest,) if rest else ()),
        marks=tuple(piece.mark for piece in group),
        panels=of_panels if any(of_panels) else None,
        turned=tuple(piece.mark for piece in group if piece.ends != ends) or None,
        turn=turn_of(first, roles) if len(hands) > 1 else None,
    )


def buying_list(
    pieces: Iterable[Piece], units: Units, boards: Iterable[BoardsOut] = ()
) -> tuple[BuyingRow, ...]:
    """The run of timber needed, by section and material; of `boards` also in what lengths."""
    lengths: dict[tuple[object, str], list[BuyingLine]] = {}
    for kind in boards:
        lengths.setdefault((kind.section, kind.material), []).extend(
            BuyingLine(
                section=kind.section,
                material=kind.material,
                stock_length=row.length,
                on_hand=False,
                grade="straight",
                count=row.count,
                cost=0.0,
            )
            for row in kind.lengths
        )
    groups: dict[tuple[float, float, str, bool], list[Piece]] = {}
    for piece in pieces:
        key = (-piece.section[1], -piece.section[0], piece.material, piece.of_sheet or False)
        groups.setdefault(key, []).append(piece)
    rows: list[BuyingRow] = []
    for _, group in sorted(groups.items()):
        total = sum(piece.length + piece.trim_allowance for piece in group)
        first = group[0]
        breadth, depth = first.section
        rows.append(
            BuyingRow(
                section=first.section,
                material=first.material,
                of_sheet=first.of_sheet,
                pieces=len(group),
                total_length=rounded(total),
                display=format_length(total, units),
                longest=max(piece.length + piece.trim_allowance for piece in group),
                volume_m3=round(total * breadth * depth / 1e9, 6),
                weight_kg=rounded(sum(piece.weight_kg for piece in group)),
                lengths=() if first.of_sheet else tuple(lengths.get((first.section, first.material), ())),
            )
        )
    return tuple(rows)
