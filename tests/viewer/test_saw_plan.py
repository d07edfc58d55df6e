"""The saw plan drawn and told: every cut where it is sawn, once for each set-up, whatever the names are."""

from __future__ import annotations

import csv
import io
import re
from functools import lru_cache
from typing import Any
from xml.etree import ElementTree

import pytest

from soleplate.engine.building_file import Units, format_figure, format_length
from soleplate.engine.buying import with_saw_plan
from soleplate.engine.layout import Layout
from soleplate.engine.sawing import (
    SawPlan,
    SawPlanRequest,
    SectionStock,
    WantedPart,
    keeping_factory_ends,
    plan_sawing,
)
from soleplate.engine.sawing.request import LengthOnHand, LengthOnSale
from soleplate.viewer.drawings.lettering import stacked
from soleplate.viewer.drawings.saw_bars import A_PART, saw_plan_parts, saw_plan_svg
from soleplate.viewer.drawings.tones import SAW_TONES
from soleplate.viewer.lists.set_ups import set_ups
from soleplate.viewer.lists.spreadsheets import buying_list_csv, saw_plan_csv
from soleplate.viewer.markup.serialise import carriable
from soleplate.viewer.page.page import page_html
from soleplate.viewer.page.saw import how_good, saw_plan
from soleplate.viewer.words.texts import ENGLISH
from soleplate.viewer.words.wording import money_text
from tests.buildings import building, honey_house, layout_of, registry
from tests.viewer.sample import HOSTILE
from tests.viewer.test_page import Reader

SVG = "{http://www.w3.org/2000/svg}"
LENGTHS = ((2400, 4.1), (3600, 6.0), (4800, 8.3))


@lru_cache(maxsize=4)
def planned(*, priced: bool = True, units: Units = "mm") -> Layout:
    frame = {
        "section": [45, 70],
        "lengths": [{"length": length} | ({"price": price} if priced else {}) for length, price in LENGTHS],
        "on_hand": [{"length": 1900, "count": 2}, {"length": 1300, "grade": "short"}],
    }
    stock = {"stock": [frame], "time_budget_s": 1, "bent": {"share": 0.08, "confidence": 0.95}}
    value: dict[str, Any] = honey_house() | {"stock": stock}
    layout = with_saw_plan(layout_of(value), registry().read_building(value))
    return layout.model_copy(update={"units": units})


def plan_of(layout: Layout) -> SawPlan:
    assert layout.saw_plan is not None
    return layout.saw_plan


def parts_plan(name: str = "P1", kerf: float = 3.0, trim: float = 0.0) -> SawPlan:
    """Four parts of 700 mm and four of 500 mm from two lengths, and one from what is on hand."""
    return plan_sawing(
        SawPlanRequest(
            parts=(
                WantedPart(name=name, length=700.0, count=4),
                WantedPart(name="P2", length=500.0, count=5),
            ),
            stock=(
                SectionStock(
                    lengths=(LengthOnSale(length=2500.0, price=4.0),),
                    on_hand=(LengthOnHand(length=530.0),),
                ),
            ),
            kerf=kerf,
            trim=trim,
        )
    )


def drawn(text: str) -> dict[int, ElementTree.Element]:
    """The set-ups' groups of a drawing by their numbers."""
    groups = [
        group for group in ElementTree.fromstring(text).iter(f"{SVG}g") if "data-set-up" in group.attrib
    ]
    return {int(group.attrib["data-set-up"]): group for group in groups}


def rects(group: ElementTree.Element, kind: str) -> list[tuple[float, float]]:
    """Where rectangles of a kind begin and how long they are."""
    return [
        (float(rect.attrib["x"]), float(rect.attrib["width"]))
        for inner in group.iter(f"{SVG}g")
        if inner.get("class") == kind
        for rect in inner.iter(f"{SVG}rect")
    ]


def lettered(element: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in element.iter(f"{SVG}text")]


