"""The building file's `site`, and what was measured there."""

from __future__ import annotations

from typing import Annotated, Any, Final, Literal, Self

from pydantic import Field, SerializerFunctionWrapHandler, model_serializer, model_validator

from soleplate.engine.building_file.model import (
    AnyLength,
    ByName,
    Distance,
    Items,
    Length,
    Limits,
    Model,
    Name,
    unbuildable,
)
from soleplate.engine.building_file.obstacles import MOST_OBSTACLES, FramingPlace, Obstacle
from soleplate.engine.building_file.read_only import ReadOnlyDict


class Measured(Model):
    """What the tape says of a wall that stands, of the timber that came, or of what a slope goes over."""

    length: Length | None = None
    """The wall's real length, end to end."""
    clear_length: Length | None = None
    """The real clear length between its end studs, in place of `length`."""
    breadth: Annotated[AnyLength, Limits(1.0, 1000.0)] | None = None
    """The studs' real breadth."""
    run: Length | None = None
    """Of a slope, such as `roof back`: level, from the outer face of the wall under its eaves to that of the
    wall under its high end, or to under the ridge."""
    run_right: Length | None = None
    """The same at the slope's right end, seen from outside, where walls are out of parallel; `run` is at its
    left then."""

    @property
    def is_of_slope(self) -> bool:
        """Whether a run is given, which slopes have."""
        return self.run is not None

    @property
    def is_of_wall(self) -> bool:
        """Whether something is given that walls have."""
        return (self.length, self.clear_length, self.breadth) != (None, None, None)

    @model_validator(mode="after")
    def _check(self) -> Self:
        if self.run is None and self.run_right is not None:
            raise unbuildable("run_right is that at the other end; accepted is run with it")
        if self.run is not None and self.is_of_wall:
            raise unbuildable("accepted is run of a slope, or length, clear_length and breadth of a wall")
        if self.length is not None and self.clear_length is not None:
            raise unbuildable("accepted is length or clear_length, not both")
        return self


class DryHours(Model):
    """Hours without rain, on which work that has to be dry can be counted."""

    name: Name
    """What they are called, such as the day."""
    hours: Annotated[float, Field(ge=0.0, le=24.0)]
    """How many."""


Hours = Annotated[float, Field(ge=0.0, le=100.0)]


class WorkRates(Model):
    """Person-hours that work takes. Ours are invented, to be set right by what your own work takes."""

    joint: Hours = 0.03
    """For each joint of a frame that is nailed or screwed."""
    piece: Hours = 0.02
    """For each piece that is marked and cut."""
    cladding_m2: Hours = 0.5
    """For each m2 of boards or sheets, of a deck too."""
    raise_: Annotated[Hours, Field(alias="raise")] = 0.5
    """For raising, plumbing and fixing a wall."""
    brace: Hours = 0.25
    """For bracing it."""
    square: Hours = 0.25
    """For each squaring by equal diagonals."""
    roof_m2: Hours = 0.6
    """For each m2 of roof; of its covering alone, where its timber and its deck are laid out."""
    door: Hours = 2.0
    """For hanging each door, or glazing each window."""


ALWAYS_WRITTEN: Final = frozenset({"people", "ground", "surface", "moisture_swing", "room"})


class Site(Model):
    """Where and by whom it is built, and what stands round it meanwhile."""

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
    obstacles: Annotated[tuple[Obstacle, ...], Items(0, MOST_OBSTACLES)] = ()
    """What stands round the building and stays: the walls are raised clear of it."""
    framing_place: FramingPlace | None = None
    """Where frames can be made other than on the deck; without it, on the deck only."""
    deck: bool = True
    """Whether frames can be made on the deck, in the building's own plan."""
    clearance: Annotated[AnyLength, Limits(0.0, 1_000.0)] = 20.0
    """What a wall in movement stays clear of obstacles by."""
    working_room: Annotated[AnyLength, Limits(0.0, 5_000.0)] = 600.0
    """Room outside a wall that it takes to clad it, or to frame it standing."""
    head_room: Annotated[AnyLength, Limits(0.0, 5_000.0)] = 500.0
    """Room to stand at the head of a wall that lies, for whoever lifts it."""
    carry_width: Annotated[AnyLength, Limits(100.0, 3_000.0)] = 450.0
    """How broad a way is for people who carry a wall upright."""
    hand_height: Annotated[AnyLength, Limits(500.0, 2_500.0)] = 1400.0
    """As high as hands hold a wall while it is tilted up."""
    ways: Annotated[tuple[Name, ...], Items(1, 100)] | None = None
    """The ways of raising a wall that come into question; all that are installed without it."""
    lift_each: Annotated[float, Field(ge=1.0, le=100.0)] = 25.0
    """What each person lifts, kg."""
    wet: Annotated[float, Field(ge=0.5, le=2.5)] = 1.143
    """The weight of the timber as it is lifted, against its weight at 12 % of moisture; 1.143 at 28 %."""
    wind: Annotated[int, Field(ge=0, le=8)] = 3
    """Up to which number of the Beaufort scale walls are raised."""
    dry_hours: Annotated[tuple[DryHours, ...], Items(0, 60)] = ()
    """The dry hours there are, in order."""
    rates: WorkRates = WorkRates()
    """What work takes, in person-hours."""
    region: Literal["england", "united-states"] | None = None
    """Whose limits on heights and areas are looked at, over which permission is asked for; else none."""
    boundary: Annotated[AnyLength, Limits(0.0, 1_000_000.0)] | None = None
    """From the building to the nearest boundary of its plot; far from it without it."""
    preference: Literal["from-deck", "braced-least"] = "from-deck"
    """What counts first: walls raised from the deck, or few that stand braced alone."""

    @model_serializer(mode="wrap")
    def _written(self, written: SerializerFunctionWrapHandler) -> dict[str, Any]:
        """What raising is told is written where it was given."""
        told: dict[str, Any] = written(self)
        said = ALWAYS_WRITTEN | self.model_fields_set
        return {name: value for name, value in told.items() if name in said}
