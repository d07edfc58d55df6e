"""The cladding rules one by one."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any, ClassVar, Literal

import pytest
from hypothesis import HealthCheck, given, reject, settings
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, unary_union

from soleplate.engine import lay_out
from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.contract.rules import with_rule
from soleplate.engine.layout import Layout, Piece
from soleplate.engine.registry import Patience, RegisteredRule
from soleplate.plugins.cladding_lapped import Lapped
from soleplate.plugins.cladding_rebated import Rebated
from soleplate.plugins.cladding_upright import BoardAndBatten, BoardOnBoard
from tests.buildings import HONEY_HOUSE, building, honey_house, layout_of, registry, wall_of
from tests.engine.cladding.walls import assert_covered, clad_buildings
from tests.floors import FLOOR


def clad(cladding: dict[str, Any], **changes: Any) -> Layout:
    value = honey_house()
    value["defaults"]["cladding"] = cladding
    return layout_of(value | changes)


def codes(layout: Layout, wall: str | None = None) -> set[str]:
    return {finding.code for finding in layout.findings if wall is None or finding.wall == wall}


def of(layout: Layout, wall: str, role: str) -> list[Piece]:
    return [piece for piece in wall_of(layout, wall).pieces if piece.role == role]


heights = st.floats(100.0, 4000.0)


@given(st.lists(heights, min_size=1, max_size=3), st.floats(40.0, 300.0), st.floats(0.0, 0.5))
def test_the_least_drop_that_serves_is_chosen(tops: list[float], cover: float, share: float) -> None:
    """Against every drop in steps of a quarter of a millimetre."""
    wanted = cover * share
    rule = Rebated(width=1.5 * cover, cover=cover, least_drop=10.0, most_drop=80.0, narrowest_rip=wanted)
    chosen = rule.choose_start(tops, [], [], 10.0, 80.0)

    def narrow(drop: float) -> bool:
        rests = [(top + drop) % cover for top in tops]
        return any(1e-3 < rest < wanted - 1e-3 and cover - rest > 1e-3 for rest in rests)

    serving = [drop for drop in (10.0 + step / 4 for step in range(281)) if not narrow(drop)]
    assert 10.0 <= chosen <= 80.0
    if serving:
        assert not narrow(chosen)
        assert chosen <= serving[0] + 1e-3


@given(
    st.lists(heights, min_size=1, max_size=3),
    st.lists(heights, max_size=3),
    st.floats(90.0, 200.0),
    st.floats(0.0, 90.0),
)
def test_of_drops_that_serve_tops_none_leaves_fewer_narrow_strips(
    sills: list[float], heads: list[float], cover: float, over: float
) -> None:
    """Against every drop in steps of a quarter of a millimetre."""
    rule = Rebated(width=1.5 * cover, cover=cover, least_drop=10.0, most_drop=10.0 + over)

    def narrow(drop: float, slack: float) -> int:
        strips = [(sill + drop) % cover for sill in sills] + [-(head + drop) % cover for head in heads]
        return sum(slack < strip < 40.0 - slack and cover - strip > slack for strip in strips)

    chosen = rule.choose_start([], sills, heads, 10.0, 10.0 + over)
    best = min(narrow(10.0 + step / 4, 0.0) for step in range(int(over * 4) + 1))
    assert narrow(chosen, 1e-3) <= best


@given(
    st.lists(heights, min_size=1, max_size=3),
    st.floats(40.0, 300.0),
    st.floats(0.0, 0.5),
    st.floats(0.0, 90.0),
    st.booleans(),
)
def test_the_first_course_is_ripped_only_where_no_drop_serves(
    tops: list[float], cover: float, share: float, over: float, bounded: bool
) -> None:
    """Against every drop and every rip in steps of half a millimetre."""
    wanted = cover * share
    rule = Rebated(
        width=1.5 * cover, cover=cover, least_drop=10.0, most_drop=10.0 + over, narrowest_rip=wanted
    )
    drop, ripped = rule.choose_first(tops, [], [], bounded=bounded)
    drops = (0.0, 0.0) if bounded else (10.0, 10.0 + over)
    assert drops[0] <= drop <= drops[1]
    assert 0.0 <= ripped <= cover / 2 + 1e-9

    def narrowest(start: float) -> float:
        return min([r for top in tops if 1e-6 < (r := (top + start) % cover) < cover - 1e-6], default=cover)

    starts = [drops[0] + step / 2 for step in range(int(2 * (drops[1] - drops[0])) + 1)]
    rips = [drops[1] + step / 2 for step in range(int(cover) + 1)]
    if any(narrowest(start) >= wanted for start in starts):
        assert ripped == 0.0
    best = max(map(narrowest, (*starts, *rips)))
    assert narrowest(drop + ripped) >= min(wanted, best) - 1e-3
    if len(tops) == 1:
        assert narrowest(drop + ripped) >= wanted - 1e-3


@settings(max_examples=25, deadline=None)
@given(
    st.integers(1900, 2600), st.sampled_from([("tongue-and-groove", 125, 110, 2), ("rebated", 145, 130, 0)])
)
def test_a_lining_on_a_floor_has_no_narrow_last_course(
    height: int, profile: tuple[str, int, int, int]
) -> None:
    """It begins at the floor, whatever the height: what the last course lacks the first one gives up."""
    rule, width, cover, gap = profile
    lining = {"rule": rule, "width": width, "cover": cover, "gap": gap, "thickness": 15}
    value = building(roof={"form": "level", "height": height}, floor=FLOOR)
    value["defaults"]["lining"] = lining
    layout = layout_of(value)
    for wall in layout.walls:
        boards = [piece for piece in wall.pieces if piece.face == "inside" and piece.course]
        bottom = min(z for piece in boards for _, z in piece.outline)
        assert bottom == 0.0
        by_course: dict[int, list[float]] = {}
        for piece in boards:
            seen = [z for outline in piece.seen or () for _, z in outline]
            by_course.setdefault(piece.course or 0, []).append(max(seen) - min(seen))
        shown = {course: max(those) for course, those in by_course.items()}
        first, *between, last = [shown[course] for course in sorted(shown)]
        assert last >= 40.0 - 0.001
        assert first >= (cover + gap) / 2 - 0.001
        assert set(between) == {float(cover + gap)}
        if last == cover + gap:
            continue
        rips = {piece.rip for piece in boards if piece.course == 1}
        assert all(rip is None or rip == pytest.approx(width - (cover + gap - first)) for rip in rips)
    assert_covered(layout, lining, "inside")
    assert "narrow-rip" not in codes(layout)


def test_a_narrow_course_is_told_with_its_number_and_height() -> None:
    """Two tops that no first course serves; what is told, against the outlines of the boards it names."""
    rule = {"rule": "rebated", "cover": 130, "least_drop": 20, "most_drop": 20, "narrowest_rip": 65}
    value = building(
        outline={"length": 4500, "width": 2700},
        roof={"form": "mono-pitch", "high_side": "front", "low_height": 2067, "high_height": 2132},
        defaults={"cladding": rule},
    )
    layout = layout_of(value)
    told = {finding.wall: finding for finding in layout.findings if finding.code == "narrow-rip"}
    for name, finding in told.items():
        marks = set(finding.pieces)
        seen = [
            z
            for p in wall_of(layout, name or "").pieces
            if p.mark in marks
            for o in p.seen or ()
            for _, z in o
        ]
        assert finding.value == pytest.approx(max(seen) - min(seen), abs=0.01)
        (course,) = {p.course for p in wall_of(layout, name or "").pieces if p.mark in marks}
        assert f"course {course} ({finding.value:.0f} mm)" in finding.message
        assert "in its lining" not in finding.message
    assert told


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(clad_buildings())
def test_no_narrow_board_goes_without_a_word(value: dict[str, Any]) -> None:
    """Of level boards the height seen, of upright ones the width beside openings: told if under 40 mm."""
    try:
        layout = layout_of(value)
    except UnbuildableError:
        reject()
    told = {m for f in layout.findings if f.code in ("narrow-rip", "narrow-board") for m in f.pieces}
    for wall in layout.walls:
        for piece in wall.pieces:
            if piece.role != "board":
                continue
            seen = unary_union([Polygon(outline) for outline in piece.seen or ()])
            _, low, _, high = seen.bounds
            if piece.course is not None:
                assert (piece.mark in told) == (high - low < 39.5), piece.mark
                continue
            outline = Polygon(piece.outline)
            legs = [
                outline.intersection(LineString([(-1e4, z), (1e4, z)]))
                for hole in wall.openings
                for z in ((max(hole.bottom, 0.0) + hole.top) / 2,)
            ]
            widths = [
                part.length for leg in legs for part in getattr(leg, "geoms", [leg]) if part.length > 0.01
            ]
            if min(widths, default=40.0) < 39.5:
                assert piece.mark in told, piece.mark


def test_lapped_boards_have_a_starter_strip_that_is_listed_and_bought() -> None:
    """By hand: 20 mm under the frame and 25 mm over its lower edge, 8 mm thick, cut out at the doors."""
    value = honey_house()
    value["defaults"]["cladding"] = {"rule": "lapped", "width": 150, "thin_edge": 8, "drop": 20}
    layout = layout_of(value)
    strips = {wall.name: of(layout, wall.name, "starter strip") for wall in layout.walls}
    assert {name: len(own) for name, own in strips.items()} == {"front": 2, "right": 1, "back": 1, "left": 1}
    every = [piece for own in strips.values() for piece in own]
    assert {piece.section for piece in every} == {(8.0, 45.0)}
    assert {(min(z for _, z in p.outline), max(z for _, z in p.outline)) for p in every} == {(-20.0, 25.0)}
    assert {piece.depth for piece in every} == {(-8.0, 0.0)}
    assert all(len(piece.fixed_at or ()) >= 2 for piece in every)
    rows = [row for row in layout.cutting_list if row.role == "starter strip"]
    assert sorted(mark for row in rows for mark in row.marks) == sorted(piece.mark for piece in every)
    (bought,) = [row for row in layout.boards if row.role == "starter strip"]
    assert bought.value >= sum(piece.length for piece in every)
    assert [row.section for row in layout.buying_list].count((8.0, 45.0)) == 1
    on_battens = clad({"rule": "lapped", "battens": {"section": [25, 50]}})
    assert {piece.depth for piece in of(on_battens, "front", "starter strip")} == {(-33.0, -25.0)}


def test_a_drop_is_chosen_without_going_through_all_openings_for_each(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Hundreds of openings offer thousands of drops."""
    looked_at: list[int] = []
    strips = Rebated._strips

    def counting(rule: Rebated, drop: float, below: Sequence[float], above: Sequence[float]) -> list[float]:
        looked_at.append(len(below) + len(above))
        return strips(rule, drop, below, above)

    monkeypatch.setattr(Rebated, "_strips", counting)
    openings = [100.0 + 7.3 * number for number in range(200)]
    Rebated(width=145, cover=130, most_drop=80).choose_start([2400.0], openings, openings, 20.0, 80.0)
    assert 100 < sum(looked_at) < 2_000


