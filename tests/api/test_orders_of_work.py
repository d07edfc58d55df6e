"""Orders of work over HTTP and on the command line."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient
from typer.testing import CliRunner

from soleplate.api.command_line import app
from soleplate.api.work.messages import EXAMPLE_BUILDING, EXAMPLE_SITE
from tests.api.test_bad_requests import problem
from tests.buildings import building
from tests.viewer.sheets.reading_pdf import read
from tests.yards import TILTED, banks, hut

BETWEEN_BANKS = hut({"obstacles": banks(300), "ways": TILTED})
NO_ORDER = hut({"obstacles": banks(300), "ways": TILTED}, through="pinwheel")


def ask(client: TestClient, value: Any) -> dict[str, Any]:
    answer = client.post("/v1/orders-of-work", json=value)
    assert answer.status_code == 200, answer.text
    told: dict[str, Any] = answer.json()
    return told


def test_an_order_is_told_step_by_step_and_the_same_every_time(client: TestClient) -> None:
    told = ask(client, BETWEEN_BANKS)
    order = told["order_of_work"]
    assert (order["possible"], order["best"], order["states"], order["orders"]) == (True, True, 16, 4)
    assert order["preference"] == {
        "over_limit": 0, "framed_standing": 0, "off_deck": 0, "braced": 3, "kg_m": 0.0, "clad_early": 0,
    }  # fmt: skip
    assert [step["number"] for step in order["steps"]] == list(range(1, len(order["steps"]) + 1))
    raises = [step for step in order["steps"] if step["kind"] == "raise"]
    assert [step["wall"] for step in raises] == ["back", "front", "left", "right"]
    first = raises[0]
    assert (first["way"], first["clad"], first["people"], first["hours"]) == ("tilt-up", False, 1, 0.75)
    assert first["peak_kg"] == pytest.approx(first["weight_kg"] / 2, rel=0.02)
    assert (first["dry"], first["whole"], first["standing"]) == (True, True, [])
    assert raises[2]["standing"] == ["back", "front"]
    (brace,) = first["braces"]
    assert (brace["wall"], brace["where"], len(brace["feet"])) == ("back", "ends", 2)
    assert brace["off_after"] == raises[2]["number"]
    # One person raises them: that is told, and nothing else.
    assert [each["code"] for each in told["findings"]] == ["raised-alone"]
    again = client.post("/v1/orders-of-work", json=BETWEEN_BANKS)
    assert again.json() == told


def test_where_there_is_none_it_says_what_is_in_the_way(client: TestClient) -> None:
    told = ask(client, NO_ORDER)
    order = told["order_of_work"]
    assert (order["possible"], order["orders"], order["steps"]) == (False, 0, [])
    assert ["front", "left", "right"] in [sorted(names) for names in order["furthest"]]
    assert order["ways"][0] | {"braces": []} == {
        "wall": "right", "panel": None, "way": "tilt-up", "how": None, "walls": ["back"], "obstacles": {},
        "braces": [], "width": None,
    }  # fmt: skip
    assert {each["to"] for each in order["may_help"]} == {"front-back", "left-right"}
    assert [each["code"] for each in told["findings"]] == ["no-order"]


def test_a_building_without_a_site_has_an_order_and_walls_on_their_own_have_none(client: TestClient) -> None:
    assert ask(client, EXAMPLE_BUILDING)["order_of_work"]["possible"]
    assert ask(client, EXAMPLE_BUILDING | {"site": EXAMPLE_SITE})["order_of_work"]["possible"]
    alone = building(
        outline={"walls": [{"name": "partition", "length": 3000}]}, roof={"form": "level", "height": 2400}
    )
    assert ask(client, alone) == {"order_of_work": None, "findings": []}


def test_a_layout_carries_no_order(client: TestClient) -> None:
    assert "order_of_work" not in client.post("/v1/layouts", json=BETWEEN_BANKS).json()


def on_site(**site: Any) -> dict[str, Any]:
    return hut(site)


def post(**changes: Any) -> list[dict[str, Any]]:
    return [{"name": "post", "polygon": [[200, -900], [400, -900], [400, -700]]} | changes]


@pytest.mark.parametrize(
    ("value", "kind", "pointer", "words"),
    [
        (on_site(obstacles=post(polygon=[[200, -50], [400, -50], [400, 60], [200, 60]])), "unbuildable",
         "/site/obstacles/0", "post stands in wall front by 60 mm"),
        (on_site(obstacles=post(polygon=[[0, 0], [900, 900], [900, 0], [0, 900]])), "unbuildable",
         "/site/obstacles/0/polygon", "side 1 meets side 3"),
        (on_site(obstacles=post(polygon=[[0, 0], [900, 900]])), "schema",
         "/site/obstacles/0/polygon", "at least 3"),
        (on_site(obstacles=post(bottom=900, top=900)), "unbuildable", "/site/obstacles/0/top", "over 900 mm"),
        (on_site(obstacles=post(bottom=1900)), "unbuildable", "/site/obstacles/0", "1800 mm, is not over"),
        (on_site(obstacles=post(clear=300)), "unbuildable", "/site/obstacles/0", "clear goes with beside"),
        (on_site(obstacles=[{"name": "bank"}]), "unbuildable", "/site/obstacles/0", "beside, with clear, or"),
        (on_site(obstacles=[{"name": "bank", "beside": "barn", "clear": 9}]), "unbuildable",
         "/site/obstacles/0/beside", "there is no wall 'barn'"),
        (on_site(obstacles=banks({"back": 300}) + post(name="bank back")), "unbuildable",
         "/site/obstacles/1/name", "two obstacles are called"),
        (on_site(room={"back": 350}, obstacles=post(name="room back")), "unbuildable",
         "/site/obstacles/0/name", "two obstacles are called"),
        (on_site(obstacles=banks({"back": 300}, along=[900, 100])), "unbuildable", "/site/obstacles/0/along",
         "from left to right"),
        (on_site(framing_place={"polygon": [[0, -3000], [900, -3000], [900, -2000]]}), "unbuildable",
         "/site/framing_place/polygon", "at least 1 m2"),
        (on_site(framing_place={"polygon": [[0, -50000], [9000, -50000], [9000, -40000]]}), "unbuildable",
         "/site", "30000 mm"),
        (on_site(ways=["tilt-up", "hoist"]), "unbuildable", "/site/ways/1", "accepted are carried, carried-"),
        (hut(walls={"back": {"raising": {"rule": "hoist"}}}), "schema", "/walls/back/raising", "tilt-up"),
        (on_site(wind=9), "schema", "/site/wind", "at most 8"),
        (on_site(dry_hours=[{"name": "Saturday", "hours": 25}]), "schema", "/site/dry_hours/0/hours",
         "at most 24"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_its_place(
    client: TestClient, value: Any, kind: str, pointer: str, words: str
) -> None:
    answer = client.post("/v1/orders-of-work", json=value)
    assert answer.status_code == 422
    told = problem(answer, kind)
    assert [(each["pointer"], words in each["detail"]) for each in told["errors"]] == [(pointer, True)], told


def run(path: Path, value: Any, *options: str) -> tuple[int, str]:
    file = path / "building.json"
    file.write_text(json.dumps(value))
    done = CliRunner().invoke(app, ["order-of-work", str(file), *options])
    return done.exit_code, done.stdout


def test_on_the_command_line(tmp_path: Path) -> None:
    code, text = run(tmp_path, BETWEEN_BANKS)
    assert code == 0
    assert "the walls can be raised in 4 sequences" in text
    assert "raise back (tilt-up)" in text
    assert "before left: once that stands, back can no longer be raised" in text
    assert "caution: Lifting" in text
    code, text = run(tmp_path, BETWEEN_BANKS, "--json")
    assert code == 0
    assert json.loads(text)["order_of_work"]["orders"] == 4


def test_the_command_exits_1_without_an_order(tmp_path: Path) -> None:
    code, text = run(tmp_path, NO_ORDER)
    assert code == 1
    assert "no order: at the most these stand together" in text
    assert "right, tilt-up: back in the way" in text
    assert "there is an order with the corners left-right" in text
    assert run(tmp_path, NO_ORDER, "--json")[0] == 1


def test_what_is_written_of_a_layout_has_its_order(tmp_path: Path) -> None:
    file = tmp_path / "building.json"
    file.write_text(json.dumps(BETWEEN_BANKS))
    done = CliRunner().invoke(app, ["layout", str(file), "--json"])
    assert json.loads(done.stdout)["order_of_work"]["orders"] == 4
    file.write_text(json.dumps(NO_ORDER))
    done = CliRunner().invoke(app, ["check", str(file)])
    assert done.exit_code == 1
    assert "no-order" in done.stdout


@pytest.mark.parametrize(
    ("accept", "kind"),
    [("*/*", "application/json"), ("application/json, text/html", "application/json"),
     ("text/html;q=0.4, application/json;q=0.6", "application/json"),
     ("text/html", "text/html; charset=utf-8"), ("text/html, */*;q=0.1", "text/html; charset=utf-8")],
)  # fmt: skip
def test_who_asks_for_html_gets_the_steps_drawn(client: TestClient, accept: str, kind: str) -> None:
    answer = client.post("/v1/orders-of-work", json=BETWEEN_BANKS, headers={"Accept": accept})
    assert (answer.status_code, answer.headers["content-type"]) == (200, kind)
    steps = len(ask(client, BETWEEN_BANKS)["order_of_work"]["steps"])
    if kind.startswith("text/html"):
        assert answer.text.count('class="raising-step"') == steps
    else:
        assert len(answer.json()["order_of_work"]["steps"]) == steps


def test_names_in_drawn_steps_cannot_become_elements(client: TestClient) -> None:
    hostile = "<img src=x onerror=alert(1)>"
    value = hut({"obstacles": [{"name": hostile, "beside": "back", "clear": 300}]})
    answer = client.post("/v1/orders-of-work", json=value, headers={"Accept": "text/html"})
    assert answer.status_code == 200
    assert "<img" not in answer.text


def test_the_job_book_of_a_call_has_the_raising_sheets(client: TestClient) -> None:
    answer = client.post("/v1/exports/job-book", json=BETWEEN_BANKS)
    assert answer.status_code == 200
    steps = ask(client, BETWEEN_BANKS)["order_of_work"]["steps"]
    said = "".join("".join(page.text.split()) for page in read(answer.content))
    assert said.count("Itmaybebrokenoff.") + said.count("Finishitinonego.") == len(steps)