@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_cut_is_drawn_once_for_its_set_up_where_it_is_sawn(units: Units) -> None:
    layout = planned(units=units)
    bars = set_ups(plan_of(layout), layout.factory_ends)
    groups = drawn(saw_plan_svg(plan_of(layout), units, ends=layout.factory_ends))
    assert list(groups) == [bar.number for bar in bars]
    for bar in bars:
        group = groups[bar.number]
        assert rects(group, "cuts") == [(piece.start, piece.length) for piece in bar.sawn[0]]
        titles = [title.text for title in group.iter(f"{SVG}title")]
        said = lettered(group)
        for index, piece in enumerate(bar.sawn[0]):
            marks, length = ", ".join(bar.marks(index)), format_length(piece.length, units)
            assert sum((title or "").startswith(f"{marks}: {length}, ") for title in titles) == 1
            if piece.saw_at < bar.like.stock_length:
                assert format_figure(piece.saw_at, units) in said
        stock = f"{bar.count} × {format_length(bar.like.stock_length, units)}"
        assert stock in said
        assert ("on hand" in " ".join(said)) == bar.like.on_hand


def test_the_plans_own_order_and_places_are_kept_where_no_factory_end_is() -> None:
    plan = plan_of(planned())
    sawn = [pieces for bar in set_ups(plan) for pieces in bar.sawn]
    own = [[(cut.mark, cut.from_, cut.to) for cut in length.cuts] for length in plan.lengths]
    assert [[(piece.mark, piece.start, piece.end) for piece in pieces] for pieces in sawn] == own


def test_every_piece_is_in_one_set_up() -> None:
    layout = planned()
    bars = set_ups(plan_of(layout), layout.factory_ends)
    told = sorted(piece.mark for bar in bars for pieces in bar.sawn for piece in pieces)
    assert told == sorted(cut.mark for length in plan_of(layout).lengths for cut in length.cuts)


def test_what_keeps_a_factory_end_lies_at_that_end() -> None:
    layout = planned()
    assert layout.factory_ends is not None
    kept = {(each.mark, each.end) for each in layout.factory_ends.kept}
    found = set()
    for bar in set_ups(plan_of(layout), layout.factory_ends):
        for pieces in bar.sawn:
            for piece in pieces:
                if piece.kept in ("start", "both"):
                    assert piece.start == 0
                if piece.kept in ("finish", "both"):
                    assert piece.end == pytest.approx(bar.like.stock_length)
                if piece.kept:
                    found.add((piece.mark, piece.kept))
    assert found == kept


def test_pieces_laid_for_factory_ends_leave_room_for_the_saw_and_the_same_offcut() -> None:
    layout = planned()
    moved = 0
    for bar in set_ups(plan_of(layout), layout.factory_ends):
        for before, after in zip(bar.sawn[0], bar.sawn[0][1:], strict=False):
            assert after.start - before.end >= 3.0 - 0.002
        if bar.sawn[0][-1].from_far_end and bar.like.offcut > 0:
            moved += 1
            left = bar.sawn[0][-1].start - 3.0 - bar.offcut_from
            assert left == pytest.approx(bar.like.offcut, abs=0.005)
    assert moved > 0


def test_the_last_cut_lies_at_the_far_end_where_it_keeps_its_end() -> None:
    plan, ends = keeping_factory_ends(parts_plan())
    number = next(length.set_up for length in plan.lengths if len(length.cuts) == 4)
    bar = set_ups(plan, ends)[number - 1]
    assert [(piece.mark, piece.start, piece.end) for piece in bar.sawn[0]] == [
        ("P1", 0.0, 700.0),
        ("P2", 703.0, 1203.0),
        ("P2", 1206.0, 1706.0),
        ("P1", 1800.0, 2500.0),
    ]
    assert bar.offcut_from == 1709.0
    assert bar.sawn[0][-1].saw_at == 1800.0
    assert rects(drawn(saw_plan_svg(plan, "mm", ends=ends))[bar.number], "offcuts") == [(1709.0, 88.0)]


