from typing import Any

import pytest

from soleplate.engine.building_file import BuildingError, SchemaError, UnbuildableError
from soleplate.engine.sawing import plan_sawing, read_request

PART: dict[str, Any] = {"name": "S1", "section": [45, 70], "material": "C16", "length": 1870, "count": 8}
STOCK: dict[str, Any] = {"section": [45, 70], "material": "C16", "lengths": [{"length": 2400, "price": 4.1}]}


def refused(kind: type[BuildingError], **changes: Any) -> tuple[str, str]:
    with pytest.raises(kind) as caught:
        plan_sawing(read_request({"parts": [PART], "stock": [STOCK], "kerf": 3} | changes))
    fault = caught.value.faults[0]
    return fault.pointer, fault.message


def test_a_part_longer_than_any_stock() -> None:
    pointer, message = refused(UnbuildableError, parts=[PART | {"length": 2401}])
    assert pointer == "/parts/0/length"
    assert "'S1' of 45 x 70 C16" in message
    assert "2400" in message


def test_a_part_longer_than_what_trimming_leaves() -> None:
    _, message = refused(UnbuildableError, parts=[PART | {"length": 2400}], trim=5)
    assert "2390" in message


def test_a_straight_part_when_only_bent_stock_would_hold_it() -> None:
    stock = STOCK | {"lengths": [], "on_hand": [{"length": 2400, "count": 9, "grade": "short"}]}
    pointer, message = refused(UnbuildableError, stock=[stock])
    assert pointer == "/parts/0/length"
    assert "'S1'" in message


@pytest.mark.parametrize("length", [0, -3, float("nan"), float("inf")])
def test_a_part_length_that_is_none(length: float) -> None:
    pointer, message = refused(SchemaError, parts=[PART | {"length": length}])
    assert pointer == "/parts/0/length"
    assert "part 'S1' of 45 x 70 C16" in message


@pytest.mark.parametrize("price", [0, -1])
def test_a_price_that_is_none(price: float) -> None:
    pointer, message = refused(SchemaError, stock=[STOCK | {"lengths": [{"length": 2400, "price": price}]}])
    assert pointer == "/stock/0/lengths/0/price"
    assert "stock of 45 x 70 C16" in message


def test_one_price_where_the_cost_is_made_least() -> None:
    for prices in ({}, {"price": 1.0, "price_per_metre": 1.0}, {"price_per_metre": 0.01}):
        lengths = [{"length": 400, "price": 1.0}, {"length": 900, **prices}]
        pointer, message = refused(UnbuildableError, stock=[STOCK | {"lengths": lengths}])
        assert pointer == "/stock/0/lengths/1"
        assert "price_per_metre" in message


@pytest.mark.parametrize("objective", ["waste", "lengths"])
def test_no_price_where_it_does_not_matter(objective: str) -> None:
    stock = [STOCK | {"lengths": [{"length": 2400}, {"length": 3600}]}]
    plan = plan_sawing(read_request({"parts": [PART], "stock": stock, "objective": objective}))
    assert (plan.cost, plan.proven) == (0.0, True)


def test_a_kerf_larger_than_a_part() -> None:
    pointer, message = refused(UnbuildableError, parts=[PART | {"length": 2.5}])
    assert pointer == "/parts/0/length"
    assert "kerf of 3 mm" in message


def test_more_parts_than_are_planned_at_once() -> None:
    pointer, message = refused(
        UnbuildableError, parts=[PART | {"count": 5000}, PART | {"name": "S2", "count": 1}]
    )
    assert pointer == "/parts/1/count"
    assert "'S2' of 45 x 70 C16" in message
    assert "5000" in message


def test_no_stock_for_a_section() -> None:
    other = STOCK | {"section": [45, 145]}
    pointer, message = refused(UnbuildableError, stock=[other])
    assert pointer == "/parts/0"
    assert "'S1'" in message
    assert "45 x 70 C16" in message
    assert "45 x 145 C16" in message


def test_stock_that_lists_no_length() -> None:
    _, message = refused(UnbuildableError, stock=[STOCK | {"lengths": []}])
    assert "'S1' of 45 x 70 C16" in message


def test_a_section_listed_twice() -> None:
    pointer, message = refused(UnbuildableError, stock=[STOCK, STOCK])
    assert pointer == "/stock/1"
    assert "twice" in message


def test_a_section_left_out_where_there_are_two() -> None:
    part = {"name": "S1", "length": 1870}
    pointer, _ = refused(UnbuildableError, parts=[part], stock=[STOCK, STOCK | {"section": [45, 145]}])
    assert pointer == "/parts/0"


def test_stock_on_hand_that_does_not_suffice() -> None:
    stock = STOCK | {"lengths": [], "on_hand": [{"length": 2400, "count": 7}]}
    pointer, message = refused(UnbuildableError, stock=[stock])
    assert pointer == "/parts/0"
    assert "'S1' of 45 x 70 C16" in message
    assert "the stock cannot yield the last 1" in message


def test_an_unknown_field_is_refused_with_its_place() -> None:
    pointer, _ = refused(SchemaError, parts=[PART | {"colour": "green"}])
    assert pointer == "/parts/0/colour"


@pytest.mark.parametrize("document", [None, [], 3, {"parts": 4}, {"parts": [None], "stock": [[]]}])
def test_what_is_no_request_at_all(document: object) -> None:
    with pytest.raises(SchemaError):
        read_request(document)
