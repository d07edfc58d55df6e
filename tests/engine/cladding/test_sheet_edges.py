"""Sheets meet on timber, or it is told: held against the outlines of the timbers by shapely."""

from __future__ import annotations

from itertools import pairwise, permutations
from typing import Any

import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon, unary_union

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.layout import Layout, Piece, WallOut
from tests.buildings import building, layout_of

HELD = 12.0
"""mm of timber behind an edge: nails are 3/8 in from it (sheet makers' guides), and 2 mm and more within."""

FREE = 150.0
"""mm of an edge that may have nothing behind it: the nails are 6 in apart there (sheet makers' guides)."""


def window(left: float, width: float = 900, **more: Any) -> dict[str, Any]:
    return {
        "name": "w",
        "kind": "window",
        "width": width,
        "height": 1000,
        "sill": 900,
        "at": {"left": left},
    } | more


def one_wall(length: float, *openings: dict[str, Any], **more: Any) -> Layout:
    sheets = {"rule": "sheets", "width": 1200, "height": 2440, "gap": 3}
    value = building(
        outline={"walls": [{"name": "wall", "length": length}]},
        roof={"form": "level", "height": 2390},
        defaults={"studs": {"rule": "fixed-centres", "centres": 600}, "cladding": sheets, **more},
        walls={"wall": {"openings": list(openings)}},
    )
    return layout_of(value)


def reach(piece: Piece) -> tuple[float, float]:
    return min(x for x, _ in piece.outline), max(x for x, _ in piece.outline)


def sheets_of(wall: WallOut) -> list[Piece]:
    return sorted((piece for piece in wall.pieces if piece.role == "sheet"), key=reach)


def lies_behind(wall: WallOut) -> Polygon:
    """All timber at the outer face, holes' clearance apart."""
    return unary_union([Polygon(p.outline) for p in wall.pieces if p.is_frame and p.depth[0] == 0.0])


