"""Ways of carrying: none overlaps anything, by shapely, and those that are known hold for more states."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, MultiPoint, Point, Polygon
from shapely.ops import unary_union

from soleplate.engine.raising.bracing import brace_uses
from soleplate.engine.raising.carrying import Pose
from soleplate.engine.raising.grid import CELL, Grid
from soleplate.engine.raising.question import Carry
from soleplate.engine.shapes import Prism
from tests.reference.test_order_of_work import way_in
from tests.yards import hut, yard

APART = 20.0
"""mm between two sampled poses."""


def winding() -> dict[str, Any]:
    """Two hedges that a wall is carried between in an S."""
    value = way_in(1500)
    value["site"]["obstacles"].append(
        {"name": "hedge", "polygon": [[2400, -1200], [9000, -1200], [9000, -1100], [2400, -1100]]}
    )
    value["site"]["ways"] = ["carried", "slid", "carried-flat"]
    return value


def between(poses: tuple[Pose, ...]) -> Iterator[Pose]:
    """The poses, and those between them along straight moves and turns."""
    for (x0, y0, a0), (x1, y1, a1) in itertools.pairwise(poses):
        turn = (a1 - a0 + 90.0) % 180.0 - 90.0
        count = max(int(math.dist((x0, y0), (x1, y1)) / APART), int(abs(turn)), 1)
        for part in range(count + 1):
            share = part / count
            yield x0 + share * (x1 - x0), y0 + share * (y1 - y0), a0 + share * turn


def lying(carry: Carry, pose: Pose) -> Polygon:
    x, y, angle = pose
    along, across = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    half, broad = carry.length / 2, carry.width / 2
    return Polygon(
        [
            (x + u * half * along - v * broad * across, y + u * half * across + v * broad * along)
            for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1))
        ]
    )


@pytest.mark.parametrize("value", [way_in(700), winding()], ids=["straight in", "winding"])
def test_no_pose_on_a_way_overlaps_anything(value: dict[str, Any]) -> None:
    made = yard(value)
    routes = made.routes(made.obstructions)
    search = made.search(routes=routes)
    steps = search.best().steps
    assert len(steps) == 4
    braced = [search.braced(step.way, step.standing) for step in steps]
    crossed = [
        routes.crossed(step.way.carry.number, step.standing, each)
        for step, each in zip(steps, braced, strict=True)
        if step.way.carry is not None
    ]
    uses = brace_uses(made.question, search, steps, made.blocked(made.obstructions), crossed)
    assert uses
    for index, step in enumerate(steps):
        carry = step.way.carry
        assert carry is not None
        poses = routes.way(carry.number, step.standing, braced[index])
        assert poses
        standing = [made.question.panels[i] for i in range(4) if step.standing >> i & 1]
        prisms = [p for each in made.obstructions for p in each.prisms]
        prisms += [p for panel in standing for p in panel.standing]
        prisms += [p for use in uses if use.first < index <= use.off for p in use.brace.brace.rakers]
        there = unary_union(
            [Polygon(p.outline) for p in prisms if p.bottom < carry.top and p.top > carry.bottom]
        )
        assert max(lying(carry, pose).intersection(there).area for pose in between(poses)) < 1.0
        x, y, angle = poses[-1]
        assert math.dist((x, y), carry.to) < 0.01
        assert angle % 180.0 == pytest.approx(math.degrees(math.atan2(carry.run[1], carry.run[0])) % 180.0)
        assert (
            Polygon(made.place).buffer(1.0).contains(Polygon(made.place).intersection(lying(carry, poses[0])))
        )


def test_a_way_with_all_walls_up_is_looked_for_once() -> None:
    """Through a wide way in every wall has one, and one fill for each is enough for all orders."""
    value = way_in(3000)
    value["site"]["ways"] = ["carried"]
    made = yard(value)
    routes = made.routes(made.obstructions)
    assert made.search(routes=routes).best().steps
    asked = [carry.number for carry in made.question.carries]
    before = routes.fills
    for number in asked:
        known = routes.known(number, 0)
        if known:
            assert routes.way(number, 0)
    assert routes.fills == before


def test_where_no_way_is_none_is_with_more_walls() -> None:
    made = yard(way_in(500))
    routes = made.routes(made.obstructions)
    assert routes.way(0, 0) is None
    fills = routes.fills
    everything = made.question.everything & ~(1 << made.question.carriers[0])
    assert routes.known(0, everything) is False
    assert routes.way(0, everything) is None
    assert routes.fills == fills


def test_only_what_is_carried_over_is_in_the_way() -> None:
    """A kerb of 600 is passed flat, at 700 to 1100, and not upright."""
    value = way_in(3000)
    kerb = {"name": "kerb", "polygon": [[-9000, -2000], [12_000, -2000], [12_000, -1900], [-9000, -1900]]}
    value["site"]["obstacles"].append(kerb | {"top": 600})
    for way, is_possible in (("carried", False), ("carried-flat", True)):
        value["site"]["ways"] = [way]
        made = yard(value)
        routes = made.routes(made.obstructions)
        for carry in made.question.carries:
            assert (routes.way(carry.number, 0) is not None) == is_possible


def test_nothing_is_carried_without_a_place() -> None:
    assert yard(hut({"ways": ["carried", "slid", "carried-flat"]})).question.ways == ((),) * 4


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.tuples(st.integers(-300, 1500), st.integers(-300, 1500)), min_size=3, max_size=6, unique=True)
    .map(lambda points: MultiPoint(points).convex_hull)
    .filter(lambda shape: isinstance(shape, Polygon) and shape.area > 100.0)
)
def test_the_places_that_an_outline_covers(shape: Polygon) -> None:
    """By shapely: a place, the step to the right, and the step up meet it or do not."""
    grid = Grid((3.0, 7.0), 14, 13, (1.0, 0.0))
    held, right, up = grid.covered([tuple(shape.exterior.coords)[-2::-1]])
    for y in range(grid.along):
        for x in range(grid.across):
            at = (3.0 + x * CELL, 7.0 + y * CELL)
            for bits, (dx, dy) in ((held, (0.0, 0.0)), (right, (CELL, 0.0)), (up, (0.0, CELL))):
                step = LineString([at, (at[0] + dx, at[1] + dy)]) if dx or dy else Point(at)
                if abs(shape.exterior.distance(step)) > 1e-6:
                    assert (bits & grid.bit(0, at) != 0) == shape.intersects(step)


def test_a_brace_in_the_way_of_what_is_carried_is_another_one() -> None:
    """Of a wall that stands alone a brace may go where nothing is carried; where all are in the way, none."""
    made = yard(way_in(700))
    routes = made.routes(made.obstructions)
    search = made.search(routes=routes)
    found = search.best().steps
    step = next(each for each in found if search.alone(each.standing))
    assert step.way.carry is not None
    number, braced = step.way.carry.number, search.braced(step.way, step.standing)
    poses = routes.way(number, step.standing, braced)
    assert poses is not None
    crossed = routes.crossed(number, step.standing, braced)
    clear = [brace for braces in braced for brace in braces if not brace.bit & crossed]
    assert clear
    # With a brace right across its place, there is no way to it.
    x, y = step.way.carry.to
    across = Prism(((x - 50, y - 50), (x + 50, y - 50), (x + 50, y + 50), (x - 50, y + 50)), 0.0, 2000.0)
    blocking = replace(clear[0], bit=1 << 400, brace=replace(clear[0].brace, rakers=(across,)))
    assert routes.way(number, step.standing, ((blocking,),)) is None
    assert routes.way(number, step.standing, ((blocking, clear[0]),)) is not None