def test_a_plan_of_parts_alone_is_drawn() -> None:
    plan = parts_plan(trim=10.0)
    text = saw_plan_svg(plan, "mm")
    group = next(group for group in drawn(text).values() if len(rects(group, "cuts")) == 4)
    assert rects(group, "cuts") == [(10.0, 700.0), (713.0, 700.0), (1416.0, 500.0), (1919.0, 500.0)]
    assert rects(group, "offcuts") == [(0.0, 10.0), (2490.0, 10.0), (2422.0, 68.0)]
    assert "4.00 each" in lettered(group)
    assert "factory" not in text


def test_the_key_tells_what_is_there() -> None:
    layout = planned()
    with_ends = lettered(
        ElementTree.fromstring(saw_plan_svg(plan_of(layout), "mm", ends=layout.factory_ends))
    )
    assert {"bought", "on hand", "offcut", "saw cut", "factory end kept"} <= set(with_ends)
    plain = lettered(ElementTree.fromstring(saw_plan_svg(plan_of(layout), "mm")))
    assert "factory end kept" not in plain


def test_the_pages_drawings_hold_each_set_up_once() -> None:
    layout = planned()
    parts = saw_plan_parts(plan_of(layout), "mm", ends=layout.factory_ends)
    numbers = [list(drawn(part)) for part in parts]
    bars = set_ups(plan_of(layout), layout.factory_ends)
    assert [number for part in numbers for number in part] == [bar.number for bar in bars]
    assert max(map(len, numbers)) <= A_PART
    assert not [part for part in parts if "<defs" in part]


def test_every_reference_of_a_drawing_alone_is_in_it() -> None:
    text = saw_plan_svg(parts_plan(), "mm")
    ids = set(re.findall(r' id="([^"]+)"', text))
    assert set(re.findall(r"url\(#([^)]+)\)", text)) <= ids
    assert text.startswith("<svg")


@pytest.mark.parametrize("name", [HOSTILE[:80].rstrip(), "{0.__class__}{mark}", "\x00\x1b[31m", "‮desrever"])
def test_hostile_names_come_back_as_text(name: str) -> None:
    root = ElementTree.fromstring(saw_plan_svg(parts_plan(name), "mm"))
    plain = ElementTree.fromstring(saw_plan_svg(parts_plan(), "mm"))
    tags = {element.tag for element in plain.iter()}
    assert {element.tag for element in root.iter()} <= tags
    assert any(carriable(name) in (title.text or "") for title in root.iter(f"{SVG}title"))


def test_a_hostile_plan_on_the_page_is_inert() -> None:
    value = building(
        frame={"section": [45, 70], "material": "<script>alert(1)</script>"},
        stock={
            "stock": [{"section": [45, 70], "lengths": [{"length": 4800, "price": 8}]}],
            "time_budget_s": 1,
        },
    )
    layout = with_saw_plan(layout_of(value), registry().read_building(value))
    page = Reader(page_html(layout))
    within = [attrs.get("type") for tag, attrs in page.elements if tag == "script" and "src" not in attrs]
    assert within == ["application/json"]
    assert "saw-plan" in page.attributes("section", "id")


