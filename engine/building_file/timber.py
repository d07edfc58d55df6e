"""Timber: sections, densities and how far a merchant's piece may be off its size."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated, Any, Final, Literal, NamedTuple

from pydantic import GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from soleplate.engine.building_file.model import AnyLength, Limits
from soleplate.engine.shapes import Section

THINNEST: Final = 1.0
"""Thinner than 1 mm is no timber but a slip of the unit."""

Side = Annotated[AnyLength, Limits(THINNEST, 1_000.0)]


@dataclass(frozen=True, slots=True)
class SectionOf:
    """Reads a section as a file has it, `[45, 70]`, breadth first; both are lengths with their limits.

    It goes with the type, so that a type checker sees a `Section`:
    `Annotated[Section, SectionOf(Thickness, Width)]`.
    """

    breadth: Any
    depth: Any

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        """A list of two lengths, made a section."""
        tuple_of: Any = tuple
        pair: Any = {**handler.generate_schema(tuple_of[self.breadth, self.depth]), "strict": False}
        return core_schema.no_info_after_validator_function(lambda sides: Section(*sides), pair)


SectionField = Annotated[Section, SectionOf(Side, Side)]
"""A section up to 1 m wide and deep."""

SheetSide = Annotated[AnyLength, Limits(THINNEST, 5_000.0)]

SoldSection = Annotated[Section, SectionOf(Side, SheetSide)]
"""The section of what is sold, sheets too: `[12, 1220]`, thickness first."""


MEAN_DENSITY: Final[dict[str, float]] = {"C14": 350.0, "C16": 370.0, "C18": 380.0, "C24": 420.0}
"""EN 338 mean densities in kg/m3; C20 and C27 differ between editions of the standard and are left out."""

SHEET_DENSITY: Final[dict[str, float]] = {"plywood": 700.0}
"""kg/m3; softwood plywood is lighter, birch about that, so that no lift is underrated (common practice, no
source)."""

UNKNOWN_DENSITY: Final = 500.0
"""kg/m3, for a name of unknown density: of wet stock, so that no lift is underrated (common practice, no
source)."""


@dataclass(frozen=True, slots=True)
class Timber:
    """A material by name, with its density in kg/m3 and whether that density is known."""

    name: str
    density: float
    known: bool

    @classmethod
    def named(cls, name: str, density: float | None = None) -> Timber:
        """The material called `name`, at `density` where the builder gave one."""
        if density is not None:
            return cls(name, density, known=True)
        known = MEAN_DENSITY.get(name) or SHEET_DENSITY.get(name)
        return cls(name, known or UNKNOWN_DENSITY, known=known is not None)


ToleranceClass = Literal["T1", "T2"]
"""EN 336: T1 is a sawn face, T2 a planed or machined one."""


class Deviation(NamedTuple):
    """How far under and over its target size a face may be, both as positive mm."""

    under: float
    over: float


_TOLERANCES: Final[dict[ToleranceClass, tuple[Deviation, Deviation]]] = {
    "T1": (Deviation(1.0, 3.0), Deviation(2.0, 4.0)),
    "T2": (Deviation(1.0, 1.0), Deviation(1.5, 1.5)),
}
_SMALL_SIZE: Final = 100.0


def tolerance(size: float, grade: ToleranceClass) -> Deviation:
    """How far a face of target `size` mm may be off it, by EN 336 (up to 100 mm, and above)."""
    small, large = _TOLERANCES[grade]
    return small if size <= _SMALL_SIZE else large


def worst_and_likely(deviation: Deviation, count: int) -> tuple[Deviation, Deviation]:
    """What `count` faces can be off together: the worst case, and the root of the summed squares."""
    return (
        Deviation(deviation.under * count, deviation.over * count),
        Deviation(deviation.under * math.sqrt(count), deviation.over * math.sqrt(count)),
    )
