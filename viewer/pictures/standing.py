"""What stands after a step of the work, as a small picture: what came with it in its tone, all else pale."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import svg

from soleplate.engine.layout import Layout, OrderOfWork, WallOut, WorkStep, plane_of
from soleplate.engine.shapes import Point, dot
from soleplate.viewer.drawings import INK, PAPER
from soleplate.viewer.markup import svg_text
from soleplate.viewer.pictures.look import FOUR_SIDES, MOST_PICTURED, Look
from soleplate.viewer.pictures.painting import PaintedFace, Stroke, lines_of, mixed, painted
from soleplate.viewer.pictures.picture import Box, box_of
from soleplate.viewer.pictures.scene import Scene, scene_of
from soleplate.viewer.pictures.slabs import UNMARKED

PICTURED: Final = frozenset({"base", "raise", "plates", "roof", "clad"})
"""Steps of which a picture says more than their plan."""

PALE: Final = 0.35
"""Share of its colour, and of ink in its lines, that is left to what stood before."""

LINE: Final = 1 / 700
"""Breadth of a line, by the larger side of a picture."""


@dataclass(frozen=True)
class Raised:
    """A building as it is put up: one partition of space, looked at after each step."""

    layout: Layout
    order: OrderOfWork
    scene: Scene
    came: tuple[int, ...]
    """Of each piece that is shown, the number of the step with which it came; 0 of what no step brings."""

    def has(self, step: WorkStep) -> bool:
        """Whether there is a picture of a step."""
        return step.kind in PICTURED and step.number in self._numbers

    def elements(self, step: WorkStep) -> tuple[list[svg.Element], Box]:
        """What is drawn of a step, and the place that it takes; 1 unit is 1 mm in the picture's plane."""
        strokes, box = self._painted(_look_at(self.layout, step))
        line = LINE * max(box[2:])
        drawn: list[svg.Element] = []
        for is_new, held in itertools.groupby(
            (each for each in strokes if self.came[each.owner] <= step.number),
            lambda each: self.came[each.owner] == step.number,
        ):
            paths = [path for stroke in held for body in stroke.bodies for path in _body(body, is_new=is_new)]
            ink = INK if is_new else mixed(INK, PAPER, PALE)
            drawn.append(
                svg.G(
                    class_=["now" if is_new else "before"], fill="none", stroke=ink, elements=paths,
                    stroke_width=round(line if is_new else line / 2, 1), extra={"stroke-linejoin": "round"},
                )
            )  # fmt: skip
        return drawn, box

    def svg(self, step: WorkStep, alt: str) -> str:
        """A picture that stands alone, on paper of its own."""
        drawn, (left, top, width, height) = self.elements(step)
        paper = svg.Rect(x=round(left), y=round(top), width=round(width), height=round(height), fill=PAPER)
        return svg_text(
            svg.SVG(
                viewBox=svg.ViewBoxSpec(round(left), round(top), round(width), round(height)),
                class_=["raising-picture"],
                extra={"role": "img", "aria-label": alt},
                elements=[paper, *drawn],
            )
        )

    @cached_property
    def _numbers(self) -> frozenset[int]:
        return frozenset(self.came)

    @cached_property
    def _held(self) -> dict[Look, tuple[list[Stroke], Box]]:
        return {}

    def _painted(self, look: Look) -> tuple[list[Stroke], Box]:
        if look not in self._held:
            strokes = list(painted(self.scene, look))
            self._held[look] = strokes, box_of(strokes)
        return self._held[look]


def raised(layout: Layout, order: OrderOfWork) -> Raised | None:
    """The steps of an order in pictures; `None` where the building has too many pieces, or no step."""
    if not order.steps or len(layout.pieces) > MOST_PICTURED:
        return None
    scene = scene_of(layout, Look())
    brought = {mark: step.number for step in order.steps for mark in step.pieces}
    covered = max((step.number for step in order.steps if step.kind == "roof"), default=0)
    came = (
        covered if each.piece.mark == UNMARKED else brought.get(each.piece.mark, 0) for each in scene.shown
    )
    return Raised(layout, order, scene, tuple(came))


def _look_at(layout: Layout, step: WorkStep) -> Look:
    """From the front; at what is clad from the side where its boards are."""
    walls = (wall for wall in layout.walls if step.kind == "clad" and wall.name == step.wall)
    return next((_outside_of(wall) for wall in walls), FOUR_SIDES["front"])


def _outside_of(wall: WallOut) -> Look:
    inwards = plane_of(wall).inwards
    return min(FOUR_SIDES.values(), key=lambda look: round(dot(look.towards, inwards), 6))


def _body(faces: Sequence[PaintedFace], *, is_new: bool) -> Iterator[svg.Element]:
    """A convex body; one of a piece that others come between has lines only where the piece has edges."""
    is_whole = all(all(face.edges) for face in faces)
    for colour, alike in itertools.groupby(faces, lambda face: face.colour):
        path = "".join(f"{_moves(face.outline)}z" for face in alike)
        fill = colour if is_new else mixed(colour, PAPER, PALE)
        yield svg.Path(fill=fill, stroke=None if is_whole else fill, extra={"d": path})
    if not is_whole and (lines := "".join(map(_moves, lines_of(tuple(faces))))):
        yield svg.Path(extra={"d": lines})


def _moves(points: Sequence[Point]) -> str:
    """Whole mm, each from the last: less than a pixel where it is shown."""
    placed = [(round(x), round(y)) for x, y in points]
    (x, y), steps = placed[0], itertools.pairwise(placed)
    return f"M{x} {y}l" + " ".join(f"{x1 - x0} {y1 - y0}" for (x0, y0), (x1, y1) in steps)
