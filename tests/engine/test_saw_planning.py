"""The saw plan of a building: every piece once, stock honoured, and what is left out is said."""

from __future__ import annotations

import math
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


def test_strips_of_sheet_are_bought_as_such_and_sawn_from_no_length() -> None:
    """The packer fills 70 - 45 = 25 mm; plywood is weighed at 700 kg/m3 (common practice, no source)."""
    lintel = {"section": [45, 145], "lengths": [{"length": 2400, "price": 9}]}
    layout = lintelled(FRAME, lintel, {"section": [25, 145], "lengths": [{"length": 2400, "price": 7}]})
    (packer,) = [piece for piece in layout.pieces if piece.role == "packer"]
    assert (packer.section, packer.material, packer.of_sheet) == ((25.0, 145.0), "plywood", True)
    # 900 between trimmers that are 45 thick; under 1100, yet no bent timber will do.
    assert (packer.length, packer.grade) == (990.0, "straight")
    assert packer.weight_kg == pytest.approx(0.025 * 0.145 * 0.990 * 700, abs=0.001)
    (row,) = [row for row in layout.cutting_list if packer.mark in row.marks]
    assert (row.role, row.of_sheet, row.count) == ("packer", True, 1)
    (bought,) = [row for row in layout.buying_list if row.of_sheet]
    assert (bought.section, bought.material, bought.total_length) == ((25.0, 145.0), "plywood", 990.0)
    assert bought.lengths == ()
    assert layout.saw_plan is not None
    assert packer.mark not in {cut.mark for length in layout.saw_plan.lengths for cut in length.cuts}
    found = {finding.code: finding for finding in layout.findings}
    assert "not-planned" not in found
    assert "unknown-density" not in found
    assert "25 x 145" in found["unused-stock"].message


def test_a_short_strip_of_sheet_is_not_bent_timber() -> None:
    door = {"name": "door", "kind": "door", "width": 600, "height": 1700, "at": {"centre": 2250}}
    framing = {"rule": "trimmed", "lintel": {"section": [45, 145], "packer": "birch"}}
    layout = planned(building(walls={"front": {"openings": [door | {"framing": framing}]}}))
    (packer,) = [piece for piece in layout.pieces if piece.role == "packer"]
    assert (packer.length, packer.grade) == (690.0, "straight")
    (found,) = [finding for finding in layout.findings if finding.code == "unknown-density"]
    assert found.message.startswith("birch is of unknown density")


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


def test_spares_are_of_what_is_bought_and_short_pieces_alone_need_none() -> None:
    """What is on hand is known to be straight; bent lengths serve where all cuts of one are short."""
    timber = FRAME | {"lengths": ON_SALE[:2], "on_hand": [{"length": 1900, "count": 3}]}
    noggins = {"studs": {"rule": "equal-bays"}, "noggins": {"rule": "straight", "rows": 4}}
    stock = {"stock": [timber], "bent": {"share": 0.3, "confidence": 0.9}}
    layout = planned(building(defaults=noggins, stock=stock))
    assert layout.saw_plan is not None
    short = {piece.mark for piece in layout.pieces if piece.grade == "short"}
    lengths = [
        [cut.mark in short for cut in each.cuts] for each in layout.saw_plan.lengths if not each.on_hand
    ]
    assert len(lengths) == len(layout.saw_plan.lengths) - 3
    assert any(all(cuts) for cuts in lengths)
    assert any(any(cuts) and not all(cuts) for cuts in lengths)
    (row,) = layout.buying_list
    assert row.spare is not None
    assert row.spare.credited == sum(all(cuts) for cuts in lengths)
    assert row.spare.ordered - row.spare.spare == len(lengths)
    from scipy.stats import binom  # type: ignore[import-untyped]  # 50 MB: here, not wherever tests are read.

    straight = len(lengths) - row.spare.credited
    assert (
        binom.sf(straight - 1, row.spare.ordered, 0.7)
        >= 0.9
        > binom.sf(straight - 1, row.spare.ordered - 1, 0.7)
    )


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


