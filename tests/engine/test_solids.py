"""Pieces in space: overlaps, volumes and centres, with other judges than the code that is tested."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from soleplate.engine.layout import solids_of
from soleplate.engine.shapes import (
    Member,
    Outline,
    Section,
    Solid,
    View,
    area,
    notches,
    overlapping,
    rectangle,
    section,
)
from tests.buildings import honey_house, layout_of
from tests.floors import floor_with, honey_house_on, solid_of

FACE = View("face", (0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
BESIDE = View("beside", (0.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
TURNED = View(
    "turned",
    (50.0, -30.0, 10.0),
    (math.cos(0.4), math.sin(0.4), 0.0),
    (-math.sin(0.4) * math.sin(0.3), math.cos(0.4) * math.sin(0.3), math.cos(0.3)),
)
L_SHAPE = ((0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (100.0, 100.0), (100.0, 300.0), (0.0, 300.0))

views = st.sampled_from([FACE, BESIDE, TURNED])
places = st.integers(-300, 300)
sizes = st.integers(20, 400)


@st.composite
def boxes(draw: st.DrawFn) -> Solid:
    left, bottom, near = draw(places), draw(places), draw(places)
    outline = rectangle(left, left + draw(sizes), bottom, bottom + draw(sizes))
    return Solid(outline, (near, near + draw(sizes)), draw(views))


def inside(solid: Solid, point: tuple[float, float, float], by: float) -> bool:
    """Whether a place lies within a box by so much, told in the box's own view."""
    shifted = [a - b for a, b in zip(point, solid.view.origin, strict=True)]
    u, v, w = (
        sum(a * b for a, b in zip(shifted, axis, strict=True))
        for axis in (solid.view.right, solid.view.up, solid.view.inwards)
    )
    us, vs = zip(*solid.outline, strict=True)
    return (
        min(us) + by < u < max(us) - by
        and min(vs) + by < v < max(vs) - by
        and solid.depth[0] + by < w < solid.depth[1] - by
    )


def samples(solid: Solid) -> list[tuple[float, float, float]]:
    us, vs = zip(*solid.outline, strict=True)
    steps = [share / 12 for share in range(13)]
    return [
        solid.view.point(
            min(us) + a * (max(us) - min(us)),
            min(vs) + b * (max(vs) - min(vs)),
            solid.depth[0] + c * (solid.depth[1] - solid.depth[0]),
        )
        for a, b, c in itertools.product(steps, repeat=3)
    ]


@settings(deadline=None, max_examples=80)
@given(boxes(), boxes())
def test_boxes_overlap_where_a_place_of_one_lies_in_the_other(one: Solid, other: Solid) -> None:
    found = list(overlapping([one, other]))
    shared = any(inside(other, p, 0.5) for p in samples(one)) or any(
        inside(one, p, 0.5) for p in samples(other)
    )
    if shared:
        assert found == [(0, 1)]
    if not found:
        assert not shared


def test_a_beam_through_another_is_found_where_no_corner_lies_inside() -> None:
    one = Solid(rectangle(-500.0, 500.0, -10.0, 10.0), (-10.0, 10.0), FACE)
    other = Solid(rectangle(-500.0, 500.0, -10.0, 10.0), (-10.0, 10.0), BESIDE)
    assert list(overlapping([one, other])) == [(0, 1)]


def test_what_lies_in_the_notch_of_another_does_not_overlap_it() -> None:
    notched = Solid(L_SHAPE, (0.0, 45.0), FACE)
    within = Solid(rectangle(100.0, 300.0, 100.0, 300.0), (0.0, 45.0), FACE)
    assert not list(overlapping([notched, within]))
    nearer = Solid(rectangle(99.0, 299.0, 100.0, 300.0), (0.0, 45.0), FACE)
    assert list(overlapping([notched, nearer])) == [(0, 1)]


