"""What is in the way where there is no order: each blocked way, and each change with which there is one."""

from __future__ import annotations

import math

import svg

from soleplate.engine.building_file import Units, format_length
from soleplate.engine.layout import BlockedWay, InTheWay, OrderOfWork
from soleplate.engine.shapes import Outline, area
from soleplate.viewer.drawings.lettering import Places
from soleplate.viewer.drawings.plan import wall_points
from soleplate.viewer.drawings.site_view import NOW, SiteView, draw_site, name_all, polygon, written_in


def draw_blocked(order: OrderOfWork, way: BlockedWay, units: Units, view: SiteView) -> list[svg.Element]:
    """A way that is blocked: what it would sweep dashed, what is in it in colour, by how much beside it."""
    drawn = _walls(order, view, way.called, way.walls)
    room = view.site.blocked[order.ways.index(way)]
    if room:
        drawn.append(polygon(room, "room", stroke=0.1 * view.size, dash=0.45 * view.size, ink=NOW))
    places = Places(6 * view.size)
    told: list[svg.Element] = []
    for obstacle in view.site.obstacles:
        if obstacle.name in way.obstacles:
            text = format_length(way.obstacles[obstacle.name], units)
            told += written_in(view, obstacle.outline, text, places, is_bold=True)
    return [*draw_site(view, way.obstacles), *drawn, *told, *name_all(view, way.called, places)]


def draw_change(order: OrderOfWork, change: InTheWay, units: Units, view: SiteView) -> list[svg.Element]:
    """What would have to go, in colour; where an edge pushed back is enough, the edge and how far."""
    places = Places(6 * view.size)
    told: list[svg.Element] = []
    for obstacle in view.site.obstacles:
        if obstacle.name in change.obstacles and change.push is not None and change.edge is not None:
            told += _pushed(obstacle.outline, change.edge, change.push, view)
            text = format_length(change.push, units)
            told += written_in(view, obstacle.outline, text, places, is_bold=True)
    return [
        *draw_site(view, change.obstacles),
        *_walls(order, view, None, ()),
        *told,
        *name_all(view, None, places),
    ]


def _pushed(outline: Outline, number: int, by: float, view: SiteView) -> list[svg.Element]:
    """The line at which an edge would have to be, mm back from where it is."""
    start, end = outline[number], outline[(number + 1) % len(outline)]
    turn = by if area(outline) > 0.0 else -by
    long = math.dist(start, end)
    u, v = -turn * (end[1] - start[1]) / long, turn * (end[0] - start[0]) / long
    line = svg.Polyline(
        points=wall_points([(x + u, y + v) for x, y in (start, end)]), class_=["pushed"], fill="none",
        stroke="currentColor", stroke_width=0.25 * view.size,
        stroke_dasharray=[0.5 * view.size, 0.25 * view.size],
    )  # fmt: skip
    return [line]


def _walls(order: OrderOfWork, view: SiteView, wall: str | None, in_it: tuple[str, ...]) -> list[svg.Element]:
    """What stands in the first of the furthest states solid, what is to be raised, and what is in its way."""
    stands = order.furthest[0] if order.furthest else ()
    drawn: list[svg.Element] = []
    for panel in view.site.panels:
        size = view.size
        if panel.name in in_it:
            drawn.append(
                polygon(panel.outline, "in-the-way", fill="currentColor", stroke=0.25 * size, ink=NOW)
            )
        elif panel.name in stands:
            drawn.append(polygon(panel.outline, "standing", fill="currentColor", stroke=0.05 * size))
        elif panel.name == wall:
            drawn.append(polygon(panel.outline, "now", fill=NOW, stroke=0.22 * size, ink=NOW))
        else:
            drawn.append(polygon(panel.outline, "to-come", stroke=0.05 * size, dash=0.15 * size))
    return drawn
