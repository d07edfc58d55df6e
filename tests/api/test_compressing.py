"""What is made for one call is compressed for who takes that, where it gains anything."""

from __future__ import annotations

import gzip
from typing import Any

import httpx
import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.api.guard.security import Access
from soleplate.api.http.compressing import BEST, LARGE, WORTH_COMPRESSING, gzipped
from tests.buildings import building, honey_house, registry
from tests.serving import BASE

MADE: list[tuple[str, Any]] = [
    ("/v1/layouts", honey_house()),
    ("/v1/boards", {"building": honey_house(), "wall": "back"}),
    ("/v1/elevations", {"building": honey_house(), "wall": "back"}),
    ("/v1/exports/cutting-list", honey_house()),
]


@pytest.mark.parametrize(("size", "is_coded"), [(WORTH_COMPRESSING, True), (WORTH_COMPRESSING - 1, False)])
def test_what_is_too_small_to_gain_by_it_is_not_compressed(size: int, is_coded: bool) -> None:
    coded = gzipped(b"a" * size, "text/plain", BEST)
    assert (coded is not None) is is_coded
    assert coded is None or gzip.decompress(coded) == b"a" * size


def sent(client: TestClient, path: str, body: Any, accepted: str, **headers: str) -> httpx.Response:
    return client.post(path, json=body, headers={"accept-encoding": accepted, **headers})


@pytest.mark.parametrize(("path", "body"), MADE)
def test_it_is_compressed_for_who_takes_that(client: TestClient, path: str, body: Any) -> None:
    plain, small = (sent(client, path, body, accepted) for accepted in ("identity", "gzip, br"))
    assert plain.status_code == small.status_code == 200
    assert plain.content == small.content
    assert "content-encoding" not in plain.headers
    assert small.headers["content-encoding"] == "gzip"
    assert int(small.headers["content-length"]) < len(plain.content) / 2
    assert int(plain.headers["content-length"]) == len(plain.content)
    own = ("content-length", "content-encoding", "x-request-id")
    others = [
        {name: said for name, said in each.headers.items() if name not in own} for each in (plain, small)
    ]
    assert others[0] == others[1]
    assert others[0]["vary"] == "Accept-Encoding"
    assert "etag" not in others[0]


@pytest.mark.parametrize(
    ("accepted", "is_coded"),
    [
        ("GZIP;q=0.1, identity", True),
        ("*", True),
        ("*;q=0, gzip", True),
        ("gzip;q=0, *", False),
        ("gzip; q=0.000", False),
        ("gzip;q=none", False),
        ("xgzip, br", False),
        ("", False),
    ],
)
def test_who_takes_it_is_asked_by_the_weights(client: TestClient, accepted: str, is_coded: bool) -> None:
    answer = sent(client, "/v1/layouts", building(), accepted)
    assert ("content-encoding" in answer.headers) is is_coded


def test_a_large_answer_is_compressed_too(client: TestClient) -> None:
    value = building(outline={"walls": [{"name": f"wall {n}", "length": 9000} for n in range(20)]})
    value["roof"] = {"form": "level", "height": 2400}
    answer = sent(client, "/v1/layouts", value, "gzip")
    assert len(answer.content) > LARGE
    assert answer.headers["content-encoding"] == "gzip"
    assert answer.content == sent(client, "/v1/layouts", value, "identity").content


def test_what_is_small_or_compressed_already_is_left_as_it_is(client: TestClient) -> None:
    design = client.post("/v1/designs", json=building()).headers["location"]
    small = client.get(f"{design}/revisions", headers={"accept-encoding": "gzip"})
    assert small.status_code == 200
    book = sent(client, "/v1/exports/job-book", honey_house(), "gzip")
    assert book.content.startswith(b"%PDF")
    for answer in (small, book):
        assert "content-encoding" not in answer.headers
        assert int(answer.headers["content-length"]) == len(answer.content)
    assert len(small.content) < WORTH_COMPRESSING


def test_a_page_that_is_asked_about_is_told_of_as_it_would_be_sent(client: TestClient) -> None:
    headers = {"accept-encoding": "gzip"}
    page = client.get("/?example=honey_house", headers=headers)
    asked = client.head("/?example=honey_house", headers=headers)
    assert page.headers["content-encoding"] == asked.headers["content-encoding"] == "gzip"
    assert page.headers["content-length"] == asked.headers["content-length"]
    assert asked.content == b""


def test_lists_of_designs_are_compressed(client: TestClient) -> None:
    for number in range(5):
        assert client.post("/v1/designs", json=building(name=f"Shed {number}")).status_code == 201
    plain, small = (client.get("/v1/designs", headers={"accept-encoding": e}) for e in ("identity", "gzip"))
    assert small.headers["content-encoding"] == "gzip"
    assert plain.content == small.content


def test_it_varies_by_the_site_that_asks_as_well() -> None:
    access = Access(origins=frozenset({"https://site.example"}))
    with TestClient(create_app(registry(), access=access), base_url=BASE) as client:
        answer = sent(client, "/v1/layouts", building(), "gzip", origin="https://site.example")
    assert answer.headers["content-encoding"] == "gzip"
    assert {each.strip() for each in answer.headers["vary"].split(",")} == {"Accept-Encoding", "Origin"}
