"""The page and its parts over HTTP: begun from examples or answers, drawn afresh, faults in their place."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.api.work.boards import examples, file_of
from soleplate.api.work.messages import EXAMPLE_BUILDING
from soleplate.api.work.starting import building_of
from soleplate.api.work.turned_answers import turned
from soleplate.engine import lay_out, load_registry
from soleplate.engine.building_file import Units
from soleplate.viewer.drawings import drawn_parts
from soleplate.viewer.page.parts import PARTS
from soleplate.viewer.page.start import QUESTIONS
from tests.buildings import HONEY_HOUSE, building, honey_house, layout_of, registry
from tests.serving import BASE


def ids_at_the_top(html: str) -> list[str]:
    return [part for part in PARTS if f'id="{part}"' in html]


def test_every_part_of_the_page_is_drawn_afresh(client: TestClient) -> None:
    answer = client.post("/v1/boards", json={"building": honey_house(), "wall": "back"})
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    assert ids_at_the_top(answer.text) == list(PARTS)
    assert re.findall(r'<section id="wall-(\w+)"', answer.text) == ["back"]


def test_the_parts_are_those_of_the_page(client: TestClient) -> None:
    """One implementation: what the server shows first is what it draws afresh, but for the links."""
    page = client.get("/?example=honey_house").text
    example = json.loads(HONEY_HOUSE.read_text())
    parts = client.post("/v1/boards", json={"building": example, "wall": "front"}).text
    for start in (
        '<div id="facts"',
        '<section id="wall-front"',
        '<section id="cutting-list"',
    ):
        whole = parts[parts.index(start) :]
        stretch = whole[
            : whole.index("</section>" if "section" in start else "</div>" if "div" in start else "</svg>")
        ]
        assert stretch in page


def test_the_drawing_comes_without_the_lists_where_that_is_enough(client: TestClient) -> None:
    answer = client.post("/v1/boards", json={"building": honey_house(), "wall": "back", "lists": False})
    assert ids_at_the_top(answer.text) == [part for part in PARTS if part != "lists"]


@pytest.mark.parametrize(("wall", "shown"), [(None, ["front", "right", "back", "left"]), ("gone", ["front"])])
def test_all_walls_or_the_first(client: TestClient, wall: str | None, shown: list[str]) -> None:
    answer = client.post("/v1/boards", json={"building": honey_house(), "wall": wall})
    assert re.findall(r'<section id="wall-(\w+)"', answer.text) == shown


def test_the_side_is_that_asked_for(client: TestClient) -> None:
    inside = client.post("/v1/boards", json={"building": honey_house(), "wall": "front", "side": "inside"})
    assert "front: seen from inside" in inside.text
    assert 'data-side="inside"' in inside.text


def test_the_sawing_is_planned_where_that_is_asked_for(client: TestClient) -> None:
    value = building(
        stock={"stock": [{"section": [45, 70], "lengths": [{"length": 4800}]}], "time_budget_s": 0.2}
    )
    fast = client.post("/v1/boards", json={"building": value}).text
    whole = client.post("/v1/boards", json={"building": value, "saw_plan": True}).text
    assert 'id="saw-plan"' not in fast
    assert 'id="saw-plan"' in whole


def test_a_fault_is_told_by_its_place(client: TestClient) -> None:
    value = building(outline={"length": 20, "width": 2700})
    answer = client.post("/v1/boards", json={"building": value})
    assert answer.status_code == 422
    (fault,) = answer.json()["errors"]
    assert fault == {"pointer": "/building/outline/length", "detail": "20 mm; accepted is 50 to 60000 mm"}
    asked_for = client.post("/v1/boards", json={"building": value, "faults": True})
    assert asked_for.status_code == 200
    assert asked_for.headers["content-type"] == "application/json"
    assert asked_for.json() == {"errors": [fault]}


def test_an_obstacle_over_a_wall_is_told_at_once(client: TestClient) -> None:
    """By hand: the front wall's outer face is at Y = 0, and the post reaches 60 mm past it."""
    post = {"name": "post", "polygon": [[200, -50], [400, -50], [400, 60], [200, 60]]}
    value = building() | {"site": {"obstacles": [post]}}
    errors = client.post("/v1/boards", json={"building": value, "faults": True}).json()["errors"]
    assert [each["pointer"] for each in errors] == ["/building/site/obstacles/0"]
    assert errors[0]["detail"].startswith("post stands in wall front by 60 mm")
    clear = [[x, y - 60] for x, y in post["polygon"]]
    value["site"]["obstacles"][0]["polygon"] = clear
    answer = client.post("/v1/boards", json={"building": value, "faults": True})
    assert answer.headers["content-type"].startswith("text/html")


@pytest.mark.parametrize("faulty", [None, 3, [], building(units="ells")], ids=repr)
def test_any_building_is_answered_where_its_faults_are_asked_for(client: TestClient, faulty: Any) -> None:
    """And no faulty one elsewhere: the document and the server agree on both."""
    body = "#/paths/~1v1~1boards/post/requestBody/content/application~1json/schema"
    described = Draft202012Validator({**client.get("/openapi.json").json(), "$ref": body})
    for asked, status in (({}, 422), ({"faults": False}, 422), ({"faults": True}, 200)):
        sent = {"building": faulty, **asked}
        answer = client.post("/v1/boards", json=sent)
        assert (answer.status_code, described.is_valid(sent)) == (status, status == 200)
        assert answer.json()["errors"][0]["pointer"].startswith("/building")


