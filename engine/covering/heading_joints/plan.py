"""Choosing the heading joints of all courses together."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from soleplate.engine.covering.heading_joints.asked import check
from soleplate.engine.covering.heading_joints.bound import carried, least_cost, thresholds
from soleplate.engine.covering.heading_joints.cutting import Cutting
from soleplate.engine.covering.heading_joints.faults import alone, together
from soleplate.engine.covering.heading_joints.job import (
    BoardOnSale,
    CourseRun,
    CutLength,
    JointFault,
    JointPlan,
    JointRules,
    LaidBoard,
)
from soleplate.engine.covering.heading_joints.keeping import keep_apart
from soleplate.engine.covering.heading_joints.packing import CutBoard
from soleplate.engine.covering.heading_joints.search import JointSearch, StuckError
from soleplate.engine.covering.heading_joints.task import Kinds, PlacedRun, kinds_of, runs_of
from soleplate.engine.covering.heading_joints.ways import Way

EFFORT: Final = 2_000
"""Ways of making up runs that are looked at in each batch."""

BATCH: Final = 120
"""Runs planned together at the least, if there are so many; walls are kept whole. More save hardly more,
and so the time for each wall stays the same."""


@dataclass(frozen=True, slots=True)
class JointTask:
    """Runs to be jointed and what they are made from, looked at once: it is counted, and then planned."""

    runs: Sequence[CourseRun]
    rules: JointRules
    kinds: Kinds
    placed: Sequence[PlacedRun]

    @property
    def fewest_boards(self) -> int:
        """How many boards all runs have at the least, each by itself; one that cannot be jointed is whole."""
        return sum(run.span.fewest[0] or 1 for run in self.placed)

    def plan(self, effort: int = EFFORT) -> JointPlan:
        """The joints of all runs, the lengths to buy for them, and a bound on what any choice must buy.

        `effort` is how many ways of making up runs are looked at in each batch; 0 is quick.
        """
        # Runs that cannot be jointed even by themselves are told, and left out of all that follows.
        kinds, rules, longest = self.kinds, self.rules, self.kinds.longest.alone
        faults = [fault for run in self.placed if (fault := alone(run, self.runs[run.index], longest, rules))]
        faulty = {fault.run for fault in faults}

        cuttings: list[Cutting] = []
        for batch in _batches([run for run in self.placed if run.index not in faulty]):
            cutting, more = _planned(batch, kinds, rules, effort)
            faults += more
            if cutting is not None:
                cuttings.append(cutting)

        return _told(cuttings, kinds, faults, money=kinds.stock[0].price is not None)


def joint_task(
    runs: Sequence[CourseRun], stock: Sequence[BoardOnSale], rules: JointRules | None = None
) -> JointTask:
    """What is to be jointed.

    Args:
        runs: stretches of courses, in any order.
        stock: lengths on sale, as many of each as wanted; at least one.
        rules: what joints and cuts keep to; `JointRules()` unless given.

    Raises:
        ValueError: a figure out of its range, no stock, or prices for some lengths only.

    """
    rules = rules or JointRules()
    check(runs, stock, rules)
    kinds = kinds_of(stock, rules)
    if not kinds.rooms:
        raise ValueError("the trim leaves nothing of any length on sale; accepted are longer ones")
    return JointTask(runs, rules, kinds, runs_of(runs, kinds.longest, rules))


def plan_joints(
    runs: Sequence[CourseRun],
    stock: Sequence[BoardOnSale],
    rules: JointRules | None = None,
    effort: int = EFFORT,
) -> JointPlan:
    """The joints of all runs; see `joint_task` and its `plan`."""
    return joint_task(runs, stock, rules).plan(effort)


def _planned(
    runs: list[PlacedRun], kinds: Kinds, rules: JointRules, effort: int
) -> tuple[Cutting | None, list[JointFault]]:
    """One batch; walls that cannot keep the rule are left out and named."""
    seeds: dict[str, tuple[Way, ...]] = {}
    faults: list[JointFault] = []
    while runs:
        try:
            _, floor = _bound(runs, kinds)
            return JointSearch(runs, kinds, rules, seeds, floor).best(effort), faults
        except StuckError as stuck:
            # All choices for that wall are tried: it is left out, or begins with what was found.
            wall = [run for run in runs if run.wall == stuck.wall]
            kept = keep_apart(wall, rules.courses_apart)
            if kept.ways is None:
                faults.append(together(wall, kept, rules.courses_apart))
                runs = [run for run in runs if run.wall != stuck.wall]
            else:
                seeds[stuck.wall] = kept.ways
    return None, faults


def _bound(runs: Sequence[PlacedRun], kinds: Kinds, enough: int | None = None) -> tuple[int, int]:
    """The fewest lengths and the least cost that runs can take; `enough` is a cost that is known to do."""
    if not runs:
        return 0, 0
    need = sum(run.span.least_tenths for run in runs)
    spans = {id(run.span): run.span for run in runs}
    carry = carried((size for span in spans.values() for size in span.useful), kinds.rooms)

    # What all boards need together, then what the runs without joints need.
    fewest, cost = -(-need // max(carry)), least_cost(kinds.costs, carry, need, enough)
    whole = [run.span.onward[0][0][1] for run in runs if len(run.span.places) == 2]
    for number, carried_ in thresholds(whole, kinds.rooms):
        fewest = max(fewest, -(-number // max(carried_)))
        cost = max(cost, least_cost(kinds.costs, carried_, number, enough))
    return fewest, cost


def _batches(runs: Sequence[PlacedRun]) -> Iterator[list[PlacedRun]]:
    """Runs in batches of at least `BATCH`, walls kept whole; the last one may be smaller."""
    batch: list[PlacedRun] = []
    for _, wall in itertools.groupby(runs, key=lambda run: run.wall):
        batch += wall
        if len(batch) >= BATCH:
            yield batch
            batch = []
    if batch:
        yield batch


def _told(
    cuttings: Sequence[Cutting], kinds: Kinds, faults: Sequence[JointFault], *, money: bool
) -> JointPlan:
    """The plan as it is handed out: places in mm, cost in money or mm."""
    cut: list[tuple[int, list[LaidBoard]]] = []
    for cutting in cuttings:
        for held, filled in zip(cutting.boards, cutting.filled, strict=True):
            if held:
                cut.append(
                    (kinds.cheapest(filled), [_laid(cutting.runs[board.run], board) for board in held])
                )

    # Boards are numbered in the order of the answer; lengths refer to them by these numbers.
    boards = sorted((board for _, those in cut for board in those), key=lambda board: (board.run, board.left))
    number = {board: at for at, board in enumerate(boards)}
    lengths = sorted((kind, sorted(number[board] for board in those)) for kind, those in cut)

    value = sum(kinds.costs[kind] for kind, _ in cut)
    fewest, bound = _bound([run for cutting in cuttings for run in cutting.runs], kinds, value)
    unit = 100 if money else 1000

    return JointPlan(
        boards=tuple(boards),
        lengths=tuple(
            CutLength(kinds.stock[kind], tuple(sorted(those, key=lambda at: (-boards[at].length, at))))
            for kind, those in lengths
        ),
        value=value / unit,
        bound=bound / unit,
        least_lengths=fewest,
        faults=tuple(sorted(faults, key=lambda fault: (fault.wall, fault.course, fault.left))),
    )


def _laid(run: PlacedRun, board: CutBoard) -> LaidBoard:
    return LaidBoard(run.index, run.span.places[board.start], run.span.places[board.end])
