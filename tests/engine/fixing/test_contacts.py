"""Contacts of pieces: those that another library finds in the plane of each wall, and no others."""

from __future__ import annotations

import itertools

import pytest
import shapely

from soleplate.engine.fixing.contacts import LEAST, contacts
from soleplate.engine.fixing.timbers import framed_pieces
from soleplate.engine.layout import Layout, Piece
from tests.buildings import registry
from tests.fixings import FRAMED, fixed


def by_shapely(pieces: list[Piece]) -> tuple[set[frozenset[str]], set[frozenset[str]]]:
    """The pairs of one wall that surely lie on each other, and those that may."""
    shapes = [shapely.Polygon(piece.outline) for piece in pieces]
    grown = [shape.buffer(0.02, join_style="mitre") for shape in shapes]
    sure: set[frozenset[str]] = set()
    maybe: set[frozenset[str]] = set()
    for (i, one), (j, other) in itertools.combinations(enumerate(pieces), 2):
        deep = min(one.depth[1], other.depth[1]) - max(one.depth[0], other.depth[0])
        both = frozenset((one.mark, other.mark))
        if deep > LEAST:
            shared = grown[i].intersection(grown[j])
            along = 0.0 if shared.is_empty else shared.minimum_rotated_rectangle.length / 2
            (sure if along > LEAST + 0.3 else maybe if along > LEAST - 0.3 else set()).add(both)
        elif abs(deep) < 0.01:
            area = shapes[i].intersection(shapes[j])
            left, bottom, right, top = area.bounds if area.area > 0 else (0.0,) * 4
            least = min(right - left, top - bottom)
            (sure if least > LEAST + 0.1 else maybe if least > LEAST - 0.1 else set()).add(both)
    return sure, sure | maybe


def pairs_of(layout: Layout, part: str) -> set[frozenset[str]]:
    pieces = framed_pieces(layout.parts, registry().roles)
    return {
        frozenset((pieces[each.one].piece.mark, pieces[each.other].piece.mark))
        for each in contacts(pieces)
        if pieces[each.one].part == pieces[each.other].part == part
    }


@pytest.mark.parametrize("name", FRAMED)
def test_contacts_in_a_wall_are_those_that_shapely_finds(name: str) -> None:
    layout = fixed(name)
    for wall in layout.walls:
        # What is let in lies within others: that is looked at by itself.
        let_in = {piece.mark for piece in wall.pieces if piece.role == "let-in brace"}
        pieces = [piece for piece in wall.pieces if piece.is_frame and piece.mark not in let_in]
        sure, maybe = by_shapely(pieces)
        found = {pair for pair in pairs_of(layout, wall.name) if not pair & let_in}
        assert sure
        assert sure <= found <= maybe, wall.name


def test_what_is_let_in_lies_on_the_floors_of_its_housings() -> None:
    layout = fixed("let-in braces")
    housed = 0
    for wall in layout.walls:
        cut = {piece.mark for piece in wall.pieces if piece.housings}
        braces = {piece.mark for piece in wall.pieces if piece.role == "let-in brace"}
        found = [pair for pair in pairs_of(layout, wall.name) if pair & braces]
        on = {mark for pair in found for mark in pair - braces}
        # A corner of a board may touch the next piece by less than a joint.
        assert on <= cut
        housed += len(on)
    assert housed > 10


def test_walls_touch_at_their_corners_and_stand_on_the_floor() -> None:
    layout = fixed("on a floor, under a roof")
    pieces = framed_pieces(layout.parts, registry().roles)
    between = {
        frozenset((pieces[each.one].part, pieces[each.other].part))
        for each in contacts(pieces)
        if pieces[each.one].part != pieces[each.other].part
    }
    walls = ["front", "right", "back", "left"]
    assert {frozenset(pair) for pair in zip(walls, [*walls[1:], "front"], strict=True)} <= between
    assert {frozenset((wall, "floor")) for wall in walls} <= between
