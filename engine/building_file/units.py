"""Lengths: reading what a person writes, and writing what a person reads.

Everything inside Soleplate is a float in millimetres. This module is the border: it reads
`8 ft 6 1/2 in`, `2.4 m` or a bare number in the building file's own unit, and writes millimetres or
feet and inches to the nearest sixteenth.
"""

from __future__ import annotations

import math
import re
from typing import Final, Literal

Units = Literal["mm", "in"]
"""The unit of a building file's bare numbers, and of what is shown."""

MM_PER_M: Final = 1e3
MM2_PER_M2: Final = 1e6
MM3_PER_M3: Final = 1e9

MM_PER_INCH: Final = 25.4
"""Exact since the international yard and pound agreement of 1959."""

MM_PER_UNIT: Final[dict[str, float]] = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": MM_PER_INCH,
    "ft": 12 * MM_PER_INCH,
}

ACCEPTED: Final = "a number, or a text such as '600 mm', '2.4 m', '15 1/4 in' or '8 ft 6 1/2 in'"
"""What a length may look like, for messages."""

LONGEST_TEXT: Final = 40

_NUMBER: Final = r"[0-9]{1,9}(?:\.[0-9]{1,9})?"
_FRACTION: Final = r"[0-9]{1,3}/[1-9][0-9]{0,2}"
_MIXED: Final = rf"[0-9]{{1,9}} {_FRACTION}|{_FRACTION}|{_NUMBER}"
LENGTH_PATTERN: Final = (
    rf"^-?(?:(?:{_NUMBER}) ?(?:mm|cm|m)"
    rf"|(?:{_MIXED}) ?(?:in|\")"
    rf"|(?:{_NUMBER}) ?(?:ft|')(?: ?(?:{_MIXED}) ?(?:in|\"))?)$"
)
"""A JSON Schema pattern of every text that `parse_length` reads."""

_TEXT: Final = re.compile(LENGTH_PATTERN)
_TERM: Final = re.compile(rf"({_MIXED}) ?(mm|cm|m|in|ft|'|\")")
_MARKS: Final = {"'": "ft", '"': "in"}


def parse_length(text: str) -> float:
    """Read a length that carries its own unit; returns mm.

    Raises:
        ValueError: the text is not a length; the message says what would be.
    """
    if len(text) > LONGEST_TEXT or not _TEXT.fullmatch(text):
        raise ValueError(f"not a length; accepted is {ACCEPTED}")
    total = sum(
        _mixed_number(figure) * MM_PER_UNIT[_MARKS.get(unit, unit)] for figure, unit in _TERM.findall(text)
    )
    return -total if text.startswith("-") else total


def _mixed_number(figure: str) -> float:
    """`6`, `6.5`, `1/2` or `6 1/2` as a float."""
    whole, _, fraction = figure.rpartition(" ")
    if "/" not in fraction:
        return float(fraction)
    above, below = fraction.split("/")
    return float(whole or 0) + int(above) / int(below)


def format_length(mm: float, units: Units) -> str:
    """A length as a person reads it, with its unit: `1877 mm`, `8 ft 6 1/2 in`."""
    return f"{format_figure(mm, units)} mm" if units == "mm" else format_figure(mm, units)


def format_figure(mm: float, units: Units) -> str:
    """A length for a drawing, where millimetres go without their unit: `1877`, `8 ft 6 1/2 in`.

    Millimetres are rounded to whole ones, inches to sixteenths, halves upwards
    (S4-05: the nearest 1/16 in, an exact half counting up).
    """
    return str(math.floor(mm + 0.5)) if units == "mm" else _feet_inches(mm)


def plain_figure(mm: float) -> str:
    """Millimetres for a sentence: to 0.001, without an exponent or needless zeros."""
    return f"{mm:.3f}".rstrip("0").rstrip(".")


def round_for_tape(mm: float, units: Units) -> float:
    """The length, in mm, that a tape can set: whole millimetres, or sixteenths of an inch."""
    if units == "mm":
        return float(_half_up(mm))
    return _half_up(mm / MM_PER_INCH * 16) / 16 * MM_PER_INCH


def _half_up(value: float) -> int:
    """The nearest whole number, a half counting up, also one that floating point has put a hair under it."""
    return math.floor(round(value, 6) + 0.5)


def _feet_inches(mm: float) -> str:
    sixteenths = _half_up(abs(mm) / MM_PER_INCH * 16)
    sign = "-" if mm < 0 and sixteenths else ""
    feet, rest = divmod(sixteenths, 12 * 16)
    inches, part = divmod(rest, 16)
    terms = [f"{feet} ft"] if feet else []
    if inches or part or not feet:
        terms.append(f"{_inches(inches, part)} in")
    return sign + " ".join(terms)


def _inches(inches: int, sixteenths: int) -> str:
    if not sixteenths:
        return str(inches)
    divisor = math.gcd(sixteenths, 16)
    fraction = f"{sixteenths // divisor}/{16 // divisor}"
    return f"{inches} {fraction}" if inches else fraction
