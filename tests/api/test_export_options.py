"""What can be asked of an export over HTTP: the paper of the job book, and what its title block says."""

from __future__ import annotations

import io
import zipfile
from typing import Any

import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.engine.registry import load_registry
from tests.api.test_bad_requests import problem
from tests.buildings import building
from tests.serving import BASE
from tests.viewer.sheets.reading_pdf import read

ASKED = {"paper": "Letter", "owner": "Reed Row", "creator": "M. Osier", "revision": "B", "date": "2031-04-05"}


@pytest.fixture(scope="module")
def client() -> TestClient:
    return TestClient(create_app(load_registry()), base_url=BASE)


def size(pdf: bytes) -> tuple[float, float]:
    """The first sheet's width and height, mm."""
    first = read(pdf)[0]
    return round(first.width, 1), round(first.height, 1)


def test_paper_and_title_block_are_as_asked(client: TestClient) -> None:
    plain = client.post("/v1/exports/job-book", json=building())
    asked = client.post("/v1/exports/job-book", json=building(), params=ASKED)
    assert (plain.status_code, asked.status_code) == (200, 200), asked.text
    # ISO 216, and ASME Y14.1 size A: 8 1/2 in by 11 in.
    assert (size(plain.content), size(asked.content)) == ((210.0, 297.0), (215.9, 279.4))
    words = read(asked.content)[0].text
    assert all(value in words for name, value in ASKED.items() if name != "paper")
    again = client.post("/v1/exports/job-book", json=building(), params=ASKED)
    assert again.content == asked.content


def test_the_sheets_take_the_same(client: TestClient) -> None:
    answer = client.post("/v1/exports/sheets", json=building(), params=ASKED)
    archive = zipfile.ZipFile(io.BytesIO(answer.content))
    assert b'width="612' in archive.read(archive.namelist()[0])  # 8 1/2 in in points


@pytest.mark.parametrize(
    ("name", "query", "said"),
    [
        ("job-book", {"paper": "A5"}, "paper: accepted are A4, Letter"),
        ("job-book", {"paper": ""}, "paper"),
        ("job-book", {"owner": "x" * 41}, "owner: accepted is a text of at most 40 characters"),
        ("job-book", {"creator": "a\nb"}, "creator"),
        ("job-book", {"colour": "red"}, "no parameter is called 'colour'; accepted are paper, owner"),
        ("job-book", {"paper": ["A4", "Letter"]}, "given twice"),
        ("cutting-list", {"paper": "A4"}, "no parameter is called 'paper'; this call takes none"),
    ],
)
def test_what_cannot_be_asked_is_refused(
    client: TestClient, name: str, query: dict[str, Any], said: str
) -> None:
    answer = client.post(f"/v1/exports/{name}", json=building(), params=query)
    assert said in problem(answer, "parameter")["detail"]
    assert answer.status_code == 400


def test_the_options_are_in_the_document(client: TestClient) -> None:
    paths = client.get("/openapi.json").json()["paths"]
    call = paths["/v1/exports/job-book"]["post"]
    told = {each["name"]: each for each in call["parameters"] if each["in"] == "query"}
    assert set(told) == set(ASKED)
    assert told["paper"]["schema"]["enum"] == ["A4", "Letter"]
    assert not any(each["required"] for each in told.values())
    assert all(each["description"] for each in told.values())
    assert list(call["responses"]["200"]["content"]) == ["application/pdf"]
    rest = paths["/v1/exports/{name}"]["post"]["parameters"][0]["schema"]["enum"]
    assert "cutting-list" in rest
    assert "job-book" not in rest


def test_what_the_title_block_has_no_room_for_on_one_line_stands_on_two(client: TestClient) -> None:
    told = "Osier and Daughters, Setters-out of Reed"
    answer = client.post("/v1/exports/job-book", json=building(), params={"creator": told})
    words = read(answer.content)[0].text
    assert told in " ".join(words.split())
    assert "…" not in words
