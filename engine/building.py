"""The building file (`soleplate.building/1`): what a person asks for.

The rule members are typed here by their family's base class; `registry` narrows each to the rules that
are installed, so that a file's `rule` names pick among those.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal, Self

from pydantic import Field, model_validator

from soleplate.engine.cladding.rule import CladdingRule
from soleplate.engine.model import (
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
from soleplate.engine.outline import AnyOutline
from soleplate.engine.roof import AnyRoof
from soleplate.engine.rules import (
    Adjustment,
    CornerRule,
    NogginRule,
    OpeningRule,
    StudRule,
    TopPlateRule,
)
from soleplate.engine.timber import SectionField, SoldSection, same_section
from soleplate.engine.units import Units

Grade = Literal["straight", "short"]
Price = Annotated[float, Field(gt=0.0, le=1_000_000.0)]

MOST_OPENINGS: Final = 40
"""In one wall."""

USUAL_LONGEST: Final = 6_000.0
"""mm. Sawn softwood is stocked up to 6 m as a rule; longer is scarce and dearer (UK merchants' lists)."""


OpeningSize = Annotated[AnyLength, Limits(10.0)]
"""Of an opening in a frame; a smaller hole is drilled."""


class Frame(Model):
    """The timber that the walls are framed in."""

    section: SectionField
    """Of studs and plates, as [breadth, depth]: the face seen from the front, then through the wall."""
    material: Name = "C16"
    """An EN 338 strength class, which brings its mean density, or any name of your own."""
    density: Annotated[float, Field(ge=50.0, le=1500.0)] | None = None
    """kg/m3, for a material of your own."""
    trim_allowance: Annotated[AnyLength, Limits(0.0, 300.0)] = 0.0
    """Left on the tops of studs under a slope, for those who mark them in place."""


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
    framing: OpeningRule | None = None
    """How it is framed; else by the wall's `openings_framing`."""

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


class Choices(Model):
    """The rules chosen, by family."""

    studs: StudRule | None = None
    """How studs are spaced."""
    noggins: NogginRule | None = None
    """How noggins are set; none without it."""
    top_plates: TopPlateRule | None = None
    """How the top of the wall is made."""
    corners: CornerRule | None = None
    """How corners and tees are made."""
    openings_framing: OpeningRule | None = None
    """How openings are framed that do not say."""
    cladding: CladdingRule | None = None
    """How the outside is clad; not at all without it. In `defaults` it holds for all walls but partitions. A
    partition's own is that of its outer face, as its elevation is drawn, which is indoors too."""
    lining: CladdingRule | None = None
    """How the inside is lined, by the same rules; not at all without it. In `defaults` it holds for all
    walls, and for both faces of partitions."""
    adjustments: Annotated[tuple[Adjustment, ...], Items(0, 20)] | None = None
    """What is changed in the finished frame, in this order."""


class WallBlock(Choices):
    """One wall's own say: what it gives wins over `defaults`."""

    frame: Frame | None = None
    """The wall's own timber."""
    openings: Annotated[tuple[Opening, ...], Items(0, MOST_OPENINGS)] = ()
    """Its doors, windows and gaps."""


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
    room: ByName[Distance] = Field(default_factory=dict, max_length=1000)
    """Room to stand outside a wall, by its name; a wall not named has enough."""


class StockLength(Model):
    """A length on sale, as many as wanted."""

    length: Annotated[AnyLength, Limits(300.0, 20_000.0)]
    """As sold."""
    price: Price | None = None
    """Of one, in money of your own."""
    price_per_metre: Price | None = None
    """Of a metre, in place of `price`."""
    grade: Grade = "straight"
    """`short`: sold as bent, for short pieces only."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if self.price is not None and self.price_per_metre is not None:
            raise unbuildable("accepted is price or price_per_metre, not both")
        return self

    @property
    def is_priced(self) -> bool:
        """Whether its price is known."""
        return self.price is not None or self.price_per_metre is not None


class OnHand(Model):
    """Alike lengths that are there already."""

    length: Annotated[AnyLength, Limits(50.0, 20_000.0)]
    """As it lies there."""
    count: Annotated[int, Field(ge=1, le=5000)] = 1
    """How many."""
    grade: Grade = "straight"
    """`short`: bent, for short pieces only."""


class StockTimber(Model):
    """What can be had of one section."""

    section: SoldSection
    """As [breadth, depth]; of sheets as [thickness, width], and their heights are the lengths."""
    material: Name | None = None
    """Needed where the building has this section in several materials."""
    lengths: Annotated[tuple[StockLength, ...], Items(0, 40)] = ()
    """The lengths on sale."""
    on_hand: Annotated[tuple[OnHand, ...], Items(0, 200)] = ()
    """The lengths that are there already."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if not self.lengths and not self.on_hand:
            raise unbuildable("accepted is at least one length on sale or on hand")
        return self


class Bent(Model):
    """How much of the timber is expected to come bent, to order spare lengths for it."""

    share: Annotated[float, Field(ge=0.0, le=0.5)] = 0.08
    """Of the lengths that arrive, those unusable for straight work."""
    confidence: Annotated[float, Field(ge=0.0, le=0.999)] = 0.95
    """The chance wanted that enough are straight."""


class Stock(Model):
    """The timber that can be had, and how it is cut."""

    stock: Annotated[tuple[StockTimber, ...], Items(0, 60)] = ()
    """By section; a section not listed is taken to be sold up to 6 m, and is not planned."""
    kerf: Annotated[AnyLength, Limits(0.0, 20.0)] = 3.0
    """Width of a saw cut."""
    trim: Annotated[AnyLength, Limits(0.0, 1_000.0)] = 0.0
    """Cut off each end of every length first."""
    objective: Literal["cost", "waste", "lengths"] | None = None
    """What the saw plan makes least; cost where every length has a price, else waste."""
    time_budget_s: Annotated[float, Field(ge=0.0, le=60.0)] = 5.0
    """Seconds that the saw plan may take."""
    short_up_to: Annotated[AnyLength, Limits(1.0, 6_000.0)] = 900.0
    """Noggins and blocks up to this long may come from bent lengths."""
    gang: Annotated[int, Field(ge=1, le=40)] = 6
    """How many alike pieces are clamped and cut in one pass."""
    bent: Bent | None = None
    """What to expect of bent lengths; no spares are ordered without it."""

    @model_validator(mode="after")
    def _check(self) -> Self:
        if self.objective == "cost" and not self.is_priced:
            raise unbuildable(
                "cost needs a price for every length on sale; without them accepted are waste and lengths"
            )
        return self

    @property
    def is_priced(self) -> bool:
        """Whether every length on sale has a price."""
        return all(length.is_priced for timber in self.stock for length in timber.lengths)

    def longest_of(self, section: tuple[float, float]) -> float:
        """The longest straight piece of a section that can be had, mm: on sale, else of what is on hand."""
        timbers = [timber for timber in self.stock if same_section(timber.section, section)]
        for rows in ([t.lengths for t in timbers], [t.on_hand for t in timbers]):
            straight = [row.length for some in rows for row in some if row.grade == "straight"]
            if straight:
                return max(straight) - 2 * self.trim
        return USUAL_LONGEST


class Building(Model):
    """A whole building file."""

    format: Literal["soleplate.building/1"]
    name: Name
    """What the building is called."""
    units: Units = "mm"
    """The unit of bare numbers, and of what is shown."""
    frame: Frame
    """The timber of the walls."""
    outline: AnyOutline
    """The plan: a rectangle, any right-angled plan, or walls on their own."""
    roof: AnyRoof | None = None
    """What gives the walls their tops; walls on their own that state their heights need none."""
    defaults: Choices = Choices()
    """Rules for every wall."""
    walls: ByName[WallBlock] = Field(default_factory=dict, max_length=1000)
    """What is said of single walls, by name."""
    stock: Stock = Stock()
    """The timber that can be had."""
    site: Site = Site()
    """Where and by whom it is built."""
    measured: ByName[Measured] = Field(default_factory=dict, max_length=1000)
    """What the tape says, by wall: the wall is laid out afresh from it."""
