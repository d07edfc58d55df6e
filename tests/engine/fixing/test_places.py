"""Places of fixings, looked at by other means: none meets another, leaves the timber, or comes too late."""

from __future__ import annotations

import graphlib
import itertools
import math
from collections import Counter
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, Phase, example, given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize

from soleplate.engine import UnbuildableError
from soleplate.engine.fixing.distances import spaced
from soleplate.engine.fixing.driven import DrivenRows
from soleplate.engine.fixing.segments import apart
from soleplate.engine.layout import JointFixingOut
from soleplate.engine.shapes import Vector, area, bounds
from tests.buildings import building, layout_of
from tests.fixings import FRAMED, STEP, along, fixed, lines, meeting, out_of_timber, views_of, within
from tests.floors import on_floor
from tests.plugins.test_every_rule import buildings

NO_SHRINKING = (Phase.explicit, Phase.reuse, Phase.generate)
"""Each building takes so long that to find the smallest that fails would take minutes."""


@st.composite
def crowded(draw: st.DrawFn) -> dict[str, Any]:
    """Small buildings in which much meets in little room: a hatch, a lintel of thin plies, a partition."""
    breadth, depth = draw(st.sampled_from([(45, 70), (20, 44), (38, 89)]))
    trimmers, kings = draw(st.integers(1, 3)), draw(st.integers(1, 2))
    beside = breadth * (trimmers + kings + 1)
    left = beside + draw(st.integers(0, 60))
    width, height, sill = (
        draw(st.integers(200, 500)),
        draw(st.integers(200, 400)),
        draw(st.integers(0, 3)) * breadth,
    )
    deep = draw(st.sampled_from([95, 145]))
    partition = left + width + beside + depth + draw(st.integers(0, 60))
    ply = {"section": [draw(st.sampled_from([12, 18, 35])), deep], "plies": draw(st.integers(1, 3))}
    return building(
        frame={"section": [breadth, depth]},
        outline={
            "length": partition + 3 * depth + draw(st.integers(0, 60)), "width": 800, "through": "front-back",
            "partitions": [{"name": "inside", "runs": "front-back", "at": partition}],
        },
        roof={
            "form": "mono-pitch", "high_side": "front", "pitch": 6,
            "low_height": max(sill + height + deep + 3 * breadth + draw(st.integers(0, 60)), 600),
        },
        defaults={
            "studs": {"rule": "equal-bays", "largest_bay": draw(st.integers(100, 300))},
            "noggins": {"rule": "staggered", "rows": 2},
        },
        walls={
            "front": {
                "openings": [
                    {
                        "name": "hatch", "kind": "gap", "width": width, "height": height,
                        "at": {"left": left}, "sill": sill,
                        "framing": {"rule": "trimmed", "trimmers": trimmers, "kings": kings, "lintel": ply},
                    }
                ]
            }
        },
    )  # fmt: skip


@pytest.mark.parametrize("name", FRAMED)
def test_no_fixing_meets_another(name: str) -> None:
    assert len(list(lines(fixed(name)))) > 50
    assert meeting(fixed(name)) == set()


@pytest.mark.parametrize("name", FRAMED)
def test_no_fixing_leaves_the_timber(name: str) -> None:
    """From head to point it is in the two pieces of its joint, in the third of three plies, or in a deck."""
    assert out_of_timber(fixed(name)) == set()


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow], phases=NO_SHRINKING)
@given(buildings())
def test_in_any_building_none_meets_another_or_leaves_the_timber(value: dict[str, Any]) -> None:
    holds_its_fixings(value)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow], phases=NO_SHRINKING)
@given(crowded())
@example(
    building(
        outline={"length": 2141, "width": 820, "through": "left-right"},
        walls={
            "front": {
                "openings": [
                    {
                        "name": "hatch", "kind": "gap", "width": 324, "height": 200, "at": {"left": 443},
                        "sill": 45,
                        "framing": {
                            "rule": "trimmed", "kings": 2, "lintel": {"section": [18, 145], "plies": 2},
                        },
                    }
                ]
            }
        },
    )
)  # fmt: skip
def test_in_a_narrow_place_none_meets_another_or_leaves_the_timber(value: dict[str, Any]) -> None:
    """Of a lintel 18 thick and 145 high three nails once went side by side into its end."""
    holds_its_fixings(value)


def holds_its_fixings(value: dict[str, Any]) -> None:
    try:
        layout = layout_of(value | {"fixings": []})
    except UnbuildableError:
        return
    assert meeting(layout) == set()
    assert out_of_timber(layout) == set()


def test_no_fixing_goes_where_a_brace_is_let_in() -> None:
    layout = fixed("let-in braces")
    pieces = views_of(layout)
    braces = [each for each in pieces.values() if each[0].role == "let-in brace"]
    assert braces
    for fixing, head, point in lines(layout):
        for piece, view, part in braces:
            if fixing.through == piece.mark:
                continue
            if part in (pieces[fixing.through][2], pieces[fixing.into][2]):
                assert not within(piece, view, along(head, point))[2:-2].any(), fixing.through