@pytest.mark.parametrize("view", [FACE, BESIDE, TURNED])
def test_volume_and_centre_of_gravity(view: View) -> None:
    solid = Solid(L_SHAPE, (10.0, 55.0), view)
    judge = Polygon(L_SHAPE)
    assert solid.volume == pytest.approx(judge.area * 45.0)
    assert solid.centre_of_gravity == pytest.approx(view.point(judge.centroid.x, judge.centroid.y, 32.5))


def test_no_pieces_of_a_house_on_its_floor_overlap_and_a_slip_of_a_millimetre_is_found() -> None:
    layout = honey_house_on(floor_with())
    placed = [(part, piece) for part in layout.parts for piece in part.pieces]
    solids = [solid_of(piece, part) for part, piece in placed]
    assert not list(overlapping(solids))
    threshold = next(i for i, (_, piece) in enumerate(placed) if piece.role == "threshold")
    one = solids[threshold]
    solids[threshold] = Solid(tuple((u + 1.0, v) for u, v in one.outline), one.depth, one.view)
    assert len(list(overlapping(solids))) == 1


# notches

RAFTER = (
    # 6 degrees, 145 deep, one birdsmouth of 70 at 300 from the low plumb cut.
    6.0,
    145.0,
    300.0,
    70.0,
)


def rafter(*, mirrored: bool = False) -> Member:
    """A rafter with one birdsmouth, by hand: the low plumb cut at x 0, its underside through the origin."""
    pitch, depth, overhang, seat = RAFTER
    rise, over = math.tan(math.radians(pitch)), depth / math.cos(math.radians(pitch))
    heel = seat * rise
    length = 2000.0
    corners = [
        (0.0, 0.0),
        (overhang, overhang * rise),
        (overhang, overhang * rise + heel),
        (overhang + seat, overhang * rise + heel),
        (length, length * rise),
        (length, length * rise + over),
        (0.0, over),
    ]
    if mirrored:
        corners = [(-x, z) for x, z in reversed(corners)]
    return Member("rafter", Section(45.0, depth), tuple(corners), (0.0, 45.0), -pitch if mirrored else pitch)


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_birdsmouth_is_read_off_the_outline(mirrored: bool) -> None:
    """The honey house's, closed forms: heel s tan p = 7.357, HAP D / cos p - h = 138.441, mark o / cos p."""
    member = rafter(mirrored=mirrored)
    (found,) = notches(member.outline, member.grain)
    assert found.kind == "birdsmouth"
    assert found.seat == pytest.approx(70.0)
    assert found.heel == pytest.approx(7.357, abs=0.0005)
    assert found.hap == pytest.approx(138.441, abs=0.0005)
    assert found.from_low_end == pytest.approx(301.652, abs=0.0005)


def test_notches_of_level_and_upright_pieces() -> None:
    housed = (
        (0.0, 0.0), (400.0, 0.0), (400.0, 30.0), (450.0, 30.0), (450.0, 0.0), (1000.0, 0.0), (1000.0, 95.0),
        (40.0, 95.0), (40.0, 60.0), (0.0, 60.0),
    )  # fmt: skip
    corner, side = notches(housed, 0.0)
    assert (corner.kind, corner.from_low_end, corner.seat, corner.heel, corner.hap) == (
        "notch", 0.0, 40.0, 35.0, 60.0,
    )  # fmt: skip
    assert (side.from_low_end, side.seat, side.heel, side.hap) == (400.0, 50.0, 30.0, 65.0)
    upright = tuple((-z, x) for x, z in housed)
    assert [n.seat for n in notches(upright, 90.0)] == [40.0, 50.0]


def test_whole_pieces_have_no_notches() -> None:
    layout = layout_of(honey_house())
    assert all(piece.notches is None for piece in layout.pieces)
    assert notches(rectangle(0.0, 1000.0, 0.0, 95.0), 0.0) == ()


# sections

PLANES = {
    "across": View("cut", (0.0, 17.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)),
    "along": View("cut", (130.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0)),
    "level": View("cut", (0.0, 0.0, 60.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)),
}
COMB = (
    (0.0, 0.0), (500.0, 0.0), (500.0, 300.0), (400.0, 250.0), (300.0, 300.0), (300.0, 100.0), (200.0, 100.0),
    (200.0, 300.0), (0.0, 300.0),
)  # fmt: skip