def test_narrow_strips_at_openings_are_told() -> None:
    """By hand: courses of 130 mm from 20 mm down; the door's head at 1880 + 5 mm is 65 mm under an edge."""
    rule = {"rule": "rebated", "cover": 130, "least_drop": 20, "most_drop": 20, "narrowest_rip": 65}
    level = {"form": "level", "height": 2320}
    layout = clad({**rule, "clearance": 5}, roof=level)
    told = {f.wall: f for f in layout.findings if f.code == "narrow-strip"}
    edges = {round(course.bottom, 3) for course in layout.storey_rod}
    assert 1930.0 in edges
    assert told["front"].value == 45.0
    assert "45 mm over doors" in told["front"].message
    assert "narrow-strip" not in codes(clad({**rule, "narrowest_rip": 44}, roof=level), "front")


def test_the_last_course_is_ripped_and_said() -> None:
    layout = clad({"rule": "rebated", "cover": 130})
    for name in ("front", "back"):
        wall = wall_of(layout, name)
        last = wall.courses[-1]
        assert last.rip is not None
        assert last.rip >= 40.0
        assert last.top == pytest.approx(wall.top_line[0][1])
        assert all(piece.rip == last.rip for piece in wall.pieces if piece.mark in last.boards)
        assert all(course.rip is None for course in wall.courses[:-1])
    assert "narrow-rip" not in codes(layout)