def test_a_faulty_request_is_refused_where_faults_of_the_building_are_asked_for(client: TestClient) -> None:
    answer = client.post("/v1/boards", json={"building": honey_house(), "faults": True, "wall": 3})
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["pointer"] == "/wall"


def test_the_schema_is_the_published_one(client: TestClient) -> None:
    schema = client.get("/v1/schema").json()
    assert schema == registry().building_schema()
    assert schema["$defs"]["EqualBays"]["examples"]


ROWS = '''
from typing import Annotated, Literal
from pydantic import Field
from soleplate.engine.rules import NogginRule, hookimpl


class OneLine(NogginRule):
    """No noggins yet."""

    examples = ({"rule": "one-line"},)
    rule: Literal["one-line"] = "one-line"
    count: Annotated[int, Field(ge=0, le=3)] = 0
    """Rows."""

    @classmethod
    def begun_with(cls, rows):
        return {"rule": "one-line", "count": rows}

    def place_noggins(self, wall):
        return []


@hookimpl
def register_rules():
    return [OneLine]
'''

STARTED_WITH = [rule.name for rule in registry().of_family("cladding_rules") if rule.name != "bare"]


@pytest.mark.parametrize("name", sorted(examples()))
def test_every_example_can_be_begun_with(client: TestClient, name: str) -> None:
    answer = client.get("/", params={"example": name})
    assert answer.status_code == 200
    assert f"<h1>{examples()[name]['name']}</h1>" in answer.text


def test_there_is_no_other_example(client: TestClient) -> None:
    assert client.get("/?example=../pyproject").status_code == 404


@pytest.mark.parametrize("roof", ["mono-pitch", "duo-pitch", "level"])
@pytest.mark.parametrize("door", ["front", "left", "none"])
def test_a_few_answers_give_a_building(client: TestClient, roof: str, door: str) -> None:
    answers = {"length": "3 m", "width": "7 ft 6 in", "roof": roof, "door": door}
    laid_out = layout_of(building_of(answers, registry()))
    assert [wall.length for wall in laid_out.walls][:2] == [3000, pytest.approx(2286 - 190)]
    openings = {wall.name: len(wall.openings) for wall in laid_out.walls if wall.openings}
    assert openings == ({} if door == "none" else {door: 1})
    assert not [finding for finding in laid_out.findings if finding.level == "stop"]
    answer = client.get("/", params=answers)
    assert answer.status_code == 200
    assert "<h1>Garden store</h1>" in answer.text


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("cladding", ["none", *STARTED_WITH])
@pytest.mark.parametrize("roof", ["mono-pitch", "duo-pitch", "level"])
def test_what_is_begun_with_is_faulted_in_nothing_that_was_chosen_for_it(
    units: str, cladding: str, roof: str
) -> None:
    """Lintels where the roof rests, centres that linings span, and boards that stay flat."""
    file = building_of({"units": units, "cladding": cladding, "roof": roof}, registry())
    assert file["units"] == units
    codes = {finding.code for finding in layout_of(file).findings}
    assert not codes & {"no-lintel", "wide-bay", "wide-for-stud", "thin-board", "short-lap", "narrow-sheet"}


def test_the_start_draws_with_what_is_installed(tmp_path: Path) -> None:
    """Without the noggins that ship no rows are picked; a rule that says so is begun with in their place."""
    plain = load_registry(blocked=["noggins"])
    file = building_of({}, plain)
    assert "noggins" not in file["defaults"]
    assert lay_out(plain.read_building(file), plain).walls
    client = TestClient(create_app(plain), base_url=BASE)
    assert "<h1>Garden store</h1>" in client.get("/?length=3600&width=2400").text
    rows = tmp_path / "rows.py"
    rows.write_text(ROWS)
    other = load_registry(blocked=["noggins"], files=[rows])
    file = building_of({"low_height": "2400"}, other)
    assert file["defaults"]["noggins"] == {"rule": "one-line", "count": 2}
    assert lay_out(other.read_building(file), other).walls


def test_a_rule_that_lays_nothing_is_not_offered(client: TestClient) -> None:
    begun = client.get("/?start=").text
    offered = set(re.findall(r'<option value="([a-z-]+)"', begun[begun.index('name="cladding"') :]))
    assert offered == {"none", *STARTED_WITH}


