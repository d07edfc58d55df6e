"""Every call, as another program makes it."""

from __future__ import annotations

import json
from importlib.metadata import version
from typing import Any
from xml.etree import ElementTree

import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.api.http.problem_types import PROBLEMS
from soleplate.api.work.messages import EXAMPLE_BUILDING, EXAMPLE_WALL
from soleplate.engine.laying_out import layout_json
from soleplate.viewer.page.start import QUESTIONS
from tests.buildings import honey_house, layout_of, registry
from tests.serving import BASE

SVG = "{http://www.w3.org/2000/svg}"


def test_a_layout_is_that_of_the_engine(client: TestClient) -> None:
    answer = client.post("/v1/layouts", json=honey_house())
    assert (answer.status_code, answer.headers["content-type"]) == (200, "application/json")
    assert answer.json() == json.loads(layout_json(layout_of(honey_house())))
    assert client.post("/v1/layouts", json=honey_house()).content == answer.content


def test_a_wall_on_its_own(client: TestClient) -> None:
    answer = client.post("/v1/walls", json=EXAMPLE_WALL)
    assert answer.status_code == 200
    (wall,) = answer.json()["walls"]
    assert (wall["name"], wall["length"]) == ("partition", 3120.0)
    assert wall["openings"][0]["left"] == 1400.0
    sole = next(piece for piece in wall["pieces"] if piece["role"] == "stud")
    assert sole["length"] == 2400.0 - 2 * 38.0


def test_a_wall_in_inches(client: TestClient) -> None:
    wall = {"name": "w", "units": "in", "frame": {"section": [1.5, 3.5]}, "length": "8 ft", "height": 96}
    answer = client.post("/v1/walls", json=wall)
    assert answer.status_code == 200
    assert answer.json()["walls"][0]["length"] == 2438.4


@pytest.mark.parametrize("side", ["outside", "inside"])
def test_an_elevation(client: TestClient, side: str) -> None:
    request = {"building": honey_house(), "wall": "front", "side": side}
    answer = client.post("/v1/elevations", json=request)
    assert (answer.status_code, answer.headers["content-type"]) == (200, "image/svg+xml")
    root = ElementTree.fromstring(answer.text)
    assert root.tag == f"{SVG}svg"
    assert side in root.attrib["aria-label"]


def test_an_elevation_has_the_layers_asked_for(client: TestClient) -> None:
    request = {"building": honey_house(), "wall": "front", "layers": ["frame"]}
    root = ElementTree.fromstring(client.post("/v1/elevations", json=request).text)
    groups = {group.get("class") for group in root.iter(f"{SVG}g")}
    assert "layer frame" in groups
    assert "layer dimensions" not in groups


def test_rules_tell_all_of_themselves(client: TestClient) -> None:
    rules: list[dict[str, Any]] = client.get("/v1/rules").json()["rules"]
    assert [(rule["family"], rule["rule"], rule["plugin"]) for rule in rules] == [
        (rule.family, rule.name, rule.plugin) for rule in registry().rules
    ]
    for rule in rules:
        assert rule["description"]
        assert rule["schema"]["additionalProperties"] is False
        assert rule["schema"]["properties"]["rule"]["const"] == rule["rule"]
        assert rule["examples"]
        assert all(example["rule"] == rule["rule"] for example in rule["examples"])


def test_plugins_tell_what_they_offer(client: TestClient) -> None:
    plugins = {plugin["name"]: plugin for plugin in client.get("/v1/plugins").json()["plugins"]}
    assert plugins["studs"]["distribution"] == "soleplate"
    assert "equal-bays" in plugins["studs"]["rules"]
    assert plugins["studs"]["hooks"] == ["register_rules"]


def test_health(client: TestClient) -> None:
    health = client.get("/health").json()
    assert (health["status"], health["version"]) == ("up", version("soleplate"))
    assert "studs" in health["plugins"]


def test_without_a_building_the_page_asks_what_to_begin_with(client: TestClient) -> None:
    answer = client.get("/")
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    assert all(f'name="{question.name}"' in answer.text for question in QUESTIONS["mm"])
    assert '<a href="?example=honey_house">Honey house</a>' in answer.text


def test_the_page_is_that_of_the_building() -> None:
    building = registry().read_building(EXAMPLE_BUILDING)
    app = create_app(registry(), building=building)
    assert f"<h1>{EXAMPLE_BUILDING['name']}</h1>" in TestClient(app, base_url=BASE).get("/").text


@pytest.mark.parametrize(
    ("name", "media_type"),
    [("soleplate.css", "text/css"), ("main.js", "text/javascript"), ("favicon.svg", "image/svg+xml")],
)
def test_files_of_the_page(client: TestClient, name: str, media_type: str) -> None:
    answer = client.get(f"/static/{name}")
    assert answer.status_code == 200
    assert answer.headers["content-type"].split(";")[0] == media_type


def test_every_problem_type_is_explained_where_its_uri_points(client: TestClient) -> None:
    for problem in PROBLEMS.values():
        answer = client.get(problem.uri)
        assert answer.status_code == 200
        assert problem.title in answer.text


def test_a_head_request_has_no_body(client: TestClient) -> None:
    answer = client.head("/health")
    assert (answer.status_code, answer.content) == (200, b"")
