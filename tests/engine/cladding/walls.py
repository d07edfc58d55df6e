"""Buildings with cladding for tests, and what is read off their layouts."""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st
from shapely import Polygon, box, unary_union

from soleplate.engine.layout import Layout, Piece, WallOut
from tests.engine.test_invariants import buildings

SLIVER = 1.0
"""mm2 for each m of edge: outlines are put out at 0.001 mm."""

LEVEL: list[dict[str, Any]] = [
    {"rule": "rebated", "width": 145, "cover": 130},
    {"rule": "rebated", "width": 120, "cover": 104, "battens": {"section": [25, 50]}, "most_drop": 120},
    {"rule": "tongue-and-groove", "width": 125, "cover": 110, "gap": 4, "over_plate": 30},
    {"rule": "lapped", "width": 150},
    {"rule": "lapped", "width": 200, "exposure": 150, "battens": {"section": [25, 38]}, "clearance": 0},
]
UPRIGHT: list[dict[str, Any]] = [
    {"rule": "board-on-board", "width": 120, "counter_battens": {"section": [16, 50]}},
    {"rule": "board-and-batten", "width": 145, "cover_width": 70, "over_plate": 40},
]
corners = st.sampled_from(["through-walls", "walls-between", "corner-boards"])
rules = st.builds(
    lambda rule, past, lengths: {**rule, "runs_past": past, "lengths": lengths},
    st.sampled_from([*LEVEL, *UPRIGHT]),
    corners,
    st.sampled_from([[3000, 4200], [2400], [5400]]),
)


@st.composite
def clad_buildings(draw: st.DrawFn) -> dict[str, Any]:
    value = draw(buildings())
    value["defaults"]["cladding"] = draw(rules)
    return value


def boards(wall: WallOut, facing: str = "outside") -> list[Piece]:
    """All cladding, or lining, but what lies behind it."""
    behind = ("batten", "starter strip")
    return [piece for piece in wall.pieces if piece.face == facing and piece.role not in behind]


def face_of(wall: WallOut, clearance: float, over: float, facing: str = "outside") -> Polygon:
    """The face less its openings; its two ends are read off the boards."""
    left = min(x for piece in boards(wall, facing) for x, _ in piece.outline)
    right = max(x for piece in boards(wall, facing) for x, _ in piece.outline)
    clad = wall.cladding if facing == "outside" else wall.lining
    assert clad is not None
    bottom = clad.bottom
    line = [(x, z + over) for x, z in wall.top_line]

    def height(x: float) -> float:
        """Above x; the outermost slopes run on past the ends of the wall."""
        (a, b), (c, d) = (line[0], line[1]) if x < line[1][0] else (line[-2], line[-1])
        return b + (x - a) * (d - b) / (c - a)

    inner = [point for point in line if left < point[0] < right]
    top = [(left, height(left)), *inner, (right, height(right))]
    face = Polygon([(left, bottom), (right, bottom), *reversed(top)])
    for hole in wall.openings:
        low = bottom - 1 if hole.bottom <= 0 else hole.bottom - clearance
        cut = box(hole.left - clearance, low, hole.right + clearance, hole.top + clearance)
        face = face.difference(cut)
    return face


def assert_covered(layout: Layout, rule: dict[str, Any], facing: str = "outside") -> None:
    """What is seen of the boards is each face less its openings, once."""
    for wall in layout.walls:
        clad = wall.cladding if facing == "outside" else wall.lining
        assert clad is not None
        seen = [Polygon(outline) for piece in boards(wall, facing) for outline in piece.seen or ()]
        face = face_of(wall, rule.get("clearance", 5.0), rule.get("over_plate", 0.0), facing)
        slack = SLIVER * sum(polygon.length for polygon in seen) / 1000 + 1.0
        union = unary_union(seen)
        assert union.symmetric_difference(face).area < slack, wall.name
        assert abs(sum(polygon.area for polygon in seen) - union.area) < slack, wall.name
        assert abs(clad.area_m2 * 1e6 - face.area) < slack + 500, wall.name