def test_answers_are_told_in_another_unit() -> None:
    answers = {"name": "Bell hut", "length": "4000", "width": "2400", "centres": "40 cm",
               "low_height": "high", "section": "45 x 145", "pitch": "9", "ask_in": "in"}  # fmt: skip
    inches = turned(answers)
    assert inches == {
        "units": "in", "name": "Bell hut", "length": "13 ft 1 1/2 in", "width": "8 ft",
        "centres": "1 ft 3 3/4 in", "low_height": "high", "section": "1 1/2 x 5 1/2", "pitch": "9",
    }  # fmt: skip
    back = turned({**inches, "centres": "14 1/2", "ask_in": "mm"})
    assert back == {
        "units": "mm", "name": "Bell hut", "length": "4000.5", "width": "2400", "centres": "368.3",
        "low_height": "high", "section": "45 x 145", "pitch": "9",
    }  # fmt: skip
    assert turned({**back, "ask_in": "mm"}) == back
    assert turned({"section": "thick", "ask_in": "in"})["section"] == "1 1/2 x 3 1/2"


@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_usual_section_has_its_like_in_the_other_unit(units: Units) -> None:
    other: Units = "in" if units == "mm" else "mm"
    for section in QUESTIONS[units][6].choices:
        assert (
            turned({"units": units, "section": section, "ask_in": other})["section"]
            in QUESTIONS[other][6].choices
        )


def test_the_start_asks_in_feet_and_inches_too(client: TestClient) -> None:
    asked = client.get("/", params={"start": "", "units": "in"}).text
    assert 'name="length" value="12 ft"' in asked
    assert '<option value="1 1/2 x 3 1/2" selected' in asked
    assert 'name="units" value="in"' in asked
    assert 'name="ask_in" value="mm"' in asked
    answers = {"units": "in", "length": "15 ft", "width": "96", "section": "1 1/2 x 5 1/2"}
    begun = layout_of(building_of(answers, registry()))
    assert (begun.units, begun.walls[0].display) == ("in", "15 ft")
    assert begun.walls[1].length == pytest.approx((96 - 11) * 25.4)
    door = begun.walls[0].openings[0]
    assert door.right - door.left == pytest.approx(36 * 25.4)
    wrong = client.get("/", params={**answers, "low_height": "1"}).text
    assert re.findall(r'<small id="start-(\w+)-fault"', wrong) == ["low_height"]
    assert "1 in; accepted is 3 15/16 in to" in wrong


@pytest.mark.parametrize(
    ("answers", "question"),
    [
        ({"length": "3 m x", "width": "2000"}, "length"),
        ({"length": "3000", "width": "2000", "pitch": "steep"}, "pitch"),
        ({"length": "3000", "width": "2000", "section": "2 by 4 by 6"}, "section"),
        ({"length": "3000", "width": "2000", "low_height": "1"}, "low_height"),
        ({"length": "3000", "width": "2000", "name": " "}, "name"),
    ],
)
def test_a_wrong_answer_is_told_at_its_question(
    client: TestClient, answers: dict[str, str], question: str
) -> None:
    answer = client.get("/", params=answers)
    assert answer.status_code == 200
    assert re.findall(r'<small id="start-(\w+)-fault"', answer.text) == [question]
    assert 'value="2000"' in answer.text


def test_the_page_holds_the_file_as_it_was_given() -> None:
    value: dict[str, Any] = honey_house()
    assert file_of(registry().read_building(value)) == value
    assert file_of(registry().read_building(EXAMPLE_BUILDING)) == EXAMPLE_BUILDING


def test_without_a_script_links_lead_to_the_other_walls(client: TestClient) -> None:
    page = client.get("/?example=honey_house").text
    assert 'href="?example=honey_house&amp;wall=right"' in page
    other = client.get("/?example=honey_house&wall=right&side=inside").text
    assert re.findall(r'<section id="wall-(\w+)"', other) == ["right"]
    assert "right: seen from inside" in other
    whole = client.get("/?example=honey_house&all=walls").text
    names = [wall.name for wall in drawn_parts(layout_of(json.loads(HONEY_HOUSE.read_text())))]
    assert len(names) == 6
    assert re.findall(r'<section id="wall-([^"]+)"', whole) == [name.replace(" ", "%20") for name in names]


@pytest.mark.parametrize("left_out", ["noggins", "openings", "cladding-lapped", "cladding-upright"])
def test_the_start_offers_what_is_installed_alone(left_out: str) -> None:
    """Answers are drawn without what is left out, and each example that is offered can be begun with."""
    there = load_registry(blocked=[left_out])
    client = TestClient(create_app(there), base_url=BASE)
    shown = client.get("/", params={"length": "3600", "width": "2400", "low_height": "2400"})
    assert shown.status_code == 200
    assert 'class="fault"' not in shown.text
    assert 'data-role="stud"' in shown.text
    offered = re.findall(r'href="\?example=([a-z_]+)"', shown.text)
    assert set(offered) < set(examples())
    for name in offered[:2]:
        assert client.get("/", params={"example": name}).status_code == 200
    names = {rule.name for rule in there.rules} - {"bare"}
    choices = shown.text.partition('name="cladding"')[2].partition("</select>")[0]
    assert set(re.findall(r'value="([a-z-]+)"', choices)) - {"none"} <= names


def test_what_nothing_can_be_framed_without_is_named_at_the_start() -> None:
    client = TestClient(create_app(load_registry(blocked=["studs"])), base_url=BASE)
    shown = client.get("/", params={"length": "3600", "width": "2400"})
    assert "no installed rule stands in for studs; install a plugin that brings one" in shown.text
