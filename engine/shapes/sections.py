"""Sections of timber."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple


class Section(NamedTuple):
    """A timber's section in mm.

    Of a stud, `breadth` is the face seen in elevation and `depth` goes through the wall. Of a timber
    on edge, such as a lintel, `breadth` is its thickness and `depth` its height.
    """

    breadth: float
    depth: float


def same_section(one: Sequence[float], other: Sequence[float]) -> bool:
    """Whether two sections are one timber: alike at the resolution of the layout, 0.001 mm."""
    return all(abs(a - b) < 0.001 for a, b in zip(one, other, strict=True))
