"""Stock that is too long to be brought home is not bought, and what that costs is told."""

from __future__ import annotations

from typing import Any

import pytest

from soleplate.engine import lay_out
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.layout import FindingOut, Layout
from soleplate.engine.sawing import SawPlan, SawPlanRequest, plan_sawing
from tests.buildings import building, registry

LENGTHS = [{"length": 2400, "price": 4.1}, {"length": 3000, "price": 5.2}, {"length": 4800, "price": 7.9}]


def planned(lengths: list[dict[str, Any]] = LENGTHS, length: int = 4500, **stock: Any) -> Layout:
    value = building(
        outline={"walls": [{"name": "wall", "length": length}]},
        roof={"form": "level", "height": 2200},
        stock={"stock": [{"section": [45, 70], "lengths": lengths}], "time_budget_s": 60, **stock},
    )
    read = registry().read_building(value)
    return with_saw_plan(lay_out(read, registry()), read)


def told(layout: Layout, code: str) -> list[FindingOut]:
    return [found for found in layout.findings if found.code == code]


def cost(layout: Layout) -> float:
    assert layout.saw_plan is not None
    assert layout.saw_plan.proven
    return layout.saw_plan.cost


def test_nothing_longer_is_bought_and_plates_are_jointed_for_it() -> None:
    layout = planned(longest_carried=3000)
    assert layout.saw_plan is not None
    assert {line.stock_length for line in layout.saw_plan.buying} <= {2400.0, 3000.0}
    assert len([piece for piece in layout.pieces if piece.role == "sole plate"]) == 2
    assert len([piece for piece in planned().pieces if piece.role == "sole plate"]) == 1


def test_what_it_costs_is_that_of_the_same_pieces_from_all_lengths() -> None:
    layout = planned(longest_carried=3000)
    (found,) = told(layout, "carried-home")
    # Jointed for 3000 mm, whatever is bought: margin and joints are those of the layout.
    assert found.value is not None
    assert found.value > 0
    assert f"costs {found.value:.2f} more" in found.message
    assert cost(layout) - found.value >= 0
    assert found.limit == 3000.0


def test_without_prices_the_run_is_told() -> None:
    bare = [{"length": 2400}, {"length": 4800}]
    (found,) = told(planned(bare, longest_carried=2400), "carried-home")
    assert found.value is not None
    assert ("takes no more" in found.message) == (found.value < 1.0)


def test_what_can_be_carried_anyway_says_nothing() -> None:
    for layout in (planned(), planned(longest_carried=4800), planned(longest_carried=6000)):
        assert not told(layout, "carried-home")


def test_what_is_on_hand_is_there_already() -> None:
    value = building(
        outline={"walls": [{"name": "wall", "length": 2100}]},
        roof={"form": "level", "height": 2200},
        stock={
            "stock": [{"section": [45, 70], "lengths": LENGTHS, "on_hand": [{"length": 6000, "count": 9}]}],
            "longest_carried": 2400,
        },
    )
    read = registry().read_building(value)
    plan = with_saw_plan(lay_out(read, registry()), read).saw_plan
    assert plan is not None
    assert any(length.on_hand and length.stock_length == 6000.0 for length in plan.lengths)


def test_a_timber_that_is_sold_too_long_alone_is_told_once() -> None:
    layout = planned([{"length": 2400, "price": 4.1}], length=2100, longest_carried=2000)
    (found,) = told(layout, "not-carried")
    assert set(found.pieces) == {piece.mark for piece in layout.pieces}
    assert not told(layout, "longer-than-stock")
    assert layout.saw_plan is None


@pytest.mark.parametrize("carried", [3000, 2400])
def test_the_cost_is_never_less_than_with_all_lengths(carried: int) -> None:
    found = told(planned(longest_carried=carried), "carried-home")
    assert all(each.value is not None and each.value >= -1e-6 for each in found)


def test_both_plans_together_take_no_more_than_the_time_there_is(monkeypatch: pytest.MonkeyPatch) -> None:
    budgets: list[float] = []

    def watched(request: SawPlanRequest) -> SawPlan:
        budgets.append(request.time_budget_s)
        return plan_sawing(request)

    monkeypatch.setattr("soleplate.engine.buying.saw_planning.plan_sawing", watched)
    for carried, wanted in ((3000, [30.0, 30.0]), (4800, [60.0]), (None, [60.0])):
        budgets.clear()
        planned(longest_carried=carried)
        assert budgets == wanted
