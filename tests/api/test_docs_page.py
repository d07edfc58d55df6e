"""The page about the API: all that the document holds, and nothing from anywhere else."""

from __future__ import annotations

import re
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.api.http.problem_types import PROBLEMS
from soleplate.engine.registry import load_registry
from tests.api import plugin_files
from tests.buildings import registry
from tests.serving import BASE


class Page(HTMLParser):
    """The ids, links and text of a page."""

    def __init__(self, source: str) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.links: list[str] = []
        self.loaded: list[str] = []
        self.tags: Counter[str] = Counter()
        self.text = ""
        self.feed(source)

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        self.tags[tag] += 1
        given = dict(attributes)
        assert not any(name.startswith("on") or name == "style" for name in given)
        if given.get("id"):
            self.ids.append(str(given["id"]))
        if "href" in given:
            (self.links if tag == "a" else self.loaded).append(str(given["href"]))
        if "src" in given:
            self.loaded.append(str(given["src"]))

    def handle_data(self, data: str) -> None:
        self.text += data


@pytest.fixture(scope="module")
def page(client: TestClient) -> Page:
    answer = client.get("/docs")
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    return Page(answer.text)


def document(client: TestClient) -> Any:
    return client.get("/openapi.json").json()


def test_every_call_model_header_and_problem_is_on_it(client: TestClient, page: Page) -> None:
    told = document(client)
    for path, methods in told["paths"].items():
        for method, call in methods.items():
            assert f"{method.upper()} {path}" in page.text
            assert call["operationId"] in page.ids
            assert call["summary"] in page.text
            for parameter in call.get("parameters", ()):
                assert parameter["name"] in page.text
    for name, schema in told["components"]["schemas"].items():
        assert name in page.text
        for member in schema.get("properties", {}):
            assert member in page.text
    for name in told["components"]["headers"]:
        assert name in page.text
    for problem in PROBLEMS.values():
        assert (problem.uri in page.links) is (problem.name != "method"), problem.name


def test_every_rule_is_on_it_with_its_plugin(page: Page) -> None:
    for rule in registry().rules:
        assert rule.model.__name__ in page.text
        assert f'"{rule.name}"' in page.text
        assert f"From plugin {rule.plugin}." in page.text


def test_a_plugin_s_rule_is_on_it(tmp_path: Path) -> None:
    file = tmp_path / "barn.py"
    file.write_text(plugin_files.SOUND)
    answer = TestClient(create_app(load_registry(files=[file])), base_url=BASE).get("/docs")
    assert "From plugin barn." in answer.text
    assert "One stud in the middle." in answer.text


def test_it_loads_nothing_from_elsewhere_and_runs_nothing(client: TestClient, page: Page) -> None:
    assert page.tags["script"] == 0
    assert page.loaded
    for place in page.loaded:
        assert re.fullmatch(r"/static/[a-z.]+", place)
        assert client.get(place).status_code == 200


def test_its_links_lead_somewhere(client: TestClient, page: Page) -> None:
    assert len(set(page.ids)) == len(page.ids)
    for link in set(page.links):
        if link.startswith("#"):
            assert link[1:] in page.ids
        else:
            assert client.get(link).status_code == 200


def test_the_start_page_and_the_page_of_a_building_lead_to_it(client: TestClient) -> None:
    assert "/docs" in Page(client.get("/").text).links


HOSTILE = '</code><script>alert(1)</script>"'


def test_what_a_plugin_says_is_only_text(tmp_path: Path) -> None:
    file = tmp_path / "barn.py"
    file.write_text(plugin_files.SOUND.replace("One stud in the middle.", HOSTILE.replace('"', "'")))
    answer = TestClient(create_app(load_registry(files=[file])), base_url=BASE).get("/docs")
    assert "<script" not in answer.text
    assert "&lt;script&gt;" in answer.text
