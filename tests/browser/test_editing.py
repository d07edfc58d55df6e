"""Changing a building on the page: the drawing follows, mistakes are told and taken back, nothing is lost."""

from __future__ import annotations

import csv
import io
import json
import textwrap
from pathlib import Path

import pdfplumber
import pytest
from playwright.sync_api import Page, Route, expect

from soleplate.api.work.starting import building_of
from soleplate.viewer.words.wording import wall_id
from tests.browser.conftest import Watched
from tests.buildings import BARE_HONEY_HOUSE, honey_house, layout_of, registry
from tests.serving import serving
from tests.viewer.sample import hostile_building


def ready(page: Page) -> Page:
    """Once the entries are made from the schema."""
    expect(page.locator("#entries .panel").first).to_be_visible()
    return page


def entry(page: Page, pointer: str) -> str:
    return f"[id='entry{pointer}']"


def type_in(page: Page, pointer: str, text: str) -> None:
    page.locator(entry(page, pointer)).fill(text)
    page.locator(entry(page, pointer)).press("Enter")


def drawn_marks(page: Page) -> list[str | None]:
    return [piece.get_attribute("data-mark") for piece in page.locator(".elevation .piece").all()]


def test_a_changed_width_changes_the_drawing(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    type_in(page, "/outline/length", "5 m")
    expect(page.locator(".wall-head .facts")).to_contain_text("5000 mm long")
    expected = layout_of(honey_house() | {"outline": honey_house()["outline"] | {"length": 5000}}).walls[0]
    points = {
        piece.get_attribute("data-mark"): piece.get_attribute("points")
        for piece in page.locator(".elevation .piece").all()
    }
    assert points.keys() == {piece.mark for piece in expected.pieces}
    for piece in expected.pieces:
        numbers = [
            float(number) for point in (points[piece.mark] or "").split() for number in point.split(",")
        ]
        assert numbers == pytest.approx([n for x, z in piece.outline for n in (x, -z)], abs=5e-4)
    assert watched.complaints == []


def test_undo_and_redo(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    facts = page.locator(".wall-head .facts")
    expect(page.get_by_role("button", name="Undo")).to_be_disabled()
    type_in(page, "/outline/length", "4800")
    expect(facts).to_contain_text("4800 mm long")
    page.get_by_role("button", name="Undo").click()
    expect(facts).to_contain_text("4500 mm long")
    expect(page.locator(entry(page, "/outline/length"))).to_have_value("4500")
    page.locator(".board").focus()
    page.keyboard.press("Control+Shift+Z")
    expect(facts).to_contain_text("4800 mm long")
    page.keyboard.press("Control+z")
    expect(facts).to_contain_text("4500 mm long")
    assert watched.complaints == []


def test_a_mistake_is_told_where_it_is_and_the_drawing_stands(
    watched: Watched, honey_house_address: str
) -> None:
    page = ready(watched.open(honey_house_address))
    before = drawn_marks(page)
    type_in(page, "/outline/length", "20")
    wrong = page.locator(entry(page, "/outline/length"))
    expect(wrong).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#entries .fault")).to_have_text("20 mm; accepted is 50 to 60000 mm")
    expect(page.locator("#status")).to_contain_text("the last good drawing stands")
    assert drawn_marks(page) == before
    page.get_by_role("button", name="length: 20 mm").click()
    expect(wrong).to_be_focused()
    type_in(page, "/outline/length", "4500")
    expect(page.locator("#status")).to_be_empty()
    expect(page.locator("[aria-invalid]")).to_have_count(0)
    assert watched.complaints == []


def test_an_opening_is_added_dragged_and_typed(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator(".plan a[data-wall='wall-left']").click()
    expect(page.locator("#wall-left .hole")).to_have_count(0)
    page.get_by_role("button", name="Add a window").click()
    hole = page.locator("#wall-left .hole")
    expect(hole).to_have_count(1)
    at = entry(page, "/walls/left/openings/0/at/left")
    expect(page.locator(at)).to_be_visible()
    typed = float(page.locator(at).input_value())
    box = hole.locator(".opening").bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    page.mouse.down()
    page.mouse.move(box["x"] + box["width"] / 2 - 60, box["y"] + box["height"] / 2, steps=5)
    page.mouse.up()
    expect(page.locator(at)).not_to_have_value(f"{typed:g}")
    dragged = float(page.locator(at).input_value())
    assert 0 <= dragged < typed - 50
    expect(hole).to_have_attribute("data-left", f"{dragged:g}")
    type_in(page, "/walls/left/openings/0/at/left", "700")
    expect(hole).to_have_attribute("data-left", "700")
    hole.focus()
    page.keyboard.press("ArrowRight")
    expect(hole).to_have_attribute("data-left", "710")
    expect(hole).to_be_focused()
    page.get_by_role("button", name="Take out").click()
    expect(page.locator("#wall-left .hole")).to_have_count(0)
    assert watched.complaints == []


def test_an_opening_stays_told_from_where_it_was_told(watched: Watched, honey_house_address: str) -> None:
    """The doors are 1500 wide in a wall of 4500: told from the right end, or by their middle."""
    page = ready(watched.open(honey_house_address))
    for at, left, stepped in (
        ({"right": 1200}, 1800, {"right": 1190}),
        ({"centre": 2000}, 1250, {"centre": 2010}),
    ):
        page.evaluate("(at) => building.set(['walls', 'front', 'openings', 0, 'at'], at, 'whole')", at)
        hole = page.locator(".hole")
        expect(hole).to_have_attribute("data-left", f"{left}")
        hole.focus()
        page.keyboard.press("ArrowRight")
        expect(hole).to_have_attribute("data-left", f"{left + 10}")
        assert page.evaluate("building.get(['walls', 'front', 'openings', 0, 'at'])") == stepped
    assert watched.complaints == []


def test_an_opening_is_told_from_its_namesake_in_another_wall(watched: Watched, tmp_path: Path) -> None:
    value = honey_house()
    value["walls"]["right"]["openings"][0]["name"] = value["walls"]["front"]["openings"][0]["name"]
    file = tmp_path / "namesakes.json"
    file.write_text(json.dumps(value))
    with serving(file) as server:
        page = ready(watched.open(server.address))
        page.get_by_role("link", name="All walls").click()
        front, right = page.locator("#wall-front .hole"), page.locator("#wall-right .hole")
        expect(right).to_have_attribute("tabindex", "0")
        stays, left = (float(hole.get_attribute("data-left") or "") for hole in (front, right))
        right.focus()
        page.keyboard.press("ArrowRight")
        expect(right).to_have_attribute("data-left", f"{left + 10:g}")
        expect(right).to_be_focused()
        expect(front).to_have_attribute("data-left", f"{stays:g}")
    assert watched.complaints == []


def test_the_place_of_an_opening_told_from_another_end_is_the_same_place(
    watched: Watched, honey_house_address: str
) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator("#entries summary", has_text="doors").click()
    page.locator("[id='entry/walls/front/openings/0/at-which']").select_option("right")
    expect(page.locator(entry(page, "/walls/front/openings/0/at/right"))).to_have_value("1500")
    expect(page.locator(".hole")).to_have_attribute("data-left", "1500")


def test_another_rule_is_picked(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    # No rule of that family ships.
    assert page.locator("[data-pointer$='/adjustments']").count() == 0
    assert page.locator("[data-pointer='/defaults/lining']").count() == 1
    page.locator("#entries summary", has_text="Rules for every wall").click()
    page.locator(entry(page, "/defaults/studs")).select_option("fixed-centres")
    value = honey_house()
    chosen = next(rule for rule in registry().of_family("stud_rules") if rule.name == "fixed-centres")
    value["defaults"]["studs"] = dict(chosen.model.examples[0])
    wall = layout_of(value).walls[0]
    expect(page.locator(".elevation .piece")).to_have_count(len(wall.pieces))
    assert watched.complaints == []


def test_what_the_tape_says_changes_the_wall(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator("#entries summary", has_text="As measured").click()
    type_in(page, "/measured/front/length", "4512")
    expect(page.locator(".wall-head .facts")).to_contain_text("4512 mm long")
    assert page.locator(".changes li").count() > 0
    type_in(page, "/measured/front/length", "")
    expect(page.locator(".changes li")).to_have_count(0)
    assert watched.complaints == []


def test_the_other_side_is_shown_and_dragged_the_other_way(
    watched: Watched, honey_house_address: str
) -> None:
    page = ready(watched.open(honey_house_address))
    page.get_by_label("inside").check()
    expect(page.locator(".wall[data-side=inside]")).to_be_visible()
    page.locator(".hole").focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator(".hole")).to_have_attribute("data-left", "1490")


def test_work_survives_a_closed_tab(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    type_in(page, "/outline/length", "4700")
    expect(page.locator(".wall-head .facts")).to_contain_text("4700 mm long")
    again = watched.page.context.new_page()
    page.close()
    again.goto(honey_house_address)
    expect(again.locator(".wall-head .facts")).to_contain_text("4700 mm long")
    again.get_by_role("button", name="Back to the file as it is").click()
    expect(again.locator(".wall-head .facts")).to_contain_text("4500 mm long")
    expect(again.get_by_role("button", name="Undo")).to_be_enabled()


def test_files_are_saved_and_opened(watched: Watched, honey_house_address: str, tmp_path: Path) -> None:
    page = ready(watched.open(honey_house_address))
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save a file").click()
    file = tmp_path / saved.value.suggested_filename
    saved.value.save_as(file)
    assert file.name == "honey_house.json"
    assert json.loads(file.read_text()) == honey_house()
    other = building_of({"length": "3000", "width": "2000", "name": "Seed store"}, registry())
    file.write_text(json.dumps(other))
    page.locator("#file").set_input_files(file)
    expect(page.locator("#facts h1")).to_have_text("Seed store")
    file.write_text("no JSON")
    page.locator("#file").set_input_files(file)
    expect(page.locator("#status")).to_contain_text("no JSON")
    assert page.locator("#facts h1").inner_text() == "Seed store"
    assert watched.complaints == []


def test_lists_and_sheets_are_saved(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.get_by_role("button", name="Sheets").click()
    with page.expect_download() as saved:
        page.locator("[data-export='cutting-list'] button").click()
    text = saved.value.path().read_text(encoding="utf-8-sig")
    layout = layout_of(honey_house())
    assert len(list(csv.reader(io.StringIO(text)))) == len(layout.cutting_list) + 1
    expect(page.locator("#sheets-said")).to_contain_text("Saved as")
    assert watched.complaints == []


def test_the_job_book_is_saved_on_the_paper_asked_for(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.get_by_role("button", name="Sheets").click()
    page.get_by_label("Paper").select_option("Letter")
    page.get_by_label("Created by").fill("Osier & 1=1")
    with page.expect_download() as saved:
        page.locator("[data-export='job-book'] button").click()
    with pdfplumber.open(saved.value.path()) as book:
        first = book.pages[0]
        assert (first.width, first.height) == (612.0, 792.0)
        assert "Osier & 1=1" in first.extract_text()
    assert watched.complaints == []


def test_what_the_title_block_says_is_remembered_for_its_building(
    watched: Watched, honey_house_address: str, tmp_path: Path
) -> None:
    told = {"Legal owner": "Osier & Daughters", "Created by": "Ash", "Rev.": "B", "Date of issue": "1 May"}
    page = ready(watched.open(honey_house_address))
    page.get_by_role("button", name="Sheets").click()
    page.get_by_label("Paper").select_option("Letter")
    for label, text in told.items():
        page.get_by_label(label).fill(text)
    page.reload()
    ready(page)
    page.get_by_role("button", name="Sheets").click()
    expect(page.get_by_label("Paper")).to_have_value("Letter")
    for label, text in told.items():
        expect(page.get_by_label(label)).to_have_value(text)
    page.get_by_role("button", name="Close").locator("visible=true").click()
    other = tmp_path / "other.json"
    other.write_text(json.dumps(building_of({"name": "Seed store"}, registry())))
    page.locator("#file").set_input_files(other)
    expect(page.locator("#facts h1")).to_have_text("Seed store")
    page.get_by_role("button", name="Sheets").click()
    for label in told:
        expect(page.get_by_label(label)).to_have_value("")
    page.get_by_label("Created by").fill("Rowan")
    page.get_by_label("Created by").fill("")
    assert page.evaluate("Object.keys(localStorage).filter((name) => name.includes('sheets:')).length") == 1
    assert watched.complaints == []


def test_a_building_is_begun_from_nothing(watched: Watched) -> None:
    with serving() as server:
        page = watched.open(server.address)
        page.get_by_label("What is it called?").fill("Seed store")
        page.get_by_label("How long, along the front?").fill("3 m")
        page.get_by_role("button", name="Draw it").click()
        expect(page.locator("#facts h1")).to_have_text("Seed store")
        expect(page.locator(".wall-head .facts")).to_contain_text("3000 mm long")
        ready(page)
        type_in(page, "/outline/length", "3100")
        expect(page.locator(".wall-head .facts")).to_contain_text("3100 mm long")
        page.get_by_role("button", name="New").click()
        expect(page.get_by_role("heading", name="Begin a building")).to_be_visible()
        page.locator("#unfinished").get_by_role("button", name="Seed store").click()
        expect(page.locator(".wall-head .facts")).to_contain_text("3100 mm long")
        page.get_by_role("button", name="New").click()
        page.get_by_role("link", name="Honey house").click()
        expect(page.locator("#facts h1")).to_have_text("Honey house")
    assert watched.complaints == []


def test_what_was_answered_is_kept_in_another_unit(watched: Watched) -> None:
    with serving() as server:
        page = watched.open(server.address)
        page.get_by_label("What is it called?").fill("Bell hut")
        page.get_by_label("How long, along the front?").fill("4000")
        page.get_by_label("Where is the door?").select_option("left")
        page.get_by_label("What is it clad in?").select_option("lapped")
        page.get_by_role("button", name="Ask in feet and inches").click()
        expect(page.get_by_label("What is it called?")).to_have_value("Bell hut")
        expect(page.get_by_label("How long, along the front?")).to_have_value("13 ft 1 1/2 in")
        expect(page.get_by_label("How deep, front to back?")).to_have_value("8 ft")
        expect(page.get_by_label("Where is the door?")).to_have_value("left")
        expect(page.get_by_label("What is it clad in?")).to_have_value("lapped")
        assert watched.violations() == []
        page.get_by_label("How deep, front to back?").fill("")
        page.get_by_role("button", name="Ask in millimetres").click()
        expect(page.get_by_label("How long, along the front?")).to_have_value("4000.5")
        page.get_by_label("How deep, front to back?").fill("2500")
        page.get_by_label("How long, along the front?").fill("4000")
        page.get_by_label("How long, along the front?").press("Enter")
        expect(page.locator("#facts h1")).to_have_text("Bell hut")
        expect(page.locator(".wall-head .facts")).to_contain_text("4000 mm long")
    assert watched.complaints == []


PLUGIN = textwrap.dedent(
    '''
    from typing import Literal

    from soleplate.engine.rules import hookimpl
    from soleplate.engine.rules import StudRule, Run


    class MiddleStud(StudRule):
        """A stud in the middle of each clear space."""

        examples = ({"rule": "middle-stud"},)
        rule: Literal["middle-stud"] = "middle-stud"
        doubled: bool = False
        """Whether two stand there side by side."""

        def place_studs(self, run: Run) -> list[float]:
            middle, breadth = (run.left + run.right) / 2, run.breadth
            return [middle - breadth, middle] if self.doubled else [middle - breadth / 2]


    @hookimpl
    def register_rules() -> list[type[StudRule]]:
        return [MiddleStud]
    '''
)


def test_a_rule_of_a_plugin_is_picked_and_typed(watched: Watched, tmp_path: Path) -> None:
    plugin = tmp_path / "middle_stud.py"
    plugin.write_text(PLUGIN)
    with serving(BARE_HONEY_HOUSE, "--plugin", plugin) as server:
        page = ready(watched.open(server.address))
        page.locator(".plan a[data-wall='wall-left']").click()
        page.locator("#entries summary", has_text="Rules for every wall").click()
        page.locator(entry(page, "/defaults/studs")).select_option("middle-stud")
        studs = page.locator("#wall-left .piece[data-role=stud]")
        expect(studs).to_have_count(3)
        page.get_by_label("doubled").check()
        expect(studs).to_have_count(4)
        page.get_by_label("doubled").focus()
        expect(page.locator("#entry-help")).to_contain_text("Whether two stand there side by side.")
    assert watched.complaints == []


def test_by_the_keyboard_alone(watched: Watched, honey_house_address: str) -> None:
    """From the plan to a wall, to a piece and its card, to an entry, and back by undo."""
    page = ready(watched.open(honey_house_address))

    def tab_to(description: str, at_most: int = 120) -> None:
        for _ in range(at_most):
            page.keyboard.press("Tab")
            if page.evaluate("(selector) => document.activeElement.matches(selector)", description):
                return
        pytest.fail(f"{description} cannot be reached by the Tab key")

    tab_to(".plan a[data-wall='wall-right']")
    page.keyboard.press("Enter")
    expect(page.locator("#wall-right")).to_be_visible()
    tab_to("#wall-right .piece")
    first = page.evaluate("document.activeElement.dataset.mark")
    page.keyboard.press("ArrowRight")
    assert page.evaluate("document.activeElement.dataset.mark") != first
    page.keyboard.press("Enter")
    expect(page.locator("#cut-card")).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.locator("#cut-card")).to_be_hidden()
    tab_to("[id='entry/outline/length']")
    page.keyboard.press("ArrowUp")
    expect(page.locator("[id='entry/outline/length']")).to_have_value("4510")
    expect(page.locator("[id='entry/outline/length']")).to_be_focused()
    expect(page.get_by_role("button", name="Undo")).to_be_enabled()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Control+z")
    assert watched.complaints == []


def test_the_lists_follow_the_drawing(watched: Watched, honey_house_address: str) -> None:
    page = ready(watched.open(honey_house_address))
    page.locator(".piece[data-role=stud]").first.click()
    type_in(page, "/roof/low_height", "2000")
    value = honey_house()
    value["roof"]["low_height"] = 2000
    layout = layout_of(value)
    lengths = [row.display for row in layout.cutting_list]
    expect(page.locator("#cutting-list [data-field=length]")).to_have_text(lengths)
    expect(page.locator("#lists[aria-busy]")).to_have_count(0)
    mark = page.locator("#cut-card [data-slot=mark]").inner_text()
    piece = next(piece for wall in layout.walls for piece in wall.pieces if piece.mark == mark)
    expect(page.locator("#cut-card [data-slot=length]")).to_have_text(piece.display)
    assert watched.complaints == []


def test_hostile_names_stay_text_in_entries_and_on_the_way_round(watched: Watched, tmp_path: Path) -> None:
    building = hostile_building()
    names = [wall["name"] for wall in building["outline"]["walls"]]
    file = tmp_path / "hostile.json"
    file.write_text(json.dumps(building))
    with serving(file) as server:
        page = ready(watched.open(server.address))
        for name in reversed(names):
            page.locator(f".plan a[data-wall='{wall_id(name)}']").click()
            expect(page.locator("#walls .wall")).to_have_attribute("data-name", name)
            expect(page.locator("#entries summary").first).to_have_text(f"Wall {name}")
            page.get_by_role("button", name="Add a window").click()
            expect(page.locator(".hole")).to_have_count(1)
        page.get_by_role("button", name="Bench").click()
        expect(page.locator("#bench-step")).to_contain_text("<b>C16</b>")
        assert page.locator("img, #bench b").count() == 0
        assert page.locator("script:not([src], [type='application/json'])").count() == 0
    assert watched.complaints == []


def test_what_the_schema_says_is_said_in_the_page_s_language(
    watched: Watched, honey_house_address: str
) -> None:
    """The page's data tell it, by the schema's own words; what they do not tell is shown as it is."""
    page = ready(watched.open(honey_house_address))
    label, help_text = "label[for='entry/roof/pitch']", "[id='entry/roof/pitch-help']"
    assert page.locator(label).inner_text() == "pitch"
    words = {"pitch": "Neigung", page.locator(help_text).text_content(): "In Grad."}

    def translated(route: Route) -> None:
        answer = route.fetch()
        body = answer.text()
        assert body.count('"schema":{}') == 1
        told = json.dumps(words, ensure_ascii=True).replace("<", "\\u003c")
        route.fulfill(response=answer, body=body.replace('"schema":{}', f'"schema":{told}'))

    page.route(honey_house_address, translated)
    page.reload()
    ready(page)
    expect(page.locator(label)).to_have_text("Neigung")
    expect(page.locator(help_text)).to_have_text("In Grad.")
    expect(page.locator("label[for='entry/outline/length']")).to_have_text("length")
