import subprocess
import sys
from typing import Any

import pytest

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.sawing import SawPlan, check_plan, plan_sawing, read_request

from .instances import timber, triplets, uniform

REQUEST: dict[str, Any] = {
    "parts": [
        {"name": "S1", "section": [45, 70], "material": "C16", "length": 1870, "count": 8},
        {"name": "N1", "section": [45, 70], "material": "C16", "length": 591, "count": 11, "grade": "short"},
        {"name": "L1", "section": [45, 145], "material": "C24", "length": 1590, "count": 2},
    ],
    "stock": [
        {
            "section": [45, 70],
            "material": "C16",
            "lengths": [{"length": 2400, "price": 4.1}, {"length": 4800, "price_per_metre": 1.7}],
            "on_hand": [{"length": 1300, "count": 2, "grade": "short"}],
        },
        {"section": [45, 145], "material": "C24", "lengths": [{"length": 3600, "price": 14.85}]},
    ],
    "kerf": 3,
    "time_budget_s": 20,
}


def planned(**changes: Any) -> SawPlan:
    request = read_request(REQUEST | changes)
    plan = plan_sawing(request)
    assert check_plan(request, plan) == []
    return plan


def test_the_margin_is_left_over_of_each_length() -> None:
    """Studs of 1870 and 2930 take up 4800 but for their cut of 3: of 4808 that and 5 are over."""
    parts = [{"name": "S", "length": 1870}, {"name": "P", "length": 2930}]
    for length, margin, bought in ((4808, 5, 1), (4807, 5, 2), (4803, 0, 1)):
        stock = [{"lengths": [{"length": length, "price": 8.0}]}]
        plan = planned(parts=parts, stock=stock, margin=margin)
        assert (plan.bought, plan.proven, plan.sections[0].margin) == (bought, True, margin)


def test_a_part_too_long_for_the_margin_is_cut_by_itself_from_the_longest() -> None:
    parts = [{"name": "S", "length": 2397}, {"name": "N", "length": 1}]
    stock = [{"lengths": [{"length": 2400, "price": 4.0}, {"length": 2398, "price": 1.0}]}]
    plan = planned(parts=parts, stock=stock, margin=5, kerf=0)
    assert {cut.mark: each.stock_length for each in plan.lengths for cut in each.cuts} == {
        "S": 2400,
        "N": 2398,
    }


def test_stock_that_does_not_suffice_with_the_margin_is_planned_without() -> None:
    parts = [{"name": "S", "length": 1000, "count": 4}]
    stock = [{"on_hand": [{"length": 2004, "count": 2}]}]
    plan = planned(parts=parts, stock=stock, margin=5)
    assert (len(plan.lengths), plan.sections[0].margin) == (2, 0.0)
    with pytest.raises(UnbuildableError, match="cannot yield the last"):
        planned(parts=parts, stock=[{"on_hand": [{"length": 2000, "count": 2}]}], margin=5)


def test_a_plan_states_positions_offcuts_and_price() -> None:
    plan = planned(parts=REQUEST["parts"][2:])
    (length,) = plan.lengths
    assert [(cut.mark, cut.from_, cut.to) for cut in length.cuts] == [("L1", 0, 1590), ("L1", 1593, 3183)]
    assert length.offcut == 3600 - 3183 - 3
    assert (plan.cost, plan.bound, plan.proven, plan.waste) == (14.85, 14.85, True, 420)
    assert '"from":1593.0' in plan.model_dump_json(by_alias=True)


def test_trim_is_cut_off_each_end() -> None:
    (length,) = planned(parts=REQUEST["parts"][2:], trim=25).lengths
    assert [(cut.from_, cut.to) for cut in length.cuts] == [(25, 1615), (1618, 3208)]
    assert length.offcut == 3600 - 25 - 3208 - 3


def test_a_last_part_may_end_flush_without_a_kerf() -> None:
    two = [{"name": "L1", "section": [45, 145], "material": "C24", "length": 1798.5, "count": 2}]
    plan = planned(parts=two)
    assert len(plan.lengths) == 1
    assert plan.lengths[0].cuts[-1].to == 3600
    assert len(planned(parts=[two[0] | {"length": 1798.6}]).lengths) == 2


def test_sections_are_planned_apart_and_summed() -> None:
    plan = planned()
    assert [summary.section for summary in plan.sections] == [(45, 70), (45, 145)]
    assert plan.cost == pytest.approx(sum(summary.cost for summary in plan.sections))
    assert plan.proven
    assert plan.set_ups == max(length.set_up for length in plan.lengths)


def test_bent_lengths_yield_short_parts_only() -> None:
    plan = planned()
    bent = [length for length in plan.lengths if length.grade == "short"]
    assert len(bent) == 2
    assert {cut.mark for length in bent for cut in length.cuts} == {"N1"}
    assert all(length.grade == "straight" for length in planned(short_up_to=500).lengths)


def test_a_price_a_metre_is_rounded_for_each_length() -> None:
    lengths = [{"length": 2437, "price_per_metre": 1.01}]  # 2.46137
    stock = [{"section": [45, 145], "material": "C24", "lengths": lengths}]
    assert planned(parts=REQUEST["parts"][2:], stock=stock).cost == 2 * 2.46


def test_no_time_gives_a_plan_that_is_not_called_proven() -> None:
    request = timber(3, 0.0, offcuts=True)
    plan = plan_sawing(request)
    assert check_plan(request, plan) == []
    assert not plan.proven
    assert 0 < plan.bound < plan.value
    assert plan.gap == pytest.approx(1 - plan.bound / plan.value)
    assert {summary.ended for summary in plan.sections} == {"steps"}


