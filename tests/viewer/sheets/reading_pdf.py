"""What stands in a PDF: lines, texts and fonts, in mm from the top left."""

from __future__ import annotations

import io
import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

import pdfplumber

MM = 25.4 / 72
KERNED = 0.1
"""Of the size: kerning moves glyphs of the books by up to 0.07, their gaps are 0.49 or more (measured)."""


@dataclass(frozen=True, slots=True)
class Line:
    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def length(self) -> float:
        return math.hypot(self.x1 - self.x0, self.y1 - self.y0)

    @property
    def is_level(self) -> bool:
        return abs(self.y1 - self.y0) < 1e-3

    @property
    def is_upright(self) -> bool:
        return abs(self.x1 - self.x0) < 1e-3


@dataclass(frozen=True, slots=True)
class Run:
    """A run of glyphs: where it begins on its base line, its size, and whether it reads upwards."""

    x: float
    y: float
    size: float
    font: str
    width: float
    upright: bool
    text: str


@dataclass(frozen=True, slots=True)
class Page:
    width: float
    height: float
    text: str
    lines: list[Line]
    runs: list[Run]
    fonts: set[str]


def read(pdf: bytes) -> list[Page]:
    with pdfplumber.open(io.BytesIO(pdf)) as book:
        return [_page(page) for page in book.pages]


def _page(page: Any) -> Page:
    drawn = itertools.chain(page.lines, page.rects, page.curves)
    lines = [line for shape in drawn for line in _lines(shape["path"])]
    runs = [run for run in _runs(page.chars, page.height) if not run.text.isspace()]
    page.close()  # Its glyphs, a dictionary each, would be kept until the last page is read: 70 MB of a book.
    text = "\n".join(run.text for run in runs)
    return Page(page.width * MM, page.height * MM, text, lines, runs, {run.font for run in runs})


def _lines(path: Iterable[tuple[Any, ...]]) -> Iterator[Line]:
    at = start = (0.0, 0.0)
    for step, *points in path:
        to = points[-1] if points else start
        if step == "m":
            start = to
        elif step in "lh":
            yield Line(*(MM * value for value in (*at, *to)))
        at = to


def _runs(chars: Iterable[Any], height: float) -> Iterator[Run]:
    """Glyphs that follow one another on a base line, put together."""
    run: Run | None = None
    for char in chars:
        glyph = _glyph(char, height)
        if run is not None and _goes_on(run, glyph):
            run = replace(run, width=_along(glyph) + glyph.width - _along(run), text=run.text + glyph.text)
        else:
            if run is not None:
                yield run
            run = glyph
    if run is not None:
        yield run


def _glyph(char: Any, height: float) -> Run:
    a, b, _, _, x, y = char["matrix"]
    upright = abs(b) > abs(a)
    size, width = (char["width"], char["height"]) if upright else (char["height"], char["width"])
    return Run(x * MM, (height - y) * MM, size * MM, char["fontname"], width * MM, upright, char["text"])


def _along(run: Run) -> float:
    """Where it begins in the direction of reading."""
    return -run.y if run.upright else run.x


def _goes_on(run: Run, glyph: Run) -> bool:
    if (run.font, run.upright) != (glyph.font, glyph.upright) or abs(run.size - glyph.size) > 1e-3:
        return False
    level = abs(run.x - glyph.x) if run.upright else abs(run.y - glyph.y)
    return level < 1e-3 and abs(_along(glyph) - _along(run) - run.width) < KERNED * run.size


def boxes(page: Page) -> Iterator[tuple[float, float, float, float]]:
    """Left, right, top and bottom of each run, by its width and its capitals' height."""
    for run in page.runs:
        tall = 0.7 * run.size
        if run.upright:
            yield run.x - tall, run.x, run.y - run.width, run.y
        else:
            yield run.x, run.x + run.width, run.y - tall, run.y
