"""The example package in a fresh environment: its rule answers over HTTP and shows in the page."""

from __future__ import annotations

import json
import subprocess
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Watched
from tests.buildings import building
from tests.example_package import PACKAGE, Environment, install
from tests.serving import Server, serving

WINDOW = {"name": "window", "kind": "window", "width": 900, "height": 800, "sill": 750, "at": {"left": 1800}}

BACKED = building(
    defaults={
        "studs": {"rule": "equal-bays", "largest_bay": 600},
        "adjustments": [{"rule": "backing-board", "boards": 2}],
    },
    walls={"front": {"openings": [WINDOW]}},
)


@pytest.fixture(scope="module")
def environment(tmp_path_factory: pytest.TempPathFactory) -> Environment:
    return install(tmp_path_factory.mktemp("package"))


@pytest.fixture(scope="module")
def server(environment: Environment, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    file = tmp_path_factory.mktemp("building") / "backed.json"
    file.write_text(json.dumps(BACKED))
    with serving(file, command=environment.command) as server:
        yield server


def answer(server: Server, path: str, body: object = None) -> Any:
    data = None if body is None else json.dumps(body).encode()
    request = Request(server.address + path, data, {"Content-Type": "application/json"})
    with urlopen(request) as opened:
        text = opened.read()
        return json.loads(text) if "json" in opened.headers["Content-Type"] else text.decode()


def test_it_is_installed_with_its_version(server: Server, environment: Environment) -> None:
    told = {plugin["name"]: plugin for plugin in answer(server, "v1/plugins")["plugins"]}["backing-boards"]
    assert (told["distribution"], told["version"]) == ("backing-boards", "1.0.0")
    assert told["rules"] == ["backing-board"]
    assert told["hooks"] == [
        "check_layout", "register_drawing_layers", "register_exporters",
        "register_finding_kinds", "register_roles", "register_rules",
    ]  # fmt: skip
    listed = subprocess.run([environment.command, "rules"], capture_output=True, encoding="utf-8", check=True)
    assert "adjustments" in listed.stdout
    assert "backing-board " in listed.stdout


def test_its_rule_answers_over_http(server: Server) -> None:
    layout = answer(server, "v1/layouts", BACKED)
    for wall in layout["walls"]:
        assert any(piece["role"] == "backing board" for piece in wall["pieces"]), wall["name"]
    assert "backing-missing" in {finding["code"] for finding in layout["findings"]}
    rows = [row for row in layout["cutting_list"] if row["role"] == "backing board"]
    assert sum(row["count"] for row in rows) == sum(
        piece["role"] == "backing board" for wall in layout["walls"] for piece in wall["pieces"]
    )


def test_its_layer_and_its_table_are_there(server: Server) -> None:
    drawn = answer(
        server, "v1/elevations", {"building": BACKED, "wall": "front", "layers": ["backing-lines"]}
    )
    assert "900 up" in drawn
    assert "mark,length mm" in answer(server, "v1/exports/backing-cuts", BACKED)


def test_its_rule_is_in_the_document(server: Server) -> None:
    schema = answer(server, "openapi.json")["components"]["schemas"]["BackingBoard"]
    assert schema["properties"]["boards"]["maximum"] == 3


def test_its_pieces_show_in_the_page(server: Server, watched: Watched) -> None:
    page = watched.open(server.address)
    layout = answer(server, "v1/layouts", BACKED)
    for wall in layout["walls"]:
        page.goto(f"{server.address}?wall={wall['name']}")
        for piece in (piece for piece in wall["pieces"] if piece["role"] == "backing board"):
            shown = page.locator(f"svg.elevation [data-mark='{piece['mark']}']").first
            expect(shown).to_be_visible()
    page.goto(f"{server.address}?all=walls")
    assert page.locator("#cutting-list").get_by_text("backing board").count() > 0
    assert watched.complaints == []


def test_its_parameter_is_a_field_that_the_drawing_follows(server: Server, watched: Watched) -> None:
    page = watched.open(server.address)
    drawn = page.locator("svg.elevation [data-mark] title").filter(has_text="backing board")
    before = drawn.count()
    entry = page.locator("[data-pointer='/defaults/adjustments/0/boards']")
    page.evaluate("document.querySelectorAll('details').forEach((each) => (each.open = true))")
    expect(entry).to_have_value("2")
    entry.fill("1")
    entry.press("Enter")
    expect(drawn).not_to_have_count(before)
    assert watched.complaints == []


def test_its_own_tests_pass_there(environment: Environment) -> None:
    done = subprocess.run(
        [environment.python, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--rootdir", PACKAGE,
         PACKAGE / "tests"],
        capture_output=True, encoding="utf-8", check=False, cwd=environment.folder,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout


def test_it_is_whole() -> None:
    """What a wheel needs, and no trace of having been built."""
    names = {path.name for path in Path(PACKAGE).rglob("*") if "__pycache__" not in path.parts}
    assert {"pyproject.toml", "README.md", "py.typed"} <= names
    assert not any(name.endswith(".egg-info") for name in names)
