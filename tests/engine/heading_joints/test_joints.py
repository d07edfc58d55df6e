"""Heading joints: every run made up exactly, the rule kept, and a bound that holds."""

from __future__ import annotations

from itertools import combinations, combinations_with_replacement, pairwise, product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soleplate.engine.covering.heading_joints import BoardOnSale, CourseRun, JointRules, plan_joints
from tests.engine.heading_joints.check import faults_in
from tests.engine.heading_joints.walls import USUAL, shed, some_wall

LENGTHS = {"usual": (2400.0, 3000.0, 3600.0, 4200.0), "one": (4200.0,), "far apart": (1800.0, 5400.0)}


@pytest.mark.parametrize("apart", [2, 3, 4])
@pytest.mark.parametrize("lengths", LENGTHS.values(), ids=LENGTHS.keys())
def test_a_shed_is_within_five_per_cent_of_its_bound(apart: int, lengths: tuple[float, ...]) -> None:
    runs, stock, rules = shed(), [BoardOnSale(length) for length in lengths], JointRules(apart, 300.0)
    plan = plan_joints(runs, stock, rules)
    assert faults_in(plan, runs, stock, rules) == []
    assert plan.faults == ()
    assert plan.gap <= 0.05


@pytest.mark.parametrize("seed", range(25))
def test_walls_alone(seed: int) -> None:
    runs, rules = some_wall(seed), JointRules(2, 300.0)
    plan = plan_joints(runs, USUAL, rules)
    assert faults_in(plan, runs, USUAL, rules) == []
    assert plan.faults == ()


def test_the_offcut_of_one_course_begins_the_next() -> None:
    """Two runs of three bays from boards of two bays: three boards, none wasted, since one is halved."""
    runs = [CourseRun("w", course, 0.0, 1800.0, (600.0, 1200.0)) for course in (1, 2)]
    plan = plan_joints(runs, [BoardOnSale(1200.0)], JointRules(kerf=0.0))
    assert (plan.value, plan.bound, len(plan.lengths)) == (3600.0, 3600.0, 3)
    assert {plan.joints(0), plan.joints(1)} == {(600.0,), (1200.0,)}


def test_what_bays_cannot_use_of_a_length_counts_as_none() -> None:
    """From 2900 mm at 600 centres come four bays, so ten runs of four take ten lengths, proven."""
    runs = [CourseRun("w", course, 0.0, 2400.0, (600.0, 1200.0, 1800.0)) for course in range(10)]
    plan = plan_joints(runs, [BoardOnSale(2900.0)], JointRules(kerf=0.0))
    assert (plan.value, plan.bound, plan.least_lengths) == (29000.0, 29000.0, 10)


def test_runs_without_supports_are_counted() -> None:
    """By hand: two of 2320 mm go into 6 m, so nine take five lengths, though offcuts hold the short ones."""
    runs = [CourseRun("w", course, 0.0, 2320.0) for course in range(9)]
    runs += [CourseRun("w", course, 0.0, 600.0) for course in range(9, 12)]
    plan = plan_joints(runs, [BoardOnSale(6000.0)], JointRules(kerf=3.0), effort=0)
    assert (plan.value, plan.bound, plan.least_lengths) == (30000.0, 30000.0, 5)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(1, 5), min_size=1, max_size=6), st.sampled_from([(5,), (6,), (7,), (5, 7), (6, 8)])
)
def test_the_bound_of_runs_without_supports_holds(sizes: list[int], kinds: tuple[int, ...]) -> None:
    """Against every choice of lengths and every way of cutting them."""
    runs = [CourseRun("w", course, 0.0, 400.0 * size) for course, size in enumerate(sizes)]
    plan = plan_joints(runs, [BoardOnSale(400.0 * kind) for kind in kinds], JointRules(kerf=0.0))
    least = min(
        sum(chosen)
        for count in range(1, len(sizes) + 1)
        for chosen in combinations_with_replacement(kinds, count)
        if packs(sorted(sizes, reverse=True), list(chosen))
    )
    assert plan.bound / 400 <= least <= plan.value / 400 + 1e-9


