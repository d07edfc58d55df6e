"""Factory ends: which pieces keep one, and how many fresh ends want preservative.

Treated timber is soaked from its surface; a fresh cut opens timber that the treatment has not
reached. A bought length has two factory ends. The piece sawn from each end keeps it, so two pieces a
length keep one each (one piece both, if it takes up the whole length). Trimmed ends are fresh.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Literal

from soleplate.engine.building_file import Model
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


def keeping_factory_ends(
    plan: SawPlan, first: Collection[str] = (), square: Mapping[str, int] | None = None
) -> tuple[SawPlan, FactoryEnds]:
    """The plan with the cuts that keep a factory end outermost, and what is kept.

    `first` are marks that want a factory end before others do, such as studs; `square` tells how many ends of
    a mark are square, both where it is not given: one cut to an angle is fresh. Only bought lengths have
    factory ends, and only where no end trim is cut off. Of a length that keeps two, the first cut is sawn
    from its start and the last from its other end; places in the plan stay those of sawing all from the
    start, so the last cut's is where it would lie without the offcut before it.
    """
    able = square or {}
    outermost = [_outermost(length, frozenset(first), able) for length in plan.lengths]
    ordered = sorted(outermost, key=lambda length: (length.set_up, [-cut.length for cut in length.cuts]))
    lengths: list[SawLength] = []
    number, previous = 0, None
    for length in ordered:
        alike = (length.set_up, [cut.length for cut in length.cuts])
        number += alike != previous
        previous = alike
        lengths.append(length.model_copy(update={"set_up": number}))
    kept = tuple(
        KeptEnd(length=index, cut=cut, mark=length.cuts[cut].mark, end=end)
        for index, length in enumerate(lengths)
        for end, cut in _kept(length, able)
    )
    ends = sum(2 * len(length.cuts) for length in lengths)
    whole = sum(2 if each.end == "both" else 1 for each in kept)
    arranged = plan.model_copy(update={"lengths": tuple(lengths), "set_ups": number})
    return arranged, FactoryEnds(kept=kept, fresh=ends - whole)


def _kept(length: SawLength, square: Mapping[str, int]) -> list[tuple[End, int]]:
    """At most two cuts of a length, with the end that each is sawn from."""
    if not _has_factory_ends(length):
        return []
    ends = [square.get(cut.mark, 2) for cut in length.cuts]
    if len(ends) == 1 and ends[0] == 2 and length.cuts[0].to >= length.stock_length:
        return [("both", 0)]
    kept: list[tuple[End, int]] = [("start", 0)] if ends[0] else []
    return kept + ([("finish", len(ends) - 1)] if len(ends) > 1 and ends[-1] else [])


def _has_factory_ends(length: SawLength) -> bool:
    return not length.on_hand and length.cuts[0].from_ == 0


def _outermost(length: SawLength, first: frozenset[str], square: Mapping[str, int]) -> SawLength:
    """The length with the two cuts first and last that want a factory end most, the longer one first."""
    cuts = length.cuts
    if not _has_factory_ends(length) or len(cuts) < 3:
        return length
    order = sorted(
        range(len(cuts)),
        key=lambda cut: (not square.get(cuts[cut].mark, 2), cuts[cut].mark not in first, cut),
    )
    one, other = sorted(order[:2])
    kerf = cuts[1].from_ - cuts[0].to
    arranged, start = [], 0.0
    for cut in (one, *(cut for cut in range(len(cuts)) if cut not in (one, other)), other):
        to = start + cuts[cut].length
        arranged.append(cuts[cut].model_copy(update={"from_": round(start, 3), "to": round(to, 3)}))
        start = to + kerf
    return length.model_copy(update={"cuts": tuple(arranged)})
