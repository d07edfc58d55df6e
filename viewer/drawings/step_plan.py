"""A step of the work as a small plan: what stands, what is raised now, where it lies, and what holds it."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

import svg

from soleplate.engine.layout import OrderOfWork, TemporaryBraceOut, WorkStep
from soleplate.engine.shapes import Outline, Point
from soleplate.viewer.drawings.lettering import LetteringBox, Places
from soleplate.viewer.drawings.plan import wall_points
from soleplate.viewer.drawings.site_view import BRACE, NOW, SiteView, draw_site, middle, name_all, polygon


def draw_step(order: OrderOfWork, step: WorkStep, view: SiteView) -> list[svg.Element]:
    """A step: obstacles hatched, what stands solid, the wall of this step in colour and outlined heavily.

    Its lying place is dashed, with an arrow to where it will stand; the way of what is carried is a line;
    braces are dashed, those of earlier steps too as long as they stay.
    """
    size = view.size
    raised = raise_of(order, step)
    now = view.walls(step)
    drawn: list[svg.Element] = []
    for panel in view.site.panels:
        if panel.outline in now:
            continue
        if panel.name in step.standing:
            drawn.append(polygon(panel.outline, "standing", fill="currentColor", stroke=0.05 * size))
        else:
            drawn.append(polygon(panel.outline, "to-come", stroke=0.05 * size, dash=0.15 * size))
    if raised is not None and step.called not in step.standing:
        drawn += _moving(raised, now[0], view, is_now=step.kind == "raise")
    else:
        drawn += [polygon(each, "now", fill=NOW, stroke=0.22 * size, ink=NOW) for each in now]
    drawn += [each for brace in braces_at(order, step) for each in _brace(brace, view)]
    places = Places(6 * size)
    if step.kind == "raise" and step.room and not step.path:
        (x0, y0), (x1, y1) = _up(step.room, now[0])
        places.take([LetteringBox(min(x0, x1), max(x0, x1), -max(y0, y1), -min(y0, y1))])
    return [*draw_site(view), *drawn, *name_all(view, step.called, places)]


def raise_of(order: OrderOfWork, step: WorkStep) -> WorkStep | None:
    """The step in which the wall of a step is raised."""
    raised = (each for each in order.steps if each.kind == "raise" and each.called == step.called)
    return None if step.wall is None else next(raised, None)


def braces_at(order: OrderOfWork, step: WorkStep) -> Iterator[TemporaryBraceOut]:
    """The braces that are there at the end of a step: set up by then, and not to come off before it."""
    for each in order.steps:
        if each.number <= step.number:
            yield from (brace for brace in each.braces if brace.off_after >= step.number)


def _moving(raised: WorkStep, now: Outline, view: SiteView, *, is_now: bool) -> list[svg.Element]:
    """The wall that is made, or raised now, and how it comes to its place."""
    size = view.size
    place = (
        polygon(now, "now", fill=NOW, stroke=0.22 * size, ink=NOW)
        if is_now
        else polygon(now, "to-come", stroke=0.16 * size, ink=NOW)
    )
    if not raised.room:
        return [place]
    if raised.path and not is_now:
        made_at = polygon(view.site.framing_place, "framed-at", stroke=0.16 * size, dash=0.45 * size, ink=NOW)
        return [place, made_at]
    room = polygon(raised.room, "room", stroke=0.1 * size, dash=0.45 * size, ink=NOW)
    if raised.path:
        way = [(x, y) for x, y, _ in raised.path]
        return [room, place, *_arrow([*way, middle(now)], "path", size)]
    return [room, place, *(_arrow(_up(raised.room, now), "arrow", size) if is_now else ())]


def _up(room: Sequence[Point], stands: Outline) -> list[Point]:
    """From the far side of what is swept to where the wall stands, through the middle of both."""
    (x0, y0), (x1, y1) = middle(room), middle(stands)
    return [(x0 + 0.6 * (x0 - x1), y0 + 0.6 * (y0 - y1)), (x1, y1)]


def _arrow(way: Sequence[Point], kind: str, size: float) -> list[svg.Element]:
    """A line with a head at its end."""
    (x0, y0), (x1, y1) = next(
        ((a, b) for a, b in reversed(list(itertools.pairwise(way))) if math.dist(a, b) > 1.0),
        (way[0], way[-1]),
    )
    long = math.dist((x0, y0), (x1, y1))
    if long <= 1.0:
        return []
    u, v = (x1 - x0) / long, (y1 - y0) / long
    reach, half = 0.8 * size, 0.35 * size
    head = [
        (x1, y1),
        (x1 - reach * u - half * v, y1 - reach * v + half * u),
        (x1 - reach * u + half * v, y1 - reach * v - half * u),
    ]
    line = svg.Polyline(
        points=wall_points(way), class_=[kind], fill="none", stroke="currentColor", stroke_width=0.12 * size
    )
    return [line, svg.Polygon(points=wall_points(head), class_=["arrow-head"], fill="currentColor")]


def _brace(brace: TemporaryBraceOut, view: SiteView) -> list[svg.Element]:
    """Rakers from the wall to their feet, each foot a stop."""
    size, half = view.size, 0.22 * view.size
    wall = view.panel(brace.called)
    drawn: list[svg.Element] = []
    for x, y in brace.feet:
        start = _square_on(wall, (x, y))
        drawn.append(
            svg.Polyline(
                points=wall_points([start, (x, y)]), class_=["brace"], fill="none", stroke=BRACE,
                stroke_width=0.16 * size, stroke_dasharray=[0.35 * size, 0.2 * size],
            )
        )  # fmt: skip
        drawn.append(
            svg.Rect(x=x - half, y=-y - half, width=2 * half, height=2 * half, class_=["foot"], fill=BRACE)
        )
    return drawn


def _square_on(wall: Outline, foot: Point) -> Point:
    """Where a raker meets the middle of its wall in plan: it runs square to it."""
    (x0, y0), (x1, y1) = wall[0], wall[1]
    long = math.dist((x0, y0), (x1, y1))
    u, v = (x1 - x0) / long, (y1 - y0) / long
    mx, my = middle(wall)
    along = (foot[0] - mx) * u + (foot[1] - my) * v
    return mx + along * u, my + along * v
