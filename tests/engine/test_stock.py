"""What is on sale: one answer for plates, boards and the saw plan."""

from __future__ import annotations

import json
from typing import Any

import pytest

from soleplate.engine import lay_out
from soleplate.engine.building_file import Stock, yield_of
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.layout import Layout
from soleplate.engine.sawing import plan_sawing, read_request
from tests.buildings import building, registry

STOCK = Stock.model_validate_json(
    """{"trim": 10, "stock": [
        {"section": [45, 70], "material": "C16", "lengths": [
            {"length": 3000, "price": 6}, {"length": 4800, "price": 9, "grade": "short"}]},
        {"section": [45, 70], "material": "C24", "lengths": [{"length": 5400, "price_per_metre": 2}]},
        {"section": [20, 120], "on_hand": [{"length": 2000}, {"length": 3900, "grade": "short"}]}]}"""
)


def lengths(material: str, grade: str = "straight") -> list[float]:
    return [row.length for row in STOCK.on_sale((45.0, 70.0), material, grade)]  # type: ignore[arg-type]


def test_bent_lengths_serve_short_pieces_alone() -> None:
    assert lengths("C16") == [3000.0]
    assert lengths("C16", "short") == [3000.0, 4800.0]


def test_another_material_is_another_timber() -> None:
    assert lengths("C24") == [5400.0]
    assert lengths("larch") == []
    assert [row.cost for row in STOCK.on_sale((45.0, 70.0), "C24")] == [10.8]


def test_sections_are_compared_at_the_resolution_of_the_layout() -> None:
    assert STOCK.on_sale((45.0004, 70.0), "C16")
    assert not STOCK.on_sale((45.002, 70.0), "C16")


def test_the_longest_is_straight_and_trimmed() -> None:
    assert STOCK.longest_of((45.0, 70.0), "C16") == (2980.0, 2975.0)
    assert STOCK.longest_of((20.0, 120.0), "larch") == (1980.0, 1975.0)
    assert STOCK.longest_of((45.0, 95.0), "C16") == (5980.0, 5975.0)


def test_the_trim_is_taken_off_once() -> None:
    """On sale, on hand, or as is usual: 10 mm go at each end."""
    for section in ((45.0, 70.0), (20.0, 120.0), (45.0, 95.0)):
        assert STOCK.longest_of(section, "C16") == (
            STOCK.longest_sold(section, "C16") - 20.0,
            STOCK.longest_sold(section, "C16") - 25.0,
        )


def test_lengths_of_which_the_trim_leaves_nothing_are_not_on_sale() -> None:
    assert [row.length for row in trimmed(500.0).on_sale((45.0, 70.0), "C16")] == [1800.0]
    assert trimmed(900.0).on_sale((45.0, 70.0), "C16") == ()
    assert trimmed(900.0).longest_of((45.0, 70.0), "C16").alone == 4200.0  # Of 6 m, the usual.


def test_the_margin_is_half_of_a_length_at_the_most() -> None:
    """So that a longer length always yields more, and short offcuts still yield something."""
    assert yield_of(2400.0, 50.0, 5.0) == (2300.0, 2295.0)
    assert yield_of(150.0, 0.0, 100.0) == (150.0, 75.0)
    assert yield_of(200.0, 0.0, 100.0) == (200.0, 100.0)
    assert yield_of(90.0, 50.0, 5.0) == (0.0, 0.0)


def trimmed(trim: float) -> Stock:
    """With two lengths on sale."""
    lengths = [{"length": 900}, {"length": 1800}]
    timber = {"section": [45, 70], "lengths": lengths}
    return Stock.model_validate_json(json.dumps({"trim": trim, "stock": [timber]}))


def test_a_section_is_taken_as_the_layout_tells_it() -> None:
    """A thousandth of a mm: 45.0004 comes out as 45, so it is what 45 is."""
    stock = Stock.model_validate_json('{"stock": [{"section": [44.9993, 70], "on_hand": [{"length": 900}]}]}')
    assert stock.of((45.0004, 70.0), "C16") == stock.of((45.0, 70.0), "C16") == stock.stock


def clad(length: float, larch: dict[str, Any], *, trim: float = 0.0) -> Layout:
    """One wall, clad with larch of 25 x 145 and framed in C16, with what there is to saw it from."""
    rule = {"rule": "rebated", "material": "larch", "width": 145, "cover": 130}
    value = building(
        outline={"walls": [{"name": "side", "length": length}]},
        roof={"form": "level", "height": 1500},
        walls={"side": {"cladding": rule}},
        stock={
            "kerf": 0,
            "trim": trim,
            "time_budget_s": 0,
            "stock": [{"section": [45, 70], "lengths": [{"length": 6000}]}, larch],
        },
    )
    asked = registry().read_building(value)
    return with_saw_plan(lay_out(asked, registry()), asked)


