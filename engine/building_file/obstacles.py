"""What stands round a building while it is put up: obstacles, and where frames can be made."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Final, Self

from pydantic import Field, ValidationInfo, field_validator, model_validator

from soleplate.engine.building_file.figures import Mm, at_least
from soleplate.engine.building_file.model import (
    AnyLength,
    Coordinate,
    Distance,
    Items,
    Limits,
    Model,
    Name,
    unbuildable,
)
from soleplate.engine.shapes import Point, area, crossing

MOST_OBSTACLES: Final = 40
LEAST_PLACE: Final = 1e6
"""mm2. A smaller place is none to make a frame on."""

Polygon = Annotated[
    tuple[Annotated[tuple[Coordinate, Coordinate], Field(strict=False)], ...],
    Items(3, 40),
]
"""Corners in order, as [X, Y]."""


class Obstacle(Model):
    """Something that stays where it is: a bank, a fence, a tree, a branch. Give `beside` or `polygon`."""

    name: Name
    """What it is called; no other obstacle may have that name."""
    beside: Name | None = None
    """The wall along whose outside it runs."""
    clear: Distance | None = None
    """From that wall's outer face, the frame's, to it."""
    thick: Annotated[AnyLength, Limits(1.0)] = 300.0
    """How far it reaches from there, away from the wall."""
    along: Annotated[tuple[Coordinate, Coordinate], Field(strict=False)] | None = None
    """Its stretch along that wall, as [from, to] from the wall's left end; 1 m past both ends without it."""
    polygon: Polygon | None = None
    """Its outline in plan, the corners in order, as [X, Y]."""
    bottom: Annotated[AnyLength, Limits(0.0, 20_000.0)] = 0.0
    """From the ground to its underside; what hangs, such as a branch, is over it."""
    top: Annotated[AnyLength, Limits(1.0, 50_000.0)] = 1800.0
    """From the ground to its top."""

    @field_validator("polygon")
    @classmethod
    def _check_polygon(cls, polygon: Sequence[Point] | None) -> Sequence[Point] | None:
        if polygon is not None:
            _refuse_crossing(polygon)
        return polygon

    @field_validator("along")
    @classmethod
    def _check_along(cls, along: Point | None) -> Point | None:
        if along is not None and along[0] >= along[1]:
            raise unbuildable(
                "from {start} to {end}; accepted is a stretch from left to right",
                start=Mm(along[0]),
                end=Mm(along[1]),
            )
        return along

    @field_validator("top")
    @classmethod
    def _check_top(cls, top: float, info: ValidationInfo) -> float:
        _refuse_low(info.data.get("bottom", 0.0), top)
        return top

    @model_validator(mode="after")
    def _check(self) -> Self:
        if (self.beside is None) == (self.polygon is None):
            raise unbuildable("accepted is beside, with clear, or polygon: one of them")
        if (self.beside is None) != (self.clear is None):
            raise unbuildable("clear goes with beside; accepted are both, or polygon alone")
        if self.along is not None and self.beside is None:
            raise unbuildable("along goes with beside; accepted are both, or polygon alone")
        _refuse_low(self.bottom, self.top)
        return self


class FramingPlace(Model):
    """Where frames can be made other than on the deck, to be carried to the building."""

    polygon: Polygon
    """Its outline in plan, the corners in order, as [X, Y]; at least 1 m2."""
    roofed: bool = False
    """Whether it has a roof, so that frames can be made there in the wet."""

    @field_validator("polygon")
    @classmethod
    def _check_polygon(cls, polygon: Sequence[Point]) -> Sequence[Point]:
        _refuse_crossing(polygon)
        if abs(area(polygon)) < LEAST_PLACE:
            raise unbuildable(f"{abs(area(polygon)) / 1e6:.2f} m2; accepted is at least 1 m2")
        return polygon


def _refuse_crossing(polygon: Sequence[Point]) -> None:
    pair = crossing(polygon)
    if pair is not None:
        raise unbuildable(
            f"side {pair[0] + 1} meets side {pair[1] + 1}; accepted are outlines whose sides meet only at"
            " corners"
        )


def _refuse_low(bottom: float, top: float) -> None:
    if top <= bottom:
        raise unbuildable(
            "the top, {top}, is not over the bottom, {bottom}; accepted is over {least}",
            top=Mm(top),
            bottom=Mm(bottom),
            least=at_least(bottom),
        )