def test_prices_decide() -> None:
    runs = [CourseRun("w", course, 0.0, 3600.0, (1200.0, 2400.0)) for course in range(4)]
    dear_long = [BoardOnSale(3600.0, 9.0), BoardOnSale(2400.0, 2.0), BoardOnSale(1200.0, 1.5)]
    plan = plan_joints(runs, dear_long, JointRules(kerf=0.0))
    assert {length.stock.length for length in plan.lengths} == {2400.0}
    assert (plan.value, plan.bound) == (12.0, 12.0)


def test_trim_and_kerf_are_taken_off() -> None:
    runs = [CourseRun("w", course, 0.0, 1000.0) for course in (1, 2)]
    assert len(plan_joints(runs, [BoardOnSale(2043.0)], JointRules(trim=20.0)).lengths) == 1
    assert len(plan_joints(runs, [BoardOnSale(2042.9)], JointRules(trim=20.0)).lengths) == 2


def test_the_margin_is_left_over_but_of_a_board_that_nothing_lets_be_shorter() -> None:
    """Two boards and the cut between take 2003; a run of 2000 without a support is whole, by itself."""
    runs = [CourseRun("w", course, 0.0, 1000.0) for course in (1, 2)]
    assert len(plan_joints(runs, [BoardOnSale(2008.0)], JointRules(margin=5.0)).lengths) == 1
    assert len(plan_joints(runs, [BoardOnSale(2007.9)], JointRules(margin=5.0)).lengths) == 2
    whole, stock = [CourseRun("w", 1, 0.0, 2000.0)], [BoardOnSale(2000.0), BoardOnSale(1998.0)]
    plan = plan_joints([*whole, *runs[:1]], stock, JointRules(margin=5.0))
    assert plan.faults == ()
    assert faults_in(plan, [*whole, *runs[:1]], stock, JointRules(margin=5.0)) == []
    assert [cut.stock.length for cut in plan.lengths if 0 in cut.boards] == [2000.0]
    supported = [CourseRun("w", 1, 0.0, 3990.0, (1000.0, 1996.0, 2500.0))]
    assert len(plan_joints(supported, [BoardOnSale(2000.0)], JointRules()).boards) == 2
    assert len(plan_joints(supported, [BoardOnSale(2000.0)], JointRules(margin=5.0)).boards) == 3


def test_a_gap_out_of_reach_is_told_with_its_place() -> None:
    runs = [
        CourseRun("front", 4, 0.0, 6000.0, (600.0, 5400.0)),
        CourseRun("front", 5, 0.0, 3000.0, (600.0,)),
    ]
    plan = plan_joints(runs, [BoardOnSale(4200.0)])
    (fault,) = plan.faults
    assert (fault.reason, fault.wall, fault.course, fault.left, fault.right) == (
        "too-far",
        "front",
        4,
        600.0,
        5400.0,
    )
    assert "course 4 of front" in fault.message
    assert [board.run for board in plan.boards] == [1]


def test_a_least_board_that_cannot_be_kept_is_told() -> None:
    plan = plan_joints(
        [CourseRun("w", 1, 0.0, 4300.0, (100.0, 4200.0))], [BoardOnSale(4250.0)], JointRules(2, 300)
    )
    assert [(fault.reason, fault.courses_apart) for fault in plan.faults] == [("too-short", None)]


@pytest.mark.parametrize(("apart", "most"), [(3, 2), (4, 2), (2, None)])
def test_a_rule_that_cannot_be_kept_is_told_with_what_can(apart: int, most: int | None) -> None:
    """Two supports within reach: joints can alternate, and no more."""
    runs = [CourseRun("w", course, 0.0, 4800.0, (2000.0, 2800.0)) for course in range(1, 7)]
    plan = plan_joints(runs, [BoardOnSale(3000.0)], JointRules(apart))
    if most is None:
        assert plan.faults == ()
        assert faults_in(plan, runs, [BoardOnSale(3000.0)], JointRules(apart)) == []
    else:
        (fault,) = plan.faults
        assert (fault.reason, fault.course, fault.courses_apart) == ("rule", 3, most)
        assert plan.boards == ()


def test_one_support_for_all_courses_keeps_no_rule() -> None:
    runs = [CourseRun("w", course, 0.0, 4800.0, (2400.0,)) for course in (1, 2)]
    plan = plan_joints(runs, [BoardOnSale(3000.0)])
    assert [fault.courses_apart for fault in plan.faults] == [1]
    assert plan_joints(runs, [BoardOnSale(3000.0)], JointRules(1)).faults == ()