@pytest.mark.parametrize(("height", "fits"), [(2390.0, True), (2390.5, False)])
@pytest.mark.parametrize("kept", ["lengths", "on_hand"])
def test_trim_is_taken_off_both_ends_of_the_longest(height: float, fits: bool, kept: str) -> None:
    """Of 2400 mm with 50 off each end 2300 are left: a stud of a wall of 2390 with two plates of 45."""
    count = {"count": 9} if kept == "on_hand" else {}
    stock = [
        {"section": [45, 70], "material": "C16", "lengths": [{"length": 4700}]},
        {"section": [45, 70], "material": "C24", kept: [{"length": 2400} | count]},
    ]
    value = building(
        outline={"walls": [{"name": "a", "length": 2000}, {"name": "b", "length": 2000}]},
        roof={"form": "level", "height": height},
        walls={"b": {"frame": {"section": [45, 70], "material": "C24"}}},
        stock={"stock": stock, "trim": 50},
    )
    layout = planned(value)
    told = [found for found in layout.findings if found.code == "longer-than-stock"]
    studs = [p.mark for p in layout.walls[1].pieces if p.role == "stud"]
    assert [found.pieces[0] for found in told] == ([] if fits else studs)
    assert {(found.value, found.limit) for found in told} == (set() if fits else {(height - 90.0, 2300.0)})
    assert layout.saw_plan is not None
    cut = {cut.mark for length in layout.saw_plan.lengths for cut in length.cuts}
    assert (set(studs) <= cut) is fits
    for length in layout.saw_plan.lengths:
        assert length.cuts[0].from_ >= 50.0
        assert length.cuts[-1].to <= length.stock_length - 50.0 + 1e-6


WALL = {"outline": {"walls": [{"name": "a", "length": 2000}]}}


@pytest.mark.parametrize(
    ("lengths", "margin", "taken", "left"),
    [
        ([2400, 3000], 5, {3000}, None),
        ([2400, 3000], 0, {2400}, None),
        ([2400], 5, {2400}, 2.0),
    ],
)
def test_the_margin_is_left_over_where_it_can_be(
    lengths: list[int], margin: float, taken: set[int], left: float | None
) -> None:
    """Studs of 2398 leave 2 of 2400: with 5 wanted they come from 3000 if it is sold, else from 2400."""
    timber = {"section": [45, 70], "lengths": [{"length": each} for each in lengths]}
    layout = planned(
        building(
            **WALL, roof={"form": "level", "height": 2488.0}, stock={"stock": [timber], "margin": margin}
        )
    )
    assert layout.saw_plan is not None
    studs = {p.mark for p in layout.pieces if p.role == "stud"}
    assert {p.length for p in layout.pieces if p.mark in studs} == {2398.0}
    cut = [each for each in layout.saw_plan.lengths if studs & {cut.mark for cut in each.cuts}]
    assert {each.stock_length for each in cut} == taken
    told = [found for found in layout.findings if found.code == "nothing-to-spare"]
    assert [found.value for found in told] == ([] if left is None else [left])
    assert {mark for found in told for mark in found.pieces} == (set() if left is None else studs)


def test_stock_that_suffices_only_without_the_margin_is_sawn_all_the_same() -> None:
    """Each length of 3735 holds two studs of 1866 with a cut of 3 between, to the last millimetre."""
    there = {"section": [45, 70], "on_hand": [{"length": 3735, "count": 5}]}
    wall = building(**WALL, roof={"form": "level", "height": 1956.0}, stock={"stock": [there]})
    layout = planned(wall)
    assert layout.saw_plan is not None
    assert [section.margin for section in layout.saw_plan.sections] == [0.0]
    assert "nothing-to-spare" in {found.code for found in layout.findings}
    assert "stop" not in {found.level for found in layout.findings}


@pytest.mark.parametrize(
    ("length", "margin", "parts"),
    [(4798, 0, [2399, 2399]), (4798, 5, [2000, 1598, 1200]), (2400, 5, [2400])],
)
def test_plates_leave_the_margin_of_their_lengths_or_stay_whole(
    length: int, margin: float, parts: list[float]
) -> None:
    """Of 2400 a plate of 2400 is whole; two parts of 2399 would leave 1 of each, so there are three."""
    marks = [mark for mark in (1200, 2000, 2399, 3598) if mark < length - 50]
    studs = {"rule": "at", "marks": marks, "of": "centre"}
    layout = layout_of(
        building(
            outline={"walls": [{"name": "a", "length": length}]},
            roof={"form": "level", "height": 2000},
            defaults={"studs": studs},
            stock={"stock": [{"section": [45, 70], "lengths": [{"length": 2400}]}], "margin": margin},
        )
    )
    # The sole plate may have a part more, so that its joint is not on the head plate's stud.
    assert [piece.length for piece in layout.pieces if piece.role == "head plate"] == parts


