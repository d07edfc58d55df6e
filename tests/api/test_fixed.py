"""Answers that stay the same: sent once, compressed for who takes that, and then only confirmed."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from tests.buildings import registry
from tests.serving import BASE

DOCUMENT = TestClient(create_app(registry()), base_url=BASE).get("/openapi.json").json()
PATHS = ["/static/soleplate.css"] + [
    path
    for path, calls in DOCUMENT["paths"].items()
    if "{" not in path and "304" in calls.get("get", {}).get("responses", {})
]
"""Every answer that the document calls fixed, and one of the page's files."""


@pytest.mark.parametrize("path", PATHS)
def test_what_is_known_is_not_sent_again(client: TestClient, path: str) -> None:
    first = client.get(path)
    tag = first.headers["etag"]
    for known in (tag, tag.removeprefix("W/"), "*", f'"x", {tag}'):
        again = client.get(path, headers={"if-none-match": known})
        assert (again.status_code, again.content) == (304, b""), known
        assert again.headers["etag"].removeprefix("W/") == tag.removeprefix("W/")
    assert client.get(path, headers={"if-none-match": '"x"'}).status_code == 200
    assert client.get(path, headers={"if-none-match": tag[:-2]}).status_code == 200


@pytest.mark.parametrize(
    ("accepted", "is_coded"),
    [
        ("gzip", True),
        ("br, gzip;q=0.5", True),
        ("*", True),
        ("identity", False),
        ("gzip;q=0", False),
        ("", False),
    ],
)
def test_it_is_compressed_for_who_takes_that(client: TestClient, accepted: str, is_coded: bool) -> None:
    plain = client.get("/openapi.json", headers={"accept-encoding": "identity"})
    answer = client.get("/openapi.json", headers={"accept-encoding": accepted})
    assert (answer.headers.get("content-encoding") == "gzip") is is_coded
    assert "Accept-Encoding" in answer.headers["vary"]
    assert answer.content == plain.content
    assert (int(answer.headers["content-length"]) < len(plain.content) / 4) is is_coded