@pytest.mark.parametrize("name", FRAMED)
def test_points_are_deep_enough_and_distances_kept_or_told(name: str) -> None:
    """EN 1995-1-1, 8.3.1.2: ringed nails go 6 d into the second piece; 3 d from edges in a pilot hole."""
    layout = fixed(name)
    pieces = views_of(layout)
    for fixing in layout.fixings:
        if fixing.faults or fixing.kind != "nail" or fixing.joint == "plies":
            continue
        last = fixing.through if fixing.way == "skew" else fixing.into
        piece, view, _ = pieces[last]
        for place in fixing.places:
            deep = within(piece, view, along(place.head, place.point)).sum() * STEP
            assert deep >= 6 * fixing.diameter - 2 * STEP, (fixing.through, fixing.into)


@pytest.mark.parametrize("name", FRAMED)
def test_there_is_an_order_in_which_all_can_be_driven(name: str) -> None:
    """What is driven from where a later piece will be is driven before that."""
    layout = fixed(name)
    before: dict[str, set[str]] = {}
    for fixing in layout.fixings:
        if fixing.when is not None and fixing.when.startswith("before "):
            before.setdefault(fixing.when.removeprefix("before "), set()).add(fixing.into)
    order = list(graphlib.TopologicalSorter(before).static_order())
    assert all(order.index(first) < order.index(then) for then, those in before.items() for first in those)


@pytest.mark.parametrize("name", FRAMED)
def test_a_head_that_a_later_piece_hides_is_driven_before_that(name: str) -> None:
    layout = fixed(name)
    pieces = views_of(layout)
    framed_alone = {wall.name for wall in layout.walls}
    for fixing, head, point in lines(layout):
        if fixing.way != "through" or pieces[fixing.through][2] not in framed_alone:
            continue
        part = pieces[fixing.through][2]
        outwards = np.array(head) - np.array(point)
        over = np.array([np.array(head) + outwards / np.linalg.norm(outwards) * 1.0])
        hidden = {
            mark
            for mark, (piece, view, of) in pieces.items()
            if of == part and mark != fixing.through and within(piece, view, over)[0]
        }
        told = set() if fixing.when is None else {fixing.when.removeprefix("before ")}
        assert hidden <= told, f"{fixing.through} into {fixing.into}"


@pytest.mark.parametrize("name", FRAMED)
def test_none_enters_the_deck_on_which_a_wall_is_framed_untold(name: str) -> None:
    """A wall lies on its inner face: what is driven that way ends 5 mm short of it, or after raising."""
    layout = fixed(name)
    pieces = views_of(layout)
    for fixing, head, point in lines(layout):
        piece, view, part = pieces.get(fixing.into, (None, None, ""))
        if piece is None or view is None or part not in {wall.name for wall in layout.walls}:
            continue
        deeper = np.dot(np.array(point) - np.array(head), view.inwards)
        below = np.dot(np.array(point) - np.array(view.origin), view.inwards)
        if fixing.joint != "corner" and deeper > 1.0 and below > piece.depth[1] - 5.0:
            assert fixing.when == "after raising"


@pytest.mark.parametrize("name", FRAMED)
def test_fixings_side_by_side_in_one_piece_keep_their_distance(name: str) -> None:
    """EN 1995-1-1, Table 8.2: in one row along the grain a1, else a2 across it; at least 5 d and 3 d."""
    layout = fixed(name)
    pieces = views_of(layout)
    in_piece: dict[str, list[tuple[JointFixingOut, np.ndarray, np.ndarray]]] = {}
    for fixing, head, point in lines(layout):
        if fixing.way != "skew" and fixing.kind == "nail" and not fixing.faults:
            for mark in (fixing.through, fixing.into):
                in_piece.setdefault(mark, []).append((fixing, np.array(head), np.array(point)))
    for mark, those in in_piece.items():
        piece, view, _ = pieces[mark]
        left, right, bottom, top = bounds(piece.outline)
        # Raked pieces, and what runs through none of the others, are left to the other tests.
        if len(piece.outline) != 4 or not math.isclose(area(piece.outline), (right - left) * (top - bottom)):
            continue
        grain = np.array(view.right if abs(right - left - piece.length) < 0.01 else view.up)
        for (one, head, point), (other, head2, point2) in itertools.combinations(those, 2):
            way, way2 = (end - start for start, end in ((head, point), (head2, point2)))
            way, way2 = way / np.linalg.norm(way), way2 / np.linalg.norm(way2)
            if abs(way @ way2) < 0.99 or abs(way @ grain) > 0.1:
                continue
            off = head2 - head
            d = max(one.diameter, other.diameter)
            least = (5 * d, 3 * d) if one.pilot or other.pilot else (10 * d, 5 * d)
            kept = abs(off @ grain) >= least[0] - 0.1 or abs(off @ np.cross(way, grain)) >= least[1] - 0.1
            assert kept, f"{one.through} into {one.into} and {other.through} into {other.into}"