def test_a_tight_rule_is_kept_where_laying_alone_would_be_stuck() -> None:
    """Three supports in reach and three courses apart: each is used in turn, which only a search finds."""
    runs = [CourseRun("w", course, 0.0, 4800.0, (2000.0, 2400.0, 2800.0)) for course in range(12)]
    rules, stock = JointRules(3), [BoardOnSale(2900.0)]
    plan = plan_joints(runs, stock, rules)
    assert faults_in(plan, runs, stock, rules) == []
    assert plan.faults == ()


def test_a_faulty_wall_leaves_the_others_alone() -> None:
    good = [CourseRun("a", course, 0.0, 3600.0, (1200.0, 2400.0)) for course in range(5)]
    bad = [CourseRun("b", course, 0.0, 4800.0, (2400.0,)) for course in range(5)]
    plan = plan_joints([*bad, *good], [BoardOnSale(3000.0)])
    assert [fault.wall for fault in plan.faults] == ["b"]
    assert {board.run for board in plan.boards} == set(range(5, 10))
    assert faults_in(plan, [*bad, *good], [BoardOnSale(3000.0)], JointRules()) == []


def test_nothing_asked() -> None:
    plan = plan_joints([], USUAL)
    assert (plan.boards, plan.value, plan.bound, plan.gap) == ((), 0.0, 0.0, 0.0)


@pytest.mark.parametrize(
    ("runs", "stock", "rules", "words"),
    [
        ([], [], JointRules(), "no length is on sale"),
        ([], [BoardOnSale(3000.0), BoardOnSale(2400.0, 3.0)], JointRules(), "all or none"),
        ([], [BoardOnSale(-1.0)], JointRules(), "over 0"),
        ([], [BoardOnSale(3000.0, 0.0)], JointRules(), "at least 0.01"),
        ([], USUAL, JointRules(courses_apart=0), "at least 1"),
        ([], USUAL, JointRules(kerf=-1.0), "a kerf of -1 mm"),
        ([], USUAL, JointRules(trim=float("nan")), "a trim of nan mm"),
        ([], [BoardOnSale(100.0)], JointRules(trim=60.0), "the trim leaves nothing"),
        ([CourseRun("w", 1, 5.0, 5.0)], USUAL, JointRules(), "the left one first"),
        ([CourseRun("w", 1, 0.0, float("inf"))], USUAL, JointRules(), "finite places"),
    ],
)
def test_what_cannot_be_planned_is_refused(
    runs: list[CourseRun], stock: list[BoardOnSale], rules: JointRules, words: str
) -> None:
    with pytest.raises(ValueError, match=words):
        plan_joints(runs, stock, rules)


def test_the_same_twice_and_whatever_the_order() -> None:
    runs = shed()
    once, again = plan_joints(runs, USUAL), plan_joints(runs, USUAL)
    assert once == again
    turned = plan_joints(runs[::-1], USUAL)
    assert turned.value == once.value
    assert turned.all_joints(runs[::-1])[::-1] == once.all_joints(runs)
    assert once.all_joints(runs) == [once.joints(index) for index in range(len(runs))]


places = st.lists(st.integers(1, 59), max_size=12, unique=True).map(
    lambda tenths: tuple(100.0 * x for x in sorted(tenths))
)


@st.composite
def courses(draw: st.DrawFn) -> list[CourseRun]:
    """Some courses of up to two walls, each with its own supports and ends."""
    runs = []
    for wall in draw(st.sampled_from((["a"], ["a", "b"]))):
        supports = draw(places)
        for course in range(draw(st.integers(1, 6))):
            left = draw(st.sampled_from((0.0, 0.0, 250.0)))
            runs.append(
                CourseRun(wall, course, left, draw(st.sampled_from((6000.0, 6000.0, 3333.3))), supports)
            )
    return runs


