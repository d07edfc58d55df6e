"""From a request to jobs in whole numbers: lengths in units, money in hundredths.

Lengths become whole nanometres, exact for every millimetre figure to six places and for inches to the
sixty-fourth. The unit of a job is the greatest common divisor of its part sizes, so nothing is rounded, as
long as the longest stock is no more than `MOST_UNITS` of them. Where parts are so odd that it would be, the
unit is a tenth of a millimetre or the next that will do; part sizes are rounded up, so that a plan can be
sawn, and a second job with sizes rounded down (`SectionJob.relaxed`) gives a bound for the true lengths.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import gcd
from typing import Final

from soleplate.engine.sawing.faults import Key, keys
from soleplate.engine.sawing.job import PartType, SawJob, StockType
from soleplate.engine.sawing.request import (
    LengthOnHand,
    LengthOnSale,
    Objective,
    SawPlanRequest,
    SectionStock,
)

NANO: Final = 1_000_000
"""Nanometres in a millimetre."""

MOST_UNITS: Final = 12_000
UNITS: Final = tuple(NANO * figure // 10 for figure in (1, 2, 5, 10, 20))
"""Units to round to where no exact one will do, nm."""


@dataclass(frozen=True, slots=True)
class SinglePart:
    """One part to cut."""

    mark: str
    length: float
    index: int
    """Which of the request's parts it is."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One kind of length: its place in the request's stock, and its price in hundredths."""

    length: float
    on_hand: bool
    grade: str
    price: int
    count: int


@dataclass(frozen=True)
class SectionJob:
    """One section's job, and what its numbers stand for."""

    key: Key
    job: SawJob
    relaxed: SawJob | None
    """The job that bounds it, where sizes had to be rounded."""
    pieces: tuple[tuple[SinglePart, ...], ...]
    """The parts of each part type, in the order they are handed out."""
    offers: tuple[Offer, ...]
    """What each stock type is."""
    objective: Objective
    """What is made least."""
    margin: float
    """What is left over of each length, mm."""


def hundredths(amount: float) -> int:
    """Money as a whole number of hundredths, halves upwards, from its decimal figures as written."""
    return int((Decimal(repr(amount)) * 100).quantize(Decimal(1), ROUND_HALF_UP))


def price_of(sale: LengthOnSale) -> int:
    """The price of one length on sale, in hundredths; 0 where it is not known."""
    if not sale.is_priced:
        return 0
    if sale.price is not None:
        return hundredths(sale.price)
    metres = Fraction(repr(sale.length)) / 1000
    exact = Fraction(repr(sale.price_per_metre)) * metres * 100
    return int(exact + Fraction(1, 2))


def section_jobs(request: SawPlanRequest) -> list[SectionJob]:
    """A task for each section and material that has parts, in order of section and material."""
    part_keys, stock_keys = keys(request)
    wanted: dict[Key, list[int]] = defaultdict(list)
    for index, key in enumerate(part_keys):
        wanted[key].append(index)
    stock = dict(zip(stock_keys, request.stock, strict=True))
    ordered = sorted(wanted, key=lambda key: (key[0] or (0.0, 0.0), key[1] or ""))
    return [_task(request, key, wanted[key], stock[key]) for key in ordered]


def _task(request: SawPlanRequest, key: Key, indices: list[int], stock: SectionStock) -> SectionJob:
    kerf, offers = _nano(request.kerf), _offers(stock)
    room_of = {offer: _nano(request.yields(offer.length).together) + kerf for offer in offers}
    reach = {
        either: max((room_of[each] for each in offers if either or each.grade == "straight"), default=0)
        for either in (True, False)
    }
    parts = [request.parts[index] for index in indices]
    short = {
        i: p.grade == "short" and p.length <= request.short_up_to for i, p in zip(indices, parts, strict=True)
    }
    # What is longer than any length yields but for its margin has the room of the longest to itself.
    sizes = {i: min(_nano(p.length) + kerf, reach[short[i]]) for i, p in zip(indices, parts, strict=True)}
    offers = tuple(offer for offer in offers if room_of[offer] >= min(sizes.values()))
    rooms = [room_of[offer] for offer in offers]
    unit, exact = _unit(list(sizes.values()), max(rooms))
    groups: dict[tuple[bool, int], list[int]] = defaultdict(list)
    for index in indices:
        groups[short[index], min(-(-sizes[index] // unit), reach[short[index]] // unit)].append(index)
    order = sorted(groups, key=lambda group: (not group[0], -group[1]))
    total = sum(part.count for part in parts)
    kinds = tuple(
        StockType(
            room // unit,
            _weight(request.objective_of(stock), offer),
            min(offer.count, total),
            offer.grade == "short",
        )
        for room, offer in zip(rooms, offers, strict=True)
    )
    pieces = tuple(_pieces(request, groups[group]) for group in order)
    types = tuple(
        PartType(size, len(made), either) for (either, size), made in zip(order, pieces, strict=True)
    )
    relaxed = None if exact else _relaxed(order, groups, sizes, unit, types, kinds)
    objective = request.objective_of(stock)
    return SectionJob(key, SawJob(types, kinds), relaxed, pieces, offers, objective, request.margin)


def _relaxed(
    order: list[tuple[bool, int]],
    groups: dict[tuple[bool, int], list[int]],
    sizes: dict[int, int],
    unit: int,
    types: tuple[PartType, ...],
    kinds: tuple[StockType, ...],
) -> SawJob:
    """The same job with sizes rounded down; each type by its smallest part."""
    lowered = (
        PartType(max(min(sizes[index] for index in groups[group]) // unit, 1), kind.demand, kind.short)
        for group, kind in zip(order, types, strict=True)
    )
    return SawJob(tuple(lowered), kinds)


def _pieces(request: SawPlanRequest, indices: list[int]) -> tuple[SinglePart, ...]:
    made = (
        SinglePart(request.parts[index].name, request.parts[index].length, index)
        for index in indices
        for _ in range(request.parts[index].count)
    )
    return tuple(sorted(made, key=lambda piece: (-piece.length, piece.mark, piece.index)))


def _offers(stock: SectionStock) -> tuple[Offer, ...]:
    """On-hand lengths first, then those on sale; longest first."""
    offers = [*(_on_hand(each) for each in stock.on_hand), *(_on_sale(each) for each in stock.lengths)]
    return tuple(sorted(offers, key=lambda o: (not o.on_hand, -o.length, o.price, o.grade)))


def _on_hand(each: LengthOnHand) -> Offer:
    return Offer(each.length, True, each.grade, hundredths(each.price), each.count)


def _on_sale(each: LengthOnSale) -> Offer:
    return Offer(each.length, False, each.grade, price_of(each), 10**9)


def _weight(objective: Objective, offer: Offer) -> int:
    """What one length adds to the objective."""
    if objective == "cost":
        return offer.price
    return round(offer.length * 1000) if objective == "waste" else int(not offer.on_hand)


def _unit(sizes: list[int], longest: int) -> tuple[int, bool]:
    exact = gcd(*sizes)
    if longest // exact <= MOST_UNITS:
        return exact, True
    return next((unit for unit in UNITS if longest // unit <= MOST_UNITS), UNITS[-1]), False


def _nano(length: float) -> int:
    return round(length * NANO)