def loose_joints(wall: WallOut, held: float, free: float, pitch: float = 2443.0) -> set[tuple[float, int]]:
    """The middles and rows of joints with over `free` mm of an edge that no timber lies behind.

    Rows are `pitch` mm apart.
    """
    timber = lies_behind(wall).buffer(0.02)
    found = set()
    for one, other in permutations(sheets_of(wall), 2):
        row, above = (int((min(z for _, z in piece.outline) + 0.01) // pitch) for piece in (one, other))
        if row != above or not -0.01 < reach(other)[0] - reach(one)[1] < 3.01:
            continue
        for x, sheet in ((reach(one)[1] - held, one), (reach(other)[0] + held, other)):
            edge = Polygon(sheet.outline).intersection(LineString([(x, 0.0), (x, 9000.0)]))
            bare = edge.difference(timber)
            longest = max((part.length for part in getattr(bare, "geoms", [bare])), default=0.0)
            if longest > free:
                found.add((round((reach(one)[1] + reach(other)[0]) / 2, 2), row + 1))
    return found


def told_loose(layout: Layout) -> set[tuple[float, int]]:
    told = [finding for finding in layout.findings if finding.code == "sheet-edge-loose"]
    return {(round(f.value or 0.0, 2), int(f.message.split(" in row ")[1].split()[0])) for f in told}


@pytest.mark.parametrize(
    ("left", "backing"),
    [
        # By hand: the king stud is 90 mm left of the hole; sheets meet at 1200.
        (1290.0, [1155.0]),  # king from 1200: nothing behind the left sheet
        (1310.0, [1175.0]),  # king from 1220: a stud would overlap it
        (1330.0, [1150.0, 1195.0]),  # king from 1240: one beside it ends at 1195, so there are two
        (1260.0, []),  # king from 1170 to 1215: it bears both
        (200.0, [1190.0]),  # king to 1190
        (140.0, [1130.0, 1175.0]),  # king to 1130: a stud at 1177.5 would be too near to be nailed
    ],
)
def test_a_stud_beside_a_king_stud_backs_the_first_joint(left: float, backing: list[float]) -> None:
    """The first sheet is not cut in half because an opening's timber is where a stud would be."""
    layout = one_wall(3600, window(left))
    (wall,) = layout.walls
    studs = [piece for piece in wall.pieces if piece.role == "backing stud"]
    assert [reach(piece)[0] for piece in studs] == backing
    assert 1200.0 in {(reach(a)[1] + reach(b)[0]) / 2 for a, b in pairwise(sheets_of(wall))}
    assert loose_joints(wall, HELD, FREE) == told_loose(layout) == set()
    listed = {mark for row in layout.cutting_list for mark in row.marks}
    assert {piece.mark for piece in studs} <= listed
    assert all({mark.mark for mark in marks} >= {p.mark for p in studs} for marks in wall.marks.values())


def test_without_sheets_nothing_is_backed() -> None:
    for cladding in (None, {"rule": "rebated", "cover": 130}):
        (wall,) = one_wall(3600, window(1310), cladding=cladding).walls
        assert "backing stud" not in {piece.role for piece in wall.pieces}


def test_a_lining_of_sheets_is_backed_too() -> None:
    layout = one_wall(3600, window(1310), cladding=None, lining={"rule": "sheets", "width": 1200})
    assert [reach(p)[0] for p in layout.walls[0].pieces if p.role == "backing stud"] == [1175.0]


def test_a_joint_without_room_for_backing_is_told() -> None:
    """By hand: the king studs of two doors stand 40 mm apart where sheets meet, and a stud is 45 mm broad."""
    doors = [
        window(left, 500, name=name, framing={"rule": "single-studs"})
        for name, left in (("a", 635.0), ("b", 1265.0))
    ]
    layout = one_wall(2400, *doors)
    (wall,) = layout.walls
    assert "backing stud" not in {piece.role for piece in wall.pieces}
    assert (1200.0, 1) in told_loose(layout)
    assert told_loose(layout) == loose_joints(wall, HELD, FREE)


@st.composite
def walls(draw: st.DrawFn) -> dict[str, Any]:
    length = draw(st.integers(2400, 7000))
    openings = []
    for name, low, high in (("a", 150, length // 2), ("b", length // 2, length - 150)):
        width = draw(st.integers(300, 1500))
        left = draw(st.integers(low, max(low, high - width)))
        kind = draw(st.sampled_from(["door", "window", "none"]))
        rule = draw(st.sampled_from(["trimmed", "single-studs"]))
        if kind != "none":
            sill = (
                {"sill": draw(st.integers(500, 1200)), "height": 700}
                if kind == "window"
                else {"height": 1950}
            )
            at = {"name": name, "kind": kind, "width": width, "at": {"left": left}, "framing": {"rule": rule}}
            openings.append(at | sill)
    sheets = {
        "rule": "sheets",
        "width": draw(st.sampled_from([1200, 1220, 600, 1197])),
        "height": draw(st.sampled_from([2440, 1220])),
        "gap": draw(st.sampled_from([0, 3])),
        "from": draw(st.sampled_from(["left", "right"])),
    }
    face = draw(st.sampled_from(["cladding", "lining"]))
    return building(
        outline={
            "walls": [{"name": "wall", "length": length, "heights": [2350, draw(st.integers(2350, 2900))]}]
        },
        defaults={
            "studs": {
                "rule": "fixed-centres",
                "centres": draw(st.sampled_from([400, 600, 610])),
                "from": draw(st.sampled_from(["left", "right", "middle"])),
            },
            face: sheets,
        },
        walls={"wall": {"openings": openings}},
    ) | {"roof": None}


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(walls())
def test_every_edge_of_a_sheet_lands_on_timber_or_is_told(value: dict[str, Any]) -> None:
    """By 60 mm more or less than may be loose, and no further: what is nearer to that may be either."""
    try:
        layout = layout_of({name: each for name, each in value.items() if each is not None})
    except UnbuildableError:
        reject()
    (wall,) = layout.walls
    told = told_loose(layout)
    sheets = value["defaults"].get("cladding") or value["defaults"]["lining"]
    pitch = sheets["height"] + sheets["gap"]
    assert loose_joints(wall, HELD, FREE + 60.0, pitch) <= told
    assert told <= loose_joints(wall, HELD + 1.0, FREE - 60.0, pitch)
