"""Texts on a drawing: their likely width, placing them apart from each other, and setting them.

Coordinates are those of the drawing, mm, y down. What a text will measure depends on the reader's font;
widths are taken from the wider usual ones, so that a narrower one only leaves more room.
"""

from __future__ import annotations

import textwrap
import unicodedata
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final, Literal

import svg

FONTS: Final = "DejaVu Sans, Liberation Sans, Arial, Helvetica, sans-serif"
_WIDTH: Final = 0.64
"""Of a character, in text sizes."""


@dataclass(frozen=True, slots=True)
class LetteringBox:
    """An upright rectangle on the drawing."""

    left: float
    right: float
    top: float
    bottom: float

    @classmethod
    def around(cls, x: float, y: float, width: float, height: float) -> LetteringBox:
        """The box of a size about a centre."""
        return cls(x - width / 2, x + width / 2, y - height / 2, y + height / 2)

    @property
    def centre(self) -> tuple[float, float]:
        """Its middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def shared(self, other: LetteringBox) -> float:
        """The area that two boxes share."""
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across * down if across > 0 and down > 0 else 0.0


@dataclass
class Places:
    """The boxes taken on a drawing; kept in strips, so that a long wall costs no more than its length."""

    strip: float
    """The width of a strip, mm; a twentieth of it stays clear at either side of a box."""
    crowded: int = 0
    """How many boxes were taken that others cover by more than a seventh."""
    _taken: dict[int, list[LetteringBox]] = field(default_factory=lambda: defaultdict(list))

    def take(self, choices: Sequence[LetteringBox]) -> LetteringBox:
        """Take the first box that is clear of all taken ones, or else the one that is least covered."""
        covered, index = min((self._covered(box), index) for index, box in enumerate(choices))
        best = choices[index]
        if 7 * covered > best.shared(best):
            self.crowded += 1
        apart = 0.05 * self.strip
        kept = LetteringBox(
            best.left - apart, best.right + apart, best.top - apart / 2, best.bottom + apart / 2
        )
        for strip in self._strips(kept):
            self._taken[strip].append(kept)
        return best

    def copy(self) -> Places:
        """The same boxes taken; what is taken there is free here."""
        taken = defaultdict(list, {strip: list(boxes) for strip, boxes in self._taken.items()})
        return Places(self.strip, self.crowded, taken)

    def is_free(self, box: LetteringBox) -> bool:
        """Whether nothing that was taken reaches into a box."""
        return self._covered(box) == 0.0

    def share_covered(self, box: LetteringBox) -> float:
        """The share of a box that what was taken covers, 1 or more where it is all covered."""
        reaching = {other for strip in self._strips(box) for other in self._taken.get(strip, ())}
        return sum(box.shared(other) for other in reaching) / box.shared(box)

    def _covered(self, box: LetteringBox) -> float:
        return sum(box.shared(other) for strip in self._strips(box) for other in self._taken.get(strip, ()))

    def _strips(self, box: LetteringBox) -> range:
        return range(int(box.left // self.strip), int(box.right // self.strip) + 1)


def text_width(text: str, size: float) -> float:
    """About how wide a text is set, mm."""
    wide = sum(unicodedata.east_asian_width(character) in "WF" for character in text)
    return (len(text) + 0.6 * wide) * _WIDTH * size


def shortened(text: str, size: float, width: float) -> str:
    """A text that fits a width, an ellipsis standing for what is left out."""
    while text_width(text, size) > width and len(text) > 1:
        text = text[:-2].rstrip() + "…"
    return text


def wrapped(text: str, size: float, width: float) -> list[str]:
    """A text broken into lines that fit a width; a word too long for one is broken too."""
    most = max(4, int(width / (_WIDTH * size)))
    return textwrap.wrap(" ".join(text.split()), most, break_on_hyphens=False)


def lettering(
    text: str,
    x: float,
    y: float,
    size: float,
    *,
    anchor: Literal["start", "middle", "end"] = "middle",
    turned: bool = False,
) -> svg.Text:
    """A line of text whose height is centred on y; `turned` reads upwards."""
    return svg.Text(
        x=x,
        y=y + 0.35 * size,
        transform=[svg.Rotate(-90, x, y)] if turned else None,
        font_size=size,
        text_anchor=anchor,
        text=text,
    )


def spread(places: Sequence[float], gap: float, least: float, most: float) -> list[float]:
    """Places moved as little as can be so that neighbours are `gap` apart, between two limits.

    `places` rise. The gap gives way where they cannot all fit. Least squares by pooling neighbours that
    would collide (Ayer et al. 1955).
    """
    if len(places) > 1:
        gap = min(gap, (most - least) / (len(places) - 1))
    pools: list[tuple[float, int]] = []
    for index, place in enumerate(places):
        pool = (place - index * gap, 1)
        while pools and pools[-1][0] / pools[-1][1] > pool[0] / pool[1]:
            pool = (pool[0] + pools[-1][0], pool[1] + pools[-1][1])
            pools.pop()
        pools.append(pool)
    starts = [total / count for total, count in pools for _ in range(count)]
    last = most - gap * (len(places) - 1)
    return [min(max(start, least), last) + index * gap for index, start in enumerate(starts)]


def stacked(texts: Sequence[tuple[float, float]], least: float, gap: float) -> list[tuple[float, int]]:
    """Rows for texts that each end at a place, where its line comes down to it: its left edge and row.

    `texts` are (place, width), the places rising. A text goes to the nearest row, from 0, in which it is
    `gap` clear of the text before it and of the lines to rows beyond; no text begins left of `least`.
    """
    ends: list[float] = []
    lines: list[float] = []
    found: list[tuple[float, int]] = []
    for place, width in texts:
        left, row = max(place - width, least), 0
        while row < len(ends) and left < gap + max(ends[row], *lines[row + 1 :], least - gap):
            row += 1
        if row == len(ends):
            ends.append(least)
            lines.append(least)
        ends[row], lines[row] = max(left + width, place), place
        found.append((left, row))
    return found