@given(heights, st.dictionaries(st.floats(50.0, 3900.0), st.floats(300.0, 2000.0), max_size=4))
def test_zones_are_whole_courses_within_their_limits(end: float, edges: dict[float, float]) -> None:
    rule = Lapped(width=150.0)
    zones = rule.choose_zones(-20.0, end, edges)
    assert zones.levels[0] == -20.0
    assert zones.levels[-1] == end
    assert all(level in edges for level in zones.levels[1:-1])
    assert max(zones.exposures) <= rule.most + 1e-6
    if len(zones.counts) > 1:
        assert zones.spread <= rule.most_difference + 1e-6


def test_board_edges_meet_sills_and_heads() -> None:
    layout = clad({"rule": "lapped", "width": 150, "clearance": 0, "most_difference": 25})
    edges = {round(course.bottom, 3) for course in layout.storey_rod}
    met = {edge for edge in (950.0, 1650.0, 1100.0, 1700.0, 1880.0) if edge in edges}
    assert {1100.0, 1700.0, 1880.0} <= met
    notched = {cut.at for course in layout.storey_rod for cut in course.cut_outs}
    assert notched == {950.0, 1650.0, 1100.0, 1700.0, 1880.0} - met


@given(st.floats(200.0, 9000.0), st.floats(90.0, 200.0), st.floats(5.0, 30.0))
def test_boards_on_boards_are_even_and_lap_enough(length: float, width: float, lap: float) -> None:
    rule = BoardOnBoard(width=width, least_lap=lap)
    count, outer, gap = rule.spacing(length)
    assert count * outer + (count - 1) * gap == pytest.approx(length)
    assert 0.0 < outer <= width + 1e-6
    if count > 1:
        assert gap > 10.0
        assert (width - gap) / 2 >= lap - 1e-6


