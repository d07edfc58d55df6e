"""Sentences and the figures in them, put into words at the border only.

What is wrong, and what is found, is held as a sentence with named places and the figures that go there:
`said("{width} is wider than {wall}", ...)`. A figure knows how it is told in millimetres and in feet and
inches. What a person called something is a text among the figures, told as it was written.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from soleplate.engine.building_file.units import (
    MM_PER_INCH,
    Units,
    format_figure,
    format_length,
    plain_figure,
)

LARGEST: Final = 1e9
"""mm. Of a longer one nothing is told but that it is over this."""

Form = Literal["g", ".0f", ".1f", ".3f", "tape"]
"""How a figure in mm is written; `g` has six digits, `.3f` no needless zeros, `tape` is as a tape is read."""

Way = Literal["nearest", "up", "down"]
"""How a figure is rounded to sixteenths of an inch: a bound to where it holds."""


@dataclass(frozen=True, slots=True)
class Mm:
    """A length in mm. In a list only the last has its unit in millimetres: the others are `bare`."""

    mm: float
    form: Form = "g"
    way: Way = "nearest"
    bare: bool = False

    def told(self, units: Units) -> str:
        """As a person reads it."""
        if units == "in":
            return _inches(self.mm, self.way)
        return _plain(self.mm, self.form) + ("" if self.bare else " mm")


def at_least(mm: float, form: Form = "g") -> Mm:
    """A length that others may not be under, or must be over."""
    return Mm(mm, form, "up")


def at_most(mm: float, form: Form = "g") -> Mm:
    """A length that others may reach, or must be under."""
    return Mm(mm, form, "down")


@dataclass(frozen=True, slots=True)
class Reach:
    """From one place to another, mm; rounded inwards."""

    start: float
    end: float
    form: Form = "g"

    def told(self, units: Units) -> str:
        """As a person reads it."""
        if units == "in":
            return f"{_inches(self.start, 'up')} to {_inches(self.end, 'down')}"
        return f"{_plain(self.start, self.form)} to {_plain(self.end, self.form)} mm"


@dataclass(frozen=True, slots=True)
class MmList:
    """Several lengths, mm, joined by commas."""

    each: tuple[float, ...]
    form: Form = ".0f"

    def told(self, units: Units) -> str:
        """As a person reads it."""
        if units == "in":
            return ", ".join(_inches(mm, "nearest") for mm in self.each)
        return ", ".join(_plain(mm, self.form) for mm in self.each) + " mm"


@dataclass(frozen=True, slots=True)
class Listed:
    """Several sentences joined by commas."""

    each: tuple[Said, ...]

    def told(self, units: Units) -> str:
        """As a person reads it."""
        return ", ".join(one.told(units) for one in self.each)


@dataclass(frozen=True, slots=True)
class Sides:
    """The sides of a section, mm, as timber is called."""

    each: tuple[float, ...]

    def told(self, units: Units) -> str:
        """As a person reads it: millimetres go without their unit."""
        return " x ".join(format_figure(side, units) for side in self.each)


@dataclass(frozen=True, slots=True)
class Count:
    """So many of something: what one is called, and several."""

    number: int
    one: str
    several: str

    def told(self, units: Units) -> str:
        """As a person reads it."""
        return f"{self.number} {self.one if self.number == 1 else self.several}"


@dataclass(frozen=True, slots=True)
class Said:
    """A sentence and its figures; without any it is told as it is written. `before` goes before it so."""

    sentence: str
    figures: tuple[tuple[str, Figure], ...] = ()
    before: str = ""

    def told(self, units: Units) -> str:
        """The sentence in words."""
        if not self.figures:
            return self.before + self.sentence
        told = {
            name: figure if isinstance(figure, str | int | float) else figure.told(units)
            for name, figure in self.figures
        }
        return self.before + self.sentence.format(**told)

    def translated(self, sentences: Mapping[str, str]) -> Said:
        """The same with its sentence, and those among its figures, in another language: by ours."""
        figures = tuple((name, _translated(figure, sentences)) for name, figure in self.figures)
        return Said(sentences.get(self.sentence, self.sentence), figures, self.before)

    def after(self, before: str) -> Said:
        """The same with something before it, told as it is."""
        return Said(self.sentence, self.figures, before + self.before)


Figure = Mm | Reach | MmList | Listed | Sides | Count | Said | str | int | float
"""Plain numbers are written as the sentence says, texts as they are."""


def said(sentence: str, **figures: Figure) -> Said:
    """A sentence with its figures by name."""
    return Said(sentence, tuple(figures.items()))


def _translated(figure: Figure, sentences: Mapping[str, str]) -> Figure:
    if isinstance(figure, Said):
        return figure.translated(sentences)
    if isinstance(figure, Listed):
        return Listed(tuple(each.translated(sentences) for each in figure.each))
    return figure


def _plain(mm: float, form: Form) -> str:
    """Millimetres without an exponent."""
    if form in ("tape", ".0f"):
        return format_figure(mm, "mm")
    if form == ".3f":
        return plain_figure(mm)
    text = f"{mm:{form}}"
    if "e" not in text:
        return text
    return plain_figure(mm) if abs(mm) <= LARGEST else f"over {plain_figure(LARGEST)}"


def _inches(mm: float, way: Way) -> str:
    if abs(mm) > LARGEST:
        return f"over {format_length(LARGEST, 'in')}"
    if way == "nearest":
        return format_length(mm, "in")
    sixteenths = mm / MM_PER_INCH * 16
    whole = math.ceil(sixteenths - 1e-6) if way == "up" else math.floor(sixteenths + 1e-6)
    return format_length(whole / 16 * MM_PER_INCH, "in")
