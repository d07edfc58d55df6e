"""The order of work against values worked out by hand, and figures of lifting and wind as published."""

from __future__ import annotations

import json
import math
from math import hypot
from typing import Any

import pytest

from soleplate.engine.raising.braces import braces_of
from soleplate.engine.raising.wind import raker_push, recommended_lift, wind_push
from soleplate.engine.rules import team_lift, tilting_share
from tests.buildings import HONEY_HOUSE
from tests.yards import TILTED, TILTED_EITHER_WAY, banks, best, hut, orders_by_hand, search_of, yard

L_SHAPED = json.loads((HONEY_HOUSE.parent / "l_shaped_workshop.json").read_text())
ALL_BUT_STANDING = ["tilt-up", "tilt-up-from-outside", "carried", "slid", "carried-flat"]


@pytest.mark.parametrize(
    ("through", "first"), [("front-back", {"front", "back"}), ("left-right", {"left", "right"})]
)
def test_walls_that_run_through_come_first_between_banks(through: str, first: set[str]) -> None:
    """By hand: a wall that runs through cannot lie between two that stand."""
    value = hut({"obstacles": banks(300), "ways": TILTED}, through=through)
    orders = orders_by_hand(value)
    assert len(orders) == search_of(value).orders() == 4
    assert all(set(order[:2]) == first for order in orders)


def test_a_pinwheel_between_banks_has_no_order() -> None:
    """By hand: each wall must precede the next one round the ring."""
    value = hut({"obstacles": banks(300), "ways": TILTED}, through="pinwheel")
    assert best(value).steps == ()
    assert search_of(value).orders() == 0


@pytest.mark.parametrize("through", ["front-back", "left-right", "pinwheel"])
def test_with_room_to_lie_outside_every_order_is_possible(through: str) -> None:
    value = hut({"obstacles": banks(3500), "ways": TILTED_EITHER_WAY}, through=through)
    assert search_of(value).orders() == 24


@pytest.mark.parametrize(("ways", "orders"), [(TILTED, 0), (ALL_BUT_STANDING, 336)])
def test_the_arm_of_an_l_is_too_narrow_to_lie_in(ways: list[str], orders: int) -> None:
    """By hand: the arm is 2206 clear and its walls 2350 high, so one of its long walls lies outside."""
    value = {**L_SHAPED, "site": {"ways": ways}}
    assert len(orders_by_hand(value)) == search_of(value).orders() == orders


@pytest.mark.parametrize(("width", "orders"), [(2380, 4), (2370, 2)])
def test_how_near_to_a_standing_wall_another_is_tilted_up(width: float, orders: int) -> None:
    """By hand: 70 + hypot(2236.424, 70) + 70 - 5 = 2372.5 for the front one to pass the back one."""
    assert 2370 < 70 + hypot(2236.424, 70) + 70 - 5 < 2380
    value = hut({"obstacles": banks({"front": 300, "back": 300}), "ways": TILTED}, width=width)
    assert search_of(value).orders() == orders


def way_in(width: float) -> dict[str, Any]:
    """A place in front, and a rail before it with a way in."""
    place = [[-1000, -6500], [5500, -6500], [5500, -3500], [-1000, -3500]]
    rails = [
        {"name": name, "polygon": [[left, -2500], [right, -2500], [right, -2400], [left, -2400]]}
        for name, left, right in (("rail one", -9000, 2000), ("rail two", 2000 + width, 12_000))
    ]
    return hut({"deck": False, "framing_place": {"polygon": place}, "ways": ["carried"], "obstacles": rails})


@pytest.mark.parametrize(("width", "is_possible"), [(700, True), (581, True), (500, False), (449, False)])
def test_a_way_in_for_walls_that_are_carried_450_broad(width: float, is_possible: bool) -> None:
    assert bool(best(way_in(width)).steps) == is_possible


def test_a_clad_shed_between_banks_is_braced_beside_the_cladding_of_its_corners() -> None:
    """Rakers at the very ends of the walls would stand where the next walls' cladding is."""
    value = hut(
        {"obstacles": banks(400), "ways": TILTED, "people": 3},
        outline={"length": 3900, "width": 3600, "through": "front-back"},
        roof={"form": "level", "height": 2100},
        defaults={"cladding": {"rule": "lapped", "thickness": 25, "thin_edge": 8, "width": 150}},
    )
    assert all(panel.panel.clad_first and panel.panel.is_clad for panel in yard(value).question.panels)
    assert search_of(value).orders() == 4


@pytest.mark.parametrize(
    ("height", "share"), [(2236.0, 0.5), (2800.0, 0.5), (3200.0, 0.571), (4000.0, 0.714)]
)
def test_the_share_of_a_wall_that_is_lifted_while_it_is_tilted(height: float, share: float) -> None:
    """By hand: half of it up to 2 x 1400 mm, where hands hold it at its head, and L / (4 x 1400) above."""
    assert tilting_share(height / 2, height) == pytest.approx(share, abs=0.0005)


def test_what_a_team_lifts() -> None:
    """Network Rail, lifting in teams: two people who lift 20 kg each lift 26.6 kg together."""
    assert team_lift(2, 20.0) == pytest.approx(26.6, abs=0.07)
    assert [round(team_lift(n), 1) for n in (1, 2, 3)] == [25.0, 33.3, 37.5]


def test_the_recommended_lift_as_published() -> None:
    """W45, NIOSH 94-110 at its best: 23 kg; with the hands twice as far out half of it.

    CCOHS prints 10.9 kg for H 50, V 75, D 40, with 0.95 for 0.82 + 4.5 / 40, which is 0.9325.
    """
    assert recommended_lift(25.0, 75.0, 25.0) == pytest.approx(23.0)
    assert recommended_lift(50.0, 75.0, 25.0) == pytest.approx(11.5)
    assert recommended_lift(50.0, 75.0, 40.0) / 0.9325 * 0.95 == pytest.approx(10.9, abs=0.05)
    assert recommended_lift(30.0, 10.0, 65.0) == pytest.approx(13.7, abs=0.05)


def test_a_raker_at_45_degrees_stands_out_as_far_as_it_reaches_up() -> None:
    """W41: of an 8 ft wall the foot is 8 ft out and the raker 135.8 in long, by the trade 17 in a foot."""
    made = yard(hut())
    for panel in made.question.panels:
        for brace in braces_of(panel, made.question.panels):
            high = max(raker.top for raker in brace.rakers)
            face = panel.panel.depth if brace.where != "outside" else -panel.panel.build_out
            for foot in brace.feet:
                out = abs(panel.axes.local(foot)[1] - face)
                assert out == pytest.approx(high)
                trade = 17 * 25.4 * high / 304.8
                assert math.hypot(out, high) == pytest.approx(trade, rel=0.002)
    assert math.hypot(96.0, 96.0) == pytest.approx(135.8, abs=0.05)


def test_wind_on_a_clad_wall() -> None:
    """By hand: 1.2 x 0.613 x (1.5 x 7.9)^2 x 4.5 x 2.236 = 1039 N, and 462 N without the gust."""
    assert wind_push(4.5 * 2.236, 4) == pytest.approx(1039, abs=1)
    assert wind_push(4.5 * 2.236, 4) / 1.5**2 == pytest.approx(462, abs=1)
    assert raker_push(wind_push(4.5 * 2.236, 4)) == pytest.approx(525, abs=1)
