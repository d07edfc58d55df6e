"""What is clear of an opening: the rectangles between the pieces that stand in it."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import NamedTuple

from soleplate.engine.shapes import TOUCH


class Area(NamedTuple):
    """A rectangle in a view, mm."""

    left: float
    right: float
    bottom: float
    top: float

    @property
    def size(self) -> float:
        """mm2."""
        return (self.right - self.left) * (self.top - self.bottom)

    def meets(self, other: Area) -> bool:
        """Whether both share more than a sliver."""
        return (
            min(self.right, other.right) - max(self.left, other.left) > TOUCH
            and min(self.top, other.top) - max(self.bottom, other.bottom) > TOUCH
        )


def clear_areas(hole: Area, taken: Sequence[Area]) -> list[Area]:
    """What no rectangle of `taken` covers of a hole, as rectangles side by side, from the bottom left.

    They are cut level where what is free changes, and each is as wide as it can be.
    """
    taken = [each for each in taken if each.meets(hole)]
    edges = (edge for each in taken for edge in (each.bottom, each.top))
    levels = sorted({hole.bottom, hole.top, *(edge for edge in edges if hole.bottom < edge < hole.top)})
    done: list[Area] = []
    growing: list[Area] = []
    for bottom, top in itertools.pairwise(levels):
        free = _free(Area(hole.left, hole.right, bottom, top), taken)
        goes_on = {(each.left, each.right): each for each in growing}
        growing = [
            each._replace(bottom=below.bottom)
            if (below := goes_on.pop((each.left, each.right), None))
            else each
            for each in free
        ]
        done += goes_on.values()
    return sorted((*done, *growing), key=lambda each: (each.bottom, each.left))


def _free(strip: Area, taken: Sequence[Area]) -> list[Area]:
    """What is free of a strip that each rectangle crosses from bottom to top, or not at all."""
    if strip.top - strip.bottom <= TOUCH:
        return []
    found: list[Area] = []
    left = strip.left
    for each in sorted(each for each in taken if each.meets(strip)):
        if each.left - left > TOUCH:
            found.append(strip._replace(left=left, right=each.left))
        left = max(left, each.right)
    if strip.right - left > TOUCH:
        found.append(strip._replace(left=left))
    return found
