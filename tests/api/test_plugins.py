"""Plugins behind the API: theirs is used like ours, and a fault of theirs is told by name."""

from __future__ import annotations

import logging
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.engine.registry import load_registry
from tests.api import plugin_files
from tests.api.test_bad_requests import problem
from tests.buildings import building
from tests.serving import BASE

LONELY = building(defaults={"studs": {"rule": "lonely"}})


def client_with(folder: Path, source: str) -> TestClient:
    file = folder / "barn.py"
    file.write_text(source)
    return TestClient(create_app(load_registry(files=[file])), base_url=BASE)


def test_a_rule_is_documented_listed_and_used(tmp_path: Path) -> None:
    client = client_with(tmp_path, plugin_files.SOUND)
    assert "Lonely" in client.get("/openapi.json").json()["components"]["schemas"]
    rules: list[dict[str, Any]] = client.get("/v1/rules").json()["rules"]
    assert [rule["plugin"] for rule in rules if rule["rule"] == "lonely"] == ["barn"]
    back = client.post("/v1/layouts", json=LONELY).json()["walls"][2]
    assert len([piece for piece in back["pieces"] if piece["role"] == "stud"]) == 3


def test_two_plugins_may_have_classes_of_one_name(tmp_path: Path) -> None:
    """Each is described by itself, and a building may pick both."""
    files = [tmp_path / "barn.py", tmp_path / "mill.py"]
    files[0].write_text(plugin_files.SOUND)
    files[1].write_text(
        plugin_files.SOUND.replace("lonely", "left-alone").replace("One stud", "A single one")
    )
    client = TestClient(create_app(load_registry(files=files)), base_url=BASE)
    document = client.get("/openapi.json").json()
    schemas = document["components"]["schemas"]
    found = {schema["x-plugin"]: name for name, schema in schemas.items() if name.endswith("Lonely")}
    assert set(found) == {"barn", "mill"}
    told = {plugin: schemas[name] for plugin, name in found.items()}
    assert told["barn"]["properties"]["rule"]["const"] == "lonely"
    assert told["mill"]["properties"]["rule"]["const"] == "left-alone"
    assert told["mill"]["description"] == "A single one in the middle."
    assert told["mill"]["examples"] == [{"rule": "left-alone"}]
    for name in found.values():
        assert f"#/components/schemas/{name}" in str(schemas["WallBlock"]["properties"]["studs"])
    names = {definition for definition in client.get("/v1/schema").json()["$defs"] if "Lonely" in definition}
    assert len(names) == 2
    asked = building(
        defaults={"studs": {"rule": "lonely"}}, walls={"left": {"studs": {"rule": "left-alone"}}}
    )
    walls = client.post("/v1/layouts", json=asked).json()["walls"]
    assert {wall["name"]: wall["rules"]["studs"] for wall in walls} == {
        "front": "lonely", "right": "lonely", "back": "lonely", "left": "left-alone",
    }  # fmt: skip


@pytest.mark.parametrize(
    "source",
    [plugin_files.FAILING, plugin_files.OVERLAPPING, plugin_files.NOT_A_NUMBER],
    ids=["failing", "overlapping", "not-a-number"],
)
def test_a_faulty_rule_is_named(tmp_path: Path, source: str, caplog: pytest.LogCaptureFixture) -> None:
    client = client_with(tmp_path, source)
    with caplog.at_level(logging.CRITICAL):
        answer = client.post("/v1/layouts", json=LONELY)
    held = problem(answer, "plugin")
    assert (held["plugin"], held["rule"]) == ("barn", "lonely")
    assert "barn" in held["detail"]
    assert str(tmp_path) not in answer.text
    assert client.post("/v1/layouts", json=building()).status_code == 200


def test_a_layer_is_drawn_where_it_is_asked_for(tmp_path: Path) -> None:
    client = client_with(tmp_path, plugin_files.layer())
    request = {"building": building(), "wall": "front"}
    assert "level line" in client.post("/v1/elevations", json=request).text
    assert "level line" not in client.post("/v1/elevations", json=request | {"layers": ["frame"]}).text


@pytest.mark.parametrize("draw", ["return 1 / 0", "return ['x']"])
def test_a_faulty_layer_is_named(tmp_path: Path, draw: str) -> None:
    client = client_with(tmp_path, plugin_files.layer(draw=draw))
    held = problem(client.post("/v1/elevations", json={"building": building(), "wall": "front"}), "plugin")
    assert (held["plugin"], held["rule"]) == ("barn", "level-line")


def test_a_fault_of_our_own_gives_nothing_away(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("/secret/path")

    monkeypatch.setattr("soleplate.api.jobs.lay_out", fail)
    client = TestClient(create_app(load_registry()), base_url=BASE)
    answer = client.post("/v1/layouts", json=building())
    problem(answer, "internal")
    assert "secret" not in answer.text


def test_a_broken_plugin_that_was_left_out_is_told(tmp_path: Path) -> None:
    file = tmp_path / "barn.py"
    file.write_text("import nothing_of_the_kind")
    client = TestClient(create_app(load_registry(files=[file], keep_going=True)), base_url=BASE)
    health = client.get("/health").json()
    assert health["left_out"] == ["barn"]
    assert "barn" not in health["plugins"]
    (told,) = [each for each in client.get("/v1/plugins").json()["plugins"] if each["name"] == "barn"]
    assert told["problem"] == (
        "cannot be imported: ModuleNotFoundError: No module named 'nothing_of_the_kind'"
    )
    assert (told["distribution"], told["hooks"], told["rules"]) == ("barn.py", [], [])
    assert client.post("/v1/layouts", json=building()).status_code == 200