@given(st.floats(200.0, 9000.0), st.floats(110.0, 200.0))
def test_boards_and_battens_end_at_the_ends(length: float, width: float) -> None:
    rule = BoardAndBatten(width=width)
    gap, edges = rule.edges(length)
    assert edges[0][0] == 0.0
    assert edges[-1][1] == pytest.approx(length)
    assert all(after[0] - before[1] == pytest.approx(gap) for before, after in pairwise(edges))
    assert all(end - start <= width + 1e-6 for start, end in edges)
    if len(edges) > 1:
        assert rule.gap - 1e-6 <= gap <= rule.cover_width - 2 * rule.least_lap + 1e-6
        assert edges[0][1] - edges[0][0] == pytest.approx(edges[-1][1] - edges[-1][0])


def test_level_battens_go_on_the_studs_first() -> None:
    layout = clad({"rule": "board-on-board", "counter_battens": {"section": [16, 50]}})
    battens = of(layout, "left", "batten")
    assert {piece.depth for piece in battens} == {(-16.0, 0.0), (-66.0, -16.0)}
    assert {piece.depth for piece in of(layout, "left", "board")} == {(-91.0, -66.0), (-116.0, -91.0)}
    rows = sorted({min(z for _, z in p.outline) for p in battens if p.depth[0] == -66.0})
    assert max(after - before for before, after in pairwise(rows)) <= 600.0 + 0.001


def test_a_batten_follows_each_slope_and_holds_the_tops_of_boards() -> None:
    """By hand: 1500 mm of a slope of 30 degrees are 1500 / cos 30 = 1732.05 mm."""
    value = building(
        outline={"length": 3000, "width": 3000, "through": "left-right"},
        roof={"form": "duo-pitch", "ridge": "left-right", "low_height": 2000, "pitch": 30},
    )
    value["defaults"]["cladding"] = {"rule": "board-and-batten", "battens": {"section": [50, 50]}}
    layout = layout_of(value)
    battens = of(layout, "left", "batten")
    raking = [piece for piece in battens if piece.ends[0].cut == "bevel" and piece.ends[0].angle == 30.0]
    reach = max(x for piece in raking for x, _ in piece.outline) - 1500.0
    assert [piece.short_length for piece in raking] == pytest.approx(
        [reach / math.cos(math.radians(30.0))] * 2
    )
    assert {piece.taper for piece in raking} == {None}
    assert all(len(piece.fixed_at or ()) >= 3 for piece in raking)
    outlines = [Polygon(piece.outline) for piece in battens]
    assert sum(each.area for each in outlines) == pytest.approx(unary_union(outlines).area, abs=1.0)
    assert not codes(layout) & {"board-top-free", "fixing-near-end"}


def test_a_batten_on_every_stud_beside_openings_too() -> None:
    layout = clad({"rule": "rebated", "cover": 130, "battens": {"section": [25, 50]}})
    battens = of(layout, "right", "batten")
    edges = {round(x, 1) for piece in battens for x, _ in piece.outline}
    (window,) = wall_of(layout, "right").openings
    assert {window.left - 5.0, window.right + 5.0} <= edges
    assert all(piece.depth == (-25.0, 0.0) for piece in battens)
    assert all(piece.depth == (-50.0, -25.0) for piece in of(layout, "right", "board"))


def test_boards_end_at_corner_boards() -> None:
    layout = clad({"rule": "rebated", "cover": 130, "runs_past": "corner-boards", "corner_board": [22, 90]})
    for wall in layout.walls:
        left, right = of(layout, wall.name, "corner board")
        inner = max(x for x, _ in left.outline)
        assert inner == min(x for piece in of(layout, wall.name, "board") for x, _ in piece.outline)
        assert max(x for x, _ in right.outline) - min(x for x, _ in right.outline) == pytest.approx(90.0)
        assert left.depth == (-22.0, 0.0)


def test_a_board_under_a_rake_has_its_bevel_and_both_lengths() -> None:
    layout = clad({"rule": "board-on-board"})
    board = of(layout, "left", "board")[0]
    assert board.ends[1].cut == "bevel"
    assert board.ends[1].angle == pytest.approx(6.0)
    assert board.short_length < board.length


def test_a_level_board_under_a_gable_is_cut_to_its_slope() -> None:
    roof = {"form": "duo-pitch", "ridge": "front-back", "low_height": 2000, "pitch": 30}
    layout = layout_of(building(roof=roof, defaults={"cladding": {"rule": "rebated", "cover": 130}}))
    board = next(p for p in of(layout, "front", "board") if p.ends[0].cut == p.ends[1].cut == "bevel")
    assert [(end.angle, end.long_point) for end in board.ends] == [(60.0, "bottom"), (60.0, "bottom")]
    height = max(z for _, z in board.outline) - min(z for _, z in board.outline)
    assert board.short_length == pytest.approx(
        board.length - 2 * height / math.tan(math.radians(30)), abs=0.01
    )
    assert board.taper is None


