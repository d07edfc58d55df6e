"""The drawn polygons are those of the order of work, and hatching fills what it hatches and nothing else."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import pytest
import svg

from soleplate.engine.layout import OrderOfWork, SitePlan
from soleplate.engine.shapes import Outline, Point, area, contains
from soleplate.engine.work_order import with_work_order
from soleplate.viewer.drawings.hatching import hatched
from soleplate.viewer.drawings.no_order import draw_blocked, draw_change
from soleplate.viewer.drawings.site_view import SiteView, extent_of
from soleplate.viewer.drawings.step_plan import braces_at, draw_step
from tests.buildings import layout_of, registry
from tests.yards import TILTED, banks, hut

PLACE = {"polygon": [[0, -6000], [4500, -6000], [4500, -3500], [0, -3500]]}
CARRIED = {"framing_place": PLACE, "deck": False, "ways": ["carried", "slid"], "people": 3}
BRANCH = {
    "name": "branch", "polygon": [[500, 1500], [2500, 1500], [2500, 4200]], "bottom": 2100, "top": 6000,
}  # fmt: skip
BOXED = {"obstacles": banks(300), "ways": TILTED}


def order_of(site: dict[str, Any], **changes: Any) -> tuple[OrderOfWork, SitePlan]:
    value = hut(site, **changes)
    order = with_work_order(layout_of(value), registry().read_building(value), registry()).order_of_work
    assert order is not None
    assert order.site is not None
    return order, order.site


def view(order: OrderOfWork, site: SitePlan) -> SiteView:
    return SiteView(site, *extent_of(order, site, order.steps), 200.0)


def drawn(parts: list[svg.Element], kind: str) -> list[list[Point]]:
    """The corners of all shapes of a kind, in the world."""
    found = []
    for part in parts:
        if isinstance(part, svg.Polygon | svg.Polyline) and part.class_ == [kind]:
            assert part.points is not None
            found.append([(point.x, -point.y) for point in part.points if isinstance(point, svg.Point)])
    return found


def near(one: Sequence[Point], other: Sequence[Point]) -> bool:
    return len(one) == len(other) and all(math.dist(a, b) < 1e-6 for a, b in zip(one, other, strict=True))


def test_what_is_swept_stands_and_comes_is_drawn_where_it_is() -> None:
    order, site = order_of({"obstacles": banks(300)})
    places = {panel.name: panel.outline for panel in site.panels}
    raised = [step for step in order.steps if step.kind == "raise"]
    assert len(raised) == 4
    for step in raised:
        parts = draw_step(order, step, view(order, site))
        (now,), (room,) = drawn(parts, "now"), drawn(parts, "room")
        assert near(now, places[step.wall or ""])
        assert near(room, step.room)
        standing = [
            next(name for name in places if near(each, places[name])) for each in drawn(parts, "standing")
        ]
        assert sorted(standing) == sorted(step.standing)
        assert len(drawn(parts, "to-come")) == 3 - len(standing)


def test_each_brace_ends_at_its_foot_as_long_as_it_stays() -> None:
    order, site = order_of({"obstacles": banks(300)})
    seen = 0
    for step in order.steps:
        feet = [foot for brace in braces_at(order, step) for foot in brace.feet]
        ends = [each[-1] for each in drawn(draw_step(order, step, view(order, site)), "brace")]
        assert near(ends, feet)
        seen += len(feet)
    assert seen > 0


def test_the_way_of_what_is_carried_is_drawn_from_pose_to_pose_to_its_place() -> None:
    order, site = order_of(CARRIED)
    carried = [step for step in order.steps if step.path]
    assert carried
    for step in carried:
        (path,) = drawn(draw_step(order, step, view(order, site)), "path")
        assert near(path[:-1], [(x, y) for x, y, _ in step.path])
    (place,) = drawn(draw_step(order, carried[0], view(order, site)), "framing-place")
    assert near(place, site.framing_place)
    # Until it is carried it is where frames are made.
    framed = next(step for step in order.steps if step.kind == "frame" and step.wall == carried[0].wall)
    parts = draw_step(order, framed, view(order, site))
    assert near(drawn(parts, "framed-at")[0], site.framing_place)
    assert drawn(parts, "path") == drawn(parts, "room") == []


def test_what_is_in_a_blocked_way_is_drawn_with_how_near_it_is() -> None:
    """Sides of a pinwheel with banks all round: each would have to go before the next."""
    order, site = order_of(BOXED, through="pinwheel")
    assert not order.possible
    assert len(site.blocked) == len(order.ways)
    for way, room in zip(order.ways, site.blocked, strict=True):
        parts = draw_blocked(order, way, "mm", view(order, site))
        assert near(drawn(parts, "room")[0], room)
        assert len(drawn(parts, "in-the-way")) == len(way.walls)


def test_an_edge_pushed_back_is_drawn_as_far_back_as_it_has_to_be() -> None:
    order, site = order_of({"obstacles": [*banks(300), BRANCH], "ways": TILTED})
    (change,) = order.in_the_way
    assert change.push is not None
    assert change.edge is not None
    (line,) = drawn(draw_change(order, change, "mm", view(order, site)), "pushed")
    corners = site.obstacles[-1].outline
    start, end = corners[change.edge], corners[(change.edge + 1) % 3]
    back = area((start, end, *reversed(line))) / math.dist(start, end)
    assert abs(back) == pytest.approx(change.push)
    assert contains(corners, ((line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2))


RE_ENTRANT: Outline = ((0, 0), (900, 0), (900, 300), (300, 300), (300, 900), (0, 900))


def test_hatching_lies_within_a_re_entrant_outline_and_fills_it() -> None:
    """Lines of an area A that are w apart are A / w long together, but for one line or so."""
    lines = list(hatched(RE_ENTRANT, 10.0))
    assert all(contains(RE_ENTRANT, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)) for a, b in lines)
    run = sum(math.dist(a, b) for a, b in lines)
    assert run * 10.0 == pytest.approx(area(RE_ENTRANT), rel=0.02)
    assert all(b[1] - a[1] == pytest.approx(b[0] - a[0]) for a, b in lines)
