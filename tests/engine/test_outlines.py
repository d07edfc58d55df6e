"""Plane geometry, with shapely as its judge."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import MultiPoint, Point, Polygon, box
from shapely.affinity import affine_transform

from soleplate.engine.shapes import Outline, area, clip, is_sliver, rectangle

Place = tuple[float, float]

SQUARE = rectangle(0.0, 100.0, 0.0, 100.0)

places = st.tuples(st.integers(-9, 9), st.integers(-9, 9))
"""A coarse grid, so that lines often pass through corners and along edges."""


@pytest.mark.parametrize(
    ("start", "end", "kept"),
    [
        ((0.0, 0.0), (100.0, 100.0), ((0.0, 0.0), (100.0, 100.0), (0.0, 100.0))),
        ((100.0, 100.0), (0.0, 0.0), ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0))),
        ((0.0, 0.0), (100.0, 0.0), SQUARE),
        ((100.0, 0.0), (0.0, 0.0), ()),
        ((0.0, 100.0), (0.0, 0.0), SQUARE),
        ((0.0, 0.0), (200.0, 100.0), ((0.0, 0.0), (100.0, 50.0), (100.0, 100.0), (0.0, 100.0))),
    ],
)
def test_a_corner_on_the_line_is_kept(start: Place, end: Place, kept: Outline) -> None:
    found = clip(SQUARE, start, end)
    assert sorted(found) == sorted(kept)
    assert not found or Polygon(found).equals(Polygon(kept))


def half_plane(start: Place, end: Place) -> Polygon:
    """What is on the left of a line, far beyond the grid."""
    run, rise = end[0] - start[0], end[1] - start[1]
    return affine_transform(box(-99, 0, 99, 99), (run, -rise, rise, run, *start))


@given(st.lists(places, min_size=3, max_size=8), places, places)
def test_what_is_left_of_any_outline_is_left_of_the_line(
    points: list[Place], start: Place, end: Place
) -> None:
    assume(start != end)
    whole = MultiPoint(points).convex_hull
    assume(isinstance(whole, Polygon))
    outline = tuple(Polygon(whole).normalize().reverse().exterior.coords[:-1])
    outline = outline if area(outline) > 0 else outline[::-1]
    found = clip(outline, start, end)
    wanted = whole.intersection(half_plane(start, end))
    assert Polygon(found).area == pytest.approx(wanted.area, abs=1e-6)
    assert not found or area(found) > 0.0
    assert all(Point(place).distance(wanted) < 1e-6 for place in found)


def test_nothing_of_nothing_is_left_of_a_line() -> None:
    assert clip((), (0.0, 0.0), (1.0, 0.0)) == ()


@pytest.mark.parametrize(("thick", "sliver"), [(0.004, True), (0.02, False)])
@pytest.mark.parametrize("turn", [0.0, 6.0, 45.0])
def test_what_is_nowhere_thicker_than_a_touch_is_a_sliver(thick: float, turn: float, *, sliver: bool) -> None:
    cos, sin = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    for outline in (rectangle(0.0, 450.0, 0.0, thick), ((0.0, 0.0), (450.0, 0.0), (450.0, thick))):
        assert is_sliver(tuple((x * cos - y * sin, x * sin + y * cos) for x, y in outline)) is sliver
