"""The building file (`soleplate.building/1`): what a person asks for.

Nothing here knows of rules: for each family a member is added where one is picked (`rules/families.py`),
typed by the rules that are installed (`registry/narrowing.py`).
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, SerializerFunctionWrapHandler, model_serializer

from soleplate.engine.building_file.errors import pointer_to
from soleplate.engine.building_file.model import (
    AnyLength,
    ByName,
    Items,
    Limits,
    Model,
    Name,
)
from soleplate.engine.building_file.opening import MOST_OPENINGS, Opening
from soleplate.engine.building_file.outline import AnyOutline
from soleplate.engine.building_file.panels import Panels
from soleplate.engine.building_file.read_only import ReadOnlyDict
from soleplate.engine.building_file.roof import AnyRoof
from soleplate.engine.building_file.site import Measured, Site
from soleplate.engine.building_file.stock import Stock
from soleplate.engine.building_file.timber import SectionField
from soleplate.engine.building_file.units import Units


class FrameSpec(Model):
    """The timber that the walls are framed in."""

    section: SectionField
    """Of studs and plates, as [breadth, depth]: the face seen from the front, then through the wall."""
    material: Name = "C16"
    """An EN 338 strength class, which brings its mean density, or any name of your own."""
    density: Annotated[float, Field(ge=50.0, le=1500.0)] | None = None
    """kg/m3, for a material of your own."""
    trim_allowance: Annotated[AnyLength, Limits(0.0, 300.0)] = 0.0
    """Left on the tops of studs under a slope, for those who mark them in place."""


class Choices(Model):
    """What is said of every wall: the rules chosen, by family, what lies between its timbers, its panels."""

    insulation: Annotated[AnyLength, Limits(10.0, 600.0)] | None = None
    """How thick insulation between the timbers is; none without it. In `defaults` it holds for all walls but
    partitions."""
    vapour_layer: bool | None = None
    """Whether a layer that checks vapour lies inside of insulation; unless told it does."""
    panels: Panels | None = None
    """In which parts a wall is built, where it is too long or too heavy to raise; in one piece without it."""


class WallBlock(Choices):
    """One wall's own say: what it gives wins over `defaults`.

    What is given as null is none: `defaults` do not hold then. Where a wall needs a rule, the usual stands
    in.
    """

    frame: FrameSpec | None = None
    """The wall's own timber."""
    openings: Annotated[tuple[Opening, ...], Items(0, MOST_OPENINGS)] = ()
    """Its doors, windows and gaps."""

    @model_serializer(mode="wrap")
    def _written(self, written: SerializerFunctionWrapHandler) -> dict[str, Any]:
        """A null that was given says something, and is written even where others are left out."""
        told: dict[str, Any] = written(self)
        given = [name for name in type(self).model_fields if name in self.model_fields_set]
        return told | {name: None for name in given if getattr(self, name) is None}


class Building(Model):
    """A whole building file."""

    format: Literal["soleplate.building/1"]
    name: Name
    """What the building is called."""
    units: Units = "mm"
    """The unit of bare numbers, and of what is shown."""
    frame: FrameSpec
    """The timber of the walls."""
    outline: AnyOutline
    """The plan: a rectangle, any right-angled plan, or walls on their own."""
    roof: AnyRoof | None = None
    """What gives the walls their tops; walls on their own that state their heights need none."""
    defaults: Choices = Choices()
    """Rules for every wall."""
    walls: ByName[WallBlock] = Field(default_factory=ReadOnlyDict, max_length=1000)
    """What is said of single walls, by name."""
    stock: Stock = Stock()
    """The timber that can be had."""
    site: Site = Site()
    """Where and by whom it is built."""
    measured: ByName[Measured] = Field(default_factory=ReadOnlyDict, max_length=1000)
    """What the tape says, by wall: the wall is laid out afresh from it."""

    def who_says(self, wall: str, member: str) -> tuple[Choices, str]:
        """Who says a member of a wall, and its JSON pointer: its own block where that gives it, null too."""
        block = self.walls.get(wall)
        if block is not None and member in block.model_fields_set:
            return block, pointer_to("walls", wall, member)
        return self.defaults, pointer_to("defaults", member)
