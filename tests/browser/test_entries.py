"""Entries in a hand: no press is lost, faults are in sight, and nothing jumps."""

from __future__ import annotations

import itertools
import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from soleplate.engine.building_file import MM_PER_INCH, format_figure, parse_length
from tests.browser.conftest import Watched
from tests.browser.test_editing import entry, ready, type_in
from tests.buildings import HONEY_HOUSE, honey_house, layout_of, registry
from tests.serving import serving

EXAMPLES = HONEY_HOUSE.parent


def press(page: Page, wanted: Locator) -> None:
    """By the mouse, where it is when the hand goes there: nothing waits or scrolls in between."""
    wanted.evaluate("(element) => element.scrollIntoView({ block: 'center' })")
    box = wanted.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.up()


def top(wanted: Locator) -> float:
    box = wanted.bounding_box()
    assert box is not None
    return box["y"]


def test_no_press_is_lost_where_an_entry_had_the_focus(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator(".plan a[data-wall='wall-left']").click()
    expect(page.locator("#wall-left")).to_be_visible()
    press(page, page.get_by_role("button", name="Add a window"))
    expect(page.locator("#wall-left .hole")).to_have_count(1)
    expect(page.locator(entry(page, "/walls/left/openings/0/name"))).to_be_focused()
    press(page, page.get_by_role("button", name="Add a gap"))
    expect(page.locator("#wall-left .hole")).to_have_count(2)
    expect(page.locator(entry(page, "/walls/left/openings/1/name"))).to_be_focused()
    press(page, page.get_by_role("button", name="Take out").last)
    expect(page.locator("#wall-left .hole")).to_have_count(1)
    page.locator(entry(page, "/walls/left/openings/0/sill")).focus()
    press(page, page.locator("#entries summary", has_text="window 1"))
    expect(page.locator(entry(page, "/walls/left/openings/0/sill"))).to_be_hidden()
    assert watched.complaints == []


def test_the_focus_moves_nothing_and_its_help_is_shown(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    places = """Array.from(document.querySelectorAll("#entries [data-pointer]"),
        (entry) => entry.getBoundingClientRect().top)"""
    before = page.evaluate(places)
    for pointer in ("/name", "/outline/length", "/roof/pitch", "/frame/section/0"):
        page.evaluate("(id) => document.getElementById(id).focus({ preventScroll: true })", f"entry{pointer}")
        assert page.evaluate(places) == before
        said = page.locator(f"[id='entry{pointer}-help']").text_content()
        assert said
        expect(page.locator("#entry-help")).to_contain_text(said)


def test_a_fault_is_in_sight_where_one_types_and_moves_nothing(
    watched: Watched, honey_house_address: str
) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator("#entries summary", has_text="The site").click()
    typed = page.locator(entry(page, "/site/people"))
    typed.scroll_into_view_if_needed()
    before = top(typed)
    typed.fill("99")
    typed.press("Enter")
    expect(page.locator("#status")).to_contain_text("the last good drawing stands")
    expect(page.locator("#status")).to_be_in_viewport()
    expect(page.locator(".wall[data-stale='Not as typed']")).to_have_count(1)
    assert abs(top(typed) - before) < 1
    assert watched.violations() == []
    typed.fill("2")
    typed.press("Enter")
    expect(page.locator("#status")).to_be_empty()
    expect(page.locator(".wall[data-stale]")).to_have_count(0)
    assert abs(top(typed) - before) < 1
    assert watched.complaints == []


def test_a_fault_in_a_closed_group_opens_it(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    doors = page.locator(entry(page, "/walls/front/openings/0/width"))
    expect(doors).to_be_hidden()
    typed = page.locator(entry(page, "/outline/length"))
    typed.scroll_into_view_if_needed()
    before = top(typed)
    type_in(page, "/outline/length", "1300")
    expect(page.locator("#entries .fault")).to_be_visible()
    expect(typed).to_be_focused()
    assert abs(top(typed) - before) < 1
    page.locator("#status button").first.click()
    expect(page.locator("#entries [aria-invalid]")).to_be_focused()
    expect(page.locator("#entries [aria-invalid]")).to_be_in_viewport()


def test_a_fault_of_another_wall_is_gone_to(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator(".plan a[data-wall='wall-back']").click()
    expect(page.locator("#wall-back")).to_be_visible()
    type_in(page, "/outline/length", "1300")
    page.locator("#status button", has_text="Wall front").first.click()
    expect(page.locator("#entries [aria-invalid]")).to_be_focused()
    assert page.evaluate("document.activeElement.dataset.pointer").startswith("/walls/front/openings/0")


def held(page: Page) -> dict[str, Any]:
    """The building file in hand."""
    file: dict[str, Any] = page.evaluate("building.file")
    return file


def at_rest(page: Page) -> None:
    """Once all that was changed is drawn."""
    expect(page.locator("#status")).to_be_empty()
    while page.evaluate("drawing.isBusy"):
        page.wait_for_timeout(20)
    assert page.evaluate("drawing.isGood")


def test_another_unit_leaves_the_building_as_it_is(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator(entry(page, "/units")).select_option("in")
    facts = page.locator(".wall-head .facts")
    expect(facts).to_contain_text("14 ft 9 3/16 in long, 29 pieces")
    expect(page.locator(entry(page, "/outline/length"))).to_have_value("14 ft 9 3/16 in")
    expect(page.locator(entry(page, "/frame/section/0"))).to_have_value("1 3/4 in")
    told = layout_of(held(page))
    for wall, before in zip(told.walls, layout_of(honey_house()).walls, strict=True):
        assert [piece.length for piece in wall.pieces] == pytest.approx(
            [piece.length for piece in before.pieces], abs=0.001
        )
    page.locator(entry(page, "/outline/length")).press("ArrowUp")
    expect(facts).to_contain_text("14 ft 9 11/16 in long")
    type_in(page, "/outline/length", "192")
    expect(facts).to_contain_text("16 ft long")
    expect(page.locator(entry(page, "/outline/length"))).to_have_value("16 ft")
    type_in(page, "/outline/length", "4500 mm")
    page.locator(entry(page, "/units")).select_option("mm")
    expect(facts).to_contain_text("4500 mm long")
    same = held(page)
    assert same["outline"].pop("length") == "4500 mm"
    expect(page.locator(entry(page, "/outline/length"))).to_have_value("4500")
    expected = honey_house()
    expected["outline"].pop("length")
    assert same == {**expected, "units": "mm"}
    for _ in range(5):
        page.get_by_role("button", name="Undo").click()
    assert held(page) == honey_house()
    assert watched.complaints == []


def test_what_is_begun_with_is_in_the_building_s_unit(watched: Watched) -> None:
    with serving(EXAMPLES / "studio_in_inches.json") as server:
        page = ready(watched.open(server.address))
        expect(page.locator(entry(page, "/outline/length"))).to_have_value("16 ft")
        page.locator(".plan a[data-wall='wall-left']").click()
        page.get_by_role("button", name="Add a window").click()
        expect(page.locator("#wall-left .hole")).to_have_count(1)
        expect(page.locator(entry(page, "/walls/left/openings/0/width"))).to_have_value("1 ft 11 5/8 in")
        page.locator("#entries summary", has_text="Rules for every wall").click()
        page.locator(entry(page, "/defaults/cladding")).select_option("lapped")
        at_rest(page)
        assert 0 < held(page)["defaults"]["cladding"]["width"] < 12
    assert watched.complaints == []


def added(page: Page, kind: str) -> None:
    page.get_by_role("button", name=f"Add a {kind}").click()


NO_ROOM = "There is no room for another opening in this wall."


def test_openings_are_added_where_there_is_room_and_not_beyond(
    watched: Watched, honey_house_address: str
) -> None:
    page = ready(watched.open(honey_house_address))
    holes = page.locator("#wall-front .hole")
    added(page, "window")
    expect(holes).to_have_count(2)
    added(page, "gap")
    expect(holes).to_have_count(3)
    at_rest(page)
    full = held(page)
    for kind in ("gap", "gap", "door", "window"):
        page.evaluate("drawing.tell()")
        added(page, kind)
        expect(page.locator("#status")).to_have_text(NO_ROOM)
    assert held(page) == full
    spans = sorted(
        holes.evaluate_all("(all) => all.map(({ dataset }) => [Number(dataset.left), Number(dataset.right)])")
    )
    # Between two openings each has its king stud and its trimmer, 45 mm each.
    assert all(after[0] - before[1] >= 180 for before, after in itertools.pairwise(spans))
    assert page.evaluate("drawing.isGood")
    page.get_by_role("button", name="Undo").click()
    expect(holes).to_have_count(2)
    expect(page.locator("#status")).to_be_empty()
    assert watched.complaints == []


def test_openings_asked_for_at_once_are_added_one_by_one(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator("input[name=side][value=inside]").check()
    expect(page.locator("#wall-front[data-side=inside]")).to_be_visible()
    page.evaluate("""() => {
        const press = (kind) => Array.from(document.querySelectorAll("#entries [data-add]"))
            .find((button) => button.textContent === `Add a ${kind}`).click();
        for (const kind of ["window", "window", "window", "window"]) press(kind);
    }""")
    expect(page.locator("#status")).to_have_text(NO_ROOM)
    names = [opening["name"] for opening in held(page)["walls"]["front"]["openings"]]
    assert names == ["doors", "window 1", "window 2"]
    expect(page.locator("#wall-front .hole")).to_have_count(3)
    assert watched.complaints == []


def test_an_opening_is_added_beside_a_partition(watched: Watched, tmp_path: Path) -> None:
    value = honey_house()
    del value["walls"]["right"]
    value["outline"]["partitions"] = [{"name": "inner", "runs": "left-right", "at": 1350}]
    file = tmp_path / "parted.json"
    file.write_text(json.dumps(value))
    with serving(file) as server:
        page = ready(watched.open(server.address))
        page.locator(".plan a[data-wall='wall-right']").click()
        expect(page.locator("#wall-right")).to_be_visible()
        for count in (1, 2):
            added(page, "window")
            expect(page.locator("#wall-right .hole")).to_have_count(count)
            at_rest(page)
        added(page, "door")
        expect(page.locator("#status")).to_have_text(NO_ROOM)
    assert watched.complaints == []


@pytest.mark.parametrize("file", ["honey_house.json", "studio_in_inches.json", "l_shaped_workshop.json"])
def test_any_roof_and_outline_that_is_picked_is_drawn_at_once(watched: Watched, file: str) -> None:
    with serving(EXAMPLES / file) as server:
        page = ready(watched.open(server.address))
        openings = {name: wall.get("openings") for name, wall in held(page)["walls"].items()}
        pitch = held(page)["roof"].get("pitch", 8)
        for form in ("duo-pitch", "mono-pitch", "level"):
            page.locator(entry(page, "/roof")).select_option(form)
            at_rest(page)
            assert held(page)["roof"]["form"] == form
            assert held(page)["roof"].get("pitch", pitch) == pitch
        for kind in ("ClosedPlan", "SingleWalls", "Rectangle", "SingleWalls", "ClosedPlan", "Rectangle"):
            page.locator(entry(page, "/outline")).select_option(kind)
            expect(page.locator(entry(page, "/outline"))).to_have_value(kind)
            at_rest(page)
            if file != "l_shaped_workshop.json":
                assert {name: wall.get("openings") for name, wall in held(page)["walls"].items()} == openings
                walls = page.locator("#way .plan a").evaluate_all(
                    "(links) => links.map((a) => a.dataset.wall)"
                )
                assert walls[:4] == ["wall-front", "wall-right", "wall-back", "wall-left"]
    assert watched.complaints == []


def drawn_by(page: Page, hole: Locator, along: float, steps: int = 4) -> None:
    """The mouse takes an opening by its middle, px along."""
    box = hole.locator(".opening").bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + along, y, steps=steps)
    page.mouse.up()


def test_an_opening_drawn_too_far_stays_where_it_last_can_be(
    watched: Watched, honey_house_address: str
) -> None:
    page = ready(watched.open(honey_house_address))
    hole = page.locator("#wall-front .hole")
    at = page.locator(entry(page, "/walls/front/openings/0/at/centre"))
    drawn_by(page, hole, -600)
    status = page.locator("#status")
    expect(status).to_contain_text("It stands at the nearest place where it can")
    # Room for an end stud, a king stud and a trimmer, 45 mm each, beside it: as near to the end as that.
    expect(hole).to_have_attribute("data-left", "135")
    expect(at).to_have_value("885")
    assert held(page)["walls"]["front"]["openings"][0]["at"] == {"centre": 885}
    hole.focus()
    page.keyboard.press("ArrowLeft")
    expect(status).to_contain_text("It stands at the nearest place where it can")
    expect(hole).to_have_attribute("data-left", "135")
    page.keyboard.press("ArrowRight")
    expect(hole).to_have_attribute("data-left", "145")
    expect(at).to_have_value("895")
    expect(status).to_be_empty()
    page.get_by_role("button", name="Undo").click()
    page.get_by_role("button", name="Undo").click()
    expect(hole).to_have_attribute("data-left", "1500")
    assert watched.complaints == []


def test_the_timber_to_be_had_stands_in_the_open(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator("#entries summary", has_text="Timber to be had").click()
    page.get_by_role("button", name="Add: stock timber").click()
    for name in ("Add: stock length", "Add: on hand"):
        expect(page.get_by_role("button", name=name)).to_be_visible()
    stock = page.locator(".panel[data-key=stock]")
    expect(stock.get_by_label("section breadth")).to_have_value("45")
    expect(stock.get_by_label("section depth")).to_have_value("70")
    expect(stock.locator("summary", has_text="45 × 70")).to_be_visible()
    at_rest(page)
    assert held(page)["stock"]["stock"] == [{"section": [45, 70], "lengths": [{"length": 4800}]}]
    assert watched.complaints == []


@pytest.mark.parametrize("wide", [1280, 1440])
def test_an_empty_choice_says_what_holds_and_is_not_cut(
    watched: Watched, honey_house_address: str, wide: int
) -> None:
    page = watched.page
    page.set_viewport_size({"width": wide, "height": 900})
    ready(watched.open(honey_house_address))
    for name in ("Rules for every wall", "Rules of this wall alone", "doors"):
        page.locator("#entries summary", has_text=name).first.click()
    empty = {
        pointer: page.locator(f"{entry(page, pointer)} option[value='']").text_content()
        for pointer in (
            "/defaults/corners", "/defaults/cladding", "/walls/front/studs",
            "/walls/front/openings/0/framing", "/stock/objective",
        )
    }  # fmt: skip
    assert empty == {
        "/defaults/corners": "usual: plain",
        "/defaults/cladding": "none",
        "/walls/front/studs": "as the building",
        "/walls/front/openings/0/framing": "as the wall",
        "/stock/objective": "not said",
    }
    cut = page.evaluate(
        """Array.from(document.querySelectorAll("#entries select")).filter((select) => {
            if (!select.offsetParent) return false;
            const style = getComputedStyle(select);
            const pen = document.createElement("canvas").getContext("2d");
            pen.font = `${style.fontSize} ${style.fontFamily}`;
            const wide = Array.from(select.options, (option) => pen.measureText(option.text).width);
            // An arrow takes 20 px at the most.
            return Math.max(...wide) > select.clientWidth - 2 * parseFloat(style.paddingLeft) - 20;
        }).map((select) => `${select.id}: ${select.offsetWidth}`)"""
    )
    assert cut == []
    assert watched.complaints == []


def limits(page: Page, pointer: str) -> Locator:
    return page.locator(entry(page, pointer)).locator("xpath=..").locator(".limits")


def test_limits_are_told_under_the_entry_that_is_gone_to(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    for pointer, said in (
        ("/outline/length", "at least 50 mm, at most 60000 mm"),
        ("/roof/pitch", "more than 0, at most 90"),
    ):
        expect(limits(page, pointer)).to_be_hidden()
        below = page.locator("#entries [data-pointer]").evaluate_all(
            "(all) => all.map((each) => each.offsetTop)"
        )
        page.locator(entry(page, pointer)).focus()
        expect(limits(page, pointer)).to_be_visible()
        expect(limits(page, pointer)).to_have_text(said)
        same = page.locator("#entries [data-pointer]").evaluate_all(
            "(all) => all.map((each) => each.offsetTop)"
        )
        assert same == below, "nothing moves"
        described = page.locator(entry(page, pointer)).get_attribute("aria-describedby") or ""
        assert f"entry{pointer}-limits" in described.split()
    assert watched.violations() == []
    page.locator(entry(page, "/units")).select_option("in")
    expect(page.locator(entry(page, "/outline/length"))).to_have_value("14 ft 9 3/16 in")
    page.locator(entry(page, "/outline/length")).focus()
    # 50 mm are 31.50 sixteenths, 60 m are 37795.28.
    expect(limits(page, "/outline/length")).to_have_text("at least 2 in, at most 196 ft 10 3/16 in")
    assert watched.complaints == []


def test_what_the_page_says_is_what_the_engine_holds(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator(entry(page, "/outline/length")).focus()
    least = float(limits(page, "/outline/length").inner_text().split()[2])
    type_in(page, "/outline/length", str(least - 1))
    expect(page.locator("#entries .fault").first).to_contain_text(f"{least:g}")
    expect(limits(page, "/outline/length")).to_be_hidden()


def test_steps_suit_what_is_stepped_and_stop_at_its_limits(
    watched: Watched, honey_house_address: str
) -> None:
    page = ready(watched.open(honey_house_address))
    timber = {"section": [45, 70], "lengths": [{"length": 4800, "price": 9}]}
    stock = {"stock": [timber], "gang": 2, "bent": {"share": 0.49}}
    page.evaluate("(stock) => building.set(['stock'], stock, 'whole')", stock)
    page.evaluate("for (const each of document.querySelectorAll('#entries details')) each.open = true")

    def pressed(pointer: str, *keys: str) -> str:
        for key in keys:
            page.locator(entry(page, pointer)).press(key)
        return page.locator(entry(page, pointer)).input_value()

    assert pressed("/stock/gang", "ArrowUp") == "3"
    assert pressed("/stock/gang", *["ArrowDown"] * 4) == "1"
    assert pressed("/stock/bent/share", "ArrowDown") == "0.48"
    assert pressed("/stock/bent/share", *["ArrowUp"] * 4) == "0.5"
    assert pressed("/stock/stock/0/lengths/0/price", "ArrowUp") == "10"
    before = float(page.locator(entry(page, "/roof/pitch")).input_value())
    assert float(pressed("/roof/pitch", "ArrowUp")) == before + 0.5
    assert pressed("/outline/length", "ArrowUp") == "4510"
    assert pressed("/outline/length", "Shift+ArrowDown") == "4509"
    assert watched.complaints == []


def test_null_on_a_wall_is_told_as_what_holds_there(watched: Watched, tmp_path: Path) -> None:
    """Nothing is picked on the left wall but noggins are none, whatever the building says."""
    value = honey_house()
    value["defaults"]["noggins"] = {"rule": "staggered", "rows": 1}
    value["walls"]["left"] = {"noggins": None, "studs": None}
    file = tmp_path / "nulls.json"
    file.write_text(json.dumps(value))
    with serving(file) as server:
        page = ready(watched.open(server.address))
        page.locator(".plan a[data-wall='wall-left']").click()
        expect(page.locator("#wall-left")).to_be_visible()
        for name, said in (
            ("noggins", "none"),
            ("studs", "usual: equal bays"),
            ("corners", "as the building"),
        ):
            chosen = page.locator(entry(page, f"/walls/left/{name}")).locator("option:checked")
            assert said in (chosen.text_content() or ""), (name, chosen.text_content())
        expect(page.locator("#wall-left .piece.noggin")).to_have_count(0)
    assert watched.complaints == []


WRITTEN = (
    "45 mm",
    "2.4 m",
    "15 1/4 in",
    "1/16 in",
    "-3 in",
    "8 ft 6 1/2 in",
    "6'3\"",
    "8 ft",
    "12.5 cm",
    "0.5in",
)
MEASURED = [index * MM_PER_INCH / 32 for index in (0, 1, 2, 3, 5, 31, 383, 489, 1631)] + [
    577.5,
    -19.05,
    3506.2,
]


def test_lengths_are_read_and_told_as_the_engine_does(watched: Watched, honey_house_address: str) -> None:
    """Exact halves of a sixteenth among them; a limit in inches is the nearest sixteenth that keeps it."""
    page = ready(watched.open(honey_house_address))
    read = page.evaluate("(texts) => texts.map((text) => lengths.mm(text))", WRITTEN)
    assert read == pytest.approx([parse_length(text) for text in WRITTEN])
    told = page.evaluate("(all) => all.map((mm) => lengths.shownMm(mm, 'in'))", MEASURED)
    assert told == [format_figure(mm, "in") for mm in MEASURED]
    turned = page.evaluate("() => lengths.turned(building.file, 'in')")
    file = honey_house()
    assert turned["outline"]["length"] * MM_PER_INCH == pytest.approx(file["outline"]["length"])
    assert registry().read_building(turned).frame.section == pytest.approx(tuple(file["frame"]["section"]))
    page.evaluate("(file) => building.become(file, 'whole')", turned)
    limits = [100.0, 101.6, 305.0, 2000.0]
    for is_least in (True, False):
        said = page.evaluate(
            "([all, isLeast]) => all.map((mm) => lengths.limit(mm, isLeast))", [limits, is_least]
        )
        over = [parse_length(text) - mm for text, mm in zip(said, limits, strict=True)]
        assert all(0.0 <= round(each if is_least else -each, 6) < MM_PER_INCH / 16 for each in over)


def test_another_roof_leaves_a_lintel_let_in_under_the_plate(watched: Watched, tmp_path: Path) -> None:
    """It takes its room from the opening: the walls need not be higher for it."""
    value = json.loads((EXAMPLES / "seed_loft.json").read_text())
    del value["walls"]["front"]
    file = tmp_path / "let_in.json"
    file.write_text(json.dumps(value))
    with serving(file) as server:
        page = ready(watched.open(server.address))
        page.locator(entry(page, "/roof")).select_option("level")
        at_rest(page)
        assert held(page)["roof"] == {"form": "level", "height": 2200}
        page.locator(".plan a[data-wall='wall-left']").click()
        expect(page.locator("#wall-left .hole")).to_have_count(1)
    assert watched.complaints == []
