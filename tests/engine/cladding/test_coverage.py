"""Cladding covers each face less its openings exactly once, with shapely as the judge."""

from __future__ import annotations

from typing import Any

from shapely import Polygon, unary_union

from soleplate.engine.layout import Layout, WallOut
from tests.buildings import honey_house, layout_of

SLIVER = 1.0
"""mm2 for each m of board: outlines are put out at 0.001 mm."""


def face_of(wall: WallOut, layout: Layout, clearance: float, over: float) -> Polygon:
    """The face less its openings, its ends read off the boards."""
    boards = [piece for piece in wall.pieces if piece.seen]
    left = min(x for piece in boards for x, _ in piece.outline)
    right = max(x for piece in boards for x, _ in piece.outline)
    assert wall.cladding is not None
    bottom = wall.cladding.bottom
    (x0, z0), (x1, z1) = wall.top_line[0], wall.top_line[-1]
    inner = [(x, z + over) for x, z in wall.top_line[1:-1]]

    def beyond(x: float) -> float:
        pair = wall.top_line[:2] if x < x0 else wall.top_line[-2:]
        (a, b), (c, d) = pair
        return b + (x - a) * (d - b) / (c - a) + over

    top = [
        (left, beyond(left) if left < x0 else z0 + over),
        *inner,
        (right, beyond(right) if right > x1 else z1 + over),
    ]
    face = Polygon([(left, bottom), (right, bottom), *reversed(top)])
    for hole in wall.openings:
        low = bottom - 1 if hole.bottom <= 0 else hole.bottom - clearance
        face = face.difference(
            Polygon(
                [
                    (hole.left - clearance, low),
                    (hole.right + clearance, low),
                    (hole.right + clearance, hole.top + clearance),
                    (hole.left - clearance, hole.top + clearance),
                ]
            )
        )
    return face


def assert_covered(layout: Layout, rule: dict[str, Any]) -> None:
    for wall in layout.walls:
        seen = [Polygon(o) for piece in wall.pieces if piece.role != "batten" for o in piece.seen or ()]
        face = face_of(wall, layout, rule.get("clearance", 5.0), rule.get("over_plate", 0.0))
        slack = SLIVER * sum(polygon.length for polygon in seen) / 1000 + 1.0
        union = unary_union(seen)
        assert union.symmetric_difference(face).area < slack, wall.name
        assert abs(sum(polygon.area for polygon in seen) - union.area) < slack, wall.name


def test_the_honey_house_is_covered() -> None:
    value = honey_house()
    rule = {"rule": "rebated", "width": 145, "cover": 130}
    value["defaults"]["cladding"] = rule
    assert_covered(layout_of(value), rule)


def test_marks_of_the_frame_do_not_depend_on_cladding() -> None:
    bare = layout_of(honey_house())
    value = honey_house()
    value["defaults"]["cladding"] = {"rule": "rebated", "width": 145, "cover": 130}
    clad = layout_of(value)
    for one, other in zip(bare.walls, clad.walls, strict=True):
        frame = [piece for piece in other.pieces if not piece.is_cladding]
        assert tuple(frame) == one.pieces
        assert len(frame) < len(other.pieces)
