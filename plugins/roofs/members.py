"""What a building file says of a roof of rafters, part by part."""

from __future__ import annotations

from typing import Annotated, Final, Literal, Self

from pydantic import ConfigDict, Field, model_validator

from soleplate.engine.rules import (
    AnyLength,
    At,
    Distance,
    Limits,
    Mm,
    Model,
    Name,
    OpeningRule,
    Section,
    SectionOf,
    at_most,
    unbuildable,
)

DEEPEST_BOARD: Final = 600.0
"""mm. A deeper fascia or barge board is a wall (common practice, no source)."""

RafterSection = Annotated[
    Section, SectionOf(Annotated[AnyLength, Limits(20.0, 150.0)], Annotated[AnyLength, Limits(45.0, 400.0)])
]
BoardSection = Annotated[
    Section,
    SectionOf(Annotated[AnyLength, Limits(5.0, 100.0)], Annotated[AnyLength, Limits(40.0, DEEPEST_BOARD)]),
]
RidgeSection = Annotated[
    Section, SectionOf(Annotated[AnyLength, Limits(12.0, 300.0)], Annotated[AnyLength, Limits(60.0, 600.0)])
]
PostSection = Annotated[
    Section, SectionOf(Annotated[AnyLength, Limits(20.0, 300.0)], Annotated[AnyLength, Limits(20.0, 300.0)])
]
BattenSection = Annotated[
    Section, SectionOf(Annotated[AnyLength, Limits(5.0, 150.0)], Annotated[AnyLength, Limits(25.0, 150.0)])
]
Overhang = Annotated[AnyLength, Limits(0.0, 3_000.0)]
CoveringOverhang = Annotated[AnyLength, Limits(0.0, 200.0)]
WindowSide = Annotated[AnyLength, Limits(50.0)]


class OverStuds(Model):
    """Rafters over the full studs of the wall under the eaves, of the first of two slopes."""

    rule: Literal["over-studs"]
    """Its name."""


class Eaves(Model):
    """How far rafters reach past the outer faces of the walls they rest on, to their plumb cuts, level."""

    low: Overhang = 0.0
    """At the low eaves; of a duo-pitch roof on both sides."""
    high: Overhang | None = None
    """At the high side of a mono-pitch roof; as at the low one where it is not given."""


class Ladder(Model):
    """A fly rafter out before each gable, on rungs that lie on the wall and end at the outermost rafter."""

    rule: Literal["ladder"]
    """Its name."""
    overhang: Overhang
    """From the wall's outer face to the fly rafter's."""
    rungs: Annotated[AnyLength, Limits(150.0, 1_200.0)] = 600.0
    """From centre to centre along the slope, at the most."""


class Flush(Model):
    """A fly rafter on each wall that runs with the slope, flush with its outer face; no overhang."""

    rule: Literal["flush"]
    """Its name."""


class RidgeBoard(Model):
    """A board between the rafters of both slopes; ties hold the walls together."""

    rule: Literal["board"]
    """Its name."""
    section: RidgeSection
    """As [thickness, depth]."""
    material: Name | None = None
    """What it is of; else of the rafters'."""


class RidgeBeam(Model):
    """A beam under the rafters of both slopes, between the gables, on a post at each."""

    rule: Literal["beam"]
    """Its name."""
    section: RidgeSection
    """As [breadth, depth]: the depth is upright."""
    material: Name | None = None
    """What it is of; else of the rafters'."""
    post: PostSection = Section(70.0, 70.0)
    """Of the posts, as [breadth across the beam, depth along it]."""


class Ties(Model):
    """Level ties beside pairs of rafters, but for the outermost."""

    every: Annotated[int, Field(ge=1, le=20)] = 1
    """At every pair, every second, and so on."""
    height: Distance
    """From the underside of the sole plates to their undersides."""
    section: BoardSection
    """As [thickness, depth]."""
    material: Name | None = None
    """What they are of; else of the rafters'."""


class EdgeBoard(Model):
    """A board along the edges of the roof."""

    section: BoardSection
    """As [thickness, depth]."""
    material: Name | None = None
    """What it is of; else of the rafters'."""


class SheetCovering(Model):
    """Sheets side by side along the eaves, each as long as the slope."""

    kind: Literal["sheet"]
    """Sheets, such as profiled metal."""
    width: Annotated[AnyLength, Limits(100.0, 5_000.0)]
    """Over all."""
    cover: Annotated[AnyLength, Limits(100.0, 5_000.0)]
    """What each covers more than the one before it."""
    start: Literal["left", "right"] = "left"
    """The corner of the eaves, seen from outside, at which the first is laid: that away from the weather."""
    overhang: CoveringOverhang = 0.0
    """How far sheets reach past the lower edge of the deck or the battens."""
    least_pitch: Annotated[float, Field(gt=0.0, le=60.0)] | None = None
    """The least pitch that its maker allows, degrees."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if self.cover > self.width:
            raise unbuildable(
                "cover is {cover}; accepted is up to the sheet's width, {width}",
                cover=Mm(self.cover), width=at_most(self.width),
            )  # fmt: skip
        return self


class RollCovering(Model):
    """Strips from rolls along the eaves, each lapping over the one below."""

    kind: Literal["roll"]
    """Rolls, such as felt."""
    width: Annotated[AnyLength, Limits(100.0, 5_000.0)]
    """Of a roll."""
    lap: Annotated[AnyLength, Limits(0.0, 1_000.0)] = 75.0
    """Of each over the one below."""
    overhang: CoveringOverhang = 0.0
    """How far the lowest reaches past the lower edge of the deck or the battens."""
    least_pitch: Annotated[float, Field(gt=0.0, le=60.0)] | None = None
    """The least pitch that its maker allows, degrees."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if self.lap > self.width / 2:
            raise unbuildable(
                "lap is {lap}; accepted is up to half the roll's width, {most}",
                lap=Mm(self.lap), most=at_most(self.width / 2),
            )  # fmt: skip
        return self


class RoofBattens(Model):
    """Battens along the eaves on the deck, or on the rafters where there is none."""

    section: BattenSection
    """As [thickness, width]."""
    largest_gauge: Annotated[AnyLength, Limits(50.0, 1_500.0)]
    """From centre to centre up the slope, at the most."""
    material: Name | None = None
    """What they are of; else of the rafters'."""


class RoofWindow(Model):
    """A hole in the roof between rafters and trimmers."""

    model_config = ConfigDict(
        json_schema_extra={
            "examples": [
                {"name": "roof window", "at": {"centre": 2000}, "up": 900, "width": 550, "height": 780}
            ]
        }
    )

    name: Name
    """What it is called; no other opening of the roof may have that name."""
    at: At
    """Where it is along the wall under the eaves, seen from outside."""
    up: Distance
    """Along the slope from over that wall's outer face to its lower edge."""
    width: WindowSide
    """Along the eaves."""
    height: WindowSide
    """Up the slope."""
    framing: OpeningRule | None = None
    """How it is framed; else between single rafters."""
    slope: Literal["front", "right", "back", "left"] | None = None
    """The side that its slope has its eaves on; the first slope where it is not given."""
