"""A saw plan as it is read at the saw: alike lengths once, their cuts in order with where each is sawn.

A piece that keeps a factory end has to lie at that end of its length: the last one, where it is sawn from the
far end, lies there, and the offcut is left before it. All other places are the plan's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from soleplate.engine.sawing import FactoryEnds, SawCut, SawLength, SawPlan

Kept = Literal["start", "finish", "both"]


@dataclass(frozen=True, slots=True)
class Sawn:
    """A piece on a length: its place from the start of the length, mm, and the factory end it keeps."""

    mark: str
    length: float
    start: float
    end: float
    kept: Kept | None

    @property
    def from_far_end(self) -> bool:
        """Whether it is measured from the far end, with the length turned round."""
        return self.kept == "finish"

    @property
    def saw_at(self) -> float:
        """The running position of its saw line: where it ends, or begins if it lies at the far end."""
        return self.start if self.from_far_end else self.end


@dataclass(frozen=True, slots=True)
class SetUp:
    """Lengths alike in stock and cuts, sawn with the same settings of the stop."""

    number: int
    """From 1, in the plan's order."""
    like: SawLength
    """The first of them."""
    sawn: tuple[tuple[Sawn, ...], ...]
    """For each length its pieces, in the order of sawing; alike but for their marks."""
    offcut_from: float
    """Where the offcut begins, mm."""

    @property
    def count(self) -> int:
        """How many lengths."""
        return len(self.sawn)

    @property
    def trim(self) -> float:
        """Cut off each end first, mm."""
        return self.like.cuts[0].from_

    def marks(self, cut: int) -> tuple[str, ...]:
        """The marks of one cut on all the lengths, each once."""
        return tuple(dict.fromkeys(pieces[cut].mark for pieces in self.sawn))


def set_ups(plan: SawPlan, ends: FactoryEnds | None = None) -> list[SetUp]:
    """The plan's lengths, those alike together; `ends` as `keeping_factory_ends` gives them with the plan."""
    kept: dict[int, dict[int, Kept]] = {}
    for each in ends.kept if ends else ():
        kept.setdefault(each.length, {})[each.cut] = each.end
    groups = [list(group) for _, group in groupby(enumerate(plan.lengths), key=lambda each: each[1].set_up)]
    sawn = [tuple(_as_sawn(length, kept.get(index, {})) for index, length in group) for group in groups]
    return [
        SetUp(
            number=number,
            like=group[0][1],
            sawn=pieces,
            offcut_from=_offcut_from(group[0][1], pieces[0]),
        )
        for number, (group, pieces) in enumerate(zip(groups, sawn, strict=True), 1)
    ]


def _as_sawn(length: SawLength, kept: Mapping[int, Kept]) -> tuple[Sawn, ...]:
    pieces = [_sawn(cut, cut.from_, kept.get(index)) for index, cut in enumerate(length.cuts)]
    if pieces[-1].from_far_end:
        last = length.cuts[-1]
        pieces[-1] = _sawn(last, length.stock_length - last.length, "finish")
    return tuple(pieces)


def _sawn(cut: SawCut, start: float, kept: Kept | None) -> Sawn:
    return Sawn(cut.mark, cut.length, round(start, 3), round(start + cut.length, 3), kept)


def _offcut_from(length: SawLength, pieces: tuple[Sawn, ...]) -> float:
    if pieces[-1].from_far_end:
        kerf = length.cuts[1].from_ - length.cuts[0].to
        return pieces[-2].end + kerf
    return length.stock_length - length.cuts[0].from_ - length.offcut