def judged_section(solid: Solid, plane: View) -> float:
    """The area by shapely, from thin slices of the depth: of each the chord that the plane cuts."""
    view, (near, far) = solid.view, solid.depth
    axes = [
        sum(map(math.prod, zip(x, plane.inwards, strict=True))) for x in (view.right, view.up, view.inwards)
    ]
    away = sum(
        (a - b) * c for a, b, c in zip(view.origin, plane.origin, plane.inwards, strict=True)
    )  # fmt: skip
    a, b, c = axes
    across = math.hypot(a, b)
    if across < 1e-9:
        return Polygon(solid.outline).area if near < -away / c < far else 0.0
    steps = 800
    total = 0.0
    for step in range(steps):
        depth = near + (step + 0.5) / steps * (far - near)
        share = -(away + c * depth) / across**2
        u, v = share * a, share * b
        line = LineString([(u - 1e4 * b, v + 1e4 * a), (u + 1e4 * b, v - 1e4 * a)])
        total += Polygon(solid.outline).intersection(line).length
    # A step of the depth is longer on the plane by the cosine between them.
    return total * (far - near) / steps / across


@pytest.mark.parametrize("plane", PLANES.values(), ids=PLANES)
@pytest.mark.parametrize("view", [FACE, BESIDE, TURNED], ids=["face", "beside", "turned"])
@pytest.mark.parametrize("outline", [L_SHAPE, COMB], ids=["l", "comb"])
def test_the_area_of_a_section_is_what_shapely_finds(outline: Outline, view: View, plane: View) -> None:
    solid = Solid(outline, (10.0, 155.0), view)
    found = section(solid, plane)
    assert sum(map(area, found)) == pytest.approx(judged_section(solid, plane), rel=4e-3, abs=1.0)
    assert all(Polygon(each).is_valid and area(each) > 0 for each in found)
    # Cut from the other side it is the same, mirrored.
    behind = View("behind", plane.origin, (-plane.right[0], -plane.right[1], -plane.right[2]), plane.up)
    assert sum(map(area, section(solid, behind))) == pytest.approx(sum(map(area, found)))


@settings(deadline=None, max_examples=60)
@given(boxes(), st.sampled_from(sorted(PLANES)))
def test_a_section_lies_in_its_plane_and_its_solid(solid: Solid, name: str) -> None:
    plane = PLANES[name]
    for outline in section(solid, plane):
        middle = Polygon(outline).representative_point()
        assert inside(solid, plane.point(middle.x, middle.y), -1e-6)
        assert all(inside(solid, plane.point(u, v), -1e-6) for u, v in outline)


def test_teeth_that_a_plane_cuts_off_lie_apart_and_one_that_only_touches_cuts_nothing() -> None:
    solid = Solid(COMB, (0.0, 45.0), FACE)
    at = {z: View("level", (0.0, 0.0, z), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0)) for z in (200.0, 0.0, 300.0)}
    assert sorted(Polygon(each).bounds for each in section(solid, at[200.0])) == [
        (0.0, 0.0, 200.0, 45.0), (300.0, 0.0, 500.0, 45.0),
    ]  # fmt: skip
    assert section(solid, at[0.0]) == ()
    assert section(solid, at[300.0]) == ()


def test_sections_of_the_honey_house_are_what_shapely_finds_in_plan() -> None:
    """Of upright pieces a level plane cuts their breadth and depth, wherever the walls stand."""
    layout = layout_of(honey_house())
    level = View("level", (0.0, 0.0, 1000.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
    for wall in layout.walls:
        for piece in wall.pieces:
            found = sum(area(o) for solid in solids_of(piece, wall) for o in section(solid, level))
            chord = Polygon(piece.outline).intersection(LineString([(-1e5, 1000.0), (1e5, 1000.0)])).length
            assert found == pytest.approx(chord * (piece.depth[1] - piece.depth[0]), abs=0.1)
