from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.sawing import (
    SawPlanRequest,
    check_plan,
    keeping_factory_ends,
    plan_sawing,
    read_request,
)

from .brute import least_value

OBJECTIVES = st.sampled_from(["cost", "waste", "lengths"])
GRADES = st.sampled_from(["straight", "short"])
PRICES = st.integers(1, 60).map(lambda tenths: tenths / 10)
SETTINGS = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@st.composite
def requests(draw: st.DrawFn, most_kinds: int, most_count: int, *, fractions: bool = False) -> SawPlanRequest:
    lengths = draw(st.lists(st.integers(13, 30), min_size=1, max_size=3, unique=True))
    trim, margin = draw(st.sampled_from([0, 10])), draw(st.sampled_from([0, 5, 100]))
    any_size: st.SearchStrategy[float] = (
        st.floats(60, 1100).map(lambda mm: round(mm, 3))
        if fractions
        else st.integers(6, 110).map(lambda cm: cm * 10)
    )
    # Some take up the margin of the longest on sale, or leave just that.
    longest = max(lengths) * 100 - 2 * trim
    size = any_size | st.sampled_from([longest, longest - 4, longest - margin])
    parts: list[dict[str, Any]] = [
        {
            "name": f"P{index}",
            "length": draw(size),
            "count": draw(st.integers(1, most_count)),
            "grade": draw(GRADES),
        }
        for index in range(draw(st.integers(1, most_kinds)))
    ]
    sale = [{"length": length * 100, "price": draw(PRICES)} for length in lengths]
    kept = [
        {
            "length": draw(st.integers(20, 150)) * 10,
            "count": draw(st.integers(1, 2)),
            "grade": draw(GRADES),
            "price": draw(st.sampled_from([0.0, 0.37])),
        }
        for _ in range(draw(st.integers(0, 2)))
    ]
    return read_request(
        {
            "parts": parts,
            "stock": [{"lengths": sale, "on_hand": kept}],
            "kerf": draw(st.sampled_from([0, 3, 3.2])),
            "trim": trim,
            "margin": margin,
            "objective": draw(OBJECTIVES),
            "time_budget_s": 20.0,
        }
    )


@settings(SETTINGS, max_examples=200)
@given(requests(3, 2))
def test_a_tiny_plan_is_as_good_as_trying_every_way(request_: SawPlanRequest) -> None:
    plan = plan_sawing(request_)
    assert plan.proven
    assert plan.value == pytest.approx(least_value(request_))
    assert plan.bound == pytest.approx(plan.value)
    assert check_plan(request_, plan) == []


@SETTINGS
@given(requests(8, 6))
def test_every_plan_can_be_sawn_and_its_bound_holds(request_: SawPlanRequest) -> None:
    plan = plan_sawing(request_)
    assert check_plan(request_, plan) == []
    assert plan.bound <= plan.value
    at_once = plan_sawing(request_.model_copy(update={"time_budget_s": 0.0}))
    assert check_plan(request_, at_once) == []
    assert at_once.bound <= plan.value <= at_once.value


@SETTINGS
@given(requests(6, 4, fractions=True))
def test_lengths_to_the_thousandth_are_planned_soundly(request_: SawPlanRequest) -> None:
    plan = plan_sawing(request_.model_copy(update={"time_budget_s": 1.0}))
    assert check_plan(request_, plan) == []
    assert plan.bound <= plan.value


@SETTINGS
@given(requests(3, 2, fractions=True))
def test_a_proof_for_lengths_to_the_thousandth_is_true(request_: SawPlanRequest) -> None:
    plan = plan_sawing(request_)
    best = least_value(request_)
    assert best is not None
    assert plan.bound <= best + 1e-3
    assert plan.value >= best - 1e-3
    if plan.proven:
        assert plan.value == pytest.approx(best, abs=2e-3)


@SETTINGS
@given(requests(6, 4), st.randoms(use_true_random=False))
def test_the_order_of_parts_and_stock_does_not_matter(request_: SawPlanRequest, chance: Any) -> None:
    parts, sale = list(request_.parts), list(request_.stock[0].lengths)
    chance.shuffle(parts)
    chance.shuffle(sale)
    stock = request_.stock[0].model_copy(update={"lengths": tuple(sale)})
    shuffled = request_.model_copy(update={"parts": tuple(parts), "stock": (stock,)})
    assert plan_sawing(shuffled).lengths == plan_sawing(request_).lengths


@SETTINGS
@given(requests(5, 3))
def test_stock_on_hand_alone_is_enough_or_refused(request_: SawPlanRequest) -> None:
    stock = request_.stock[0].model_copy(update={"lengths": ()})
    on_hand_only = request_.model_copy(update={"stock": (stock,), "parts": request_.parts[:2]})
    small = sum(part.count for part in on_hand_only.parts) <= 6
    try:
        plan = plan_sawing(on_hand_only)
    except UnbuildableError:
        assert not small or least_value(on_hand_only.model_copy(update={"margin": 0.0})) is None
    else:
        kept = plan.sections[0].margin
        assert not small or kept == (on_hand_only.margin if least_value(on_hand_only) is not None else 0.0)
        assert check_plan(on_hand_only, plan) == []
        assert all(length.on_hand for length in plan.lengths)


@SETTINGS
@given(requests(6, 4))
def test_at_most_two_factory_ends_a_length_are_kept(request_: SawPlanRequest) -> None:
    plan, ends = keeping_factory_ends(plan_sawing(request_))
    assert check_plan(request_, plan) == []
    cuts = sum(len(length.cuts) for length in plan.lengths)
    assert 2 * cuts - 2 * plan.bought <= ends.fresh <= 2 * cuts
    assert len(ends.kept) <= 2 * plan.bought
    assert not ends.kept or request_.trim == 0
