"""Braces on arbitrary valid walls: nothing in one place, within the wall, on timber at both ends, counted.

And what a rule of this family may not do.
"""

from __future__ import annotations

import csv
import io
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from soleplate.engine import UnbuildableError, lay_out, load_registry
from soleplate.engine.layout import Layout, Piece, WallOut
from soleplate.engine.registry import RuleError
from soleplate.engine.shapes import area, contains, overlap, pairs
from soleplate.viewer.bodies.meshes import METRE, Mesh, body_of, mesh_of
from soleplate.viewer.drawings import WallSheet, draw_wall
from soleplate.viewer.lists import besides_timber, buying_list_csv, cutting_list_csv, cutting_rows
from soleplate.viewer.words import ENGLISH
from tests.buildings import building, layout_of

RANGE = {"cut in": (35.0, 60.0), "let in": (45.0, 60.0), "strap": (30.0, 60.0)}

rules = st.lists(
    st.one_of(
        st.builds(
            lambda rule, ends: {"rule": rule, "ends": ends},
            st.sampled_from(["cut-in", "let-in", "straps"]),
            st.sampled_from(["left", "right", "both"]),
        ),
        st.builds(lambda face: {"rule": "let-in", "face": face}, st.sampled_from(["outside", "inside"])),
    ),
    min_size=1,
    max_size=2,
)
openings = st.lists(
    st.builds(
        lambda left, width, sill: {
            "name": f"o{left}",
            "kind": "window" if sill else "door",
            "width": width * 100,
            "height": 700 if sill else 1800,
            **({"sill": sill} if sill else {}),
            "at": {"left": left * 100},
        },
        st.integers(2, 40),
        st.integers(4, 15),
        st.sampled_from([0, 900]),
    ),
    max_size=2,
)


def walls_with(bracing: list[dict[str, Any]], **more: Any) -> Layout:
    value = building(**more)
    value["defaults"] = {**value["defaults"], "bracing": bracing}
    return layout_of(value)


def cut_out(piece: Piece, depth: tuple[float, float]) -> float:
    """How much of a piece's face its housings take away at a depth, mm2."""
    taken = 0.0
    for each in piece.housings or ():
        deep = piece.depth[1] - piece.depth[0]
        near, far = (0.0, each.deep) if each.face == "outside" else (deep - each.deep, deep)
        if near + piece.depth[0] < depth[1] and depth[0] < far + piece.depth[0]:
            taken += area(each.outline)
    return taken


def in_common(one: Piece, other: Piece) -> float:
    """The area that two outlines share, mm2."""
    return float(Polygon(one.outline).intersection(Polygon(other.outline)).area)


def check(wall: WallOut) -> None:
    timbers = [piece for piece in wall.pieces if piece.is_frame]
    by_mark = {piece.mark: piece for piece in timbers}
    for brace in wall.braces:
        least, most = RANGE[brace.kind]
        assert least - 0.01 <= brace.angle <= most + 0.01
        outlines = [by_mark[mark].outline for mark in brace.pieces]
        outlines += [brace.strap.outline] if brace.strap else []
        for outline in outlines:
            assert all(-0.011 <= x <= wall.length + 0.011 and z >= -0.011 for x, z in outline)
            for hole in wall.openings:
                inner = ((hole.left, hole.bottom), (hole.right, hole.bottom), (hole.right, hole.top),
                         (hole.left, hole.top))  # fmt: skip
                assert not overlap(outline, inner)
        for piece in (by_mark[mark] for mark in brace.pieces):
            for other in timbers:
                if other is not piece and shares_depth(piece, other):
                    cut = cut_out(other, piece.depth) if brace.kind == "let in" else 0.0
                    # Corners come out at 0.001 mm, along edges of some metres.
                    assert in_common(piece, other) <= cut + 8.0
            if brace.kind == "cut in":
                grain = brace.angle if brace.rises == "right" else -brace.angle
                assert_on_timber(piece, grain, timbers)
        for x, z in (brace.foot, brace.head):
            ends = [p for p in timbers if p.role in ("sole plate", "head plate", "raked plate")]
            near = [(x + a, z + b) for a in (-1.0, 1.0) for b in (-1.0, 1.0)]
            at_door = [hole for hole in wall.openings if hole.left - 200 < x < hole.right + 200]
            # A cut-in row may end in the corner of stud and plate.
            assert any(contains(p.outline, spot) for p in ends for spot in near) or at_door


