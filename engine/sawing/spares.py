"""How many spare lengths to order, when some arrive bent.

Each length is taken to be unusable for straight work with the same chance, on its own: the straight ones
among n ordered are binomial. The order is the least n that gives enough with the wanted confidence. Sums are
exact fractions, so that a confidence met to the last digit counts as met.
"""

from __future__ import annotations

from fractions import Fraction
from math import comb
from typing import Final

from soleplate.engine.building_file import Model

MOST_ORDERED: Final = 20_000


class SpareOrder(Model):
    """An order with spares."""

    ordered: int
    """Lengths to order in all."""
    spare: int
    """How many of them are more than the plan needs."""
    confidence: float
    """The chance that they suffice, 0 to 1."""
    expected_bent: float
    """Lengths expected to arrive bent."""
    credited: int
    """Lengths of the plan that bent ones may stand in for, since only short pieces come from them."""


def spare_order(
    straight: int, short: int, unusable: float, confidence: float, most: int = MOST_ORDERED
) -> SpareOrder:
    """The least order that yields enough lengths with the wanted confidence.

    `straight` lengths must be straight; `short` more carry short pieces only, and may be bent or not. Of n
    ordered, those bent do for the short ones: enough have come when at least `straight` are straight, and
    n is at least `straight + short`. `unusable` is the share that arrives bent (0 to below 1),
    `confidence` the chance wanted (0 to below 1).

    Raises:
        ValueError: a figure out of its range, or more than `most` lengths would be needed.

    """
    if straight < 0 or short < 0:
        raise ValueError("numbers of lengths cannot be negative")
    if not 0 <= unusable < 1:
        raise ValueError(f"the share that arrives bent must be from 0 to below 1, not {unusable:g}")
    if not 0 <= confidence < 1:
        raise ValueError(f"the confidence must be from 0 to below 1, not {confidence:g}")
    bent, wanted = Fraction(repr(unusable)), Fraction(repr(confidence))
    ordered = straight + short
    while (chance := enough(ordered, straight, bent)) < wanted:
        ordered += 1
        if ordered > most:
            raise ValueError(f"more than {most} lengths would be needed; is the share of {unusable:g} right?")
    return SpareOrder(
        ordered=ordered,
        spare=ordered - straight - short,
        confidence=float(chance),
        expected_bent=float(ordered * bent),
        credited=short,
    )


def enough(ordered: int, straight: int, bent: Fraction) -> Fraction:
    """The chance that at least `straight` of `ordered` lengths are straight, each bent with chance `bent`."""
    most_bent = ordered - straight
    if most_bent < 0:
        return Fraction(0)
    above, below = bent.numerator, bent.denominator
    ways = sum(
        comb(ordered, count) * above**count * (below - above) ** (ordered - count)
        for count in range(most_bent + 1)
    )
    return Fraction(ways, below**ordered)