@pytest.mark.parametrize("seed", range(4))
def test_timber_jobs_are_proven(seed: int) -> None:
    for request in (timber(seed, 60.0), timber(seed, 60.0, offcuts=True)):
        plan = plan_sawing(request)
        assert check_plan(request, plan) == []
        assert plan.proven
        assert plan.value <= plan_sawing(request.model_copy(update={"time_budget_s": 0.0})).value


@pytest.mark.parametrize("count", [60, 120])
def test_triplets_need_a_third_as_many_lengths_as_parts(count: int) -> None:
    request = triplets(count, 1, 60.0)
    plan = plan_sawing(request)
    assert check_plan(request, plan) == []
    assert (plan.value, plan.bound, plan.proven) == (count / 3, count / 3, True)
    assert plan.waste == 0


@pytest.mark.parametrize("count", [120, 250])
def test_uniform_sizes_are_proven(count: int) -> None:
    request = uniform(count, 1, 60.0)
    plan = plan_sawing(request)
    assert check_plan(request, plan) == []
    assert plan.proven
    assert plan.value >= sum(part.length * part.count for part in request.parts) / 150


def test_the_same_request_gives_the_same_plan() -> None:
    request = timber(1, 60.0, offcuts=True)
    assert plan_sawing(request) == plan_sawing(request)


def test_fewest_lengths_takes_the_cheapest_that_hold_the_cuts() -> None:
    part = {"name": "P", "length": 1000, "count": 3}
    lengths = [{"length": 2100, "price": 3.0}, {"length": 2400, "price": 4.0}, {"length": 2500, "price": 2.5}]
    plan = planned(parts=[part], stock=[{"lengths": lengths}], objective="lengths")
    assert (plan.value, plan.cost) == (2, 5)


def test_tidying_leaves_one_way_of_cutting() -> None:
    parts = [{"name": "A", "length": 700, "count": 6}, {"name": "B", "length": 490, "count": 6}]
    plan = planned(parts=parts, stock=[{"lengths": [{"length": 2400, "price": 3}]}])
    assert plan.bought == 3
    assert plan.set_ups == 1


def test_no_cost_between_two_ranges_is_passed_over() -> None:
    parts = [{"name": str(size), "length": size, "count": n} for size, n in ((530, 2), (60, 1), (480, 2))]
    sale = [{"length": 1500, "price": 0.1}, {"length": 1600, "price": 0.1}]
    stock = [{"lengths": sale, "on_hand": [{"length": 990}, {"length": 1480}]}]
    plan = planned(parts=parts, stock=stock, kerf=0, objective="waste")
    assert (plan.value, plan.proven) == (990 + 1480 - 2080, True)


IMPORTS = """
import sys
import soleplate.engine.sawing as sawing
assert not {"highspy", "numpy"} & sys.modules.keys()
stock = [{"lengths": [{"length": 100, "price": 1}]}]
parts = [{"name": "P", "length": 30 + n, "count": 3} for n in range(9)]
sawing.plan_sawing(sawing.read_request({"parts": parts, "stock": stock}))
assert "highspy" in sys.modules
"""


def test_the_solver_is_imported_late_and_says_nothing() -> None:
    run = subprocess.run([sys.executable, "-c", IMPORTS], capture_output=True, text=True, check=False)
    assert (run.returncode, run.stdout, run.stderr) == (0, "", "")


def test_lengths_rounded_to_one_size_are_no_set_up_together() -> None:
    odd = [{"name": f"P{n}", "length": 1000 + 0.137 * n} for n in range(6)]
    plan = planned(parts=odd, stock=[{"lengths": [{"length": 2400, "price": 3}]}])
    for set_up in range(1, plan.set_ups + 1):
        alike = [length for length in plan.lengths if length.set_up == set_up]
        assert len({tuple(cut.length for cut in length.cuts) for length in alike}) == 1
    assert plan.set_ups == plan.bought == 3


def test_sections_may_aim_at_different_things() -> None:
    """Each section's plan is that of a request for it alone; the whole tells what the request asked for."""
    frame, lintel = REQUEST["stock"]
    bare = {**lintel, "lengths": [{"length": 3600}, {"length": 4200}], "objective": "waste"}
    parts = [*REQUEST["parts"][:2], REQUEST["parts"][2] | {"length": 1250, "count": 5}]
    mixed = planned(parts=parts, stock=[frame, bare])
    money = planned(parts=parts[:2], stock=[frame])
    waste = planned(parts=parts[2:], stock=[{**bare, "objective": None}], objective="waste")
    assert [section.objective for section in mixed.sections] == ["cost", "waste"]
    assert [section.value for section in mixed.sections] == [money.value, waste.value]
    assert (mixed.objective, mixed.value, mixed.bound) == ("cost", money.cost, money.bound)
    assert (mixed.cost, mixed.waste) == (money.cost, pytest.approx(money.waste + waste.waste))
    assert mixed.proven
    assert mixed.gap == 0.0


def test_a_section_that_aims_at_cost_needs_its_prices() -> None:
    frame, lintel = REQUEST["stock"]
    bare = {**lintel, "lengths": [{"length": 3600}], "objective": "cost"}
    with pytest.raises(UnbuildableError, match="no price"):
        plan_sawing(read_request(REQUEST | {"stock": [frame | {"objective": "lengths"}, bare]}))
