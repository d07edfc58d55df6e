"""A joint of two pieces with its nails, seen from two sides: what is near its first nails.

Everything is projected from the world, so that joints within a wall, between walls, of floors and roofs are
drawn alike. On the drawing y runs down; 1 unit is 1 mm.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

import svg

from soleplate.engine.layout import JointFixingOut, Layout, Piece, plane_of
from soleplate.engine.shapes import (
    Outline,
    Point,
    Vector,
    View,
    bounds,
    clip,
    dot,
    hull,
    is_convex,
    minus,
)
from soleplate.viewer.drawings.hatching import hatched
from soleplate.viewer.drawings.lettering import LetteringBox, lettering, text_width
from soleplate.viewer.drawings.plan import wall_points
from soleplate.viewer.drawings.tones import drawn_as, fill_of

WINDOW: Final = 190.0
"""mm. The side of what is seen of a joint."""

NAIL: Final = "#1f2123"

Seen = Literal["front", "side", "above"]


@dataclass(frozen=True, slots=True)
class JointView:
    """A joint seen from one side: which one, and along which axes of the world."""

    seen: Seen
    right: Vector
    up: Vector

    def at(self, point: Vector) -> Point:
        """A point of the world on the drawing plane."""
        return dot(point, self.right), dot(point, self.up)


@dataclass(frozen=True, slots=True)
class PlacedPiece:
    """A piece with the plane that its outline lies in."""

    piece: Piece
    view: View

    def corners(self) -> Iterator[Vector]:
        """Of its body in the world."""
        for x, z in self.piece.outline:
            for deep in self.piece.depth:
                yield self.view.point(x, z, deep)

    def seen(self, view: JointView) -> Outline:
        """Its outline from one side; of one that is notched the hull, unless it is seen in its own plane."""
        if view.seen == "front" and not is_convex(self.piece.outline):
            return tuple(view.at(self.view.point(x, z, self.piece.depth[0])) for x, z in self.piece.outline)
        return tuple(hull([view.at(corner) for corner in self.corners()]))


def placed_pieces(layout: Layout) -> dict[str, PlacedPiece]:
    """Every piece by its mark."""
    return {
        piece.mark: PlacedPiece(piece, plane_of(part, piece.view))
        for part in layout.parts
        for piece in part.pieces
        if (piece.view or "face") in part.views
    }


def views_of(fixing: JointFixingOut, through: PlacedPiece) -> tuple[JointView, JointView]:
    """From the front of the piece that is nailed through, and from another side that shows nails long."""
    own = through.view
    inwards = own.inwards
    first = fixing.places[0]
    way = minus(first.point, first.head)
    front = JointView("front", own.right, own.up)
    if abs(dot(way, own.right)) > max(abs(dot(way, own.up)), abs(dot(way, inwards))):
        return front, JointView("above", own.right, inwards)
    return front, JointView("side", inwards, own.up)


def draw_joint(
    fixing: JointFixingOut, pieces: dict[str, PlacedPiece], view: JointView, size: float
) -> tuple[list[svg.Element], tuple[float, float]]:
    """A joint seen from one side, and the middle of what is seen, which is `WINDOW` wide and high.

    Nails are lines from head to point, each as thick as it is; the first ones are in the middle.
    """
    nails = [(view.at(place.head), view.at(place.point)) for place in fixing.places]
    x, y = _middle_of(nails)
    window = (x - WINDOW / 2, x + WINDOW / 2, y - WINDOW / 2, y + WINDOW / 2)
    drawn: list[svg.Element] = []
    names: list[svg.Element] = []
    taken: list[LetteringBox] = []
    for mark in (fixing.into, fixing.through):
        if mark in pieces:
            outline = _within(pieces[mark].seen(view), window)
            drawn += _piece(pieces[mark].piece, outline, window)
            names += _name(mark, outline, nails, size, taken)
        else:
            drawn += _base(pieces[fixing.through].seen(view), window)
    for start, end in nails:
        if _is_in(start, window):
            drawn += _nail(start, _last_in(start, end, window), fixing.diameter)
    return [*drawn, *names], (x, y)


def _middle_of(nails: Sequence[tuple[Point, Point]]) -> Point:
    """Of the first nail and those near it; of a long one the part at its head."""
    head, point = nails[0]
    long = math.dist(head, point)
    if long > 0.7 * WINDOW:
        share = 0.35 * WINDOW / long
        return head[0] + share * (point[0] - head[0]), head[1] + share * (point[1] - head[1])
    ends = [
        end
        for nail in nails
        if max(abs(a - b) for pair in zip(nail, nails[0], strict=True) for a, b in zip(*pair, strict=True))
        < 0.5 * WINDOW
        for end in nail
    ]
    left, right, low, high = bounds(ends)
    return (left + right) / 2, (low + high) / 2


def _is_in(point: Point, window: tuple[float, float, float, float]) -> bool:
    return window[0] <= point[0] <= window[1] and window[2] <= point[1] <= window[3]


def _last_in(start: Point, end: Point, window: tuple[float, float, float, float]) -> Point:
    """Where a line from within a window leaves it, or its end."""
    share = 1.0
    for axis, (low, high) in enumerate((window[:2], window[2:])):
        run = end[axis] - start[axis]
        if run:
            share = min(share, ((high if run > 0 else low) - start[axis]) / run)
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _base(plate: Outline, window: tuple[float, float, float, float]) -> list[svg.Element]:
    """Masonry or concrete under a plate, hatched."""
    left, right, low, _ = window
    top = min(z for _, z in plate)
    if top - low < 1.0 or top > window[3]:
        return []
    ground = ((left, low), (right, low), (right, top), (left, top))
    lines = "".join(f"M{a[0]:.1f},{-a[1]:.1f}L{b[0]:.1f},{-b[1]:.1f}" for a, b in hatched(ground, 14.0))
    edge = f"M{left:.1f},{-top:.1f}L{right:.1f},{-top:.1f}"
    return [
        svg.Path(fill="none", stroke="currentColor", stroke_width=0.7, class_=["base"], extra={"d": lines}),
        svg.Path(fill="none", stroke="currentColor", stroke_width=1.8, extra={"d": edge}),
    ]


def _piece(piece: Piece, outline: Outline, window: tuple[float, float, float, float]) -> list[svg.Element]:
    """Its ground, and its edges but those at which the drawing ends."""
    if not outline:
        return []
    left, right, low, high = window
    edges = [
        (a, b)
        for a, b in itertools.pairwise((*outline, outline[0]))
        if not any(
            abs(a[axis] - at) < 1e-3 and abs(b[axis] - at) < 1e-3
            for axis, at in ((0, left), (0, right), (1, low), (1, high))
        )
    ]
    lines = "".join(f"M{a[0]:.1f},{-a[1]:.1f}L{b[0]:.1f},{-b[1]:.1f}" for a, b in edges)
    return [
        svg.Polygon(points=wall_points(outline), class_=["timber"], fill=fill_of(drawn_as(piece))),
        svg.Path(fill="none", stroke="currentColor", stroke_width=1.2, extra={"d": lines}),
    ]


def _nail(start: Point, end: Point, diameter: float) -> list[svg.Element]:
    """From its head, a stroke across, to its point; a ring where it is seen end on."""
    long = math.dist(start, end)
    if long < diameter:
        return [
            svg.Circle(
                cx=start[0], cy=-start[1], r=1.1 * diameter, class_=["nail"], fill="#ffffff", stroke=NAIL,
                stroke_width=0.6 * diameter,
            )
        ]  # fmt: skip
    u, v = (end[0] - start[0]) / long * 1.3 * diameter, (end[1] - start[1]) / long * 1.3 * diameter
    return [
        svg.Polyline(
            points=wall_points([start, end]), class_=["nail"], fill="none", stroke=NAIL, stroke_width=diameter
        ),
        svg.Polyline(
            points=wall_points([(start[0] - v, start[1] + u), (start[0] + v, start[1] - u)]), fill="none",
            stroke=NAIL, stroke_width=0.9 * diameter,
        ),
    ]  # fmt: skip


def _name(
    mark: str,
    outline: Outline,
    nails: Sequence[tuple[Point, Point]],
    size: float,
    taken: list[LetteringBox],
) -> list[svg.Element]:
    """Its mark, where in what is seen of it the nails are farthest, clear of what is `taken`."""
    if not outline:
        return []
    left, right, low, high = bounds(outline)
    wide, tall = 0.5 * text_width(mark, size) + 0.2 * size, 0.65 * size
    along = [
        (x0 + share * (x1 - x0), y0 + share * (y1 - y0))
        for (x0, y0), (x1, y1) in nails
        for share in (0.0, 0.25, 0.5, 0.75, 1.0)
    ]
    spots = [(x, y) for x in _spots(left, right, wide) for y in _spots(low, high, tall)]
    boxes = {(x, y): LetteringBox(x - wide, x + wide, -y - tall, -y + tall) for x, y in spots}
    free = [spot for spot in spots if not any(boxes[spot].shared(each) > 0.0 for each in taken)] or spots
    x, y = max(free, key=lambda spot: min(math.dist(spot, each) for each in along))
    taken.append(boxes[x, y])
    ground = svg.Rect(
        x=x - wide, y=-y - tall, width=2 * wide, height=2 * tall, fill="#fffdf8", fill_opacity=0.85
    )
    return [ground, lettering(mark, x, -y, size)]


def _spots(first: float, last: float, half: float) -> tuple[float, ...]:
    """Places of what is `half` to either side, from end to end."""
    middle = (first + last) / 2
    return (first + half, middle, last - half) if last - first > 2 * half else (middle,)


def _within(outline: Outline, window: tuple[float, float, float, float]) -> Outline:
    left, right, low, high = window
    corners = ((left, low), (right, low), (right, high), (left, high), (left, low))
    kept = outline
    for start, end in itertools.pairwise(corners):
        kept = clip(kept, start, end) if kept else ()
    return kept