def test_a_level_board_under_a_shallow_rake_is_ripped_to_a_taper() -> None:
    layout = clad({"rule": "rebated", "cover": 130})
    ripped = [piece for piece in of(layout, "left", "board") if piece.taper is not None]
    assert ripped
    for piece in ripped:
        (rip,) = piece.taper or ()
        assert rip.angle == 6
        assert rip.to_width - rip.from_width == pytest.approx(
            (rip.to - rip.from_) * math.tan(math.radians(6)), abs=0.001
        )
        assert all(end.angle is None or end.angle < 75 for end in piece.ends)
    rows = [row for row in layout.cutting_list if row.taper is not None]
    assert sum(row.count for row in rows) == sum(
        piece.taper is not None for wall in layout.walls for piece in wall.pieces
    )


def test_walls_share_courses_though_they_differ_in_what_does_not_decide_them() -> None:
    rule = {"rule": "rebated", "cover": 130}
    value = building(
        defaults={"cladding": rule},
        walls={"front": {"cladding": rule | {"over_plate": 40, "battens": {"section": [25, 50]}}}},
    )
    layout = layout_of(value)
    assert len({course.walls for course in layout.storey_rod if course.number == 1}) == 1
    assert "courses-apart" not in {finding.code for finding in layout.findings}
    value["walls"]["front"]["cladding"] = rule | {"cover": 120}
    told = {finding.wall for finding in layout_of(value).findings if finding.code == "courses-apart"}
    assert told == {"left", "right"}


def test_boards_that_end_at_a_rake_are_fixed_to_its_plate() -> None:
    roof = {"form": "duo-pitch", "ridge": "front-back", "low_height": 2100, "pitch": 30}
    outline = {"length": 4500, "width": 2700, "through": "pinwheel"}
    layout = layout_of(
        building(roof=roof, outline=outline, defaults={"cladding": {"rule": "rebated", "cover": 130}})
    )
    on_slope = [p for p in of(layout, "back", "board") if any(end.cut == "bevel" for end in p.ends)]
    assert on_slope
    assert [p.mark for p in on_slope if not p.fixed_at and p.length > 300] == []


def test_boards_to_buy_are_told_once() -> None:
    rule = {"rule": "rebated", "cover": 130, "lengths": [3000, 3600]}
    value = building(defaults={"cladding": rule})
    alone = layout_of(value)
    (kind,) = alone.boards
    (row,) = [row for row in alone.buying_list if row.section == kind.section]
    assert [(line.stock_length, line.count) for line in row.lengths] == [
        (b.length, b.count) for b in kind.lengths
    ]
    sale = [{"length": 3000}, {"length": 3600}]
    value["stock"] = {"stock": [{"section": [25, 145], "material": "softwood", "lengths": sale}]}
    planned = with_saw_plan(layout_of(value), registry().read_building(value))
    (kind,) = planned.boards
    (row,) = [row for row in planned.buying_list if row.section == kind.section]
    assert [
        (line.count, line.stock_length) for line in sorted(row.lengths, key=lambda b: b.stock_length)
    ] == [(b.count, b.length) for b in kind.lengths]
    assert planned.saw_plan is not None
    assert sum(line.count for line in row.lengths) == len(planned.saw_plan.lengths)


def test_boards_reach_over_the_plate() -> None:
    layout = clad({"rule": "rebated", "cover": 130, "over_plate": 35})
    assert max(z for piece in of(layout, "back", "board") for _, z in piece.outline) == 1995.0


def test_sheets_have_their_edges_on_studs() -> None:
    value = building(
        roof={"form": "level", "height": 3000},
        defaults={
            "studs": {"rule": "fixed-centres", "centres": 600},
            "noggins": {"rule": "straight", "behind_sheets": 2400},
            "cladding": {"rule": "sheets", "width": 1197, "height": 2397, "runs_past": "walls-between"},
        },
    )
    layout = layout_of(value)
    back = of(layout, "back", "sheet")
    rows = {min(z for _, z in piece.outline) for piece in back}
    assert rows == {0.0, 2400.0}
    studs = {round(sum(x for x, _ in piece.outline) / 4, 3) for piece in of(layout, "back", "stud")}
    by_row = [
        sorted(max(x for x, _ in p.outline) + 1.5 for p in back if min(z for _, z in p.outline) == row)[:-1]
        for row in sorted(rows)
    ]
    assert all(round(joint, 3) in studs for joints in by_row for joint in joints)
    assert not set(by_row[0]) & set(by_row[1])
    assert not codes(layout) & {"joint-unbacked", "sheet-edge-loose"}
    value["defaults"]["noggins"] = {"rule": "straight", "rows": 1}
    assert "joint-unbacked" in codes(layout_of(value))