def board_lengths(layout: Layout) -> set[float]:
    return {piece.length for piece in layout.pieces if piece.role == "board"}


LEFT_OUT = {"longer-than-stock", "not-planned", "stock-too-little", "board-too-long"}


@pytest.mark.parametrize("where", ["on_hand", "lengths"])
def test_boards_are_as_long_as_what_is_there_less_its_trim(where: str) -> None:
    """Of 3000 mm with 100 mm off each end 2800 are left: a wall of 2800 is clad whole, of 2801 it is not."""
    rows = [{"length": 3000, "count": 40}] if where == "on_hand" else [{"length": 3000}]
    larch = {"section": [25, 145], "material": "larch", where: rows}
    whole = clad(2800, larch, trim=100)
    assert board_lengths(whole) == {2800.0}
    assert max(board_lengths(clad(2801, larch, trim=100))) < 2800.0
    assert not LEFT_OUT & {finding.code for finding in whole.findings}
    assert whole.saw_plan is not None
    assert {each.stock_length for each in whole.saw_plan.lengths if each.material == "larch"} == {3000.0}


def test_a_board_that_one_length_just_yields_is_whole_and_told() -> None:
    """Joints are set for what the margin leaves; what no joint is needed for takes the margin up."""
    larch = {"section": [25, 145], "material": "larch", "lengths": [{"length": 2400}]}
    whole = clad(2400, larch)
    assert board_lengths(whole) == {2400.0}
    (told,) = [found for found in whole.findings if found.code == "nothing-to-spare"]
    assert set(told.pieces) == {piece.mark for piece in whole.pieces if piece.role == "board"}
    assert (told.value, told.limit) == (0.0, 5.0)
    jointed = clad(4795, larch)
    assert max(board_lengths(jointed)) <= 2395.0
    assert not {"nothing-to-spare", *LEFT_OUT} & {finding.code for finding in jointed.findings}


def test_boards_are_jointed_for_straight_lengths() -> None:
    """The longer ones are sold as bent, and no board may come from them."""
    lengths = [{"length": 2400}, {"length": 4800, "grade": "short"}]
    layout = clad(4000, {"section": [25, 145], "material": "larch", "lengths": lengths})
    assert max(board_lengths(layout)) <= 2400.0
    assert not LEFT_OUT & {finding.code for finding in layout.findings}


def test_boards_plates_and_the_saw_plan_hold_the_same_sections_for_one() -> None:
    """A ten-thousandth of a mm off is the same timber; a hundredth is another."""
    lengths = [{"length": 2400}]
    near = clad(4000, {"section": [25.0001, 145], "material": "larch", "lengths": lengths})
    far = clad(4000, {"section": [25.01, 145], "material": "larch", "lengths": lengths})
    assert max(board_lengths(near)) <= 2400.0
    assert max(board_lengths(far)) > 2400.0
    assert not LEFT_OUT & {finding.code for finding in near.findings}
    assert {"not-planned", "unused-stock"} <= {finding.code for finding in far.findings}


def test_battens_are_jointed_for_the_same_stock() -> None:
    rule = {"rule": "lapped", "width": 145, "battens": {"section": [25, 50], "material": "C16"}}
    value = building(
        roof={"form": "level", "height": 2400},
        defaults={"cladding": rule},
        stock={
            "trim": 50,
            "stock": [
                {"section": [25.0002, 50], "lengths": [{"length": 5000, "grade": "short"}, {"length": 1300}]}
            ],
        },
    )
    layout = lay_out(registry().read_building(value), registry())
    battens = {piece.length for piece in layout.pieces if piece.role == "batten"}
    assert max(battens) <= 1200.0


def test_a_trim_that_leaves_nothing_is_told_and_laid_out_still() -> None:
    layout = clad(2000, {"section": [25, 145], "material": "larch", "lengths": [{"length": 600}]}, trim=300)
    assert max(board_lengths(layout)) == 2000.0
    assert "longer-than-stock" in {finding.code for finding in layout.findings}


def test_a_plan_of_any_parts_knows_a_section_again() -> None:
    """38.1 mm is 1 1/2 in, and so is what a program makes of it by multiplying."""
    request = read_request(
        {
            "parts": [{"name": "A", "section": [1.5 * 25.4, 88.9], "length": 1000}],
            "stock": [
                {"section": [38.1, 88.9], "lengths": [{"length": 2400, "price": 3}]},
                {"section": [63.5, 88.9], "lengths": [{"length": 2400, "price": 5}]},
            ],
        }
    )
    assert 1.5 * 25.4 != 38.1
    plan = plan_sawing(request)
    assert [(each.section, each.stock_length) for each in plan.lengths] == [((38.1, 88.9), 2400.0)]
