"""What the planner need not do again, and that it finds the same without."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from soleplate.engine.covering.heading_joints import (
    BoardOnSale,
    CourseRun,
    JointRules,
    cutting,
    plan_joints,
    search,
)
from soleplate.engine.covering.heading_joints.packing import FULL, CutBoard, one_by_one
from soleplate.engine.covering.heading_joints.task import Longest, kinds_of, span_of
from soleplate.engine.covering.heading_joints.ways import AHEAD, GRID, MOST_LISTED, MOST_WAYS, NANO, RunSpan


def every_way(span: RunSpan, start: int, boards: int) -> Iterator[tuple[int, ...]]:
    """The ends of every chain of so many boards, long boards first."""
    if not boards:
        yield ()
        return
    for end, _ in reversed(span.onward[start]):
        for rest in every_way(span, end, boards - 1):
            yield (end, *rest)


def wanted(span: RunSpan) -> list[tuple[int, ...]]:
    """The ends of the ways from the left end, picked from a list of all."""
    last = len(span.places) - 1
    fewest = span.fewest[0]
    if fewest is None:
        return []
    if fewest <= AHEAD:
        found = [
            ends for boards in (fewest, fewest + 1) for ends in every_way(span, 0, boards) if ends[-1] == last
        ]
    else:
        left = [(span.fewest[end], end) for end in range(last)]
        near = {end for more, end in left if more is not None and more <= fewest - 1}
        found = [ends for ends in every_way(span, 0, 2) if ends[-1] in near]
    found = found[:MOST_LISTED]
    if len(found) <= MOST_WAYS:
        return found
    return [found[at * len(found) // MOST_WAYS] for at in range(MOST_WAYS)]


@given(
    inside=st.lists(st.integers(1, 59), max_size=20, unique=True),
    longest=st.sampled_from((900, 1500, 2100, 3000, 4200)),
    least=st.sampled_from((0.0, 300.0)),
)
def test_ways_are_those_of_a_list_of_all(inside: list[int], longest: int, least: float) -> None:
    supports = {number: 100.0 * place for number, place in enumerate(sorted(inside), start=1)}
    span = span_of(
        0.0,
        6000.0,
        supports,
        Longest(longest * NANO, longest * NANO),
        JointRules(least_board=least, kerf=0.0),
    )
    ways = span.ways(0)
    assert [way.ends for way in ways] == wanted(span)
    for way in ways:
        places = [0.0, *(span.places[end] for end in way.ends)]
        sizes = [round((b - a) * NANO) for a, b in itertools.pairwise(places)]
        assert list(way.sizes) == sorted(sizes, reverse=True)
        numbers = [number for number, place in supports.items() if place in places]
        assert way.joints == sum(1 << number for number in numbers)


@given(st.lists(st.integers(3, 40), min_size=1, max_size=9))
def test_each_length_is_filled_as_well_as_can_be(sizes: list[int]) -> None:
    """Against every choice of the boards that are left."""
    kinds = kinds_of([BoardOnSale(500.0)], JointRules(kerf=0.0))
    boards = [CutBoard(size * 10 * NANO, run, 0, 1) for run, size in enumerate(sizes)]
    left = sorted((board.size for board in boards), reverse=True)
    room = 500 * NANO
    for length in one_by_one(boards, kinds):
        cut = [board.size for board in length]
        assert cut[0] == left[0]
        others = left[1:]
        best = max(
            left[0] + sum(chosen)
            for count in range(len(others) + 1)
            for chosen in itertools.combinations(others, count)
            if left[0] + sum(chosen) <= room
        )
        assert best - FULL * GRID <= sum(cut) <= room
        for size in cut:
            left.remove(size)
    assert left == []


def test_runs_without_a_choice_are_laid_twice_and_packed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Once as the first time, once as all later times: whatever else is tried would give the same."""
    packed: list[int] = []
    laid: list[int] = []
    one, lay = search.one_by_one, cutting.Cutting.lay

    def packing(boards: Any, kinds: Any) -> Any:
        packed.append(len(boards))
        return one(boards, kinds)

    def laying(state: cutting.Cutting, run: int) -> bool:
        laid.append(run)
        return lay(state, run)

    monkeypatch.setattr(search, "one_by_one", packing)
    monkeypatch.setattr(cutting.Cutting, "lay", laying)
    monkeypatch.setattr(search.JointSearch, "_improved", lambda _, best, __: best)
    runs = [CourseRun("w", course, 0.0, 1300.0 + 7.3 * course) for course in range(40)]
    plan = plan_joints(runs, [BoardOnSale(4200.0)])
    assert plan.gap > 0.015, "nothing would be tried again"
    assert packed == [40]
    assert len(laid) == 80
