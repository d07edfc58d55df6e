"""Lengths in sentences.

What is wrong, and what is found, is written in mm, as everything inside is: `1200 to 2700 mm`. Here is the
border: a person whose building is in inches reads feet and inches, and nobody reads `3e+06`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import Final, Literal

from soleplate.engine.building_file.errors import BuildingError
from soleplate.engine.building_file.units import MM_PER_INCH, Units, format_length, plain_figure

_FIGURE: Final = r"-?\d+(?:\.\d+)?(?:e[+-]?\d+)?"
_BETWEEN: Final = r", | and | to | or | by | x | × "
_LENGTHS: Final = re.compile(
    rf"(?P<bound>at least |over |at most |up to |less than )?(?<![\w.'])"
    rf"(?P<figures>{_FIGURE}(?:(?:{_BETWEEN}){_FIGURE})*) mm\b"
)
"""Figures with one unit after them; those in quotes are examples of what may be typed."""

_ONE: Final = re.compile(_FIGURE)
_LEAST: Final = frozenset({"at least ", "over "})

LARGEST: Final = 1e9
"""mm. Of a longer one nothing is told but that it is over this."""

Way = Literal["nearest", "up", "down"]


def told(text: str, units: Units) -> str:
    """A sentence with its lengths in the building's unit.

    Bounds are rounded to where they hold: what is told as accepted is.
    """
    return _LENGTHS.sub(lambda found: _told(found, units), text)


@contextmanager
def telling(units: Units) -> Iterator[None]:
    """Faults that are raised within are told in this unit.

    Raises:
        BuildingError: as it was raised.
    """
    try:
        yield
    except BuildingError as error:
        raise type(error)(
            replace(fault, message=told(fault.message, units)) for fault in error.faults
        ) from None


def _told(found: re.Match[str], units: Units) -> str:
    bound, figures = found["bound"] or "", found["figures"]
    if units == "mm":
        return f"{bound}{_ONE.sub(lambda one: _plain(one[0]), figures)} mm"
    ways = iter(_ways(bound, figures))
    return bound + _ONE.sub(lambda one: _inches(float(one[0]), next(ways)), figures)


def _plain(figure: str) -> str:
    """A figure without an exponent."""
    if "e" not in figure:
        return figure
    return plain_figure(float(figure)) if abs(float(figure)) <= LARGEST else f"over {plain_figure(LARGEST)}"


def _ways(bound: str, figures: str) -> Iterator[Way]:
    """How to round each figure: both ends of a range inwards, a bound to its safe side."""
    joined = _ONE.sub("", figures)
    if joined == " to ":
        yield from ("up", "down")
        return
    way: Way = "nearest" if not bound else "up" if bound in _LEAST else "down"
    while True:
        yield way


def _inches(mm: float, way: Way) -> str:
    if abs(mm) > LARGEST:
        return f"over {format_length(LARGEST, 'in')}"
    if way == "nearest":
        return format_length(mm, "in")
    sixteenths = mm / MM_PER_INCH * 16
    whole = math.ceil(sixteenths - 1e-6) if way == "up" else math.floor(sixteenths + 1e-6)
    return format_length(whole / 16 * MM_PER_INCH, "in")
