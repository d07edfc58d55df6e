"""What to buy is told whole, on the page as on the sheets, with and without a saw plan."""

from __future__ import annotations

import json
import re

import pytest

from soleplate.engine.building_file import format_length
from soleplate.engine.buying import with_saw_plan
from soleplate.viewer.lists.buying import from_on_hand, to_buy, to_note, total_cost
from soleplate.viewer.page.lists import buying_list
from soleplate.viewer.sheets.lists import buying_blocks
from soleplate.viewer.words.texts import ENGLISH
from soleplate.viewer.words.wording import stuff_text, timber_text
from tests.buildings import building, layout_of, registry
from tests.viewer.sheets.books import EXAMPLES, example
from tests.viewer.test_page import Reader

CHANCE = re.compile(r"chance of at least (\d+) %")
NAMES = sorted(path.stem for path in EXAMPLES.glob("*.json"))


@pytest.mark.parametrize("planned", [True, False])
@pytest.mark.parametrize("name", NAMES)
def test_all_timber_is_there_counted_or_as_its_run(name: str, planned: bool) -> None:
    layout = example(name) if planned else layout_of(json.loads((EXAMPLES / f"{name}.json").read_text()))
    told = [(line.timber, line.lengths, bool(line.remark)) for line in to_buy(layout, ENGLISH)]
    on_hand = " ".join(line.timber for line in from_on_hand(layout, ENGLISH))
    for row in layout.buying_list:
        timber = stuff_text(row, layout.units, ENGLISH)
        lengths = [(length, is_run) for of, length, is_run in told if of == timber]
        bought = [line for line in row.lengths if not line.on_hand]
        if row.lengths:
            assert len(lengths) == len(bought)
            assert not any(is_run for _, is_run in lengths)
            assert bought or timber in on_hand
        else:
            assert lengths == [(f"run of {row.display}", True)]
    said = ENGLISH.uncounted_note in to_note(layout, ENGLISH)
    strips = {stuff_text(row, layout.units, ENGLISH) for row in layout.buying_list if row.of_sheet}
    assert said == any(is_run and timber not in strips for timber, _, is_run in told)
    if not planned:
        assert said


@pytest.mark.parametrize("name", ["hen_house", "l_shaped_workshop"])
def test_the_page_and_the_sheets_tell_the_same(name: str) -> None:
    layout = example(name)
    page = Reader(str(buying_list(layout, ENGLISH))).texts
    blocks = buying_blocks(layout, ENGLISH)
    assert blocks[0] == {"kind": "head", "text": ENGLISH.to_buy}
    rows = [[cell["strong"] if isinstance(cell, dict) and "strong" in cell else cell for cell in row]
            for row in blocks[1]["rows"]]  # fmt: skip
    lines = to_buy(layout, ENGLISH)
    assert [(row[1], row[2]) for row in rows] == [(line.lengths, line.timber) for line in lines]
    assert ENGLISH.to_buy in page
    for line in lines:
        assert line.lengths in page
        assert not line.remark or line.remark in page


@pytest.mark.parametrize("name", ["honey_house", "l_shaped_workshop"])
def test_the_prices_are_added_up(name: str) -> None:
    """There is no price for sheets, nor for what no lengths are counted of: so it is told."""
    layout = example(name)
    bought = [line for row in layout.buying_list for line in row.lengths if not line.on_hand]
    is_all = all(row.lengths for row in layout.buying_list) and all(line.cost > 0 for line in bought)
    what = ENGLISH.cost if is_all else ENGLISH.cost_of_priced
    assert max(line.cost for line in bought) > 0
    assert len({line.stock_length for line in bought}) > 3
    told = f"{what}: {sum(round(100 * line.cost) for line in bought) / 100:.2f}"
    assert told in Reader(str(buying_list(layout, ENGLISH))).texts
    assert {"kind": "words", "text": told} in buying_blocks(layout, ENGLISH)


def test_where_all_is_priced_the_total_is_the_cost() -> None:
    value = building(stock={"stock": [{"section": [45, 70], "lengths": [{"length": 4800, "price": 9.9}]}]})
    layout = with_saw_plan(layout_of(value), registry().read_building(value))
    assert layout.saw_plan is not None
    assert total_cost(layout, ENGLISH) == f"Cost: {9.9 * layout.saw_plan.bought:.2f}"
    assert total_cost(layout_of(building()), ENGLISH) == ""


def test_spares_are_of_the_longest_length_that_is_bought() -> None:
    layout = example("l_shaped_workshop")
    notes = to_note(layout, ENGLISH)
    rows = [row for row in layout.buying_list if row.spare and row.spare.spare]
    assert rows
    for row in rows:
        longest = max(line.stock_length for line in row.lengths if not line.on_hand)
        assert row.spare is not None
        said = f"{row.spare.spare} of them spare, of the longest, {format_length(longest, layout.units)},"
        assert any(said in note and timber_text(row.section, row.material, "mm") in note for note in notes)


def test_no_chance_is_promised_that_there_is_not() -> None:
    """In whole per cent, rounded down."""
    layout = example("l_shaped_workshop")
    spares = {row.spare.confidence for row in layout.buying_list if row.spare and row.spare.spare}
    told = {int(per_cent) for note in to_note(layout, ENGLISH) for per_cent in CHANCE.findall(note)}
    assert any(0.001 < 100 * chance % 1 < 0.999 for chance in spares)
    for chance in spares:
        assert any(0.0 <= 100 * chance - per_cent < 1.0 for per_cent in told)
    assert all(any(per_cent <= 100 * chance for chance in spares) for per_cent in told)
