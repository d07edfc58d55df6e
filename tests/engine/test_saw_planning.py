"""The saw plan of a building: every piece once, stock honoured, and what is left out is said."""

from __future__ import annotations

from typing import Any

import pytest

from soleplate.engine.errors import UnbuildableError
from soleplate.engine.layout import Layout
from soleplate.engine.saw_planning import with_saw_plan
from tests.buildings import building, honey_house, layout_of, registry

ON_SALE = [{"length": 2400, "price": 4.1}, {"length": 3600, "price": 6.0}, {"length": 4800, "price": 8.3}]
FRAME = {"section": [45, 70], "lengths": ON_SALE}


def planned(value: dict[str, Any]) -> Layout:
    return with_saw_plan(layout_of(value), registry().read_building(value))


def test_every_piece_is_cut_once_and_the_cost_adds_up() -> None:
    layout = planned(building(stock={"stock": [FRAME]}))
    plan = layout.saw_plan
    assert plan is not None
    assert plan.proven
    marks = sorted(cut.mark for length in plan.lengths for cut in length.cuts)
    assert marks == sorted(piece.mark for wall in layout.walls for piece in wall.pieces)
    prices = {row["length"]: row["price"] for row in ON_SALE}
    assert plan.cost == pytest.approx(sum(prices[length.stock_length] for length in plan.lengths))
    for length in plan.lengths:
        ends = [0.0, *(cut.to + 3.0 for cut in length.cuts)]
        assert all(cut.from_ >= end - 1e-6 for cut, end in zip(length.cuts, ends, strict=False))
        assert length.cuts[-1].to <= length.stock_length
    (row,) = layout.buying_list
    assert sum(line.count for line in row.lengths) == len(plan.lengths)


def test_a_file_without_stock_gets_no_plan() -> None:
    assert planned(building()).saw_plan is None


def test_stock_without_prices_is_planned_for_waste_and_costs_nothing() -> None:
    bare = {"section": [45, 70], "lengths": [{"length": 2400}, {"length": 4800}]}
    plan = planned(building(stock={"stock": [bare]})).saw_plan
    assert plan is not None
    assert (plan.objective, plan.cost, {length.price for length in plan.lengths}) == ("waste", 0.0, {0.0})


def test_what_is_on_hand_is_used_and_never_overdrawn() -> None:
    timber = FRAME | {"on_hand": [{"length": 1900, "count": 3}]}
    plan = planned(building(stock={"stock": [timber]})).saw_plan
    assert plan is not None
    assert sum(length.on_hand for length in plan.lengths) == 3


def test_a_section_that_is_not_listed_is_reported() -> None:
    layout = planned(honey_house() | {"stock": {"stock": [FRAME]}})
    assert layout.saw_plan is not None
    left_out = next(finding for finding in layout.findings if finding.code == "not-planned")
    cut = {cut.mark for length in layout.saw_plan.lengths for cut in length.cuts}
    assert left_out.pieces
    assert not cut & set(left_out.pieces)


def test_a_piece_longer_than_all_stock_is_a_stop() -> None:
    short = {"section": [45, 70], "lengths": [{"length": 2100, "price": 1.0}]}
    layout = planned(building(stock={"stock": [short]}))
    stops = {finding.code for finding in layout.findings if finding.level == "stop"}
    assert "longer-than-stock" in stops


def test_spares_for_bent_timber() -> None:
    layout = planned(building(stock={"stock": [FRAME], "bent": {"share": 0.08, "confidence": 0.95}}))
    (row,) = layout.buying_list
    assert row.spare is not None
    assert row.spare.spare > 0
    assert row.spare.confidence >= 0.95


def test_factory_ends_are_two_a_length_at_most() -> None:
    layout = planned(building(stock={"stock": [FRAME]}))
    plan, ends = layout.saw_plan, layout.factory_ends
    assert plan is not None
    assert ends is not None
    cuts = sum(len(length.cuts) for length in plan.lengths)
    kept = sum(2 if end.end == "both" else 1 for end in ends.kept)
    assert kept <= 2 * len(plan.lengths)
    assert ends.fresh == 2 * cuts - kept


def test_stock_for_one_section_in_two_materials_must_say_which() -> None:
    value = building(
        walls={"back": {"frame": {"section": [45, 70], "material": "C24"}}}, stock={"stock": [FRAME]}
    )
    with pytest.raises(UnbuildableError, match="/stock/stock/0/material: missing"):
        planned(value)


def test_cost_needs_prices() -> None:
    bare = {"section": [45, 70], "lengths": [{"length": 2400}]}
    with pytest.raises(UnbuildableError, match="/stock: cost needs a price"):
        planned(building(stock={"stock": [bare], "objective": "cost"}))
