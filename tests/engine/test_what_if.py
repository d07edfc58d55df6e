"""Variants are compared by real plans, and what cannot be built so says why."""

from __future__ import annotations

import pytest

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.laying_out import lay_out
from soleplate.engine.what_if import Ranges, WhatIf, what_if
from tests.buildings import building, registry

SALE = [{"length": 2400, "price": 4.1}, {"length": 4800, "price": 8.2}]
STOCK = {"stock": [{"section": [45, 70], "lengths": SALE}]}
VALUE = building(stock=STOCK)


@pytest.fixture(scope="module")
def answer() -> WhatIf:
    ranges = Ranges(length=100, width=0, height=100, step=50)
    return what_if(registry().read_building(VALUE), registry(), ranges)


def test_as_drawn_has_the_figures_of_the_building_s_own_plan(answer: WhatIf) -> None:
    read = registry().read_building(VALUE)
    plan = with_saw_plan(lay_out(read, registry()), read).saw_plan
    assert plan is not None
    assert (answer.as_drawn.cost, answer.as_drawn.waste) == (plan.cost, plan.waste)
    assert answer.as_drawn.timber == sum(length.stock_length for length in plan.lengths)


def test_the_stud_rules_are_tried_least_timber_first(answer: WhatIf) -> None:
    tried = {variant.studs["rule"] for variant in answer.studs if variant.studs}
    assert {"equal-bays", "fixed-centres"} <= tried
    timber = [variant.timber for variant in answer.studs if variant.timber is not None]
    assert timber == sorted(timber)


def test_sizes_are_tried_both_ways(answer: WhatIf) -> None:
    tried = [(variant.dimension, variant.change) for variant in answer.sizes]
    assert tried == [(d, c) for d in ("length", "height") for c in (-100.0, -50.0, 50.0, 100.0)]


def test_a_variant_is_what_the_changed_file_would_give(answer: WhatIf) -> None:
    changed = VALUE | {"outline": VALUE["outline"] | {"length": 4600}}
    read = registry().read_building(changed)
    plan = with_saw_plan(lay_out(read, registry()), read).saw_plan
    variant = next(v for v in answer.sizes if (v.dimension, v.change) == ("length", 100.0))
    assert plan is not None
    assert (variant.cost, variant.waste) == (plan.cost, plan.waste)


def test_the_best_size_saves_most() -> None:
    """Studs of 2410 mm waste nearly half of every 4.8 m length; 50 mm lower, two come from each."""
    value = VALUE | {"roof": VALUE["roof"] | {"low_height": 2500, "pitch": 0.5}}
    answer = what_if(registry().read_building(value), registry(), Ranges(length=0, width=0, height=50))
    assert answer.best_size is not None
    assert (answer.best_size.dimension, answer.best_size.change) == ("height", -50.0)
    assert answer.best_size.saved == max(variant.saved or 0.0 for variant in answer.sizes)
    assert answer.best_size.timber is not None
    assert answer.as_drawn.timber == answer.best_size.timber + (answer.best_size.saved or 0.0)


def test_a_size_that_cannot_be_built_says_why() -> None:
    door = {"name": "door", "kind": "door", "width": 900, "height": 1720, "at": {"centre": 2250}}
    value = VALUE | {"walls": {"back": {"openings": [door]}}}
    ranges = Ranges(length=0, width=0, height=200, step=200)
    lower, higher = what_if(registry().read_building(value), registry(), ranges).sizes
    assert lower.problem is not None
    assert "/walls/back/openings/0" in lower.problem
    assert higher.problem is None


def test_it_needs_stock() -> None:
    with pytest.raises(UnbuildableError, match="/stock/stock: missing"):
        what_if(registry().read_building(building()), registry())


def test_sizes_that_no_building_has_are_problems_of_their_variants() -> None:
    tiny = {"outline": {"length": 300, "width": 300}, "frame": {"section": [20, 30]}}
    value = building(**tiny, roof={"form": "level", "height": 400}) | {
        "stock": {"stock": [{"section": [20, 30], "lengths": SALE}]}
    }
    ranges = Ranges(length=1000, width=0, height=500, step=100)
    answer = what_if(registry().read_building(value), registry(), ranges)
    gone = [v for v in answer.sizes if v.dimension == "length" and (v.change or 0) <= -300]
    assert gone
    assert all(v.problem is not None and v.problem.startswith("/outline") for v in gone)
    inches = registry().read_building(value).model_copy(update={"units": "in"})
    told = [v.problem or "" for v in what_if(inches, registry(), ranges).sizes]
    assert "/outline: -2 ft 3 9/16 in; accepted is 2 in to 196 ft" in " ".join(told)
    assert " mm" not in " ".join(told)


def test_any_closed_plan_is_made_longer_and_wider() -> None:
    corners = [[0, 0], [5000, 0], [5000, 2500], [2500, 2500], [2500, 4500], [0, 4500]]
    value = building(outline={"corners": corners}, roof={"form": "level", "height": 2200}, stock=STOCK)
    ranges = Ranges(length=50, width=50, height=0, step=50)
    answer = what_if(registry().read_building(value), registry(), ranges)
    longer = [[x + 50 if x == 5000 else x, y] for x, y in corners]
    read = registry().read_building(value | {"outline": {"corners": longer}})
    plan = with_saw_plan(lay_out(read, registry()), read).saw_plan
    assert plan is not None
    (variant,) = [v for v in answer.sizes if (v.dimension, v.change) == ("length", 50.0)]
    assert (variant.cost, variant.waste) == (plan.cost, plan.waste)
    assert {v.dimension for v in answer.sizes} == {"length", "width"}


def test_rules_that_need_marks_of_their_own_are_not_tried(answer: WhatIf) -> None:
    assert "at" not in {variant.studs["rule"] for variant in answer.studs if variant.studs}
