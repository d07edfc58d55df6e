"""What a building file says of a floor of joists, part by part."""

from __future__ import annotations

from typing import Annotated, Final

from pydantic import ConfigDict, Field

from soleplate.engine.rules import (
    AnyLength,
    At,
    Distance,
    Limits,
    Model,
    Name,
    OpeningRule,
    Section,
    SectionOf,
)

DEEPEST: Final = 400.0
"""mm. Deeper sawn joists are not to be had (common practice, no source)."""

JoistSection = Annotated[
    Section, SectionOf(Annotated[AnyLength, Limits(20.0, 150.0)], Annotated[AnyLength, Limits(60.0, DEEPEST)])
]
BearerSection = Annotated[
    Section, SectionOf(Annotated[AnyLength, Limits(20.0, 300.0)], Annotated[AnyLength, Limits(20.0, DEEPEST)])
]
ThresholdSection = Annotated[
    Section, SectionOf(Annotated[AnyLength, Limits(5.0, 100.0)], Annotated[AnyLength, Limits(20.0, 300.0)])
]
HatchSide = Annotated[AnyLength, Limits(50.0)]


class FloorOpening(Model):
    """A hatch in the floor: a clear hole between joists and trimmer joists."""

    model_config = ConfigDict(
        json_schema_extra={
            "examples": [
                {"name": "hatch", "at": {"left": 600}, "from_front": 300, "width": 500, "depth": 500}
            ]
        }
    )

    name: Name
    """What it is called; no other opening of the floor may have that name."""
    at: At
    """Where it is along the front, seen from outside."""
    from_front: Distance
    """From the outer face of the frame at the front to its near edge."""
    width: HatchSide
    """Along the front."""
    depth: HatchSide
    """From front to back."""
    framing: OpeningRule | None = None
    """How it is framed; else between single joists."""


class Pads(Model):
    """Pads under each bearer, equally spaced, the first and the last flush with its ends."""

    apart: Annotated[AnyLength, Limits(300.0, 6_000.0)]
    """From centre to centre, at the most."""
    size: Annotated[AnyLength, Limits(50.0, 1_000.0)]
    """Side of a square pad."""


class Bearers(Model):
    """Timbers under the joists, across them, equally spaced, the outer ones flush with the frame."""

    section: BearerSection
    """As [breadth, depth]: the depth is upright."""
    material: Name | None = None
    """What they are of; else of the joists'."""
    rows: Annotated[int, Field(ge=2, le=20)] = 2
    """How many."""
    pads: Pads | None = None
    """What they lie on."""


class Threshold(Model):
    """A board in the gap that a door leaves in the sole plate, its face flush with the wall's outer one."""

    section: ThresholdSection
    """As [thickness, width]; it lies flat on the deck."""
    material: Name | None = None
    """What it is of; else of the joists'."""
