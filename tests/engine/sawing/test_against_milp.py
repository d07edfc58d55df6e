"""Proven plans against a whole-number programme over every pattern, solved by another program (scipy)."""

import random
from typing import Any

import pytest

from soleplate.engine.sawing import SawPlanRequest, check_plan, plan_sawing, read_request


def middling(seed: int) -> SawPlanRequest:
    """Too large to try every way, small enough to list every pattern."""
    chance = random.Random(f"middling {seed}")
    parts: list[dict[str, Any]] = [
        {
            "name": f"P{index}",
            "length": chance.randint(500, 1900),
            "count": chance.randint(2, 9),
            "grade": chance.choice(["straight", "short"]),
        }
        for index in range(7)
    ]
    sale = [
        {"length": each, "price": round(each * 0.0021 + chance.random(), 2)} for each in (2400, 3000, 3600)
    ]
    kept = [
        {
            "length": chance.randint(700, 2300),
            "count": chance.randint(1, 3),
            "grade": chance.choice(["straight", "short"]),
            "price": chance.choice([0.0, round(chance.uniform(0.5, 3), 2)]),
        }
        for _ in range(4)
    ]
    stock = [{"lengths": sale, "on_hand": kept}]
    return read_request({"parts": parts, "stock": stock, "kerf": 3, "time_budget_s": 60})


def least_cost(request: SawPlanRequest) -> float:
    # 50 MB: here, not wherever tests are read.
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp  # type: ignore[import-untyped]

    stock = request.stock[0]
    kinds = [(s.length, s.grade, s.price, 1000) for s in stock.lengths]
    kinds += [(s.length, s.grade, s.price, s.count) for s in stock.on_hand]
    columns, costs, owners = [], [], []

    def grow(kind: int, part: int, room: float, pattern: list[int]) -> None:
        if part == len(request.parts):
            columns.append(pattern)
            costs.append(kinds[kind][2])
            owners.append(kind)
            return
        wanted = request.parts[part]
        allowed = kinds[kind][1] == "straight" or (
            wanted.grade == "short" and wanted.length <= request.short_up_to
        )
        most = min(wanted.count, int(room // (wanted.length + request.kerf))) if allowed else 0
        for count in range(most + 1):
            grow(kind, part + 1, room - count * (wanted.length + request.kerf), [*pattern, count])

    for kind, (length, _, _, _) in enumerate(kinds):
        grow(kind, 0, length + request.kerf, [])
    demands = [part.count for part in request.parts]
    used = np.array([[float(owner == kind) for owner in owners] for kind in range(len(kinds))])
    result = milp(
        np.array(costs),
        integrality=np.ones(len(costs)),
        bounds=Bounds(0, np.inf),
        constraints=[
            LinearConstraint(np.array(columns, dtype=float).T, demands, np.inf),
            LinearConstraint(used, -np.inf, [kind[3] for kind in kinds]),
        ],
        options={"mip_rel_gap": 0.0, "time_limit": 60},
    )
    assert result.success
    return float(result.fun)


@pytest.mark.parametrize("seed", range(20))
def test_a_proven_plan_costs_what_the_whole_programme_finds(seed: int) -> None:
    request = middling(seed)
    plan = plan_sawing(request)
    assert check_plan(request, plan) == []
    assert plan.proven
    assert plan.cost == pytest.approx(least_cost(request), abs=1e-6)
