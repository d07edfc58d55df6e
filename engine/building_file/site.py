"""The building file's `site`, and what was measured there."""

from __future__ import annotations

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from soleplate.engine.building_file.model import (
    AnyLength,
    ByName,
    Distance,
    Length,
    Limits,
    Model,
    unbuildable,
)
from soleplate.engine.building_file.read_only import ReadOnlyDict


class Measured(Model):
    """What the tape says of a wall that stands, or of the timber that came."""

    length: Length | None = None
    """The wall's real length, end to end."""
    clear_length: Length | None = None
    """The real clear length between its end studs, in place of `length`."""
    breadth: Annotated[AnyLength, Limits(1.0, 1000.0)] | None = None
    """The studs' real breadth."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if self.length is not None and self.clear_length is not None:
            raise unbuildable("accepted is length or clear_length, not both")
        return self


class Site(Model):
    """Where and by whom it is built."""

    people: Annotated[int, Field(ge=1, le=20)] = 1
    """How many lift a wall together."""
    ground: Annotated[AnyLength, Limits(0.0, 5_000.0)] | None = None
    """From the ground, or whatever lies below, up to the underside of the sole plate."""
    surface: Literal["soil", "paving", "deck"] = "soil"
    """What lies below: how far water splashes up from it."""
    moisture_swing: Annotated[float, Field(ge=0.0, le=30.0)] = 6.0
    """From driest to wettest in use, in per cent of moisture: what boards shrink and swell over."""
    room: ByName[Distance] = Field(default_factory=ReadOnlyDict, max_length=1000)
    """Room to stand outside a wall, by its name; a wall not named has enough."""