def test_the_page_tells_the_plan() -> None:
    layout = planned()
    page = Reader(page_html(layout))
    told = "\n".join(page.texts)
    plan, ends = plan_of(layout), layout.factory_ends
    assert ends is not None
    assert "saw-plan" in page.attributes("section", "id")
    assert "#saw-plan" in page.attributes("a", "href")
    assert f"{plan.cost:.2f}" in page.texts
    assert how_good(plan, "mm", ENGLISH) in page.texts
    assert f"preservative: {ends.fresh}." in told
    for bar in set_ups(plan, ends):
        for index, piece in enumerate(bar.sawn[0]):
            marks, length = ", ".join(bar.marks(index)), format_length(piece.length, "mm")
            where = "from the far end" if piece.from_far_end else f"to {format_length(piece.end, 'mm')}"
            assert f"{marks}: {length}, {where}" in page.texts
    for row in layout.buying_list:
        for line in row.lengths:
            assert f"{line.count} × {format_length(line.stock_length, 'mm')}" in page.texts
        if row.spare and row.spare.spare:
            assert f"order {row.spare.ordered} lengths in all, {row.spare.spare} of them spare" in told
    ids = [value for _, attrs in page.elements if (value := attrs.get("id"))]
    assert len(set(ids)) == len(ids)
    references = {name for fill in page.attributes("g", "fill") for name in re.findall(r"url\(#(.+)\)", fill)}
    assert {"tone-on-hand", "tone-offcut"} <= references <= set(ids)


def test_no_pattern_lies_on_the_dark_bar_and_plain_timber_has_none() -> None:
    """Between a pattern's tiles what lies under them shows, as a grid through the lettering."""
    layout = planned()
    root = ElementTree.fromstring(saw_plan_svg(plan_of(layout), "mm", ends=layout.factory_ends))
    fills = {name: tone.ground for name, tone in SAW_TONES.items()}
    patterned = set()
    for bar in root.iterfind(f".//{SVG}g[@data-set-up]"):
        timber = bar[0]
        rects = [(rect, group.get("fill")) for group in timber if group.tag == f"{SVG}g" for rect in group]
        grounds = [(rect.get("x"), rect.get("width"), fill) for rect, fill in rects]
        for rect, fill in rects:
            if fill in ("url(#tone-on-hand)", "url(#tone-offcut)"):
                ground = fills[fill.removeprefix("url(#tone-").removesuffix(")")]
                assert (rect.get("x"), rect.get("width"), ground) in grounds
                patterned.add(fill)
            else:
                assert fill in fills.values()
    assert len(patterned) == 2


def test_uprights_with_and_without_a_factory_end_are_told_apart() -> None:
    layout = planned()
    plan, ends = plan_of(layout), layout.factory_ends
    assert ends is not None
    told = [
        text for text in Reader(page_html(layout)).texts if text.startswith(("Factory end at", "Both ends"))
    ]
    kept, fresh = (set(re.findall(r"[FRBL]\d+", text)) for text in told)
    assert kept <= {each.mark for each in ends.kept}
    on_hand = {cut.mark for length in plan.lengths if length.on_hand for cut in length.cuts}
    uprights = {
        piece.mark
        for wall in layout.walls
        for piece in wall.pieces
        if piece.role in ("stud", "corner stud", "king stud", "trimmer", "cripple")
    }
    assert kept | fresh == uprights
    assert on_hand & uprights <= fresh


def test_without_prices_nothing_is_said_of_money() -> None:
    layout = planned(priced=False)
    plan = plan_of(layout)
    told = "\n".join(Reader(saw_plan(layout, ENGLISH)).texts)
    assert plan.cost == 0
    assert not re.search(r"\b\d+\.\d\d\b|\bcost\b|cheap|\d each\b|Price|Cost", told)
    assert "0 each" not in saw_plan_svg(plan, "mm")


def test_how_good_a_plan_is_is_said_plainly_and_never_too_well() -> None:
    plan = parts_plan()
    assert plan.proven
    assert how_good(plan, "mm", ENGLISH) == "Proven: no plan is cheaper."
    open_ = plan.model_copy(update={"proven": False, "gap": 0.01234, "bound": 7.9})
    assert how_good(open_, "mm", ENGLISH) == ("Within 1.3 % of the best: no plan can cost less than 7.90.")
    waste = open_.model_copy(update={"objective": "waste", "bound": 812.4})
    assert "no plan can leave less than 812 mm over" in how_good(waste, "mm", ENGLISH)
    lengths = open_.model_copy(update={"objective": "lengths", "bound": 1.2})
    assert "no plan can take fewer than 2 bought lengths" in how_good(lengths, "mm", ENGLISH)