def test_no_room_to_stand_is_told_and_counted_in_the_lift() -> None:
    cladding = {"rule": "rebated", "cover": 130}
    roomy, tight = clad(cladding), clad(cladding, site={"people": 1, "room": {"front": 450}})
    assert "no-room-to-clad" in codes(tight, "front")
    assert "no-room-to-clad" not in codes(tight, "right")
    weights = [
        next(f.value for f in layout.findings if f.code == "heavy-wall" and f.wall == "front")
        for layout in (roomy, tight)
    ]
    assert weights[1] == pytest.approx(wall_of(tight, "front").weight_kg)
    assert weights[0] is not None
    assert weights[0] < wall_of(roomy, "front").weight_kg


def test_a_shallow_cavity_is_told() -> None:
    assert "shallow-cavity" in codes(clad({"rule": "lapped", "battens": {"section": [19, 38]}}))
    assert "shallow-cavity" not in codes(clad({"rule": "lapped", "battens": {"section": [25, 38]}}))


def test_a_measured_wall_tells_which_boards_changed() -> None:
    rule = {"rule": "rebated", "cover": 130, "lengths": [6000], "least_board": 3000}
    layout = clad(rule, measured={"back": {"length": 4510}})
    changed = {change.mark for change in wall_of(layout, "back").changes if change.what == "length"}
    whole = {p.mark for p in of(layout, "back", "board") if p.length > 4500}
    assert whole
    assert whole <= changed


@pytest.mark.parametrize(("gap", "level"), [(0, "warn"), (2, "warn"), (3, "note")])
def test_the_gap_is_compared_with_what_boards_move(gap: int, level: str) -> None:
    """145 mm of softwood over 6 % of moisture: 145 x 0.0025 x 6 = 2.2 mm (EN 336's rate)."""
    layout = clad({"rule": "rebated", "cover": 127, "gap": gap}, site={"moisture_swing": 6})
    (told,) = [finding for finding in layout.findings if finding.code == "board-movement"]
    assert told.level == level
    assert told.value == pytest.approx(2.175)
    cladding = wall_of(layout, "front").cladding
    assert cladding is not None
    assert cladding.width_change == pytest.approx(2.175)
    assert cladding.gap == gap


def test_boards_that_lap_move_freely() -> None:
    layout = clad({"rule": "lapped", "material": "Douglas fir"})
    (told,) = [finding for finding in layout.findings if finding.code == "board-movement"]
    assert told.level == "note"
    assert told.value == pytest.approx(150 * 0.00267 * 6)
    assert not codes(clad({"rule": "sheets"})) & {"board-movement"}


def test_notched_boards_keep_square_ends_and_are_alike_only_where_their_notches_are() -> None:
    layout = clad({"rule": "rebated", "cover": 130})
    notched = [piece for wall in layout.walls for piece in wall.pieces if piece.notched]
    assert notched
    assert all(end.cut == "square" for piece in notched if piece.taper is None for end in piece.ends)
    by_mark = {piece.mark: piece for piece in notched}
    for row in layout.cutting_list:
        shapes = {
            tuple(
                (
                    round(x - min(u for u, _ in piece.outline), 2),
                    round(z - min(v for _, v in piece.outline), 2),
                )
                for x, z in piece.outline
            )
            for piece in (by_mark[mark] for mark in row.marks if mark in by_mark)
        }
        assert len(shapes) == bool(row.notched)


def test_a_batten_beside_an_opening_is_as_high_as_what_stands_there() -> None:
    """The honey house's doors, by hand: trimmers end under the lintel's top at 2025, kings go on up."""
    layout = clad({"rule": "rebated", "cover": 130, "battens": {"section": [25, 50]}})
    front = wall_of(layout, "front")
    (doors,) = front.openings
    battens = {
        min(x for x, _ in p.outline): (min(z for _, z in p.outline), max(z for _, z in p.outline))
        for p in front.pieces
        if p.role == "batten"
    }
    (lintel,) = (piece for piece in front.pieces if piece.role == "lintel" and piece.depth[0] == 0.0)
    over = max(z for _, z in lintel.outline)
    assert battens[doors.left - 5.0 - 50.0][1] == over
    (king,) = (piece for piece in front.pieces if piece.role == "king stud" and piece.outline[1][0] < 1500.0)
    middle = (king.outline[0][0] + king.outline[1][0]) / 2
    assert battens[middle - 25.0][0] == over


def test_a_sheet_round_a_window_is_jointed_on_an_upright_with_its_gap() -> None:
    layout = clad({"rule": "sheets", "width": 2440, "height": 2440, "gap": 3})
    right = wall_of(layout, "right")
    (window,) = right.openings
    joined = [
        (one, other)
        for one, other in pairwise(sorted(of(layout, "right", "sheet"), key=lambda p: min(p.outline)))
        if window.left < max(x for x, _ in one.outline) < window.right
    ]
    assert joined
    cripples = {sum(x for x, _ in p.outline) / 4 for p in of(layout, "right", "cripple")}
    for one, other in joined:
        left, right_ = max(x for x, _ in one.outline), min(x for x, _ in other.outline)
        assert right_ - left == pytest.approx(3.0)
        assert any(abs((left + right_) / 2 - centre) < 0.01 for centre in cripples)


