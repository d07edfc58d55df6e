"""Anchors along sole plates: spacing, ends, what stands in the way, and the strip under them."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from soleplate.engine.rules import CannotFrame, HeldDown, SoleLength
from soleplate.engine.shapes import Section
from soleplate.plugins.holding_down import AnchorBolts, SoleScrews
from soleplate.plugins.holding_down.places import Spacing, anchor_places, free, over

STUDS = ((0.0, 45.0), (600.0, 645.0), (1200.0, 1245.0), (1800.0, 1845.0), (2355.0, 2400.0))


def sole(
    right: float = 2400.0,
    taken: tuple[tuple[float, float], ...] = STUDS,
    depth: float = 95.0,
    *,
    on_floor: bool = False,
) -> SoleLength:
    return SoleLength("front", 0.0, right, Section(45.0, depth), taken, on_floor)


def places(held: HeldDown) -> list[float]:
    return [anchor.at for anchor in held.anchors]


def test_bolts_stand_as_the_code_has_them() -> None:
    """IRC R403.1.6, as restated by the American Wood Council (S8-28): 1/2 in bolts at most 6 ft apart, two
    in each length, one within 12 in of each end and none within 7 diameters."""
    rule = AnchorBolts(centres=1828.8, from_ends=304.8, diameter=12.7, embedment=177.8)
    for right in (1000.0, 2400.0, 4500.0, 12_000.0):
        found = places(rule.hold_down(sole(right, ())))
        assert len(found) >= 2
        assert 7 * 12.7 <= found[0] <= 304.8 + 1e-6
        assert 7 * 12.7 <= right - found[-1] <= 304.8 + 1e-6
        assert max(b - a for a, b in itertools.pairwise(found)) <= 1828.8 + 1e-6


def test_a_bolt_reaches_through_plate_and_nut_into_the_base() -> None:
    (first, *_) = AnchorBolts().hold_down(sole()).anchors
    assert (first.kind.name, first.diameter, first.length) == ("anchor bolt", 12.0, 180.0 + 45.0 + 25.0)


def test_a_nut_can_be_turned_beside_every_stud() -> None:
    crowded = ((0.0, 45.0), (280.0, 325.0), (2055.0, 2100.0), (2355.0, 2400.0))
    found = places(AnchorBolts().hold_down(sole(taken=crowded)))
    assert found == [pytest.approx(255.0), pytest.approx(1180.0), pytest.approx(2125.0)] or len(found) >= 2
    assert all(at <= low - 25.0 + 1e-6 or at >= high + 25.0 - 1e-6 for at in found for low, high in crowded)


def test_a_short_length_beside_a_door_is_told() -> None:
    held = AnchorBolts().hold_down(sole(200.0, ((0.0, 45.0), (155.0, 200.0))))
    assert places(held) == [pytest.approx(100.0, abs=16.0)]
    assert [found.code for found in held.findings] == ["anchor-alone"]
    none = AnchorBolts().hold_down(sole(120.0, ((0.0, 45.0), (75.0, 120.0))))
    assert places(none) == []
    assert [found.code for found in none.findings] == ["anchor-alone"]
    assert none.findings[0].value == 0.0


def test_a_plate_that_cannot_be_held_in_time_is_told() -> None:
    full = tuple((k * 45.0, k * 45.0 + 45.0) for k in range(40))
    held = AnchorBolts(centres=600.0).hold_down(sole(3000.0, full))
    assert "anchors-apart" in {found.code for found in held.findings}


def test_bolts_further_apart_than_the_code_are_told() -> None:
    assert AnchorBolts().hold_down(sole()).findings == ()
    told = AnchorBolts(centres=2400.0).hold_down(sole(6000.0, ()))
    assert [found.code for found in told.findings] == ["anchors-few"]


def test_bolts_are_refused_on_a_timber_floor_and_screws_are_not() -> None:
    with pytest.raises(CannotFrame, match="sole-screws"):
        AnchorBolts().hold_down(sole(on_floor=True))
    assert len(places(SoleScrews().hold_down(sole(on_floor=True)))) == 7


def test_screws_are_as_near_as_a_sole_plate_is_nailed() -> None:
    """Washington Administrative Code 246-359-340, Table 340 row 6: 16 in, 406.4 mm."""
    found = places(SoleScrews(centres=406.4).hold_down(sole(taken=())))
    assert max(b - a for a, b in itertools.pairwise(found)) <= 406.4 + 1e-6
    assert SoleScrews().hold_down(sole()).anchors[0].length == 45.0 + 60.0


def test_screws_too_short_for_the_plate_are_refused() -> None:
    with pytest.raises(CannotFrame, match="at least 81 mm"):
        SoleScrews(length=80.0).hold_down(sole())
    assert SoleScrews(length=81.0).hold_down(sole()).anchors[0].length == 81.0


@pytest.mark.parametrize(("depth", "width"), [(70.0, 100.0), (95.0, 100.0), (145.0, 150.0), (700.0, 700.0)])
def test_the_strip_is_as_wide_as_it_is_sold_and_laps(depth: float, width: float) -> None:
    (strip,) = AnchorBolts().hold_down(sole(depth=depth)).goods
    assert (strip.kind.name, strip.quantity, strip.size) == ("damp-proof strip", 2500.0, (width,))
    assert AnchorBolts(width=120.0).hold_down(sole()).goods[0].size == (120.0,)
    assert SoleScrews().hold_down(sole()).goods == ()


reaches = st.lists(
    st.tuples(st.integers(0, 240), st.integers(3, 12)).map(lambda r: (r[0] * 10.0, (r[0] + r[1]) * 10.0)),
    max_size=6,
).map(lambda found: tuple(sorted(found)))


@settings(max_examples=200, deadline=None)
@given(
    st.integers(20, 250).map(lambda tens: tens * 10.0),
    reaches,
    st.integers(30, 120).map(lambda tens: tens * 10.0),
    st.integers(9, 40).map(lambda tens: tens * 10.0),
)
def test_no_choice_on_a_fine_grid_takes_fewer(
    right: float, taken: tuple[tuple[float, float], ...], centres: float, from_end: float
) -> None:
    spacing = Spacing(centres, from_end, 80.0, 20.0)
    found = anchor_places(0.0, right, taken, spacing)
    for at in found:
        assert 80.0 - 1e-6 <= at <= right - 80.0 + 1e-6
        assert all(at <= low - 20.0 + 1e-6 or at >= high + 20.0 - 1e-6 for low, high in taken)
    assert all(other - one >= 40.0 - 1e-6 for one, other in itertools.pairwise(found))
    # All figures are tens, so that of the best choices one lies on tens; counted by the shortest way.
    grid = [
        x * 10.0
        for x in range(int(right / 10) + 1)
        if any(low - 1e-6 <= x * 10.0 <= high + 1e-6 for low, high in free(0.0, right, taken, spacing))
    ]
    assert bool(grid) == bool(found)
    least = {x: 1 for x in grid if x <= from_end}
    for x in grid:
        before = [least[y] for y in grid if y + 40.0 <= x <= y + centres and y in least]
        if before:
            least[x] = min(least.get(x, math.inf), min(before) + 1)
    ends = [count for x, count in least.items() if right - x <= from_end]
    if not ends:
        assert not found or list(over(0.0, right, found, spacing))
        return
    assert not list(over(0.0, right, found, spacing))
    assert len(found) == min(ends) or (min(ends) == 1 and len(found) == 2)


def test_where_a_plate_begins_under_studs_the_first_screw_is_next_to_them() -> None:
    """90 mm of studs and 25 for the driver: the place after that, not the last within reach of the next."""
    spacing = Spacing(centres=400.0, from_end=100.0, least_end=42.0, clear=25.0)
    taken = [(0.0, 90.0), (515.0, 560.0), (1455.0, 1500.0)]
    assert anchor_places(0.0, 1500.0, taken, spacing)[0] == 115.0
