"""The search for joints that let boards use up the lengths they are cut from.

Runs are laid one after another, each in the way that wastes least with the rests there are; then all boards
are cut anew. Sizes that lay on wasteful lengths are held dearer the next time (sequential value correction;
Mukhacheva and Zalgaller 1993). At last the best is improved: runs on a wasteful length and beside them are
taken up and laid again, which is kept if it saves or gathers the waste on fewer lengths (ruin and recreate;
Schrimpf et al. 2000). All this proves nothing: `bound` does.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from soleplate.engine.covering.heading_joints.cutting import Cutting, Taste
from soleplate.engine.covering.heading_joints.packing import best_fit, cost_of, one_by_one
from soleplate.engine.covering.heading_joints.task import Kinds, Run
from soleplate.engine.covering.heading_joints.ways import NANO, Way

FIRST: Final = Taste(200 * NANO, 5)
LATER: Final = Taste(100 * NANO, 0)
"""How rests are held while laying: the first is the better by itself, the other with dear sizes."""

NEAR_ENOUGH: Final = 0.015
"""A cost over the bound by no more than this share is not improved."""

STARTS: Final = 0.7
"""The share of the effort that goes into laying all runs anew."""

CORRECTION: Final = 0.4
"""How much of what a size was found to waste is taken over at once."""


class StuckError(Exception):
    """No way is left for a run of `wall` beside the ways chosen for others."""

    def __init__(self, wall: str) -> None:
        self.wall = wall
        super().__init__(wall)


class Search:
    """One search over runs given wall by wall and upwards.

    `seeds` are walls whose runs are first laid in these ways; nothing is cheaper than `bound`.
    """

    def __init__(
        self, runs: Sequence[Run], kinds: Kinds, apart: int, seeds: Mapping[str, Sequence[Way]], bound: int
    ) -> None:
        self.runs = runs
        self.kinds = kinds
        self.apart = apart
        self.seeds = seeds
        self.enough = bound * (1 + NEAR_ENOUGH)
        costs, rooms = kinds.costs, kinds.rooms
        by_price = sorted(range(len(rooms)), key=lambda kind: (costs[kind] / rooms[kind], kind))
        self.orders = dict.fromkeys((tuple(by_price), tuple(range(len(rooms)))))
        self.order = sorted(range(len(runs)), key=lambda run: (-runs[run].span.least_size, run))

    def best(self, effort: int) -> Cutting:
        """The cheapest cutting found while looking at about so many ways of making up runs.

        Raises:
            StuckError: a wall without seeds in which the runs laid first leave no way for another.

        """
        best = self._laid(FIRST, {})
        dear = _dearer({}, best)
        each = best.tried
        left = effort - each
        # Where all runs lie as their walls' seeds say, laying them again is the same again.
        while each and best.cost > self.enough and left >= max(each, effort * (1 - STARTS)):
            left -= each
            try:
                found = self._laid(LATER, dear)
            except StuckError:
                break
            dear = _dearer(dear, found)
            if found.cost < best.cost:
                best = found
        improved = self._improved(best, left)
        return best if improved is best else self._packed(improved)

    def _laid(self, taste: Taste, dear: Mapping[int, int]) -> Cutting:
        """Walls with seeds first; then the longest runs, which have the most ways; packed as is best."""
        cutting = Cutting(self.runs, self.kinds, self.apart, taste, dear)
        seeded = {wall: iter(ways) for wall, ways in self.seeds.items()}
        for run, each in enumerate(self.runs):
            if each.wall in seeded:
                cutting.put(run, 0, next(seeded[each.wall]))
        for run in self.order:
            if self.runs[run].wall not in seeded and not cutting.lay(run):
                raise StuckError(self.runs[run].wall)
        return self._packed(cutting)

    def _packed(self, cutting: Cutting) -> Cutting:
        """The cutting as it is, or the same boards packed anew."""
        kinds = self.kinds
        pieces = [piece for pieces in cutting.pieces for piece in pieces]
        cuts = [one_by_one(pieces, kinds), *(best_fit(pieces, kinds, order) for order in self.orders)]
        cut = min(cuts, key=lambda cut: cost_of(cut, kinds))
        return cutting.recut(cut) if cost_of(cut, kinds) < cutting.cost else cutting

    def _improved(self, best: Cutting, left: int) -> Cutting:
        merit, tries = _merit(best), 0
        while left > 0 and merit[0] > self.enough:
            trial = best.copy()
            whole = self._relaid(trial, tries)
            left -= max(trial.tried - best.tried, 1)
            tries += 1
            if whole and (better := _merit(trial)) <= merit:
                if better[0] < merit[0]:
                    tries = 0
                best, merit = trial, better
        return best

    def _relaid(self, cutting: Cutting, tries: int) -> bool:
        """Take up the runs on a wasteful length and above and below, and lay them again if that can be."""
        wastes = cutting.wastes
        lengths = [length for length, pieces in enumerate(cutting.pieces) if pieces]
        lengths.sort(key=lambda length: (-wastes[length], length))
        runs = [self.runs[piece.run] for piece in cutting.pieces[lengths[tries % len(lengths)]]]
        courses = {(run.wall, run.course + by) for run in runs for by in (-1, 0, 1)}
        again = [run for run in self.order if (self.runs[run].wall, self.runs[run].course) in courses]
        for run in again:
            cutting.take_up(run)
        return all(cutting.lay(run) for run in again)


def _dearer(dear: Mapping[int, int], cutting: Cutting) -> dict[int, int]:
    """What each size is held to waste, now that its boards lie on these lengths."""
    found: dict[int, list[int]] = {}
    for pieces, filled, waste in zip(cutting.pieces, cutting.filled, cutting.wastes, strict=True):
        for piece in pieces:
            found.setdefault(piece.size, []).append(waste * piece.size // filled)
    corrected = dict(dear)
    for size, wastes in found.items():
        mean = sum(wastes) / len(wastes)
        corrected[size] = int(dear.get(size, 0) * (1 - CORRECTION) + mean * CORRECTION)
    return corrected


def _merit(cutting: Cutting) -> tuple[int, int]:
    """The cost, and as a negative number how far the waste is gathered on few lengths: less is better."""
    return cutting.cost, -sum(waste * waste for waste in cutting.wastes)