def test_boards_that_do_not_lap_at_all_are_told() -> None:
    layout = clad({"rule": "rebated", "width": 130, "cover": 130})
    (found,) = [finding for finding in layout.findings if finding.code == "short-lap"]
    assert (found.value, found.limit) == (0.0, 15.0)


def test_what_is_found_of_a_lining_says_so() -> None:
    value = building(outline={"length": 4500, "width": 2700})
    value["defaults"]["lining"] = {"rule": "tongue-and-groove", "width": 95, "cover": 85, "thickness": 12}
    value["defaults"]["studs"] = {"rule": "equal-bays", "largest_centres": 900}
    layout = layout_of(value)
    wide = [finding for finding in layout.findings if finding.code == "boards-span-wide"]
    assert {finding.wall for finding in wide} == {"front", "right", "back", "left"}
    assert all(finding.message.startswith("in its lining, ") for finding in wide)
    assert all(
        piece.face == "inside"
        for finding in wide
        for piece in wall_of(layout, finding.wall or "").pieces
        if piece.mark in finding.pieces
    )
    (moves,) = [finding for finding in layout.findings if finding.code == "board-movement"]
    assert moves.message.startswith("lining of front, right, back, left: ")
    assert not codes(layout) & {"thin-board", "wide-board", "short-lap", "ground-unknown"}


def test_sheets_that_overhang_are_nailed_to_the_plates() -> None:
    """By hand: the sole plate from 0 to 45 mm, the head plate up to 2100; nails 10 mm within."""
    value = building(outline={"length": 3600, "width": 2400}, roof={"form": "level", "height": 2100})
    value["defaults"]["cladding"] = {"rule": "sheets", "height": 2440, "drop": 50, "over_plate": 25}
    for wall in layout_of(value).walls:
        for sheet in (piece for piece in wall.pieces if piece.role == "sheet"):
            rows = {z for _, z in sheet.fixed_at or ()}
            assert (min(rows), max(rows)) == (10.0, 2090.0)
            along = sorted(x for x, z in sheet.fixed_at or () if z == 10.0)
            assert max(after - before for before, after in pairwise(along)) <= 150.0


def test_a_narrow_leg_of_a_sheet_beside_an_opening_is_told() -> None:
    """Its width is what a level line half way up the window crosses of the sheet."""
    window = {"name": "w", "kind": "window", "width": 500, "height": 500, "sill": 900, "at": {"left": 680}}
    value = building(
        outline={"walls": [{"name": "wall", "length": 3600}]},
        roof={"form": "level", "height": 2100},
        walls={"wall": {"openings": [window]}},
    )
    value["defaults"] |= {
        "studs": {"rule": "fixed-centres", "centres": 600},
        "cladding": {"rule": "sheets", "width": 1240, "height": 2440},
    }
    layout = layout_of(value)
    sheets = of(layout, "wall", "sheet")
    line = LineString([(-100.0, 1150.0), (4000.0, 1150.0)])
    legs = [Polygon(piece.outline).intersection(line).length for piece in sheets]
    (told,) = [finding for finding in layout.findings if finding.code == "sheet-sliver"]
    assert told.value == pytest.approx(min(legs))
    assert told.pieces == tuple(p.mark for p, leg in zip(sheets, legs, strict=True) if leg < 100.0)
    for piece in sheets:
        edge = Polygon(piece.outline).boundary
        assert all(edge.distance(Point(place)) > 9.9 for place in piece.fixed_at or ())


@pytest.mark.parametrize("battens", [{}, {"battens": {"section": [25, 50]}}])
def test_boards_are_held_near_their_ends_under_a_slope_or_it_is_told(battens: dict[str, Any]) -> None:
    value = building(
        outline={"length": 3600, "width": 2400, "through": "front-back"},
        roof={"form": "duo-pitch", "ridge": "front-back", "low_height": 2000, "pitch": 15},
    )
    value["defaults"]["cladding"] = {"rule": "rebated", "width": 145, "cover": 130, **battens}
    layout = layout_of(value)
    told = {
        mark: finding.code
        for finding in layout.findings
        if finding.code in ("board-end-free", "board-loose", "cladding-loose")
        for mark in finding.pieces
    }
    sloped = [p for p in wall_of(layout, "front").pieces if p.course and p.taper]
    assert sloped
    for piece in sloped:
        places = sorted(x for x, _ in piece.fixed_at or ())
        reach = min(x for x, _ in piece.outline), max(x for x, _ in piece.outline)
        assert piece.mark in told or max(places[0] - reach[0], reach[1] - places[-1]) <= 150.5


