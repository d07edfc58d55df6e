"""What holds of every board: its ends, its joints, its fixings, its courses, its length."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, reject, settings
from shapely import Point, Polygon

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.layout import BoardsOut, Layout, Piece, WallOut
from soleplate.engine.sawing import plan_sawing, read_request
from tests.buildings import HONEY_HOUSE, building, honey_house, layout_of, registry
from tests.engine.cladding.walls import assert_covered, boards, clad_buildings

ROUND = 0.01
EXAMPLES = sorted(HONEY_HOUSE.parent.glob("*.json"))


def laid_out(value: dict[str, Any]) -> Layout:
    try:
        return layout_of(value)
    except UnbuildableError:
        reject()


def ends(piece: Piece) -> tuple[float, float]:
    return min(x for x, _ in piece.outline), max(x for x, _ in piece.outline)


def centres(wall: WallOut, on_battens: bool) -> list[float]:
    """The centre lines of what level boards can be jointed on."""
    roles = {"batten"} if on_battens else {"stud", "corner stud", "king stud", "trimmer", "cripple"}
    standing = [piece for piece in wall.pieces if piece.role in roles]
    return [sum(ends(piece)) / 2 for piece in standing]


def edges(wall: WallOut, clearance: float) -> list[float]:
    """Where boards end without a joint: at the face's ends, at openings, and in the middle of small ones."""
    found = [x for piece in boards(wall) for x in ends(piece)]
    holes = [(hole.left - clearance, hole.right + clearance) for hole in wall.openings]
    return [
        min(found),
        max(found),
        *(x for hole in holes for x in hole),
        *((left + right) / 2 for left, right in holes),
        *(x for piece in boards(wall) if piece.role == "corner board" for x in ends(piece)),
    ]


def on_slope(wall: WallOut, x: float, piece: Piece, over: float) -> bool:
    """Whether a board runs out at x under the roof."""
    z = min(z for px, z in piece.outline if abs(px - x) < ROUND)
    line = [(px, pz + over) for px, pz in wall.top_line]
    for index, ((x0, z0), (x1, z1)) in enumerate(pairwise(line)):
        first, last = index == 0, index == len(line) - 2
        if (first or x >= x0) and (last or x <= x1):
            return z >= z0 + (x - x0) * (z1 - z0) / (x1 - x0) - 1.0
    return False


def joints(wall: WallOut) -> list[tuple[float, int]]:
    """The heading joints of level boards: place and course."""
    found = []
    for course in wall.courses:
        row = sorted(ends(piece) for piece in wall.pieces if piece.mark in course.boards)
        found += [
            (before[1], course.number) for before, after in pairwise(row) if abs(before[1] - after[0]) < ROUND
        ]
    return found


def assert_ends_on_supports(layout: Layout, rule: dict[str, Any]) -> None:
    """Every level board ends on a support or at an edge."""
    for wall in layout.walls:
        places = [*centres(wall, "battens" in rule), *edges(wall, rule.get("clearance", 5.0))]
        for piece in boards(wall):
            if piece.course is not None:
                for x in ends(piece):
                    assert any(abs(x - place) < ROUND for place in places) or on_slope(
                        wall, x, piece, rule.get("over_plate", 0.0)
                    ), (wall.name, piece.mark, x)


def assert_joints_keep_their_rules(layout: Layout, rule: dict[str, Any]) -> None:
    """No joint rule is broken, and no board is longer than can be had, unless it is told."""
    told = {finding.wall for finding in layout.findings if finding.code in ("board-too-long", "joints-near")}
    for wall in layout.walls:
        if wall.name in told:
            continue
        lengths = [piece.length for piece in boards(wall) if piece.role == "board"]
        assert max(lengths) <= max(rule["lengths"]) + ROUND
        if "panes" in [opening.framing for opening in wall.openings]:
            continue
        middles = [(hole.left + hole.right) / 2 for hole in wall.openings]
        found = [joint for joint in joints(wall) if all(abs(joint[0] - x) > ROUND for x in middles)]
        for x, course in found:
            alike = [other for at, other in found if abs(at - x) < ROUND and other != course]
            assert all(abs(other - course) >= rule.get("joints_apart", 2) for other in alike)


