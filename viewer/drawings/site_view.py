"""What of a site is drawn, and what stands on it in every drawing: obstacles, walls, the place for frames.

Coordinates are the world's X and Y, mm; on the drawing y runs down.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import svg

from soleplate.engine.layout import OrderOfWork, PlacedObstacle, PlacedPanel, SitePlan, WorkStep
from soleplate.engine.shapes import Outline, Point, area, bounds, clip
from soleplate.viewer.drawings.hatching import hatched
from soleplate.viewer.drawings.lettering import LetteringBox, Places, lettering, shortened, text_width
from soleplate.viewer.drawings.plan import wall_points

ROUND: Final = 0.2
"""Of the greater side of what is worked on: what is shown round it, for what stands there to be known."""

NOW: Final = "#d55e00"
BRACE: Final = "#b27300"
"""Vermilion (Okabe and Ito, 2008) and a dark amber, which grey prints too tell from black."""


@dataclass(frozen=True, slots=True)
class SiteView:
    """A site as it is drawn: its left, right, front and back edge, mm, and the size of texts, mm."""

    site: SitePlan
    left: float
    right: float
    front: float
    back: float
    size: float

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, top, width and height on the drawing."""
        return self.left, -self.back, self.right - self.left, self.back - self.front

    def panel(self, name: str) -> Outline:
        """Where a panel stands."""
        return next((each.outline for each in self.site.panels if each.name == name), ())

    def walls(self, step: WorkStep) -> list[Outline]:
        """Where what a step is of stands: a panel, or all panels of a wall."""
        return [
            each.outline
            for each in self.site.panels
            if each.name == step.called or (step.panel is None and each.wall == step.wall)
        ]

    def seen(self, outline: Sequence[Point]) -> Outline:
        """The part of an outline that is within the drawing."""
        corners = ((self.left, self.front), (self.right, self.front), (self.right, self.back))
        edges = (*corners, (self.left, self.back), corners[0])
        kept = tuple(outline) if area(outline) > 0.0 else tuple(outline)[::-1]
        for start, end in itertools.pairwise(edges):
            kept = clip(kept, start, end) if kept else ()
        return kept


def extent_of(
    order: OrderOfWork, site: SitePlan, steps: Iterable[WorkStep]
) -> tuple[float, float, float, float]:
    """Left, right, front and back edge of all that is worked on in some steps, and a little round it, mm.

    Of an order that is none it is what its blocked ways would sweep.
    """
    points = [point for each in site.panels for point in each.outline]
    for step in steps:
        points += [*step.room, *((x, y) for x, y, _ in step.path)]
        points += site.framing_place if step.path else ()
        points += [foot for brace in step.braces for foot in brace.feet]
    points += [point for room in site.blocked for point in room]
    left, right, front, back = bounds(points)
    round_it = ROUND * max(right - left, back - front)
    return left - round_it, right + round_it, front - round_it, back + round_it


def polygon(
    outline: Sequence[Point], kind: str, *, fill: str = "none", stroke: float = 0.0, dash: float = 0.0,
    ink: str = "currentColor",
) -> svg.Polygon:  # fmt: skip
    """A closed line of a `kind`, which is its class."""
    return svg.Polygon(
        points=wall_points(outline),
        class_=[kind],
        fill=fill,
        stroke=ink if stroke else None,
        stroke_width=stroke or None,
        stroke_dasharray=[dash, 0.7 * dash] if dash else None,
    )


def draw_site(view: SiteView, marked: Iterable[str] = ()) -> list[svg.Element]:
    """What is there in any case: obstacles hatched, those `marked` in the colour of what is worked on now."""
    marked = set(marked)
    drawn: list[svg.Element] = []
    if view.site.framing_place:
        drawn.append(
            polygon(view.site.framing_place, "framing-place", stroke=0.06 * view.size, dash=0.3 * view.size)
        )
    for obstacle in view.site.obstacles:
        drawn += _obstacle(view, obstacle, is_marked=obstacle.name in marked)
    return drawn


def name_all(view: SiteView, chosen: str | None, places: Places) -> list[svg.Element]:
    """The names of walls beside them, that of the `chosen` one first, and of obstacles in them."""
    hatched_places = Places(6 * view.size)
    for each in view.site.obstacles:
        if seen := view.seen(each.outline):
            hatched_places.take([_box(seen)])
    for panel in view.site.panels:
        places.take([_box(panel.outline)])
    drawn: list[svg.Element] = []
    for panel in sorted(view.site.panels, key=lambda each: each.name != chosen):
        text = _label(panel, view.size)
        beside = [
            _beside(panel.outline, view.size, out, share) for out in (1.0, -1.2) for share in (0.5, 0.3, 0.7)
        ]
        clear = [at for at in beside if hatched_places.is_free(_text_box(text, *at, view))]
        drawn += named(text, clear or beside, view, places, is_bold=panel.name == chosen)
    for obstacle in view.site.obstacles:
        drawn += written_in(view, obstacle.outline, obstacle.name, places)
    return drawn