def test_short_pieces_may_come_from_bent_lengths_longer_than_any_straight_one() -> None:
    """Noggins of 591.429 mm: no straight length here is so long, and bent ones are."""
    timber = {"lengths": [{"length": 500}], "on_hand": [{"length": 900, "grade": "short", "count": 20}]}
    noggins = {"studs": {"rule": "equal-bays"}, "noggins": {"rule": "straight"}}
    layout = planned(
        building(
            outline={"walls": [{"name": "wall", "length": 4500}]},
            roof={"form": "level", "height": 2300},
            defaults=noggins,
            stock={"stock": [{"section": [45, 70], **timber}]},
        )
    )
    wanted = {piece.mark for piece in layout.pieces if piece.role == "noggin"}
    assert layout.saw_plan is not None
    assert {cut.mark for length in layout.saw_plan.lengths for cut in length.cuts} == wanted
    long = {mark for found in layout.findings if found.code == "longer-than-stock" for mark in found.pieces}
    assert long == {piece.mark for piece in layout.pieces} - wanted


TRIMMED = building(
    frame={"section": [45, 70], "material": "C16", "trim_allowance": 25},
    defaults={
        "studs": {"rule": "equal-bays"},
        "corners": {"rule": "three-stud"},
        "noggins": {"rule": "straight"},
        "openings_framing": {"rule": "trimmed"},
    },
    walls={
        "left": {
            "openings": [{"name": "w", "kind": "window", "width": 600, "height": 600, "sill": 900,
                          "at": {"centre": 1280}}]
        }
    },
    stock={"stock": [FRAME], "trim": 10},
)  # fmt: skip


def test_what_is_left_on_for_marking_is_left_on_tops_under_a_slope_alone() -> None:
    """25 mm on every stud that stands on the sole plate and whose top is cut to the slope; else none."""
    layout = planned(TRIMMED)
    bare = layout_of(TRIMMED | {"frame": {"section": [45, 70], "material": "C16"}})
    roles = set()
    for wall, drawn in zip(layout.walls, bare.walls, strict=True):
        assert [(p.length, p.outline) for p in wall.pieces] == [(p.length, p.outline) for p in drawn.pieces]
        for piece in wall.pieces:
            under_slope = wall.name in ("left", "right") and max(z for _, z in piece.outline) > 1800
            stands = piece.outline[0][1] == 45.0 and piece.role not in ("noggin", "sole plate", "raked plate")
            assert piece.trim_allowance == (25.0 if under_slope and stands else 0.0), (wall.name, piece)
            roles.add((piece.role, piece.trim_allowance))
    assert {("stud", 25.0), ("stud", 0.0), ("king stud", 25.0), ("trimmer", 0.0), ("cripple", 0.0),
            ("corner stud", 0.0)} <= roles  # fmt: skip


def test_what_is_left_on_is_cut_bought_and_told() -> None:
    layout = planned(TRIMMED)
    pieces = {piece.mark: piece for wall in layout.walls for piece in wall.pieces}
    to_cut = {mark: piece.length + piece.trim_allowance for mark, piece in pieces.items()}
    for row in layout.cutting_list:
        assert {pieces[mark].trim_allowance for mark in row.marks} == {row.trim_allowance}
        assert row.display == f"{math.floor(row.length + row.trim_allowance + 0.5)} mm"
    (row,) = layout.buying_list
    assert row.total_length == pytest.approx(sum(to_cut.values()), abs=0.01)
    assert row.longest == max(to_cut.values())
    assert layout.saw_plan is not None
    sawn = {cut.mark: cut.length for length in layout.saw_plan.lengths for cut in length.cuts}
    assert sawn == pytest.approx(to_cut, abs=0.002)


def test_pieces_with_more_left_on_are_another_setting_of_the_saw() -> None:
    """The studs of two walls alike under one slope, but for what is left on their tops."""
    walls = [{"name": name, "length": 2400, "heights": [2000, 2240]} for name in "ab"]
    frames = [{"section": [45, 70], "material": "C16", "trim_allowance": left_on} for left_on in (25, 40)]
    layout = layout_of(
        building(outline={"walls": walls}, roof=None, frame=frames[0], walls={"b": {"frame": frames[1]}})
    )
    pieces = {piece.mark: piece for piece in layout.pieces}
    assert {piece.trim_allowance for piece in layout.pieces} == {0.0, 25.0, 40.0}
    for row in layout.cutting_list:
        assert {pieces[mark].trim_allowance for mark in row.marks} == {row.trim_allowance}


def test_the_longest_piece_may_be_one_with_something_left_on() -> None:
    """A stud a hair shorter than its wall's plates, until 300 mm are left on it."""
    value = building(
        frame={"section": [45, 70], "trim_allowance": 300},
        outline={"walls": [{"name": "wall", "length": 2000, "heights": [2000, 2090]}]},
        roof=None,
    )
    layout = layout_of(value)
    (row,) = layout.buying_list
    highest = max(piece.length for piece in layout.pieces if piece.role == "stud")
    assert row.longest == pytest.approx(highest + 300.0, abs=0.001)


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
