"""What is not timber: counted for the buying list, by kind and size, for the parts that it is for."""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest

from soleplate.engine import UnbuildableError
from soleplate.engine.building_file import Stock
from soleplate.engine.layout import GoodsRow, Layout
from soleplate.engine.listing import goods_list
from soleplate.engine.rules import Goods, GoodsKind
from soleplate.viewer.lists import besides_timber, buying_list_csv
from soleplate.viewer.words import ENGLISH
from tests.buildings import building, layout_of, wall_of
from tests.floors import floor_with, honey_house_on
from tests.roofs import frame_with, mono

CLAD: dict[str, Any] = {"rule": "rebated", "thickness": 20, "width": 120, "cover": 103}


def goods(layout: Layout, kind: str) -> GoodsRow:
    (found,) = [row for row in layout.goods if row.kind == kind]
    return found


def held(rule: str, **changes: Any) -> Layout:
    return layout_of(building(**changes) | {"defaults": {"holding_down": {"rule": rule}}})


def test_a_building_that_takes_nothing_else_says_nothing_of_it() -> None:
    plain = layout_of(building())
    assert plain.goods == ()
    told = plain.model_dump_json()
    assert '"goods"' not in told
    assert '"anchors"' not in told


def test_anchors_are_counted_as_they_stand() -> None:
    layout = held("anchor-bolts")
    standing = [anchor for wall in layout.walls for anchor in wall.anchors]
    bolts = goods(layout, "anchor bolt")
    assert bolts.quantity == bolts.to_buy == len(standing) > 8
    assert bolts.size == (12.0, 250.0)
    assert set(bolts.parts) == {"front", "right", "back", "left"}
    for wall in layout.walls:
        soles = {piece.mark: piece.outline for piece in wall.pieces if piece.role == "sole plate"}
        for anchor in wall.anchors:
            along = [x for x, _ in soles[anchor.plate]]
            assert min(along) < anchor.at < max(along)


def test_a_plate_cut_by_a_door_is_held_on_both_sides_of_it() -> None:
    door = {"name": "door", "kind": "door", "width": 900, "height": 1800, "at": {"left": 1500}}
    front = wall_of(held("sole-screws", walls={"front": {"openings": [door]}}), "front")
    assert {anchor.plate for anchor in front.anchors} == {"F1", "F2"}
    assert not [anchor for anchor in front.anchors if 1500 < anchor.at < 2400]


