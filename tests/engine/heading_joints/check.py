"""A plan checked against what was asked for, by nothing that the planner uses."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import combinations

from soleplate.engine.covering.heading_joints import BoardOnSale, CourseRun, JointPlan, JointRules

TINY = 1e-5


def faults_in(
    plan: JointPlan, runs: Sequence[CourseRun], stock: Sequence[BoardOnSale], rules: JointRules
) -> list[str]:
    """Everything that is wrong with a plan."""
    return [
        *_runs(plan, runs, rules),
        *_joints(plan, runs, rules),
        *_lengths(plan, stock, rules),
        *_figures(plan),
    ]


def _runs(plan: JointPlan, runs: Sequence[CourseRun], rules: JointRules) -> Iterator[str]:
    no_rule = {fault.wall for fault in plan.faults if fault.reason == "rule"}
    left_out = {index for index, run in enumerate(runs) if run.wall in no_rule} | {f.run for f in plan.faults}
    for index, run in enumerate(runs):
        boards = [board for board in plan.boards if board.run == index]
        if index in left_out:
            if boards:
                yield f"run {index} is faulty and has boards"
            continue
        ends = [run.left, *(board.right for board in boards)]
        if [board.left for board in boards] != ends[:-1] or ends[-1] != run.right:
            yield f"run {index} is not covered exactly once"
        if len(boards) > 1 and min(board.length for board in boards) < rules.least_board - TINY:
            yield f"run {index} has a board that is too short"


def _joints(plan: JointPlan, runs: Sequence[CourseRun], rules: JointRules) -> Iterator[str]:
    standing = defaultdict(list)
    for board in plan.boards:
        run = runs[board.run]
        if board.left == run.left:
            continue
        if board.left not in run.supports:
            yield f"run {board.run} has a joint at {board.left} off any support"
        standing[run.wall].append((run.course, board.left))
    for wall, joints in standing.items():
        for (one, x), (other, y) in combinations(joints, 2):
            if abs(x - y) < 0.5 and abs(one - other) < rules.courses_apart:
                yield f"{wall}: joints at {x} in courses {one} and {other}"


def _lengths(plan: JointPlan, stock: Sequence[BoardOnSale], rules: JointRules) -> Iterator[str]:
    if sorted(index for length in plan.lengths for index in length.boards) != list(range(len(plan.boards))):
        yield "a board is cut from no length, or from several"
    for length in plan.lengths:
        boards = [plan.boards[index] for index in length.boards]
        taken = sum(board.length for board in boards) + rules.kerf * (len(boards) - 1) + 2 * rules.trim
        is_longest = length.stock.length == max(each.length for each in stock)
        margin = 0.0 if len(boards) == 1 and is_longest else rules.margin
        if taken + margin > length.stock.length + TINY:
            yield f"{taken} mm are cut from a length of {length.stock.length}"
        if length.stock not in stock:
            yield f"{length.stock} is not on sale"


def _figures(plan: JointPlan) -> Iterator[str]:
    value = sum(length.stock.price or length.stock.length for length in plan.lengths)
    if abs(value - plan.value) > 1e-6 * max(value, 1):
        yield f"the lengths come to {value}, not {plan.value}"
    if plan.bound > plan.value + TINY or plan.least_lengths > len(plan.lengths):
        yield "the plan is under its own bound"
