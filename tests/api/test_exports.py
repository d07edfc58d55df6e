"""Files made from a building over HTTP, by whichever exporters are installed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.api.written.folder import folder_files
from soleplate.engine.laying_out import lay_out
from soleplate.engine.registry import PluginLoadError, load_registry
from tests.api import plugin_files
from tests.api.test_bad_requests import problem
from tests.buildings import building
from tests.serving import BASE


def app_with(folder: Path, source: str) -> Any:
    file = folder / "barn.py"
    file.write_text(source)
    return create_app(load_registry(files=[file]))


def client_with(folder: Path, source: str) -> TestClient:
    return TestClient(app_with(folder, source), base_url=BASE)


def test_an_export_is_the_file_that_the_command_writes(tmp_path: Path) -> None:
    client = client_with(tmp_path, plugin_files.layer())
    answer = client.post("/v1/exports/wall-names", json=building())
    assert (answer.status_code, answer.headers["content-type"]) == (200, "text/plain; charset=utf-8")
    assert answer.headers["content-disposition"] == 'attachment; filename="plain-wall-names.txt"'
    registry = load_registry(files=[tmp_path / "barn.py"])
    layout = lay_out(registry.read_building(building()), registry)
    assert answer.content == folder_files(layout, registry)["wall-names.txt"] == b"front right back left"


def test_it_is_in_the_document(tmp_path: Path) -> None:
    client = client_with(tmp_path, plugin_files.layer())
    call = client.get("/openapi.json").json()["paths"]["/v1/exports/{name}"]["post"]
    assert "wall-names" in call["parameters"][0]["schema"]["enum"]
    assert "text/plain" in call["responses"]["200"]["content"]
    assert "Content-Disposition" in call["responses"]["200"]["headers"]


@pytest.mark.parametrize("name", ["nope", "wall-names.txt", "..%2Fwall-names"])
def test_an_export_that_is_not_there(tmp_path: Path, name: str) -> None:
    client = client_with(tmp_path, plugin_files.layer())
    answer = client.post(f"/v1/exports/{name}", json=building())
    problem(answer, "not-found")
    if name == "nope":
        assert answer.json()["detail"].startswith("no export is called 'nope'; accepted are buying-list, ")


def test_the_file_s_name_is_safe_whatever_the_building_s_is(tmp_path: Path) -> None:
    client = client_with(tmp_path, plugin_files.layer())
    walls = building(name='../"x"; a=b é\U0001f528')
    answer = client.post("/v1/exports/wall-names", json=walls)
    assert answer.headers["content-disposition"] == 'attachment; filename="x-a-b-wall-names.txt"'
    nameless = client.post("/v1/exports/wall-names", json=building(name="\U0001f528"))
    assert nameless.headers["content-disposition"] == 'attachment; filename="unnamed-wall-names.txt"'


@pytest.mark.parametrize("export", ["return 1 / 0", "return 'x'", "return None"])
def test_a_faulty_exporter_is_named(tmp_path: Path, export: str) -> None:
    client = client_with(tmp_path, plugin_files.layer(export=export))
    held = problem(client.post("/v1/exports/wall-names", json=building()), "plugin")
    assert (held["plugin"], held["rule"]) == ("barn", "wall-names")


@pytest.mark.parametrize(
    ("member", "value"), [("media_type", "text/plain\\r\\nx: y"), ("media_type", "text"), ("suffix", "/../x")]
)
def test_an_exporter_that_no_header_can_carry_stops_the_start(
    tmp_path: Path, member: str, value: str
) -> None:
    old = {"media_type": "text/plain", "suffix": ".txt"}[member]
    source = plugin_files.layer().replace(f'{member} = "{old}"', f'{member} = "{value}"')
    with pytest.raises(PluginLoadError, match=rf"Names has the {member} .*; accepted is like {member} = "):
        app_with(tmp_path, source)


def test_a_faulty_building_has_its_place(tmp_path: Path) -> None:
    client = client_with(tmp_path, plugin_files.layer())
    held = problem(client.post("/v1/exports/wall-names", json=building(paint=1)), "schema")
    assert held["errors"][0]["pointer"] == "/paint"