def test_screws_are_bought_with_some_to_drop() -> None:
    layout = held("sole-screws")
    screws = goods(layout, "sole plate screw")
    assert screws.quantity == sum(len(wall.anchors) for wall in layout.walls)
    assert screws.to_buy == -(-screws.quantity * 1.1 // 1)


def test_the_strip_is_as_long_as_all_sole_plates_and_their_laps() -> None:
    strip = goods(held("anchor-bolts"), "damp-proof strip")
    assert (strip.unit, strip.size) == ("m", (100.0,))
    assert strip.quantity == pytest.approx((2 * 4.5 + 2 * 2.56) + 4 * 0.1)
    assert strip.to_buy == pytest.approx(15.3)  # 14.52 and a twentieth, up to a tenth
    assert strip.display == "15.3 m"


def test_one_wall_may_be_held_and_the_others_not() -> None:
    layout = layout_of(building(walls={"back": {"holding_down": {"rule": "anchor-bolts"}}}))
    assert [wall.name for wall in layout.walls if wall.anchors] == ["back"]
    assert goods(layout, "anchor bolt").parts == ("back",)


def test_bolts_under_walls_on_a_timber_floor_are_refused_where_they_were_chosen() -> None:
    value = building() | {"floor": floor_with(), "defaults": {"holding_down": {"rule": "anchor-bolts"}}}
    with pytest.raises(UnbuildableError) as raised:
        layout_of(value)
    assert raised.value.faults[0].pointer == "/defaults/holding_down"


def test_membrane_lies_behind_the_cladding_of_outer_walls_alone() -> None:
    value = building(outline={"length": 4500, "width": 2700, "partitions": [
        {"name": "inside", "runs": "front-back", "at": 2000}]}) | {
        "defaults": {"cladding": CLAD, "lining": CLAD}}  # fmt: skip
    layout = layout_of(value)
    row = goods(layout, "breather membrane")
    areas = [wall.cladding.membrane_m2 for wall in layout.walls if wall.faces is None and wall.cladding]
    assert "inside" not in row.parts
    assert len(areas) == 4
    assert row.quantity == pytest.approx(sum(areas), abs=0.002)
    assert row.to_buy >= row.quantity * 1.15


def test_floors_bring_pads_and_insulation() -> None:
    layout = honey_house_on(floor_with())
    (floor,) = layout.floors
    pads, insulation = goods(layout, "pad"), goods(layout, "insulation")
    assert (pads.to_buy, pads.size) == (len(floor.pads), (300.0, 300.0))
    assert insulation.quantity == pytest.approx(floor.insulation_m2)
    assert insulation.size == (100.0,)


def test_roofs_bring_their_covering() -> None:
    layout = layout_of(mono())
    (slope,) = layout.roofs
    assert slope.covering is not None
    sheets = goods(layout, "covering sheet")
    assert sheets.to_buy == slope.covering.sheets
    assert sheets.size == (1060.0, slope.covering.piece_length)
    felt = layout_of(mono(frame_with(covering={"kind": "roll", "width": 1000, "lap": 100})))
    strips = felt.roofs[0].covering
    assert strips is not None
    assert strips.rolls is not None
    assert goods(felt, "covering roll").quantity == pytest.approx(strips.rolls * strips.piece_length / 1000)


def test_sorts_of_a_kind_stand_apart_and_parts_together() -> None:
    nail = GoodsKind("nail", "piece", 0.2, "common practice, no source")
    rows = goods_list(
        [("front", Goods(nail, 10.0, (3.1, 90.0))), ("back", Goods(nail, 4.0, (2.8, 63.0))),
         ("left", Goods(nail, 1.0, (3.1, 90.0)))],
        "mm",
        Stock(),
    )  # fmt: skip
    assert [(row.size, row.quantity, row.to_buy, row.parts) for row in rows] == [
        ((2.8, 63.0), 4.0, 5.0, ("back",)),
        ((3.1, 90.0), 11.0, 14.0, ("front", "left")),
    ]


def test_list_and_spreadsheet_tell_the_same() -> None:
    layout = held("anchor-bolts")
    told = [(line.lengths, line.timber, line.remark) for line in besides_timber(layout, ENGLISH)]
    assert told[0][1:] == ("anchor bolt, 12 × 250 mm", "for front, right, back, left")
    assert told[1][:2] == ("15.3 m", "damp-proof strip, 100 mm")
    rows = list(csv.DictReader(io.StringIO(buying_list_csv(layout).decode("utf-8-sig"))))[-2:]
    cells = ("what", "count", "length", "breadth mm", "depth mm")
    assert [tuple(row[cell] for cell in cells) for row in rows] == [
        ("anchor bolt", told[0][0], "", "12", "250"),
        ("damp-proof strip", "", "15.3 m", "100", ""),
    ]  # fmt: skip


def test_in_inches_sizes_are_told_in_inches() -> None:
    value = building(
        units="in", frame={"section": ["1 1/2 in", "3 1/2 in"]}, outline={"length": "12 ft", "width": "8 ft"},
        roof={"form": "level", "height": "7 ft"},
        defaults={"holding_down": {"rule": "anchor-bolts", "diameter": "1/2 in", "embedment": "7 in"}},
    )  # fmt: skip
    told = [line.timber for line in besides_timber(layout_of(value), ENGLISH)]
    assert told[0] == "anchor bolt, 1/2 in × 9 1/2 in"