@settings(max_examples=150, deadline=None)
@given(
    runs=courses(),
    lengths=st.lists(
        st.sampled_from((900.0, 1800.0, 2400.0, 3000.0, 4200.0)), min_size=1, max_size=3, unique=True
    ),
    apart=st.integers(1, 4),
    least=st.sampled_from((0.0, 300.0)),
    priced=st.booleans(),
)
def test_any_courses(
    runs: list[CourseRun], lengths: list[float], apart: int, least: float, priced: bool
) -> None:
    stock = [BoardOnSale(length, round(length**0.9 / 100, 2) if priced else None) for length in lengths]
    rules = JointRules(apart, least)
    plan = plan_joints(runs, stock, rules)
    assert faults_in(plan, runs, stock, rules) == []
    area = sum(runs[index].length for index in {board.run for board in plan.boards})
    assert len(plan.lengths) >= area / max(lengths)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(st.integers(1, 3), min_size=1, max_size=3), st.integers(1, 2), st.integers(2, 4), st.booleans()
)
def test_against_every_choice_there_is(bays: list[int], apart: int, reach: int, both: bool) -> None:
    """Small walls of whole bays, every set of joints and every way of cutting tried: the bound holds."""
    runs = [CourseRun("w", course, 0.0, 600.0 * n, (600.0, 1200.0)) for course, n in enumerate(bays)]
    kinds = sorted({600 * reach, 600 * (reach - 1)} if both else {600 * reach})
    plan = plan_joints(runs, [BoardOnSale(float(kind)) for kind in kinds], JointRules(apart, kerf=0.0))
    least = least_timber(bays, apart, [kind // 600 for kind in kinds])
    if least is None:
        assert plan.faults
    else:
        assert not plan.faults
        assert plan.bound / 600 <= least <= plan.value / 600 + 1e-9


@settings(max_examples=100, deadline=None)
@given(
    runs=courses(),
    lengths=st.lists(st.sampled_from((900.0, 1800.0, 2400.0, 4200.0)), min_size=1, max_size=3, unique=True),
    apart=st.integers(1, 3),
)
def test_the_fewest_joints(runs: list[CourseRun], lengths: list[float], apart: int) -> None:
    """What a length covers stays whole; courses that need not keep joints apart have as few boards as can be,
    against every set of joints."""
    stock, rules = [BoardOnSale(length) for length in lengths], JointRules(apart, 300.0, fewest=True)
    plan = plan_joints(runs, stock, rules)
    assert faults_in(plan, runs, stock, rules) == []
    for index in {board.run for board in plan.boards}:
        boards = [board for board in plan.boards if board.run == index]
        run = runs[index]
        if run.length <= max(lengths):
            assert len(boards) == 1
        if apart == 1:
            assert len(boards) == fewest_boards(run, max(lengths))


def fewest_boards(run: CourseRun, longest: float) -> int:
    """By trying every set of joints, small ones first."""
    inside = [x for x in run.supports if run.left + 1 < x < run.right - 1]
    for count in range(len(inside) + 1):
        for joints in combinations(inside, count):
            ends = [run.left, *joints, run.right]
            sizes = [b - a for a, b in pairwise(ends)]
            if max(sizes) <= longest and (not count or min(sizes) >= 300.0):
                return count + 1
    raise AssertionError("no joints do")


def least_timber(bays: list[int], apart: int, kinds: list[int]) -> int | None:
    """The least timber in bays for runs of so many bays one above another, by trying everything."""
    choices = []
    for n in bays:
        sets = [[k + 1 for k in range(n - 1) if bits >> k & 1] for bits in range(2 ** (n - 1))]
        choices.append(
            [s for s in sets if all(b - a <= max(kinds) for a, b in zip([0, *s], [*s, n], strict=True))]
        )
    best = None
    for sets in product(*choices):
        clash = any(
            set(sets[i]) & set(sets[j])
            for i in range(len(sets))
            for j in range(i + 1, len(sets))
            if j - i < apart
        )
        if clash:
            continue
        boards = [
            b - a for s, n in zip(sets, bays, strict=True) for a, b in zip([0, *s], [*s, n], strict=True)
        ]
        total = next(
            total
            for total in range(sum(boards), 99)
            if any(
                packs(sorted(boards, reverse=True), list(chosen))
                for count in range(1, len(boards) + 1)
                for chosen in combinations_with_replacement(kinds, count)
                if sum(chosen) == total
            )
        )
        best = total if best is None else min(best, total)
    return best


def packs(boards: list[int], rooms: list[int]) -> bool:
    """Whether boards fit into rooms, by trying everything."""
    if not boards:
        return True
    first, *rest = boards
    for at in range(len(rooms)):
        if rooms[at] >= first and packs(rest, [*rooms[:at], rooms[at] - first, *rooms[at + 1 :]]):
            return True
    return False
