"""An opening as the building file has it."""

from __future__ import annotations

from typing import Annotated, Final, Literal, Self

from pydantic import model_validator

from soleplate.engine.building_file.model import (
    AnyLength,
    Distance,
    Limits,
    Model,
    Name,
    unbuildable,
)

MOST_OPENINGS: Final = 40
"""In one wall."""


OpeningSize = Annotated[AnyLength, Limits(10.0)]
"""Of an opening in a frame; a smaller hole is drilled."""


class At(Model):
    """Where an opening is: one of the three, in mm along the wall seen from outside."""

    left: Distance | None = None
    """Its left edge, from the wall's left end."""
    right: Distance | None = None
    """Its right edge, from the wall's right end."""
    centre: Distance | None = None
    """Its middle, from the wall's left end."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if sum(value is not None for value in (self.left, self.right, self.centre)) != 1:
            raise unbuildable("accepted is one of left, right and centre")
        return self

    def edges(self, width: float, over_all: float) -> tuple[float, float]:
        """The left and the right edge of what is `width` wide, mm, in a whole that is `over_all` long."""
        if self.left is not None:
            left = self.left
        elif self.right is not None:
            left = over_all - self.right - width
        else:
            assert self.centre is not None  # noqa: S101 - the model holds it
            left = self.centre - width / 2
        return left, left + width


class Unit(Model):
    """The door or window itself, over its frame."""

    width: OpeningSize
    """Over the frame."""
    height: OpeningSize
    """Over the frame, sill included."""


class Allowance(Model):
    """What is left round a unit to plumb and pack it."""

    sides: Annotated[AnyLength, Limits(0.0, 100.0)] = 0.0
    """At each side."""
    head: Annotated[AnyLength, Limits(0.0, 100.0)] = 0.0
    """Above."""
    sill: Annotated[AnyLength, Limits(0.0, 100.0)] = 0.0
    """Below."""


class Opening(Model):
    """A hole in a wall. Its structural size is `width` by `height`, or a `unit` with its allowance."""

    name: Name
    """What it is called; no other opening of the wall may have that name."""
    kind: Literal["door", "window", "gap"]
    """A gap is a hole with nothing in it."""
    width: OpeningSize | None = None
    """Structural width, between the timbers at either side."""
    height: OpeningSize | None = None
    """Structural height."""
    unit: Unit | None = None
    """The unit's own size, in place of `width` and `height`."""
    allowance: Allowance = Allowance()
    """Added to the size of a unit."""
    at: At
    """Where it is along the wall."""
    sill: Distance = 0.0
    """From the underside of the sole plate to its underside; 0 for a door."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        sized = self.width is not None and self.height is not None
        if sized == (self.unit is not None) or (self.width is None) != (self.height is None):
            raise unbuildable("accepted is either width and height, or unit")
        if sized and self.allowance != Allowance():
            raise unbuildable(
                "an allowance goes with a unit; width and height are the structural size already"
            )
        return self

    @property
    def structural_width(self) -> float:
        """Mm."""
        if self.unit is not None:
            return self.unit.width + 2 * self.allowance.sides
        assert self.width is not None  # noqa: S101 - the model holds it
        return self.width

    @property
    def structural_height(self) -> float:
        """Mm."""
        if self.unit is not None:
            return self.unit.height + self.allowance.head + self.allowance.sill
        assert self.height is not None  # noqa: S101 - the model holds it
        return self.height