def test_no_plan_no_section() -> None:
    layout = layout_of(honey_house())
    page = Reader(page_html(layout))
    assert "saw-plan" not in page.attributes("section", "id")
    assert "#saw-plan" not in page.attributes("a", "href")
    assert ENGLISH.uncounted_note in page.texts
    assert not [fill for fill in page.attributes("pattern", "id") if "on-hand" in fill]


def test_same_plan_same_bytes() -> None:
    layout = planned()
    again = Layout.model_validate_json(layout.model_dump_json(by_alias=True))
    assert page_html(again) == page_html(layout)
    assert saw_plan_svg(plan_of(again), "mm") == saw_plan_svg(plan_of(layout), "mm")


def test_the_table_of_cuts_has_each_once_as_it_lies() -> None:
    layout = planned()
    text = saw_plan_csv(plan_of(layout), layout.factory_ends).decode("utf-8-sig")
    rows = list(csv.DictReader(io.StringIO(text)))
    cuts = sorted(cut.mark for length in plan_of(layout).lengths for cut in length.cuts)
    assert sorted(row["mark"] for row in rows) == cuts
    for row in rows:
        assert float(row["to mm"]) - float(row["from mm"]) == pytest.approx(
            float(row["length mm"]), abs=0.002
        )
        if row["factory end"] == "finish":
            assert float(row["to mm"]) == pytest.approx(float(row["stock length mm"]))
    unpriced = saw_plan_csv(plan_of(planned(priced=False))).decode("utf-8-sig")
    assert {row["price"] for row in csv.DictReader(io.StringIO(unpriced))} == {""}


def test_what_has_no_price_is_told_apart() -> None:
    """The frame has prices, the lintel has none: a cost of what has one, and how good each section is."""
    lintel = {"section": [45, 145], "lengths": [{"length": 2400}, {"length": 3600}]}
    frame = {
        "section": [45, 70],
        "lengths": [{"length": length, "price": price} for length, price in LENGTHS],
    }
    value: dict[str, Any] = honey_house() | {"stock": {"stock": [frame, lintel]}}
    layout = with_saw_plan(layout_of(value), registry().read_building(value))
    page = page_html(layout)
    assert f"<dt>{ENGLISH.cost_of_priced}</dt><dd>{money_text(plan_of(layout).cost)}</dd>" in page
    good, least = ENGLISH.no_better["cost"], ENGLISH.no_better["waste"]
    told = f"45 × 70 mm C16: {good} 45 × 145 mm C16: {least}"
    assert how_good(plan_of(layout), "mm", ENGLISH) == told
    assert f"<dt>{ENGLISH.cost}</dt>" in page_html(planned())
    for made in (saw_plan_csv(plan_of(layout)), buying_list_csv(layout)):
        rows = list(csv.DictReader(io.StringIO(made.decode("utf-8-sig"))))
        priced = {row["breadth mm"] + " x " + row["depth mm"] for row in rows if row["price"]}
        assert priced == {"45 x 70"}


def test_texts_hang_clear_of_each_other_and_of_lines() -> None:
    texts = [(100.0, 60.0), (130.0, 60.0), (150.0, 60.0), (220.0, 60.0), (400.0, 60.0)]
    places = stacked(texts, -10.0, 5.0)
    for index, ((place, width), (left, row)) in enumerate(zip(texts, places, strict=True)):
        assert left == place - width
        for (other, wide), (other_left, other_row) in zip(texts[:index], places[:index], strict=True):
            assert row != other_row or left >= other_left + wide + 5.0
            # The line of the other passes the rows above its own.
            assert row >= other_row or left > other
    assert [row for _, row in places] == [0, 1, 2, 0, 0]
    assert stacked([(5.0, 60.0)], -10.0, 5.0) == [(-10.0, 0)]
