"""How near to edges, ends and each other nails and screws may be: EN 1995-1-1, Table 8.2, and 8.3.1."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from soleplate.engine.rules import Fastener

EC5: Final = "EN 1995-1-1, Table 8.2 and 8.3.1"

PILOT_SHARE: Final = 0.8
"""Of the diameter: the most that EN 1995-1-1 has for a pilot hole."""

PILOT_OVER: Final = 6.0
"""mm. Nails thicker than this have pilot holes (EN 1995-1-1, 8.3.1.1)."""

DENSE: Final = 500.0
"""Characteristic kg/m3 over which nails have pilot holes (EN 1995-1-1, 8.3.1.1)."""

MEDIUM: Final = 420.0
"""Characteristic kg/m3 over which nails without pilot holes stand further apart (EN 1995-1-1, Table 8.2)."""

MEAN_TO_CHARACTERISTIC: Final = 1.2
"""EN 338: the mean density of softwood is 1.2 times the characteristic one."""


@dataclass(frozen=True, slots=True)
class Spaced:
    """The least distances of Table 8.2, mm: `along` (a1) and `across` (a2) the grain from each other.

    From an end `end` (a3,c), from an edge `edge` (a4,c), both unloaded; `loaded_end` is a3,t.
    """

    along: float
    across: float
    end: float
    loaded_end: float
    edge: float


def spaced(diameter: float, density: float, *, pilot: bool) -> Spaced:
    """The least distances for forces along the grain; `density` is the characteristic one, kg/m3."""
    d = diameter
    if pilot:
        return Spaced(along=5 * d, across=3 * d, end=7 * d, loaded_end=12 * d, edge=3 * d)
    if density > MEDIUM:
        return Spaced(along=15 * d, across=7 * d, end=15 * d, loaded_end=20 * d, edge=7 * d)
    along = 10 * d if d < 5.0 else 12 * d
    return Spaced(along=along, across=5 * d, end=10 * d, loaded_end=15 * d, edge=5 * d)


def needs_pilot(diameter: float, density: float) -> bool:
    """Whether there must be a pilot hole in any case."""
    return diameter > PILOT_OVER or density > DENSE


def pilot_of(fastener: Fastener) -> float:
    """The diameter of a pilot hole, mm."""
    return round(PILOT_SHARE * fastener.diameter, 1)


def least_thickness(diameter: float, density: float) -> float:
    """What timber must measure to be nailed without a pilot hole, mm (EN 1995-1-1, 8.3.1.2)."""
    return max(7 * diameter, (13 * diameter - 30) * density / 400)


def least_penetration(fastener: Fastener) -> float:
    """How deep its point must go into the second piece, mm (EN 1995-1-1, 8.3.1.2): 8 d smooth, else 6 d."""
    return (8 if fastener.shank == "smooth" else 6) * fastener.diameter