@pytest.mark.parametrize("name", FRAMED)
def test_each_fixing_is_as_long_as_told(name: str) -> None:
    """One skewed into a brace, whose end is cut askew, once was 80 mm long where it should be 63."""
    for fixing, head, point in lines(fixed(name)):
        assert math.dist(head, point) == pytest.approx(fixing.length, abs=0.01), fixing.through


@pytest.mark.parametrize("name", FRAMED)
def test_points_are_as_far_from_the_sides_of_the_second_piece(name: str) -> None:
    """EN 1995-1-1, Table 8.2: 5 d from an edge, 3 d in a pilot hole; sides may run askew to a nail."""
    layout = fixed(name)
    pieces, seen = views_of(layout), 0
    for fixing, head, point in lines(layout):
        piece, view, _ = pieces[fixing.into]
        # Of what is short ends could be taken for sides.
        if fixing.way != "through" or fixing.faults or piece.length < 2 * max(piece.section):
            continue
        tip = np.array(point) + (np.array(head) - np.array(point)) / fixing.length
        at = shapely.Point(*((tip - np.array(view.origin)) @ np.array([view.right, view.up]).T))
        edges = [
            shapely.LineString(edge)
            for edge in itertools.pairwise((*piece.outline, piece.outline[0]))
            if math.dist(*edge) > 0.7 * piece.length
        ]
        least = (3 if fixing.pilot else 5) * fixing.diameter
        seen += len(edges)
        assert all(edge.distance(at) >= least - 0.1 for edge in edges), (fixing.through, fixing.into)
    assert seen > 0


@pytest.mark.parametrize(("diameter", "is_apart"), [(3.1, True), (3.75, True), (4.0, False)])
def test_a_stagger_of_one_thickness_does_for_some_nails(diameter: float, is_apart: bool) -> None:
    """Two noggins through one stud, 38 mm apart: a1 without a pilot hole is 31, 37.5 and 40 mm."""
    rows = DrivenRows()
    rows.add(0, ((0.0, 0.0, 1000.0), (90.0, 0.0, 1000.0)))
    line = ((45.0, 0.0, 1038.0), (-45.0, 0.0, 1038.0))
    assert rows.are_apart(0, (0.0, 0.0, 1.0), line, spaced(diameter, 350.0, pilot=False)) == is_apart
    beside = ((45.0, 20.1, 1038.0), (-45.0, 20.1, 1038.0))
    assert rows.are_apart(0, (0.0, 0.0, 1.0), beside, spaced(diameter, 350.0, pilot=False))


places = st.tuples(*(st.floats(-100, 100, width=16),) * 3)


@settings(max_examples=150, deadline=None)
@given(places, places, places, places)
def test_the_distance_of_two_segments_is_the_least_there_is(
    a: Vector, b: Vector, c: Vector, d: Vector
) -> None:
    if math.dist(a, b) < 1.0 or math.dist(c, d) < 1.0:
        return
    one, other = (np.array(a), np.array(b)), (np.array(c), np.array(d))

    def gap(at: np.ndarray) -> float:
        return float(
            np.linalg.norm(one[0] + at[0] * (one[1] - one[0]) - other[0] - at[1] * (other[1] - other[0]))
        )

    starts = itertools.product((0.0, 0.5, 1.0), repeat=2)
    least = min(minimize(gap, start, bounds=[(0, 1), (0, 1)]).fun for start in starts)
    assert apart((a, b), (c, d)) == pytest.approx(least, abs=0.05)


@pytest.mark.parametrize("rule", ["sole-screws", "anchor-bolts"])
def test_the_list_buys_what_the_goods_buy(rule: str) -> None:
    """Of anchors too, each kind of which has its own share to spare."""
    base = on_floor() if rule == "sole-screws" else building()
    layout = layout_of(base | {"defaults": {"holding_down": {"rule": rule}}, "fixings": []})
    goods = {(row.kind, *row.size): row.to_buy for row in layout.goods}
    for row in layout.fixings_list:
        kind = "ring shank nail" if row.kind == "nail" else row.kind
        assert row.with_waste == goods[kind, row.diameter, row.length]
    assert {"nail", rule.removesuffix("s").replace("sole-", "sole plate ").replace("-", " ")} == {
        row.kind for row in layout.fixings_list
    }


def test_the_list_counts_what_is_placed() -> None:
    for name in FRAMED:
        layout = fixed(name)
        placed = Counter({(each.kind, each.diameter, each.length): 0 for each in layout.fixings})
        for fixing, _, _ in lines(layout):
            placed[fixing.kind, fixing.diameter, fixing.length] += 1
        for tie in layout.ties:
            placed["nail", tie.diameter, tie.nail_length] += tie.nails
        listed = {(row.kind, row.diameter, row.length): row.count for row in layout.fixings_list}
        assert listed == {sort: count for sort, count in placed.items() if count}
