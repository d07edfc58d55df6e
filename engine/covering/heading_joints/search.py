"""The search for joints that let boards use up the lengths they are cut from.

1. Lay the runs one after another, each in the way that wastes least with the rests there are; then pack all
   boards anew.
2. Do it again with sizes that lay on wasteful lengths counted as dearer (sequential value correction;
   Mukhacheva and Zalgaller 1993).
3. Improve the best: take up the runs on a wasteful length and those beside them, and lay them again. Keep
   that if it saves, or gathers the waste on fewer lengths (ruin and recreate; Schrimpf et al. 2000).

None of this proves anything: `bound` does.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from soleplate.engine.covering.heading_joints.cutting import Cutting, RestCost
from soleplate.engine.covering.heading_joints.job import JointRules
from soleplate.engine.covering.heading_joints.packing import (
    CutBoard,
    Packing,
    best_fit,
    cost_of_all,
    one_by_one,
)
from soleplate.engine.covering.heading_joints.task import Kinds, PlacedRun
from soleplate.engine.covering.heading_joints.ways import NANO, Way

FIRST: Final = RestCost(200 * NANO, 5)
LATER: Final = RestCost(100 * NANO, 0)
"""What rests count for while laying: the first serves better by itself, the other with dear sizes."""

NEAR_ENOUGH: Final = 0.015
"""A cost above the bound by no more than this share is not improved."""

STARTS: Final = 0.7
"""The share of the effort that is spent on laying all runs anew."""

CORRECTION: Final = 0.4
"""How much of the waste newly found for a size is blended into what it counted for so far."""


class StuckError(Exception):
    """No way is left for a run of `wall` beside the ways chosen for others."""

    def __init__(self, wall: str) -> None:
        self.wall = wall
        super().__init__(wall)


class JointSearch:
    """One search over runs given wall by wall and upwards.

    The runs of the walls in `seeds` are first laid in these ways; nothing is cheaper than `bound`.
    """

    def __init__(
        self,
        runs: Sequence[PlacedRun],
        kinds: Kinds,
        rules: JointRules,
        seeds: Mapping[str, Sequence[Way]],
        bound: int,
    ) -> None:
        self.runs = runs
        self.kinds = kinds
        self.rules = rules
        self.seeds = seeds
        self.enough = bound * (1 + NEAR_ENOUGH)

        # A new length is of the cheapest kind for its room, or of the longest: both orders are tried.
        costs, rooms = kinds.costs, kinds.rooms
        by_price = sorted(range(len(rooms)), key=lambda kind: (costs[kind] / rooms[kind], kind))
        self.orders = dict.fromkeys((tuple(by_price), tuple(range(len(rooms)))))

        # Long runs have the most ways, and short ones fill what is left: so the longest are laid first.
        self.order = sorted(range(len(runs)), key=lambda run: (-runs[run].span.least_size, run))

        self._packings: dict[frozenset[CutBoard], tuple[int, Packing]] = {}
        """What `_packing` returned: upright boards are mostly whole runs, the same however they are laid."""

    def best(self, effort: int) -> Cutting:
        """The cheapest cutting found while looking at about so many ways of making up runs.

        Raises:
            StuckError: a wall without seeds in which the runs laid first leave no way for another.

        """
        best = self._laid(FIRST, {})
        dear = _dearer({}, best)
        each = best.tried
        left = effort - each

        # Start again with dear sizes. Where all runs lie as their walls' seeds say, nothing was tried, and
        # laying them again would give the same. Without a choice the first start again has what all have.
        again: Cutting | None = None
        while each and best.cost > self.enough and left >= max(each, effort * (1 - STARTS)):
            left -= each
            if again is not None and not again.chosen:
                continue
            try:
                again = self._laid(LATER, dear)
            except StuckError:
                break
            dear = _dearer(dear, again)
            if again.cost < best.cost:
                best = again

        improved = self._improved(best, left)
        return best if improved is best else self._packed(improved)

    def _laid(self, rest_cost: RestCost, dear: Mapping[int, int]) -> Cutting:
        """All runs laid, those of walls with seeds first, and then packed."""
        cutting = Cutting(self.runs, self.kinds, self.rules, rest_cost, dear)

        seeded = {wall: iter(ways) for wall, ways in self.seeds.items()}
        for run, each in enumerate(self.runs):
            if each.wall in seeded:
                cutting.put(run, 0, next(seeded[each.wall]))

        for run in self.order:
            if self.runs[run].wall not in seeded and not cutting.lay(run):
                raise StuckError(self.runs[run].wall)

        return self._packed(cutting)

    def _packed(self, cutting: Cutting) -> Cutting:
        """The cutting as it is, or the same boards packed anew where that is cheaper."""
        cost, packing = self._packing(frozenset(board for boards in cutting.boards for board in boards))
        return cutting.recut(packing) if cost < cutting.cost else cutting

    def _packing(self, boards: frozenset[CutBoard]) -> tuple[int, Packing]:
        """The cheapest packing of these boards, behind its cost."""
        known = self._packings.get(boards)
        if known is None:
            kinds = self.kinds
            packings = [one_by_one(boards, kinds), *(best_fit(boards, kinds, order) for order in self.orders)]
            costs = [cost_of_all(packing, kinds) for packing in packings]
            known = self._packings[boards] = min(zip(costs, packings, strict=True), key=lambda each: each[0])
        return known

    def _improved(self, best: Cutting, left: int) -> Cutting:
        """The best found while looking at about `left` more ways; `best` itself where none is better."""
        score, tries = _score(best), 0
        while left > 0 and score[0] > self.enough:
            trial = best.copy()
            complete = self._relaid(trial, tries)
            left -= max(trial.tried - best.tried, 1)
            tries += 1

            # One that is as good is taken too: it may lead on. After a saving the most wasteful length is
            # another one, and so tries begin with it again.
            if complete and (found := _score(trial)) <= score:
                if found[0] < score[0]:
                    tries = 0
                best, score = trial, found
        return best

    def _relaid(self, cutting: Cutting, tries: int) -> bool:
        """Take up the runs on a wasteful length, and in the courses above and below, and lay them again.

        `tries` counts on from the most wasteful length. Returns whether all could be laid.
        """
        wastes = cutting.wastes
        lengths = [length for length, boards in enumerate(cutting.boards) if boards]
        lengths.sort(key=lambda length: (-wastes[length], length))

        # The courses beside them go too, or their joints would leave these runs hardly a choice.
        runs = [self.runs[board.run] for board in cutting.boards[lengths[tries % len(lengths)]]]
        courses = {(run.wall, run.course + by) for run in runs for by in (-1, 0, 1)}
        again = [run for run in self.order if (self.runs[run].wall, self.runs[run].course) in courses]

        for run in again:
            cutting.take_up(run)
        return all(cutting.lay(run) for run in again)


def _dearer(dear: Mapping[int, int], cutting: Cutting) -> dict[int, int]:
    """What each size counts for as waste, now that its boards lie on these lengths."""
    # The waste of a length is shared out among its boards by their sizes.
    found: dict[int, list[int]] = {}
    for boards, filled, waste in zip(cutting.boards, cutting.filled, cutting.wastes, strict=True):
        for board in boards:
            found.setdefault(board.size, []).append(waste * board.size // filled)

    # What it counted for so far is corrected in part only, or laying would swing to and fro.
    corrected = dict(dear)
    for size, wastes in found.items():
        mean = sum(wastes) / len(wastes)
        corrected[size] = int(dear.get(size, 0) * (1 - CORRECTION) + mean * CORRECTION)
    return corrected


def _score(cutting: Cutting) -> tuple[int, int]:
    """The cost, and as a negative number how far the waste is gathered on few lengths: less is better.

    Waste gathered on one length saves that length sooner than the same waste spread over many.
    """
    return cutting.cost, -sum(waste * waste for waste in cutting.wastes)
