"""The checker must find each thing that can be wrong, or its silence means nothing."""

from typing import Any

import pytest

from soleplate.engine.sawing import SawPlan, check_plan, plan_sawing, read_request

REQUEST = read_request(
    {
        "parts": [
            {"name": "A", "length": 1000, "count": 3},
            {"name": "B", "length": 400, "count": 2, "grade": "short"},
        ],
        "stock": [
            {
                "lengths": [{"length": 2400, "price": 4.1}],
                "on_hand": [{"length": 500, "count": 2, "grade": "short"}],
            }
        ],
        "time_budget_s": 20,
    }
)
PLAN = plan_sawing(REQUEST)


def damaged(place: int, **changes: Any) -> SawPlan:
    lengths = list(PLAN.lengths)
    lengths[place] = lengths[place].model_copy(update=changes)
    return PLAN.model_copy(update={"lengths": tuple(lengths)})


def test_the_plan_itself_is_right() -> None:
    assert check_plan(REQUEST, PLAN) == []
    assert [length.on_hand for length in PLAN.lengths] == [True, True, False, False]


LAST = PLAN.lengths[-1]
MOVED = LAST.cuts[0].model_copy(update={"from_": 5.0, "to": 1005.0})


@pytest.mark.parametrize(
    ("plan", "finding"),
    [
        (PLAN.model_copy(update={"lengths": PLAN.lengths[1:]}), "is cut 1 times, wanted 2"),
        (PLAN.model_copy(update={"lengths": (*PLAN.lengths, LAST)}), "is cut"),
        (damaged(-1, cuts=(MOVED,)), "expected from 0"),
        (damaged(-1, offcut=1.0), "offcut of 1 mm"),
        (damaged(-1, stock_length=900.0), "beyond 900"),
        (damaged(-1, stock_length=2500.0), "is on sale"),
        (damaged(-1, price=4.0), "is on sale"),
        (damaged(-1, cuts=()), "nothing is cut from it"),
        (damaged(-1, section=(1.0, 2.0)), None),
        (damaged(-1, grade="short"), "needs straight stock"),
        (damaged(-1, on_hand=True), "on hand are used, there are 0"),
        (PLAN.model_copy(update={"cost": 4.1}), "added up it is 8.2"),
        (PLAN.model_copy(update={"waste": 0.0}), "waste 0 mm"),
        (PLAN.model_copy(update={"bought": 3}), "counted they are 2"),
        (PLAN.model_copy(update={"bound": 9.0}), "is above the value"),
        (PLAN.model_copy(update={"value": 9.0}), "value 9"),
        (PLAN.model_copy(update={"buying": ()}), "buying list"),
    ],
)
def test_each_fault_is_found(plan: SawPlan, finding: str | None) -> None:
    faults = " ".join(check_plan(REQUEST, plan))
    if finding is None:
        assert faults == ""  # one stock without a section stands for any
    else:
        assert finding in faults
