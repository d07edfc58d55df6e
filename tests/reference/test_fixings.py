"""Fixings against published values."""

from __future__ import annotations

import math

import pytest

from soleplate.engine.fixing.distances import least_penetration, least_thickness, needs_pilot, spaced
from soleplate.engine.rules import Fastener
from tests.buildings import building, layout_of
from tests.fixings import FRAMED, fixed, views_of


def test_distances_of_a_2_65_mm_nail() -> None:
    """W42: EN 1995-1-1 Table 8.2, no pilot hole, up to 420 kg/m3, forces along the grain; penetration 8 d.

    The second and the penetration are printed in eurocode.us Example 10.13.5: 26.5 and 21.2 mm.
    """
    least = spaced(2.65, 350.0, pilot=False)
    assert least.along == pytest.approx(26.5)
    assert least.across == pytest.approx(13.25)
    assert least.loaded_end == pytest.approx(39.75)
    assert least.end == pytest.approx(26.5)
    assert least.edge == pytest.approx(13.25)
    needed = least_penetration(Fastener("nail", 2.65, 50.0, "smooth"))
    assert needed == pytest.approx(21.2)
    assert needed <= 25.0


def test_distances_of_a_3_35_mm_nail() -> None:
    """W43: the same Table; with a pilot hole a1 is 5 d and a3,t 12 d."""
    least = spaced(3.35, 350.0, pilot=False)
    assert least.along == pytest.approx(33.5)
    assert least.across == pytest.approx(16.75)
    assert least.loaded_end == pytest.approx(50.25)
    assert least.end == pytest.approx(33.5)
    drilled = spaced(3.35, 350.0, pilot=True)
    assert drilled.along == pytest.approx(16.75)
    assert drilled.loaded_end == pytest.approx(40.2)


def test_denser_timber_wants_more() -> None:
    """EN 1995-1-1 Table 8.2, 420 to 500 kg/m3: a2 and a4,c 7 d, a1 and a3,c 15 d; over 500 a pilot hole."""
    least = spaced(3.0, 450.0, pilot=False)
    assert (least.across, least.edge, least.along, least.end) == (21.0, 21.0, 45.0, 45.0)
    assert not needs_pilot(3.0, 500.0)
    assert needs_pilot(3.0, 501.0)
    assert needs_pilot(6.1, 350.0)


def test_timber_thick_enough_for_a_nail() -> None:
    """EN 1995-1-1, 8.3.1.2: 7 d, or (13 d - 30) rho_k / 400, whichever is more: by hand for d = 8 and C24."""
    assert least_thickness(3.1, 350.0) == pytest.approx(21.7)
    assert least_thickness(8.0, 350.0) == pytest.approx(max(56.0, 74.0 * 350 / 400))


@pytest.mark.parametrize("name", FRAMED)
def test_every_framing_joint_has_two_nails(name: str) -> None:
    """S6-16, NHBC Standards 6.3.5 and 6.3.9: two nails a joint; where there is no room that is told."""
    layout = fixed(name)
    roles = {mark: piece.role for mark, (piece, _, _) in views_of(layout).items()}
    counts: dict[tuple[str, str], int] = {}
    told: set[tuple[str, str]] = set()
    for each in layout.fixings:
        if each.joint == "end" and "plate" in roles[each.through]:
            counts[each.through, each.into] = counts.get((each.through, each.into), 0) + len(each.places)
            told |= {(each.through, each.into)} if each.faults else set()
    assert counts
    assert all(count >= 2 for joint, count in counts.items() if joint not in told)


def test_nails_shorter_than_three_times_what_they_hold_are_told_and_no_more() -> None:
    """S6-20, NAVEDTRA 14119: three times; codes' own 16d through 1 1/2 in is 88.9 / 38.1, 2.33 times."""
    level = {"form": "level", "height": 2200}
    value = building(frame={"section": [38.1, 88.9]}, roof=level, fixings=[
        {"rule": "framing-nails", "diameter": 4.1, "length": 88.9, "shank": "smooth"},
    ])  # fmt: skip
    (told,) = [each for each in layout_of(value).findings if each.code == "nails-short"]
    assert told.level == "note"
    assert told.value == pytest.approx(88.9 / 38.1, abs=0.01)
    assert told.limit == 3.0
    # Told, and driven all the same.
    assert [each for each in layout_of(value).fixings_list if each.length == 88.9 and each.count > 50]


def test_a_fifth_is_bought_on_top() -> None:
    """S6-22, EN0069A Table 4-1: 20 % of nails are wasted."""
    layout = fixed("honey_house")
    nails = [row for row in layout.fixings_list if row.kind == "nail"]
    assert nails
    for row in nails:
        assert row.with_waste == math.ceil(row.count * 1.2 - 1e-6)
        goods = [each for each in layout.goods if each.size == (row.diameter, row.length)]
        assert [(each.quantity, each.to_buy) for each in goods] == [(row.count, row.with_waste)]
