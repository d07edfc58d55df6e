"""A saw plan as it is read at the saw: alike lengths once, their cuts in order with where each is sawn.

A piece that keeps a factory end has to lie at that end of its length. So the one sawn from the start comes
first, the one sawn from the finish lies at the far end, and the offcut is left between the two; without
factory ends to keep, the order and the places are the plan's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

from soleplate.engine.sawing import FactoryEnds, SawCut, SawLength, SawPlan

SAME: Final = 0.5
"""Places that differ by less are sawn with one setting, mm: a tape is read to the whole millimetre."""

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
    """The plan's lengths, those alike together; a set-up is divided where places differ by `SAME` or more."""
    kept: dict[int, dict[int, Kept]] = {}
    for each in ends.kept if ends else ():
        kept.setdefault(each.length, {})[each.cut] = each.end
    groups: list[list[tuple[SawLength, tuple[Sawn, ...]]]] = []
    for index, length in enumerate(plan.lengths):
        pieces = _as_sawn(length, kept.get(index, {}))
        for group in groups:
            if group[0][0].set_up == length.set_up and _alike(group[0][1], pieces):
                group.append((length, pieces))
                break
        else:
            groups.append([(length, pieces)])
    return [
        SetUp(
            number=number,
            like=group[0][0],
            sawn=tuple(pieces for _, pieces in group),
            offcut_from=_offcut_from(*group[0]),
        )
        for number, group in enumerate(groups, 1)
    ]


def _as_sawn(length: SawLength, kept: Mapping[int, Kept]) -> tuple[Sawn, ...]:
    cuts = length.cuts
    finish = next((cut for cut, end in kept.items() if end == "finish"), None)
    if finish is None:
        return tuple(_sawn(cut, cut.from_, kept.get(index)) for index, cut in enumerate(cuts))
    first = [cut for cut, end in kept.items() if end == "start"]
    between = [cut for cut in range(len(cuts)) if cut not in kept]
    kerf, start = cuts[1].from_ - cuts[0].to, 0.0
    pieces: list[Sawn] = []
    for cut in (*first, *between):
        pieces.append(_sawn(cuts[cut], start, kept.get(cut)))
        start += cuts[cut].length + kerf
    far = cuts[finish]
    return (*pieces, _sawn(far, length.stock_length - far.length, "finish"))


def _sawn(cut: SawCut, start: float, kept: Kept | None) -> Sawn:
    return Sawn(cut.mark, cut.length, round(start, 3), round(start + cut.length, 3), kept)


def _alike(one: tuple[Sawn, ...], other: tuple[Sawn, ...]) -> bool:
    return len(one) == len(other) and all(
        a.kept == b.kept and abs(a.start - b.start) < SAME and abs(a.end - b.end) < SAME
        for a, b in zip(one, other, strict=True)
    )


def _offcut_from(length: SawLength, pieces: tuple[Sawn, ...]) -> float:
    if pieces[-1].from_far_end:
        kerf = length.cuts[1].from_ - length.cuts[0].to
        return pieces[-2].end + kerf
    return length.stock_length - length.cuts[0].from_ - length.offcut
