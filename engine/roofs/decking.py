"""A slope's deck: the surface on its rafters, covered by a cladding rule like the face of a wall."""

from __future__ import annotations

from dataclasses import replace
from math import inf
from typing import Final

from soleplate.engine.building_file import WallEnd
from soleplate.engine.covering import ToCover
from soleplate.engine.roofs.slope import SlopeFrame
from soleplate.engine.rules import Support, Surface
from soleplate.engine.shapes import TOUCH, UPRIGHT, Member, TopLine, rectangle

FREE: Final = (WallEnd("free"), WallEnd("free"))


def slope_deck(slope: SlopeFrame) -> ToCover | None:
    """What is to be covered of a slope; `None` where it has no deck."""
    deck = slope.slope.deck
    if deck is None:
        return None
    wall, shift = slope.lying, slope.slope.foot - deck.bottom
    top = deck.top - deck.bottom
    edge = TopLine(((deck.left, top), (deck.right, top)))
    timbers = [_spread(m, wall.sole_thickness, wall.underside.at(0.0), shift, top) for m in wall.members]
    timbers += [_fly(m, top) for m in slope.members if m.role == "fly rafter"]
    timbers += [
        m.moved(tuple((u, v - deck.bottom) for u, v in m.outline))
        for m in slope.members
        if m.role == "rung" and m.view == "slope"
    ]
    supports = sorted(
        (
            Support(
                (m.left + m.right) / 2, m.left, m.right,
                -inf if m.bottom < TOUCH else m.bottom, inf if m.top > top - TOUCH else m.top,
            )
            for m in timbers
            if m.is_upright
        ),
        key=lambda support: (support.centre, support.start),
    )  # fmt: skip
    clear = deck.rule.clearance
    holes = tuple(
        replace(
            hole, left=hole.left - clear, right=hole.right + clear,
            bottom=hole.bottom + shift - clear, top=hole.top + shift + clear,
        )
        for hole in wall.holes
    )  # fmt: skip
    surface = Surface(
        part=slope.name,
        facing="outside",
        ends=FREE,
        left=deck.left,
        right=deck.right,
        top=edge,
        holes=holes,
        timbers=tuple(timbers),
        supports=tuple(supports),
        behind=(deck.left, deck.right),
        underside=edge,
        depth=wall.depth,
        view="deck",
        upright="rafter",
        bounded=True,
        roles=wall.roles,
    )
    return ToCover(deck.rule, surface, slope.asked, slope.name)


def _spread(member: Member, low: float, high: float, shift: float, top: float) -> Member:
    """A timber of the lying wall in the plane of the deck; what reaches an end of the rafters goes on."""
    bottom, end = member.bottom + shift, member.top + shift
    if member.is_upright and member.bottom < low + TOUCH:
        bottom = 0.0
    if member.is_upright and member.top > high - TOUCH:
        end = top
    return member.moved(rectangle(member.left, member.right, bottom, end))


def _fly(member: Member, top: float) -> Member:
    """A fly rafter as it is seen square to the slope."""
    left, right = member.depth
    return replace(member, outline=rectangle(left, right, 0.0, top), depth=(0.0, 1.0), grain=UPRIGHT)