def assert_joints_are_needed(layout: Layout, rule: dict[str, Any]) -> None:
    """What one length covers is whole; a longer stretch has no joint that those beside it spare."""
    for wall in layout.walls:
        stretches: dict[tuple[int, tuple[float, float]], list[list[Piece]]] = {}
        for course in wall.courses:
            row = sorted((p for p in boards(wall) if p.mark in course.boards), key=ends)
            for piece in row:
                own = stretches.setdefault((course.number, piece.depth), [])
                if own and abs(ends(own[-1][-1])[1] - ends(piece)[0]) < ROUND:
                    own[-1].append(piece)
                else:
                    own.append([piece])
        for (course_number, _), those in stretches.items():
            for pieces in those:
                reach = ends(pieces[-1])[1] - ends(pieces[0])[0]
                is_small = any(
                    abs((hole.left + hole.right) / 2 - x) < ROUND
                    for hole in wall.openings
                    for x in ends(pieces[0])
                )
                if len(pieces) > 1 and not is_small:
                    assert reach > max(rule["lengths"]) - ROUND, (wall.name, course_number, reach)


def assert_courses_line_up(layout: Layout) -> None:
    """The courses of all walls are those of the storey rod."""
    rod = {course.number: course for course in layout.storey_rod}
    for wall in layout.walls:
        for course in wall.courses:
            assert course.bottom == rod[course.number].bottom
            assert course.top <= rod[course.number].top + ROUND
            assert wall.name in rod[course.number].walls
    assert all(a.top == b.bottom for a, b in pairwise(layout.storey_rod))


def assert_fixings_hold(layout: Layout) -> None:
    """Fixings lie on their boards, clear of the ends unless it is told."""
    told = {mark for found in layout.findings if found.code == "fixing-near-end" for mark in found.pieces}
    for wall in layout.walls:
        for piece in wall.pieces:
            outline = Polygon(piece.outline)
            axis = 1 if piece.section and piece.course is None and piece.role != "batten" else 0
            along = [point[axis] for point in piece.outline]
            for place in piece.fixed_at or ():
                assert outline.buffer(ROUND).contains(Point(place)), (piece.mark, place)
                if max(along) - min(along) > 2 * 20.0 and piece.role == "board" and piece.mark not in told:
                    assert min(place[axis] - min(along), max(along) - place[axis]) > 20.0 - 0.6
        if wall.cladding:
            assert wall.cladding.fixings == sum(len(piece.fixed_at or ()) for piece in wall.pieces)


def assert_fixed_to_timber(layout: Layout) -> None:
    """Every fixing goes into what lies behind: a batten, or the frame, at a corner that of the neighbour.

    Corner boards, and outer boards over inner ones, are fixed through what lies between.
    """
    for wall in layout.walls:
        battens = [p for p in wall.pieces if p.role == "batten"]
        outermost = min((p.depth[0] for p in battens), default=0.0)
        frame = [Polygon(p.outline).buffer(ROUND) for p in wall.pieces if p.is_frame and p.depth[0] == 0.0]
        for piece in wall.pieces:
            if piece.is_frame or piece.role == "corner board":
                continue
            face = piece.depth[1] if piece.role == "batten" else outermost
            on = [Polygon(p.outline).buffer(ROUND) for p in battens if p.depth[0] == face] if face else frame
            for x, z in piece.fixed_at or ():
                held = any(timber.contains(Point(x, z)) for timber in on)
                # There the neighbour's upper plate may lap over, as far as it is deep.
                at_corner = not face and not wall.plan.depth < x < wall.length - wall.plan.depth
                assert held or at_corner, (wall.name, piece.mark, piece.role, x, z)


def assert_near_edges_are_told(layout: Layout) -> None:
    """A fixing of a board nearer than 9 mm to any edge of it is told."""
    codes = ("fixing-near-edge", "fixing-near-end")
    told = {mark for found in layout.findings if found.code in codes for mark in found.pieces}
    for wall in layout.walls:
        for piece in wall.pieces:
            if piece.role == "board" and piece.mark not in told:
                edge = Polygon(piece.outline).boundary
                assert all(edge.distance(Point(place)) > 9.0 for place in piece.fixed_at or ()), piece.mark