def written_in(
    view: SiteView, outline: Outline, text: str, places: Places, *, is_bold: bool = False
) -> list[svg.Element]:
    """A text in what is seen of an obstacle, shortened where it is longer than that."""
    seen = view.seen(outline)
    if not seen:
        return []
    left, right, front, back = bounds(seen)
    is_upright = back - front > right - left
    said = shortened(text, view.size, max(back - front, right - left, 3 * view.size))
    x, y = (left + right) / 2, (front + back) / 2
    choices = [
        (
            (x, front + share * (back - front)) if is_upright else (left + share * (right - left), y),
            is_upright,
        )
        for share in (0.5, 0.25, 0.75)
    ]
    return named(said, choices, view, places, is_bold=is_bold)


def _label(panel: PlacedPanel, size: float) -> str:
    """A wall's name as far as there is room beside it; of a part the number alone where there is no more."""
    room = max(math.dist(*panel.outline[:2]), 3 * size)
    if panel.name != panel.wall and text_width(panel.name, size) > room:
        return panel.name.removeprefix(f"{panel.wall} ")
    return shortened(panel.name, size, room)


def middle(outline: Sequence[Point]) -> Point:
    """Of the rectangle round an outline."""
    left, right, front, back = bounds(outline)
    return (left + right) / 2, (front + back) / 2


def _beside(outline: Outline, size: float, out: float, share: float) -> tuple[Point, bool]:
    """The middle of a text so many text sizes outside a wall, and whether it reads upwards."""
    (x0, y0), (x1, y1) = outline[0], outline[1]
    long = math.dist((x0, y0), (x1, y1))
    x, y, by = x0 + share * (x1 - x0), y0 + share * (y1 - y0), out * size / long
    return (x + (y1 - y0) * by, y - (x1 - x0) * by), abs(y1 - y0) > abs(x1 - x0)


def _box(outline: Sequence[Point]) -> LetteringBox:
    left, right, front, back = bounds(outline)
    return LetteringBox(left, right, -back, -front)


def _text_box(text: str, at: Point, is_upright: bool, view: SiteView) -> LetteringBox:
    """What a text takes about a place, moved into the drawing."""
    wide, tall = text_width(text, view.size), 1.2 * view.size
    wide, tall = (tall, wide) if is_upright else (wide, tall)
    x = min(max(at[0], view.left + wide / 2), view.right - wide / 2)
    y = min(max(at[1], view.front + tall / 2), view.back - tall / 2)
    return LetteringBox.around(x, -y, wide, tall)


def _obstacle(view: SiteView, obstacle: PlacedObstacle, *, is_marked: bool) -> list[svg.Element]:
    seen = view.seen(obstacle.outline)
    if not seen:
        return []
    ink, wide = (NOW, 0.16 * view.size) if is_marked else ("currentColor", 0.07 * view.size)
    lines = "".join(
        f"M{x0:.0f},{-y0:.0f}L{x1:.0f},{-y1:.0f}" for (x0, y0), (x1, y1) in hatched(seen, 0.5 * view.size)
    )
    hatch = svg.Path(
        class_=["hatch"], fill="none", stroke=ink, stroke_width=0.5 * wide, stroke_opacity=0.7,
        extra={"d": lines},
    )  # fmt: skip
    return [hatch, polygon(seen, "obstacle", stroke=wide, ink=ink)]


def named(
    text: str, choices: Sequence[tuple[Point, bool]], view: SiteView, places: Places, *, is_bold: bool = False
) -> list[svg.Element]:
    """A text at the first place that is free, on paper of its own so that it can be read over lines.

    `choices` are the middles of places, and whether the text reads upwards there. Nothing where none is free.
    """
    for at, is_upright in choices:
        box = _text_box(text, at, is_upright, view)
        if not places.is_free(box):
            continue
        places.take([box])
        drawn = lettering(text, *box.centre, view.size, turned=is_upright)
        drawn.font_weight = "bold" if is_bold else None
        ground = svg.Rect(
            x=box.left, y=box.top, width=box.right - box.left, height=box.bottom - box.top,
            class_=["under-text"], fill="#fffdf8",
        )  # fmt: skip
        return [ground, drawn]
    return []
