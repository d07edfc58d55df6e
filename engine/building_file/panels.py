"""Panels as the building file has them: the parts of a wall that is too much to raise in one piece."""

from __future__ import annotations

import itertools
from typing import Annotated, Final, Self

from pydantic import Field, model_validator

from soleplate.engine.building_file.figures import Mm
from soleplate.engine.building_file.model import AnyLength, Items, Limits, Model, unbuildable
from soleplate.engine.building_file.outline import LONGEST_WALL

LEAST_PANEL: Final = 300.0
"""mm. A shorter panel has plates that tie nothing together (common practice, no source)."""

MOST_BREAKS: Final = 100
"""In one wall: more is a slip of the unit."""


class Panels(Model):
    """The parts in which a wall is built: as few and as even as the limits let, or broken where it is said.

    Give `at` alone, or a limit, or both limits.
    """

    largest_length: Annotated[AnyLength, Limits(LEAST_PANEL, LONGEST_WALL)] | None = None
    """The longest panel that is wanted."""
    largest_weight: Annotated[float, Field(ge=1.0, le=100_000.0)] | None = None
    """The heaviest, in kg: its frame as it is raised, without cladding and before it is adjusted."""
    at: (
        Annotated[tuple[Annotated[AnyLength, Limits(0.0, LONGEST_WALL)], ...], Items(1, MOST_BREAKS)] | None
    ) = None
    """Where the wall is broken, from its left end seen from outside; each break further along."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        limited = self.largest_length is not None or self.largest_weight is not None
        if limited == (self.at is not None):
            raise unbuildable("accepted is at alone, or one or both of largest_length and largest_weight")
        for one, other in itertools.pairwise(self.at or ()):
            if other <= one:
                raise unbuildable(
                    "the break at {other} comes after the one at {one}; accepted are breaks from left to"
                    " right, each once",
                    one=Mm(one),
                    other=Mm(other),
                )
        return self