def test_level_battens_are_fixed_to_the_counter_battens() -> None:
    value = json.loads((HONEY_HOUSE.parent / "hen_house.json").read_text())
    front = wall_of(layout_of(value), "front")
    counter = [Polygon(p.outline) for p in front.pieces if p.role == "batten" and p.depth == (-16.0, 0.0)]
    level = [p for p in front.pieces if p.role == "batten" and p.depth[1] == -16.0]
    assert level
    assert all(
        any(behind.contains(Point(place)) for behind in counter) for p in level for place in p.fixed_at or ()
    )


def test_corner_boards_longer_than_can_be_had_are_butted() -> None:
    cladding = {"rule": "rebated", "cover": 130, "runs_past": "corner-boards", "corner_board": [20, 95]}
    value = building(roof={"form": "level", "height": 2500})
    value["defaults"]["cladding"] = cladding
    value["stock"] = {"stock": [{"section": [20, 95], "lengths": [{"length": 2400}]}]}
    layout = layout_of(value)
    assert "board-too-long" not in codes(layout)
    pieces = [p for wall in layout.walls for p in wall.pieces if p.role == "corner board"]
    assert max(piece.length for piece in pieces) <= 2400.0
    (bought,) = [row for row in layout.boards if row.role == "corner board"]
    assert bought.value >= sum(piece.length for piece in pieces)


class Slats(Lapped):
    """Lapped boards of another plugin, with limits of their own."""

    rule: Literal["slats"] = "slats"  # type: ignore[assignment]
    weather_lap: ClassVar[tuple[float, str] | None] = (60.0, "a table of their own")
    widest_board: ClassVar[float] = 100.0
    examples: ClassVar[Sequence[Mapping[str, Any]]] = ({"rule": "slats"},)


def test_checks_go_by_what_a_rule_says_of_itself() -> None:
    installed = with_rule(
        registry(), RegisteredRule("cladding_rules", "slats", "theirs", Slats), Patience(1.0)
    )
    for rule, found in (("lapped", set()), ("slats", {"short-lap", "wide-board"})):
        value = building(defaults={"cladding": {"rule": rule, "width": 150, "least_lap": 30}})
        findings = lay_out(installed.read_building(value), installed).findings
        told = {finding.code: finding for finding in findings}
        assert told.keys() & {"short-lap", "wide-board"} == found
    assert told["short-lap"].basis == "a table of their own"
    assert told["wide-board"].limit == 100.0


@pytest.mark.parametrize(("height", "over"), [(1994.9, None), (1995.0, (1895.0, 1995.0))])
def test_a_batten_shorter_than_100_mm_is_left_out(height: float, over: tuple[float, float] | None) -> None:
    """Common practice, no source. Beside a door the batten at its edge takes the room of the king stud's up
    to the top of the head, at 1850 + 45; over that the king stud's goes on, if that is worth one."""
    door = {"name": "d", "kind": "door", "width": 600, "height": 1850, "at": {"left": 1000}}
    value = building(
        outline={"walls": [{"name": "wall", "length": 4500}]},
        roof={"form": "level", "height": height},
        walls={"wall": {"openings": [door | {"framing": {"rule": "trimmed"}}]}},
    )
    value["defaults"]["cladding"] = {"rule": "rebated", "cover": 130, "battens": {"section": [25, 50]}}
    battens = [piece for piece in layout_of(value).walls[0].pieces if piece.role == "batten"]
    heights = [
        (min(z for _, z in piece.outline), max(z for _, z in piece.outline))
        for piece in battens
        if min(x for x, _ in piece.outline) == 907.5
    ]
    assert heights == ([over] if over else [])


def test_the_widest_spacing_of_all_boards_is_told() -> None:
    """By hand: 805 between the middles of two studs; boards that meet a window elsewhere are held closer."""
    window = {"name": "w", "kind": "window", "width": 500, "height": 800, "sill": 900, "at": {"left": 2500}}
    value = building(
        outline={"walls": [{"name": "wall", "length": 4800}]},
        roof={"form": "level", "height": 2300},
        defaults={"studs": {"rule": "at", "marks": [700, 1450, 2255, 3000, 3650, 4300]}},
        walls={"wall": {"openings": [window | {"framing": {"rule": "single-studs"}}]}},
    )
    value["defaults"]["cladding"] = {"rule": "rebated", "cover": 130, "lengths": [2400, 3000]}
    layout = layout_of(value)
    pieces = {piece.mark: piece for piece in layout.walls[0].pieces}
    (found,) = [each for each in layout.findings if each.code == "boards-span-wide"]
    places = [sorted({x for x, _ in pieces[mark].fixed_at or ()}) for mark in found.pieces]
    widest = {max(after - before for before, after in pairwise(row)) for row in places}
    assert found.value == 805.0
    assert len(widest) > 1
    assert max(widest) == pytest.approx(805.0)
    assert min(widest) > 600.5
