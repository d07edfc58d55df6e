"""A saw plan. Lengths are in mm, to 0.001; money is in the request's own, to 0.01."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from soleplate.engine.building_file import Model
from soleplate.engine.sawing.request import Objective


class SawCut(Model):
    """One part on a length."""

    mark: str
    """Name of the part."""
    length: float
    """Length of the part, mm."""
    from_: Annotated[float, Field(alias="from")]
    """Where it begins, mm from the start of the length, trim and saw cuts counted."""
    to: float
    """Where it ends, mm from the start of the length: the mark to saw at, kerf beyond it."""


class SawLength(Model):
    """One length and its cuts in order."""

    section: tuple[float, float] | None = None
    """Breadth and depth, mm; none where the request has none."""
    material: str | None = None
    """Strength class or name; none where the request has none."""
    stock_length: float
    """Length before any cut, mm."""
    on_hand: bool
    """Whether it is there already."""
    grade: Literal["straight", "short"]
    """Grade of the length."""
    price: float
    """What it costs, in money."""
    cuts: tuple[SawCut, ...]
    """The parts in the order of sawing."""
    offcut: float
    """What is left after the last cut and the end trim, mm."""
    set_up: int
    """Lengths with the same number are alike in stock and cuts, and can be cut together; from 1."""


class BuyingLine(Model):
    """Lengths alike to buy or to take from what is on hand."""

    section: tuple[float, float] | None = None
    """Breadth and depth, mm; none where the request has none."""
    material: str | None = None
    """Strength class or name; none where the request has none."""
    stock_length: float
    """Length, mm."""
    on_hand: bool
    """Whether they are there already."""
    grade: Literal["straight", "short"]
    """Grade."""
    count: int
    """How many."""
    cost: float
    """Price of all of them, in money."""


class SectionSummary(Model):
    """One section in one material: its own plan is independent of the rest."""

    section: tuple[float, float] | None = None
    """Breadth and depth, mm; none where the request has none."""
    material: str | None = None
    """Strength class or name; none where the request has none."""
    parts: int
    """Parts cut."""
    bought: int
    """Lengths bought."""
    on_hand: int
    """Lengths taken from what is on hand."""
    cost: float
    """In money."""
    waste: float
    """Timber in the lengths less timber in the parts, mm."""
    objective: Objective
    """What was made least."""
    value: float
    """What the objective counts: money, mm of waste, or lengths bought."""
    bound: float
    """No plan can have a lower `value`."""
    gap: float
    """How far `value` may be above the best there is, as a share of it (of all timber used, for waste)."""
    proven: bool
    """Whether no better plan exists."""
    margin: float
    """Left over of each length, mm, but where one part is too long for that: what the request says, or 0
    where the stock does not suffice with it."""
    ended: Literal["proven", "steps", "clock", "rounding"]
    """What ended the search; `rounding`: lengths too odd to be planned exactly keep value and bound apart."""


class SawPlan(Model):
    """Every length with its cuts, what it costs, and how good that is proven to be."""

    objective: Objective
    """What was made least; where sections have several, that of the request."""
    lengths: tuple[SawLength, ...]
    """Lengths in the order of sawing, alike ones together."""
    buying: tuple[BuyingLine, ...]
    """What to buy and what to take from what is on hand."""
    sections: tuple[SectionSummary, ...]
    """The same, section by section."""
    cost: float
    """Money for all lengths."""
    waste: float
    """Timber in the lengths less timber in the parts, mm."""
    bought: int
    """Lengths bought."""
    value: float
    """What the objective counts, of the sections that have it: money, mm of waste, or lengths bought."""
    bound: float
    """No plan can have a lower `value`."""
    gap: float
    """How far `value` may be above the best there is, as a share of it (of all timber used, for waste)."""
    proven: bool
    """Whether no better plan exists."""
    set_ups: int
    """How many different ways of cutting a length there are."""
    longest_offcut: float
    """The longest single piece left, mm."""
