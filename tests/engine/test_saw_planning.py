"""The saw plan of a building: every piece once, stock honoured, and what is left out is said."""

from __future__ import annotations

from typing import Any

import pytest

from soleplate.engine.building_file import UnbuildableError
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.layout import Layout
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


def lintelled(*stock: dict[str, Any]) -> Layout:
    """The plain building with a door under a lintel of its own section."""
    door = {"name": "door", "kind": "door", "width": 900, "height": 1700, "at": {"centre": 2250}}
    framing = {"rule": "trimmed", "lintel": {"section": [45, 145]}}
    walls = {"front": {"openings": [door | {"framing": framing}]}}
    return planned(building(walls=walls, stock={"stock": list(stock)}))


def test_what_is_priced_costs_and_what_is_not_is_named() -> None:
    layout = lintelled(FRAME, {"section": [45, 145], "lengths": [{"length": 2400}, {"length": 3000}]})
    plan = layout.saw_plan
    assert plan is not None
    assert [(section.section, section.objective) for section in plan.sections] == [
        ((45.0, 70.0), "cost"),
        ((45.0, 145.0), "waste"),
    ]
    prices = {row["length"]: row["price"] for row in ON_SALE}
    frame = [length for length in plan.lengths if length.section == (45.0, 70.0)]
    assert plan.cost == pytest.approx(sum(prices[length.stock_length] for length in frame)) == plan.value
    alone = planned(building(stock={"stock": [FRAME]})).saw_plan
    assert alone is not None
    assert alone.objective == "cost"
    (found,) = [finding for finding in layout.findings if finding.code == "not-priced"]
    assert found.message == (
        "no price is listed for 45 x 145 C16 at 2400, 3000 mm: what is bought of it so is not in the cost"
    )


def test_a_length_without_a_price_is_named_and_the_others_cost() -> None:
    """A section with a length of unknown price is planned for the least waste; what is known of it counts."""
    part = FRAME | {"lengths": [{"length": 2400}, *ON_SALE[1:]]}
    layout = planned(building(stock={"stock": [part]}))
    plan = layout.saw_plan
    assert plan is not None
    prices = {row["length"]: row["price"] for row in ON_SALE[1:]}
    assert plan.objective == "waste"
    assert plan.cost == pytest.approx(sum(prices.get(length.stock_length, 0.0) for length in plan.lengths))
    assert plan.cost > 0
    (found,) = [finding for finding in layout.findings if finding.code == "not-priced"]
    assert "45 x 70 C16 at 2400 mm" in found.message


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


def test_sections_in_inches_are_found_in_stock() -> None:
    for section in ([1.5, 3.5], ["1 1/2 in", "3 1/2 in"], ["38.1 mm", "88.9 mm"]):
        stock = {"stock": [{"section": section, "lengths": [{"length": "16 ft", "price": 8}]}]}
        value = building(
            units="in",
            frame={"section": [1.5, 3.5]},
            outline={"length": "12 ft", "width": "8 ft"},
            roof={"form": "level", "height": "7 ft"},
            defaults={"studs": {"rule": "fixed-centres", "centres": 16}},
            stock=stock,
        )
        layout = planned(value)
        assert layout.saw_plan is not None
        assert "not-planned" not in {finding.code for finding in layout.findings}


def test_measured_studs_are_still_the_timber_that_was_listed() -> None:
    layout = planned(building(stock={"stock": [FRAME]}, measured={"front": {"breadth": 45.5}}))
    plan = layout.saw_plan
    assert plan is not None
    assert sum(len(length.cuts) for length in plan.lengths) == sum(len(w.pieces) for w in layout.walls)
    stud = next(piece for piece in layout.walls[0].pieces if piece.role == "stud")
    assert stud.section == (45.0, 70.0)
    assert stud.outline[1][0] - stud.outline[0][0] == pytest.approx(45.5, abs=0.001)


def test_plates_are_jointed_to_what_the_stock_yields() -> None:
    on_hand = {"section": [45, 70], "on_hand": [{"length": 2400, "count": 60}]}
    trimmed = {"section": [45, 70], "lengths": [{"length": 4500, "price": 7.0}]}
    bent = {"section": [45, 70], "lengths": [*ON_SALE[:2], ON_SALE[2] | {"grade": "short"}]}
    for stock, longest in (
        ({"stock": [on_hand]}, 2400),
        ({"stock": [trimmed], "trim": 10}, 4480),
        ({"stock": [bent]}, 3600),
    ):
        layout = planned(building(stock=stock))
        plates = [p for wall in layout.walls for p in wall.pieces if p.role.endswith("plate")]
        assert max(plate.length for plate in plates) <= longest
        assert "stop" not in {finding.level for finding in layout.findings}
        assert layout.saw_plan is not None


def test_a_straight_piece_is_not_taken_to_fit_a_bent_length() -> None:
    timber = {"section": [45, 70], "lengths": ON_SALE[:2], "on_hand": [{"length": 4800, "grade": "short"}]}
    high = building(roof={"form": "level", "height": 3800}, stock={"stock": [timber]})
    found = {finding.pieces[0] for finding in planned(high).findings if finding.code == "longer-than-stock"}
    assert found == {p.mark for w in layout_of(high).walls for p in w.pieces if p.length > 3600}


def test_too_little_on_hand_is_a_finding_and_the_layout_stands() -> None:
    timber = {"section": [45, 70], "on_hand": [{"length": 4800, "count": 2}]}
    layout = planned(building(stock={"stock": [timber]}))
    assert layout.saw_plan is None
    assert {f.level for f in layout.findings if f.code == "stock-too-little"} == {"stop"}
    assert layout.walls


def test_stock_that_serves_nothing_is_named() -> None:
    layout = planned(building(stock={"stock": [FRAME, FRAME | {"section": [38, 63], "material": "C24"}]}))
    (found,) = [finding for finding in layout.findings if finding.code == "unused-stock"]
    assert "38 x 63 C24" in found.message


def test_ends_cut_to_an_angle_are_no_factory_ends() -> None:
    layout = planned(honey_house() | {"stock": {"stock": [FRAME]}})
    assert layout.factory_ends is not None
    square = {p.mark: sum(e.cut == "square" for e in p.ends) for w in layout.walls for p in w.pieces}
    assert layout.factory_ends.kept
    assert all(square[each.mark] >= (2 if each.end == "both" else 1) for each in layout.factory_ends.kept)


def test_a_lintel_is_of_its_own_material() -> None:
    lintel = {"section": [45, 145], "material": "C24"}
    door = {
        "name": "door", "kind": "door", "width": 900, "height": 1700, "at": {"centre": 2250},
        "framing": {"rule": "trimmed", "lintel": lintel},
    }  # fmt: skip
    (beam,) = [p for p in layout_of(building(walls={"front": {"openings": [door]}})).walls[0].pieces
               if p.role == "lintel"]  # fmt: skip
    assert beam.material == "C24"
    assert beam.weight_kg == pytest.approx(beam.length * 45 * 145 / 1e9 * 420.0, abs=0.001)