def assert_lengths_suffice(layout: Layout) -> None:
    """A length covers no more than itself times what is seen of its width: a bound on what is bought."""
    seen = max((course.seen for course in layout.storey_rod), default=0.0)
    area = sum(wall.cladding.area_m2 for wall in layout.walls if wall.cladding) * 1e6
    lengths = sum(piece.length for wall in layout.walls for piece in boards(wall) if piece.course)
    corners = sum(
        piece.length * piece.section[1] for wall in layout.walls for piece in boards(wall) if not piece.course
    )
    assert lengths * seen + corners >= area - 1e4 * len(layout.walls)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(clad_buildings())
def test_the_boards_of_any_building(value: dict[str, Any]) -> None:
    rule = value["defaults"]["cladding"]
    layout = laid_out(value)
    assert_covered(layout, rule)
    assert_ends_on_supports(layout, rule)
    assert_joints_keep_their_rules(layout, rule)
    assert_joints_are_needed(layout, rule)
    assert_courses_line_up(layout)
    assert_fixings_hold(layout)
    assert_fixed_to_timber(layout)
    assert_near_edges_are_told(layout)
    assert_lengths_suffice(layout)


@pytest.mark.parametrize(
    ("lengths", "over"), [([3000, 3600, 4200], 0.015), ([2400], 0.06), ([4800, 5400], 0.02)]
)
def test_what_is_bought_is_near_a_proven_bound(lengths: list[int], over: float) -> None:
    """The bound is the joint planner's: no choice of joints and cuts takes less board. With short boards
    alone, each wall a few of them wide, it is looser."""
    value = honey_house()
    rule = {"rule": "rebated", "cover": 130, "lengths": lengths, "joints": "least-timber"}
    value["defaults"]["cladding"] = rule
    layout = layout_of(value)
    (bought,) = layout.boards
    total = sum(row.length * row.count for row in bought.lengths)
    assert bought.value == total
    assert bought.bound is not None
    assert bought.bound <= total <= (1 + over) * bought.bound
    area = sum(wall.cladding.area_m2 for wall in layout.walls if wall.cladding) * 1e6
    assert sum(row.count for row in bought.lengths) >= area / (130.0 * max(lengths))
    cut = sum(piece.length for wall in layout.walls for piece in boards(wall))
    assert cut <= total


@pytest.mark.parametrize("path", EXAMPLES, ids=[path.stem for path in EXAMPLES])
def test_boards_and_battens_of_the_examples_are_bought_near_a_bound(path: Path) -> None:
    """Battens and sheets, few as they are, within one; boards within 1 % of what the saw planner proves."""
    layout = layout_of(json.loads(path.read_text()))
    for bought in layout.boards:
        assert bought.bound is not None
        assert bought.bound <= bought.value
        if bought.role == "board":
            assert bought.value <= 1.01 * proven(layout, bought)
        else:
            most = bought.bound + max(row.length for row in bought.lengths)
            assert bought.value <= max(most, 1.05 * bought.bound)


def proven(layout: Layout, bought: BoardsOut) -> float:
    """What the boards of one section take at the least, cut as they are from lengths that are bought, mm."""
    pieces = [piece for wall in layout.walls for piece in boards(wall) if piece.section == bought.section]
    parts = [{"name": piece.mark, "length": piece.length} for piece in pieces if piece.role == bought.role]
    sale = [{"length": row.length} for row in bought.lengths]
    request = {"parts": parts, "stock": [{"lengths": sale}], "kerf": 3, "margin": 5, "objective": "waste"}
    return sum(section.bound for section in plan_sawing(read_request(request)).sections) + sum(
        piece["length"] for piece in parts
    )


@pytest.mark.parametrize(("length", "lengths"), [(920, [1800]), (4500, [3000, 4800])])
def test_more_joints_come_where_they_are_asked_for_and_save(length: int, lengths: list[int]) -> None:
    """Two boards of 460 do not come beside a door of themselves; what more joints save is told."""
    value = building(
        outline={"walls": [{"name": "wall", "length": length}]},
        roof={"form": "level", "height": 2300},
        defaults={
            "studs": {"rule": "equal-bays", "largest_bay": 415},
            "cladding": {"rule": "rebated", "cover": 130, "lengths": lengths},
        },
    )
    plain = layout_of(value)
    assert joints(plain.walls[0]) == []
    value["defaults"]["cladding"]["joints"] = "least-timber"
    asked = layout_of(value)
    told = {finding.code: finding for finding in asked.findings}
    saved = plain.boards[0].value - asked.boards[0].value
    if joints(asked.walls[0]):
        assert told["joints-save"].value == saved > 0.0
        assert f"{len(joints(asked.walls[0]))} heading joints more" in told["joints-save"].message
        assert f"{100 * saved / plain.boards[0].value:.1f} %" in told["joints-save"].message
    else:
        assert saved == 0.0
        assert "joints-save-nothing" in told
    assert not {"joints-save", "joints-save-nothing"} & {finding.code for finding in plain.findings}


