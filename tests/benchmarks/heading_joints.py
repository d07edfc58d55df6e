"""What heading joints take in timber and time, beside a lower bound and beside fixed patterns.

The patterns: boards as long as can be from the left in one course and from the right in the next, as far as
the rule allows. Each board is then bought by itself, or all are cut by best fit from the longest lengths.
"""

from __future__ import annotations

import statistics
import time
from bisect import bisect_left, insort
from collections.abc import Sequence
from itertools import chain

from soleplate.engine.covering.heading_joints import BoardOnSale, CourseRun, JointRules, plan_joints
from tests.engine.heading_joints.check import faults_in
from tests.engine.heading_joints.walls import USUAL, shed, some_wall

RULES = JointRules(courses_apart=2, least_board=300.0)
WALLS = 200


def pattern(runs: Sequence[CourseRun], longest: float) -> list[float] | None:
    """The boards that a fixed pattern gives; `None` where it finds no support to joint on."""
    boards: list[float] = []
    taken: set[tuple[str, int, float]] = set()
    for run in sorted(runs, key=lambda run: (run.wall, run.course, run.left)):
        turned = run.course % 2 == 0
        at, end = (run.right, run.left) if turned else (run.left, run.right)
        while abs(end - at) > longest:
            places = [
                place
                for place in run.supports
                if run.left < place < run.right
                and RULES.least_board <= (at - place if turned else place - at) <= longest
                and abs(end - place) >= RULES.least_board
                and (run.wall, run.course - 1, place) not in taken
            ]
            if not places:
                return None
            place = min(places) if turned else max(places)
            taken.add((run.wall, run.course, place))
            boards.append(abs(place - at))
            at = place
        boards.append(abs(end - at))
    return boards


def singly(boards: Sequence[float], stock: Sequence[BoardOnSale]) -> float:
    """The timber bought when every board is bought by itself, mm."""
    return sum(min(each.length for each in stock if each.length >= board) for board in boards)


def best_fit(boards: Sequence[float], stock: Sequence[BoardOnSale]) -> float:
    """The timber bought when boards are cut by best fit, each length then the least that does, mm."""
    room = max(each.length for each in stock) + RULES.kerf
    left: list[tuple[float, int]] = []
    filled: list[float] = []
    for board in sorted(boards, reverse=True):
        size = board + RULES.kerf
        at = bisect_left(left, (size, -1))
        rest, length = left.pop(at) if at < len(left) else (room, len(filled))
        if length == len(filled):
            filled.append(0.0)
        filled[length] += size
        insort(left, (rest - size, length))
    return singly([fill - RULES.kerf for fill in filled], stock)


def measure(name: str, jobs: Sequence[Sequence[CourseRun]]) -> str:
    """One line: mean and greatest excess over the bound of each way, and the time."""
    over: list[list[float]] = [[], [], []]
    lengths: list[float] = []
    took: list[float] = []
    for runs in jobs:
        start = time.perf_counter()
        plan = plan_joints(runs, USUAL, RULES)
        took.append((time.perf_counter() - start) * 1000)
        if wrong := [*faults_in(plan, runs, USUAL, RULES), *(fault.message for fault in plan.faults)]:
            raise AssertionError(f"{name}: {wrong[:3]}")
        over[0].append(plan.gap)
        lengths.append(len(plan.lengths) / plan.least_lengths - 1)
        boards = pattern(runs, max(each.length for each in USUAL))
        if boards is not None:
            for place, way in enumerate((best_fit, singly), start=1):
                over[place].append(way(boards, USUAL) / plan.bound - 1)
    within = sum(gap <= 0.05 for gap in over[0]) / len(over[0])
    figures = "  ".join(f"{statistics.mean(each):6.2%} {max(each):6.2%}" for each in over)
    return (
        f"{name:24}{len(jobs):5}  {figures}  {within:6.0%}  {statistics.mean(lengths):6.2%}"
        f"  {statistics.median(took):6.1f} {max(took):6.1f}"
    )


def main() -> None:
    """Print the figures."""
    head = ("chosen", "pattern, best fit", "pattern, singly", "under 5 %", "more lengths", "ms median, max")
    print("timber bought over the bound, mean and greatest: " + "; ".join(head))
    print(measure("a shed of four walls", [shed()]))
    print(measure("walls alone", [some_wall(seed) for seed in range(WALLS)]))
    many = [_named(some_wall(seed), f"wall {seed}") for seed in range(100)]
    print(measure("ten walls together", [list(chain(*many[at : at + 10])) for at in range(0, 100, 10)]))
    for count in (10, 100):
        runs = list(chain(*many[:count]))
        start = time.perf_counter()
        plan_joints(runs, USUAL, RULES)
        print(f"{count:4} walls: {(time.perf_counter() - start) * 1000 / count:.1f} ms a wall")


def _named(runs: Sequence[CourseRun], wall: str) -> list[CourseRun]:
    return [CourseRun(wall, run.course, run.left, run.right, run.supports) for run in runs]


if __name__ == "__main__":
    main()
