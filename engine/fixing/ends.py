"""The ends of noggins as their joints are fixed: what a rule planned where nothing can reach is put right."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Literal, TypeVar

from soleplate.engine.fixing.fixing import FixedJoints
from soleplate.engine.fixing.reach import within_reach
from soleplate.engine.layout import Fixing, JointFixingOut, PartOut, Piece, ViewOut
from soleplate.engine.shapes import dot

AnyPart = TypeVar("AnyPart", bound=PartOut)


def as_fixed(parts: Sequence[AnyPart], fixed: FixedJoints) -> tuple[AnyPart, ...]:
    """The same parts; the ends of their noggins are told as their joints are fixed, where they are.

    Where no joints are fixed, ends that the planned way cannot reach are told as they can be.
    """
    if not fixed.fixings:
        return tuple(replace(part, pieces=within_reach(part.pieces)) for part in parts)
    ends: dict[str, list[JointFixingOut]] = defaultdict(list)
    for each in fixed.fixings:
        if each.joint == "end" and each.places:
            ends[each.into].append(each)
    return tuple(
        replace(part, pieces=tuple(_as_fixed(piece, part.views, ends) for piece in part.pieces))
        for part in parts
    )


def _as_fixed(
    piece: Piece, views: Mapping[str, ViewOut], ends: Mapping[str, Sequence[JointFixingOut]]
) -> Piece:
    if piece.fixings is None or piece.mark not in ends:
        return piece
    view = views[piece.view or "face"]
    along = [u for u, _ in piece.outline]
    middle = (min(along) + max(along)) / 2 + dot(view.origin, view.right)
    sides: dict[bool, list[JointFixingOut]] = {False: [], True: []}
    for each in ends[piece.mark]:
        place = each.places[0]
        outer = place.point if each.way == "skew" else place.head
        sides[dot(outer, view.right) > middle].append(each)
    left, right = (
        _end(those) or planned for those, planned in zip(sides.values(), piece.fixings, strict=True)
    )
    return replace(piece, fixings=(left, right))


def _end(those: Sequence[JointFixingOut]) -> Fixing | None:
    if not those:
        return None
    way: Literal["through", "skew"] = "skew" if those[0].way == "skew" else "through"
    return Fixing(count=sum(len(each.places) for each in those), way=way, when=those[0].when)