def test_there_is_an_example_of_every_cladding_rule() -> None:
    files = [json.loads(path.read_text()) for path in EXAMPLES]
    choices = [choice for file in files for choice in (file["defaults"], *file.get("walls", {}).values())]
    used = {choice["cladding"]["rule"] for choice in choices if "cladding" in choice}
    assert {rule.name for rule in registry().of_family("cladding_rules")} <= used


@pytest.mark.parametrize("apart", [3, 4])
def test_joints_that_cannot_be_so_far_apart_are_nearer_and_told(apart: int) -> None:
    rule = {"rule": "rebated", "cover": 130, "joints_apart": apart, "lengths": [1800]}
    value = building(
        outline={"walls": [{"name": "wall", "length": 4500}]},
        roof={"form": "level", "height": 2000},
        defaults={"studs": {"rule": "equal-bays", "largest_bay": 600}, "cladding": rule},
    )
    layout = layout_of(value)
    (found,) = [finding for finding in layout.findings if finding.code == "joints-near"]
    assert found.limit == apart
    assert found.value is not None
    assert found.value < apart
    assert max(piece.length for piece in boards(layout.walls[0])) <= 1800


def test_boards_that_cannot_be_had_are_told_once_for_each_wall_with_their_marks() -> None:
    """By hand: uprights at 1500 mm, so that no joint makes a board of 900 mm; all 16 courses stay whole."""
    value = building(
        outline={"walls": [{"name": "wall", "length": 3045}]},
        roof={"form": "level", "height": 2000},
        defaults={
            "studs": {"rule": "equal-bays", "largest_centres": 1500},
            "cladding": {"rule": "rebated", "cover": 130, "lengths": [900]},
        },
    )
    layout = layout_of(value)
    (found,) = [finding for finding in layout.findings if finding.code == "board-too-long"]
    long = [piece.mark for piece in boards(layout.walls[0]) if piece.length > 900.0]
    assert list(found.pieces) == long
    assert len(long) == 16
    assert (found.level, found.value, found.limit) == ("stop", 3045.0, 900.0)


def test_battens_longer_than_can_be_had_are_butted_on_their_studs() -> None:
    value = building(roof={"form": "level", "height": 3200})
    value["defaults"]["cladding"] = {"rule": "rebated", "cover": 130, "battens": {"section": [25, 50]}}
    value["stock"] = {"stock": [{"section": [25, 50], "lengths": [{"length": 2400}]}]}
    layout = layout_of(value)
    assert "board-too-long" not in {finding.code for finding in layout.findings}
    for wall in layout.walls:
        columns: dict[tuple[float, float], list[Piece]] = {}
        for piece in wall.pieces:
            if piece.role == "batten":
                columns.setdefault(ends(piece), []).append(piece)
        for column in columns.values():
            reaches = sorted((min(z for _, z in p.outline), max(z for _, z in p.outline)) for p in column)
            assert (reaches[0][0], reaches[-1][1]) == (wall.cladding and wall.cladding.bottom, 3200.0)
            assert all(below[1] == above[0] for below, above in pairwise(reaches))
            assert all(300.0 <= top - bottom <= 2400.0 for bottom, top in reaches)
            assert all(len(piece.fixed_at or ()) >= 2 for piece in column)


@pytest.mark.parametrize("lengths", [[2400, 3000], [1500]])
def test_upright_boards_are_jointed_only_where_they_must_be(lengths: list[int]) -> None:
    value = building(roof={"form": "level", "height": 2000})
    value["defaults"]["cladding"] = {"rule": "board-on-board", "lengths": lengths}
    pieces = [piece for wall in layout_of(value).walls for piece in boards(wall)]
    if max(lengths) > 2020:
        assert {piece.length for piece in pieces} == {2020.0}
    else:
        assert all(piece.length <= 1500.0 for piece in pieces)
