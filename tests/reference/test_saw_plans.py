"""Stock-cutting examples of two US Army Engineer School subcourses, with lengths in inches.

W17 to W20: EN0069A (materials estimating), lesson 4. W22: EN01136 (carpentry). W52 is W20 with a saw's kerf.
"""

from typing import Any

import pytest

from soleplate.engine.sawing import SawPlan, check_plan, plan_sawing, read_request

INCH = 25.4
FOOT = 12 * INCH


def least_waste(parts: list[tuple[float, int]], feet: list[int], kerf: float = 0.0) -> SawPlan:
    """The plan of least waste for parts (inches, count) from stock of these feet."""
    wanted: list[dict[str, Any]] = [
        {"name": f"{inches:g} in", "length": inches * INCH, "count": count} for inches, count in parts
    ]
    lengths = [{"length": each * FOOT, "price": float(each)} for each in feet]
    request = read_request(
        {
            "parts": wanted,
            "stock": [{"lengths": lengths}],
            "kerf": kerf * INCH,
            "objective": "waste",
            "time_budget_s": 20,
        }
    )
    plan = plan_sawing(request)
    assert check_plan(request, plan) == []
    assert plan.proven
    return plan


def stock_of(plan: SawPlan) -> list[float]:
    return [round(length.stock_length / FOOT, 6) for length in plan.lengths]


def test_w17_four_stakes_of_28_inches_come_from_one_ten_foot_length() -> None:
    plan = least_waste([(28, 4)], [10, 12])
    assert stock_of(plan) == [10]
    assert plan.waste / INCH == pytest.approx(8)
    assert least_waste([(28, 4)], [12]).waste / INCH == pytest.approx(32)


def test_w18_two_pieces_of_36_inches_come_from_one_eight_foot_length() -> None:
    plan = least_waste([(36, 2)], [8, 10])
    assert stock_of(plan) == [8]
    assert plan.waste / INCH == pytest.approx(24)
    assert least_waste([(36, 2)], [10]).waste / INCH == pytest.approx(48)


def test_w19_two_pieces_of_54_inches_leave_12_of_ten_feet() -> None:
    plan = least_waste([(54, 2)], [10])
    assert stock_of(plan) == [10]
    assert plan.waste / INCH == pytest.approx(12)


def test_w20_nine_pieces_of_36_inches_waste_less_from_ten_feet() -> None:
    ten, eight = least_waste([(36, 9)], [10]), least_waste([(36, 9)], [8])
    assert stock_of(ten) == [10] * 3
    assert ten.waste / INCH == pytest.approx(36)
    assert stock_of(eight) == [8] * 5
    assert eight.waste / INCH == pytest.approx(156)
    assert least_waste([(36, 9)], [8, 10]).waste <= ten.waste


def test_w52_an_eighth_of_an_inch_of_kerf_changes_nothing_there() -> None:
    plan = least_waste([(36, 9)], [10], kerf=1 / 8)
    assert stock_of(plan) == [10] * 3
    assert plan.lengths[0].cuts[-1].to / INCH == pytest.approx(108.25, abs=1e-4)


def test_w22_rails_and_re_cut_offcuts_take_six_ten_foot_lengths() -> None:
    """Four rails of 5 ft 1 in leave 4 ft 11 in each, two re-cut to 3 ft 7 in; two top rails of 10 ft."""
    plan = least_waste([(61, 4), (43, 2), (120, 2)], [10])
    assert stock_of(plan) == [10] * 6
    rails = least_waste([(61, 4)], [10])
    assert [length.offcut / INCH for length in rails.lengths] == pytest.approx([59] * 4)
