"""What may be asked of the saw planner. Lengths are in mm throughout."""

from __future__ import annotations

from typing import Annotated, Final, Literal, TypeVar

from pydantic import Field, model_validator

from soleplate.engine.building_file import Items, LengthYield, Model, unbuildable, yield_of

T = TypeVar("T")

Grade = Literal["straight", "short"]
"""`straight` timber serves for everything; `short` timber is bent, and good for short pieces only."""

Objective = Literal["cost", "waste", "lengths"]
"""What a plan makes least: money, timber left over, or the number of lengths bought."""

MOST_PARTS: Final = 5000
"""Parts in one request, every count added up."""

LONGEST: Final = 20_000.0
"""The longest length that is read, mm."""

Length = Annotated[float, Field(gt=0, le=LONGEST, allow_inf_nan=False)]
PartLength = Annotated[float, Field(ge=1, le=LONGEST, allow_inf_nan=False)]
Money = Annotated[float, Field(ge=0.01, le=1_000_000, allow_inf_nan=False)]
Side = Annotated[float, Field(gt=0, le=2_000, allow_inf_nan=False)]
Section = Annotated[tuple[Side, Side], Field(strict=False)]
Name = Annotated[str, Field(min_length=1, max_length=80)]


class WantedPart(Model):
    """Parts alike, to be cut."""

    name: Name
    """Mark or name, written on every cut."""
    section: Section | None = None
    """Breadth and depth, mm; may be left out where there is one stock."""
    material: Name | None = None
    """Strength class or any name; may be left out where there is one stock."""
    length: PartLength
    """Finished length over long points, mm."""
    count: Annotated[int, Field(ge=1, le=MOST_PARTS)] = 1
    """How many."""
    grade: Grade = "straight"
    """`short`: may also be cut from bent timber, if it is no longer than `short_up_to`."""


class LengthOnSale(Model):
    """A length that the merchant sells, as many as wanted."""

    length: Length
    """Length as sold, mm."""
    price: Money | None = None
    """Price of one, in money; this or `price_per_metre` is needed to make the cost least."""
    price_per_metre: Money | None = None
    """Price of a metre, in money; the price of one is rounded to the hundredth, halves upwards."""
    grade: Grade = "straight"
    """`short`: sold as bent, for short pieces only."""

    @model_validator(mode="after")
    def _one_price(self) -> LengthOnSale:
        if self.price is not None and self.price_per_metre is not None:
            raise unbuildable("accepted is price or price_per_metre, not both")
        if self.price_per_metre is not None and self.price_per_metre * self.length < 10.0:
            raise unbuildable("its price comes to less than 0.01; accepted is a dearer price_per_metre")
        return self

    @property
    def is_priced(self) -> bool:
        """Whether its price is known."""
        return self.price is not None or self.price_per_metre is not None


class LengthOnHand(Model):
    """Lengths alike that are there already."""

    length: Length
    """Length, mm."""
    count: Annotated[int, Field(ge=1, le=MOST_PARTS)] = 1
    """How many."""
    grade: Grade = "straight"
    """`short`: bent, for short pieces only."""
    price: Annotated[float, Field(ge=0, le=1_000_000, allow_inf_nan=False)] = 0.0
    """What using one is to count for, in money; nothing unless given."""


class SectionStock(Model):
    """The lengths of one section in one material."""

    section: Section | None = None
    """Breadth and depth, mm; may be left out where there is one stock."""
    material: Name | None = None
    """Strength class or any name; may be left out where there is one stock."""
    lengths: Annotated[tuple[LengthOnSale, ...], Items(0, 40)] = ()
    """Lengths on sale."""
    on_hand: Annotated[tuple[LengthOnHand, ...], Items(0, 200)] = ()
    """Lengths on hand."""
    objective: Objective | None = None
    """What to make least of this section; else what the request says."""

    @property
    def is_priced(self) -> bool:
        """Whether every length on sale has a price."""
        return all(length.is_priced for length in self.lengths)


class SawPlanRequest(Model):
    """Parts to cut and the stock to cut them from."""

    parts: Annotated[tuple[WantedPart, ...], Items(1, 2000)]
    """What to cut; at most 5000 parts in all."""
    stock: Annotated[tuple[SectionStock, ...], Items(1, 100)]
    """What to cut it from, one entry for each section and material."""
    kerf: Annotated[float, Field(ge=0, le=20, allow_inf_nan=False)] = 3.0
    """Width of a saw cut, mm."""
    trim: Annotated[float, Field(ge=0, le=1000, allow_inf_nan=False)] = 0.0
    """Cut off each end of every length first, mm, its own saw cut included."""
    margin: Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)] = 0.0
    """Left over of every length, mm, which may come short or want squaring; half of it at the most. A part
    that fits only without it is cut all the same, by itself from the longest, and stock that does not
    suffice with it is planned without."""
    short_up_to: Length = 900.0
    """The longest part that bent timber may yield, mm."""
    objective: Objective = "cost"
    """What to make least, of each section by itself."""
    time_budget_s: Annotated[float, Field(ge=0, le=600, allow_inf_nan=False)] = 2.0
    """Seconds to plan for; 0 gives a first plan at once, not proven best."""

    def yields(self, length: float) -> LengthYield:
        """What can be cut from a length."""
        return yield_of(length, self.trim, self.margin)

    def objective_of(self, stock: SectionStock) -> Objective:
        """What is made least of a section."""
        return stock.objective or self.objective
