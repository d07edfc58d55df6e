"""Factory ends: which pieces keep one, and how many fresh ends want preservative.

Treated timber is soaked from its surface; a fresh cut opens timber that the treatment has not
reached. A bought length has two factory ends. The piece sawn from each end keeps it, so two pieces a
length keep one each (one piece both, if it takes up the whole length). Trimmed ends are fresh.
"""

from __future__ import annotations

from collections.abc import Collection
from typing import Literal

from soleplate.engine.model import Model
from soleplate.engine.sawing.answer import SawLength, SawPlan

End = Literal["start", "finish", "both"]


class KeptEnd(Model):
    """A piece that keeps a factory end."""

    length: int
    """Which of the plan's lengths, from 0."""
    cut: int
    """Which cut of that length, from 0."""
    mark: str
    """Name of the part."""
    end: End
    """The end of the length to saw it from; that end goes at the bottom of a stud."""


class FactoryEnds(Model):
    """Factory ends of a whole plan."""

    kept: tuple[KeptEnd, ...]
    """Pieces with a factory end, in the order of the plan."""
    fresh: int
    """Cut ends to be brushed with preservative."""


def factory_ends(plan: SawPlan, first: Collection[str] = ()) -> FactoryEnds:
    """Which pieces keep a factory end, and how many ends are fresh.

    `first` are marks that want a factory end before others do, such as studs. Only bought lengths have
    factory ends, and only where no end trim is cut off.
    """
    kept: list[KeptEnd] = []
    ends = whole = 0
    for index, length in enumerate(plan.lengths):
        ends += 2 * len(length.cuts)
        for end, cut in _chosen(length, frozenset(first)):
            whole += 2 if end == "both" else 1
            kept.append(KeptEnd(length=index, cut=cut, mark=length.cuts[cut].mark, end=end))
    return FactoryEnds(kept=tuple(kept), fresh=ends - whole)


def _chosen(length: SawLength, first: frozenset[str]) -> list[tuple[End, int]]:
    """At most two cuts of a length with the end each is sawn from; the longer before the shorter."""
    if length.on_hand or length.cuts[0].from_ > 0:
        return []
    if len(length.cuts) == 1:
        return [("both" if length.cuts[0].to >= length.stock_length else "start", 0)]
    order = sorted(range(len(length.cuts)), key=lambda cut: (length.cuts[cut].mark not in first, cut))
    one, other = sorted(order[:2])
    return [("start", one), ("finish", other)]