def shares_depth(one: Piece, other: Piece) -> bool:
    return min(one.depth[1], other.depth[1]) - max(one.depth[0], other.depth[0]) > 0.02


def assert_on_timber(piece: Piece, angle: float, timbers: list[Piece]) -> None:
    """The faces at its ends, which are all but its two long sides, lie against other pieces."""
    for (x0, z0), (x1, z1) in pairs(piece.outline):
        size = math.dist((x0, z0), (x1, z1))
        off = (math.degrees(math.atan2(z1 - z0, x1 - x0)) - angle) % 180.0
        if min(off, 180.0 - off) < 0.5 or size < 2.0:
            continue
        spot = ((x0 + x1) / 2 + 0.5 * (z1 - z0) / size, (z0 + z1) / 2 - 0.5 * (x1 - x0) / size)
        assert any(contains(other.outline, spot) for other in timbers if other is not piece), piece.mark


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
@given(
    rules,
    openings,
    st.sampled_from([{"rule": "equal-bays", "largest_bay": 600}, {"rule": "fixed-centres", "centres": 400}]),
    st.sampled_from([None, {"rule": "staggered", "rows": 2}]),
    st.sampled_from(["plain", "three-stud", "boxed"]),
    st.sampled_from(["single", "double"]),
    st.integers(18, 60),
    st.sampled_from([2.0, 6.0, 15.0]),
)  # fmt: skip
def test_braces_of_arbitrary_walls_are_sound(
    bracing: list[dict[str, Any]],
    holes: list[dict[str, Any]],
    studs: dict[str, Any],
    noggins: dict[str, Any] | None,
    corners: str,
    plates: str,
    length: int,
    pitch: float,
) -> None:
    try:
        layout = walls_with(
            bracing,
            outline={"length": length * 100, "width": 2700, "through": "front-back"},
            roof={"form": "mono-pitch", "high_side": "front", "low_height": 2100, "pitch": pitch},
            defaults={
                "studs": studs,
                "corners": {"rule": corners},
                "top_plates": {"rule": plates},
                **({"noggins": noggins} if noggins else {}),
            },
            walls={"front": {"openings": holes}, "right": {"openings": []}},
        )
    except UnbuildableError:
        assume(False)
        return
    for wall in layout.walls:
        check(wall)
    marks = [mark for row in layout.cutting_list for mark in row.marks]
    assert sorted(marks) == sorted(piece.mark for wall in layout.walls for piece in wall.pieces)


def test_without_bracing_nothing_is_said_of_it() -> None:
    told = layout_of(building()).model_dump_json(exclude_none=True)
    assert '"braces"' not in told
    assert '"housings"' not in told


def test_what_braces_take_is_on_the_buying_list() -> None:
    layout = walls_with([{"rule": "straps"}, {"rule": "let-in", "material": "C24"}])
    straps = [brace for wall in layout.walls for brace in wall.braces if brace.strap]
    boards = [piece for wall in layout.walls for piece in wall.pieces if piece.role == "let-in brace"]
    row = next(row for row in layout.goods if row.kind == "bracing strap")
    wraps = sum(2 * brace.strap.wrap for brace in straps if brace.strap)
    assert row.quantity == pytest.approx((sum(b.length for b in straps) + wraps) / 1000, abs=1e-3)
    assert row.to_buy >= row.quantity * 1.05
    bought = next(row for row in layout.buying_list if row.section == (25.0, 100.0))
    assert (bought.pieces, bought.material) == (len(boards), "C24")
    assert bought.total_length == pytest.approx(sum(piece.length for piece in boards), abs=0.01)
    said = [line.timber for line in besides_timber(layout, ENGLISH)]
    assert "bracing strap, 30 × 0.8 mm" in said
    cells = [row["what"] for row in csv.DictReader(io.StringIO(buying_list_csv(layout).decode("utf-8-sig")))]
    assert {"bracing strap", "strap nail", "strap tensioner", "brace nail"} <= set(cells)


