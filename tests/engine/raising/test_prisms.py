"""What a movement meets, against shapely and against poses along the way."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.affinity import translate
from shapely.geometry import MultiPoint, Polygon, box

from soleplate.engine.shapes import Prism, Quarter, crossing, gap, placed, rectangle, shortfall

places = st.floats(-3000.0, 3000.0).map(lambda value: round(value, 1))
points = st.tuples(places, places)
outlines = (
    st.lists(points, min_size=3, max_size=9, unique=True)
    .map(lambda each: MultiPoint(each).convex_hull)
    .filter(lambda shape: isinstance(shape, Polygon) and shape.area > 1e4)
    .map(lambda shape: tuple(shape.exterior.coords)[-2::-1])
)
prisms = st.builds(
    lambda outline, bottom, height: Prism(outline, bottom, bottom + height),
    outlines,
    st.floats(-500.0, 2500.0),
    st.floats(10.0, 2000.0),
)


@settings(max_examples=200, deadline=None)
@given(prisms, prisms)
def test_the_gap_of_two_prisms_is_that_along_the_normals_of_their_sides(one: Prism, other: Prism) -> None:
    a, b = Polygon(one.outline), Polygon(other.outline)
    found = gap(one, other)
    if found > 1e-6:
        assert a.distance(b) >= found - 1e-6
    elif found < -1e-6:
        assert a.intersection(b).area > 0.0
        # Moved apart by so much along the best of the normals they part.
        normals = [side[:2] for side in one.sides] + [(-x, -y) for x, y, _ in other.sides]
        parted = [translate(b, x * -found, y * -found).intersection(a).area for x, y in normals]
        assert min(parted) < 1e-3 * max(a.area, 1.0)


def lying(quarter: Quarter, thick: float, angle: float) -> tuple[float, list[tuple[float, float]]]:
    """The section of a wall that is tilted up by an angle: as high as the radius reaches, `thick` through."""
    high = math.sqrt(quarter.radius**2 - thick**2)
    turn = lambda t, z: (t * math.cos(angle) - z * math.sin(angle), t * math.sin(angle) + z * math.cos(angle))  # noqa: E731
    return high, [turn(t, z) for t, z in ((0.0, 0.0), (high, 0.0), (high, thick), (0.0, thick))]


@settings(max_examples=60, deadline=None)
@given(prisms, st.floats(1500.0, 2600.0), st.floats(40.0, 150.0), st.sampled_from([0.0, 20.0]))
def test_a_quarter_cylinder_meets_what_a_pose_meets(
    prism: Prism, radius: float, thick: float, clearance: float
) -> None:
    """In the plane across the axis: where any of 181 poses meets the prism, the quarter does."""
    quarter = Quarter((-1000.0, 0.0), (1.0, 0.0), (0.0, 1.0), 2000.0, radius)
    strip = Polygon(prism.outline).intersection(box(-1000.0, -1e5, 1000.0, 1e5))
    if strip.area < 1.0:
        return
    _, front, _, back = strip.bounds
    section = box(front, max(prism.bottom, 0.0), back, max(prism.top, 0.0))
    meets = any(
        Polygon(lying(quarter, thick, math.pi / 2 * step / 180)[1]).intersection(section).area > 1.0
        for step in range(181)
    )
    if meets:
        # What reaches out behind the axis is where the wall stands in the end.
        stands = Prism(rectangle(-1000.0, 1000.0, -thick, 0.0), 0.0, radius)
        assert max(shortfall(volume, prism, clearance) for volume in (quarter, stands)) > 0.0
    # Nothing that stays out of its radius counts.
    near = math.hypot(max(front, 0.0), max(prism.bottom, 0.0))
    if near > radius + clearance + 0.1 or back < -clearance - 0.1 or prism.top < -0.1:
        wide = Polygon(prism.outline).intersection(box(-1000 - clearance, -1e5, 1000 + clearance, 1e5))
        if abs(wide.bounds[1] - front) < 1e-9 and abs(wide.bounds[3] - back) < 1e-9:
            assert shortfall(quarter, prism, clearance) == 0.0


def test_by_how_much_it_is_too_near_is_told() -> None:
    """By hand: a branch 2100 up, 500 from the axis: 2236 + 20 - hypot(500, 2100) = 97.3."""
    quarter = Quarter((0.0, 0.0), (1.0, 0.0), (0.0, 1.0), 1000.0, 2236.0)
    branch = Prism(rectangle(200.0, 300.0, 500.0, 800.0), 2100.0, 4000.0)
    assert shortfall(quarter, branch, 20.0) == pytest.approx(2256.0 - math.hypot(500.0, 2100.0))


def test_what_only_touches_does_not_meet() -> None:
    """Turned by odd angles too, where rounding leaves a hair of an overlap."""
    for angle in range(0, 360, 7):
        run = (math.cos(math.radians(angle)), math.sin(math.radians(angle)))
        one, other = (
            placed(Prism(rectangle(left, left + 70.0, 0.0, 3000.0), 0.0, 2000.0), (1234.5, 678.9), run)
            for left in (0.0, 70.0)
        )
        assert isinstance(other, Prism)
        assert shortfall(one, other, 0.0) == 0.0
        assert shortfall(one, other, 20.0) == pytest.approx(20.0)


@settings(max_examples=200, deadline=None)
@given(st.lists(points, min_size=3, max_size=7, unique=True))
def test_a_polygon_that_crosses_itself_is_found(corners: list[tuple[float, float]]) -> None:
    shape = Polygon(corners)
    if shape.area > 1.0 and shape.is_valid and shape.buffer(-0.01).is_valid:
        if shape.simplify(0.0).equals(shape) and shape.exterior.is_simple:
            assert (crossing(corners) is None) == shape.exterior.is_simple
    elif not shape.exterior.is_simple:
        assert crossing(corners) is not None
