"""The building file's `stock`: the timber that can be had."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Annotated, Final, Literal, Self

from pydantic import Field, model_validator

from soleplate.engine.building_file.model import (
    AnyLength,
    Items,
    Limits,
    Model,
    Name,
    unbuildable,
)
from soleplate.engine.building_file.timber import SoldSection
from soleplate.engine.building_file.yielding import LengthYield, yield_of
from soleplate.engine.shapes import rounded, same_section

Grade = Literal["straight", "short"]


Price = Annotated[float, Field(gt=0.0, le=1_000_000.0)]


USUAL_LONGEST: Final = 6_000.0
"""mm. Sawn softwood is stocked up to 6 m as a rule; longer is scarce and dearer (UK merchants' lists)."""


SAME_SIZE: Final = 0.05
"""mm. Fixings whose sizes differ by less are of one sort: inches are rounded."""


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
        return self.cost is not None

    @property
    def cost(self) -> float | None:
        """The price of one, where it is known."""
        if self.price is not None or self.price_per_metre is None:
            return self.price
        return self.price_per_metre * self.length / 1000


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

    @property
    def is_priced(self) -> bool:
        """Whether every length on sale has a price."""
        return all(length.is_priced for length in self.lengths)

    def on_sale(self, grade: Grade) -> tuple[StockLength, ...]:
        """The lengths on sale that serve for a grade; straight ones serve for any."""
        return tuple(row for row in self.lengths if row.grade in ("straight", grade))

    def there(self, grade: Grade) -> tuple[OnHand, ...]:
        """The lengths on hand that serve for a grade."""
        return tuple(row for row in self.on_hand if row.grade in ("straight", grade))


class Bent(Model):
    """How much of the timber is expected to come bent, to order spare lengths for it."""

    share: Annotated[float, Field(ge=0.0, le=0.5)] = 0.08
    """Of the lengths that arrive, those unusable for straight work."""
    confidence: Annotated[float, Field(ge=0.0, le=0.999)] = 0.95
    """The chance wanted that enough are straight."""


class FixingBox(Model):
    """A box in which nails, screws or other fixings of one size are sold."""

    diameter: Annotated[AnyLength, Limits(0.5, 50.0)]
    """Of each."""
    length: Annotated[AnyLength, Limits(5.0, 1_000.0)]
    """Of each."""
    count: Annotated[int, Field(ge=1, le=100_000)]
    """How many are in it."""


class Stock(Model):
    """The timber that can be had, and how it is cut; and what boxes there are of fixings."""

    stock: Annotated[tuple[StockTimber, ...], Items(0, 60)] = ()
    """By section; a section not listed is taken to be sold up to 6 m, and is not planned."""
    kerf: Annotated[AnyLength, Limits(0.0, 20.0)] = 3.0
    """Width of a saw cut."""
    trim: Annotated[AnyLength, Limits(0.0, 1_000.0)] = 0.0
    """Cut off each end of every length first."""
    margin: Annotated[AnyLength, Limits(0.0, 100.0)] = 5.0
    """Left over of every length, which may come short or want squaring; half of it at the most. A piece that
    fits only without it is cut all the same, and told."""  # Common practice, no source.
    longest_carried: Annotated[AnyLength, Limits(300.0, 20_000.0)] | None = None
    """The longest that can be brought home, as on the roof of a car: nothing longer is bought, and what that
    costs is told. Sheets are left out of it."""
    objective: Literal["cost", "waste", "lengths"] | None = None
    """What the saw plan makes least; else cost of each section whose lengths all have a price, and waste of
    the others."""
    time_budget_s: Annotated[float, Field(ge=0.0, le=60.0)] = 5.0
    """Seconds that the saw plan may take."""
    short_up_to: Annotated[AnyLength, Limits(1.0, 6_000.0)] = 900.0
    """Noggins and blocks up to this long may come from bent lengths."""
    gang: Annotated[int, Field(ge=1, le=40)] = 6
    """How many alike pieces are clamped and cut in one pass."""
    bent: Bent | None = None
    """What to expect of bent lengths; no spares are ordered without it."""
    boxes: Annotated[tuple[FixingBox, ...], Items(0, 60)] | None = None
    """In what boxes fixings are sold; without it they are counted alone."""

    def box_of(self, diameter: float, length: float) -> int | None:
        """How many fixings of a size are in a box of them, by the first that fits."""
        return next(
            (
                box.count
                for box in self.boxes or ()
                if abs(box.diameter - diameter) < SAME_SIZE and abs(box.length - length) < SAME_SIZE
            ),
            None,
        )

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
        return all(timber.is_priced for timber in self.stock)

    def of(self, section: Sequence[float], material: str) -> tuple[StockTimber, ...]:
        """What can be had of a section and material; an entry without a material is of any.

        The section is taken as the layout tells it, at a thousandth of a mm.
        """
        told = [rounded(side) for side in section]
        return tuple(
            timber
            for timber in self.stock
            if same_section(timber.section, told) and timber.material in (None, material)
        )

    def on_sale(
        self, section: Sequence[float], material: str, grade: Grade = "straight"
    ) -> tuple[StockLength, ...]:
        """The lengths on sale that serve for a grade, and of which the trim leaves something."""
        of = self.of(section, material)
        rows = (row for timber in of for row in self.carried(timber, grade))
        return tuple(row for row in rows if self.yields(row.length).alone)

    def carried(self, timber: StockTimber, grade: Grade) -> tuple[StockLength, ...]:
        """The lengths on sale of a timber that serve for a grade and can be brought home."""
        return tuple(row for row in timber.on_sale(grade) if row.length <= self._most_carried)

    @property
    def _most_carried(self) -> float:
        return math.inf if self.longest_carried is None else self.longest_carried

    def longest_sold(self, section: Sequence[float], material: str) -> float:
        """The longest straight length to be had, mm, untrimmed: on sale, else on hand, else the usual."""
        on_hand = (row.length for timber in self.of(section, material) for row in timber.there("straight"))
        lengths = [row.length for row in self.on_sale(section, material)]
        lengths = lengths or [length for length in on_hand if self.yields(length).alone]
        return max(lengths, default=min(USUAL_LONGEST, self._most_carried))

    def longest_of(self, section: Sequence[float], material: str) -> LengthYield:
        """What the longest straight length to be had yields."""
        return self.yields(self.longest_sold(section, material))

    def yields(self, length: float) -> LengthYield:
        """What can be cut from a length."""
        return yield_of(length, self.trim, self.margin)