def test_the_cutting_list_tells_housings() -> None:
    layout = walls_with(
        [{"rule": "let-in", "angle": 50, "ends": "left"}], outline={"length": 4500, "width": 3600}
    )
    rows = list(csv.DictReader(io.StringIO(cutting_list_csv(layout).decode("utf-8-sig"))))
    studs = [row["ends"] for row in rows if row["role"] == "stud" and "housed" in row["ends"]]
    assert studs
    assert all(
        "outside housed 25 mm deep for what is 100 mm wide and rises right, 40° off" in ends for ends in studs
    )


@pytest.mark.parametrize(
    ("rule", "tag"), [("straps", "bracing strap"), ("let-in", "let-in brace"), ("cut-in", ", brace,")]
)
def test_braces_are_drawn(rule: str, tag: str) -> None:
    layout = walls_with([{"rule": rule}])
    sheet = WallSheet(layout, cutting_rows(layout))
    drawn = draw_wall(layout.walls[0], sheet)
    assert ('class="straps"' in drawn) is (rule == "straps")
    if rule != "straps":
        assert tag in drawn


WRONG = '''
from typing import Literal
from soleplate.engine.rules import Brace, Braced, BracingRule, Member, hookimpl, rectangle

class Wrong(BracingRule):
    """Braces badly."""
    rule: Literal["wrong"] = "wrong"
    examples = ({{"rule": "wrong"}},)
    def brace_wall(self, wall):
        box, far = rectangle(100.0, 200.0, 0.0, 500.0), rectangle(-9.0, 9.0, 0.0, 9.0)
        member = Member("brace", wall.section, box, (0.0, 20.0), 45.0)
        return {answer}

@hookimpl
def register_rules():
    return [Wrong]
'''


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        ("None", "Braced belongs"),
        ("Braced((), left_out=(wall.members[0],))", "accepted is to leave out what only fills"),
        ("Braced((), left_out=(member,))", "not in the wall"),
        ("Braced((Brace((0.0, 0.0), (1.0, 1.0), 10.0, 10.0, box),))", "either of timber or a strap"),
        ("Braced((Brace((0.0, 0.0), (1.0, 1.0), 10.0, -1.0, box, (member,)),))", "-1.0 mm long"),
        ("Braced((Brace((0.0, 0.0), (1.0, 1.0), 10.0, 10.0, box, (member,)),))", "overlaps"),
        ("Braced((Brace((0.0, 0.0), (1.0, 1.0), 10.0, 10.0, far, (member,)),))", "leaves"),
    ],
)  # fmt: skip
def test_a_rule_that_braces_badly_is_named(tmp_path: Path, answer: str, said: str) -> None:
    file = tmp_path / "wrong.py"
    file.write_text(WRONG.format(answer=answer))
    registry = load_registry(files=[file])
    value = building(defaults={"bracing": [{"rule": "wrong"}]})
    with pytest.raises(RuleError, match=said):
        lay_out(registry.read_building(value), registry)


def volume(mesh: Mesh) -> float:
    """Of a closed mesh, by the divergence theorem, mm3."""
    corners = [mesh.corners[at : at + 3] for at in range(0, len(mesh.corners), 3)]
    six = 0.0
    for at in range(0, len(mesh.triangles), 3):
        (a, b, c), (d, e, f), (g, h, i) = (corners[index] for index in mesh.triangles[at : at + 3])
        six += a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    return six / 6 * METRE**3


def test_what_is_housed_is_cut_out_of_bodies_too() -> None:
    layout = walls_with([{"rule": "let-in"}, {"rule": "let-in", "face": "inside", "section": [19, 89]}])
    housed = [piece for wall in layout.walls for piece in wall.pieces if piece.housings]
    assert len(housed) > 10
    for piece in housed:
        deep = piece.depth[1] - piece.depth[0]
        left = area(piece.outline) * deep - sum(area(h.outline) * h.deep for h in piece.housings or ())
        body, _ = body_of(piece)
        assert volume(mesh_of(body)) == pytest.approx(left, rel=1e-4)
        assert piece.weight_kg == pytest.approx(left * 370e-9, rel=0.01)
