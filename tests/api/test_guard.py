"""What every call passes on its way in and out: its id, its site, its token, its line in the log."""

from __future__ import annotations

import asyncio
import io
import json
import re
from datetime import UTC, datetime
from typing import Any

import pytest
from starlette.testclient import TestClient
from starlette.types import Receive, Scope, Send

from soleplate.api.app import create_app
from soleplate.api.guard.access_log import LoggedCall, access_log
from soleplate.api.guard.guard import Guard
from soleplate.api.guard.security import Access
from soleplate.api.work.messages import EXAMPLE_WALL
from tests.api.test_bad_requests import problem
from tests.buildings import registry
from tests.serving import BASE

SITE = "https://plans.example"


def client_with(access: Access | None = None, base: str = BASE, **options: Any) -> TestClient:
    return TestClient(create_app(registry(), access=access, **options), base_url=base)


@pytest.mark.parametrize("given", ["store-17", "a", "A.b_c-9", "x" * 64])
def test_a_sane_id_comes_back(client: TestClient, given: str) -> None:
    assert client.get("/health", headers={"X-Request-ID": given}).headers["X-Request-ID"] == given
    missing = client.get("/nope", headers={"X-Request-ID": given})
    assert problem(missing, "not-found")["request_id"] == given


@pytest.mark.parametrize("given", [None, "", " ", "a b", "x" * 65, "-a", "{}", "é", 'a"b'])
def test_any_other_is_replaced(client: TestClient, given: str | None) -> None:
    headers = {} if given is None else {"X-Request-ID": given.encode("latin-1")}
    answers = [client.post("/v1/walls", json={}, headers=headers) for _ in range(2)]
    ids = [problem(answer, "schema")["request_id"] for answer in answers]
    assert [answer.headers["X-Request-ID"] for answer in answers] == ids
    assert all(re.fullmatch("[0-9a-f]{16}", each) for each in ids)
    assert ids[0] != ids[1]


def test_a_call_that_is_cancelled_at_a_stop_is_answered() -> None:
    async def cancelled(scope: Scope, receive: Receive, send: Send) -> None:
        raise asyncio.CancelledError

    answer = TestClient(Guard(cancelled, Access()), base_url=BASE).get("/health")
    assert answer.headers["retry-after"] == "10"
    problem(answer, "stopping")


def test_every_call_is_logged_without_what_it_sent() -> None:
    lines: list[LoggedCall] = []
    client = client_with(log=lines.append)
    secret = EXAMPLE_WALL | {"name": "secret"}
    answer = client.post("/v1/walls?key=secret", json=secret, headers={"X-Request-ID": "w1"})
    client.get("/nope%0A%1B[2J")
    client.get("/health", headers={"host": "evil.example"})
    assert [(line.method, line.path, line.status) for line in lines] == [
        ("POST", "/v1/walls", 400),
        ("GET", "/nope\n\x1b[2J", 404),
        ("GET", "/health", 421),
    ]
    assert (lines[0].request_id, lines[0].sent, lines[0].client) == (
        "w1",
        int(answer.headers["content-length"]),
        "testclient",
    )
    out = io.StringIO()
    for form in ("text", "json"):
        write = access_log(form, out=out, now=lambda: datetime(2026, 5, 4, tzinfo=UTC))  # type: ignore[arg-type]
        assert write is not None
        for line in lines:
            write(line)
    written = out.getvalue()
    assert "secret" not in written
    assert "\x1b" not in written
    text, structured = written.splitlines()[:3], written.splitlines()[3:]
    assert re.fullmatch(
        r"2026-05-04T00:00:00.000\+00:00 testclient POST /v1/walls 400 \d+ B [0-9.]+ ms w1", text[0]
    )
    assert [json.loads(each)["path"] for each in structured] == [line.path for line in lines]
    assert access_log("off") is None


def test_the_type_of_a_problem_leads_to_its_page() -> None:
    client = client_with()
    held = problem(client.get("/nope"), "not-found")
    assert "There is nothing at this address" in client.get(held["type"]).text
    named = client_with(base="http://localhost:8017")
    assert problem(named.get("/nope"), "not-found")["type"] == "http://localhost:8017/problems/not-found"


@pytest.mark.parametrize("public", ["https://plans.example/soleplate", "https://plans.example/soleplate/"])
def test_behind_a_proxy_it_leads_to_the_public_address(public: str) -> None:
    client = client_with(Access(public_url=public))
    held = client.get("/nope", headers={"host": "plans.example"}).json()
    assert held["type"] == "https://plans.example/soleplate/problems/not-found"
    assert client.get("/health", headers={"host": "evil.example"}).status_code == 421


@pytest.mark.parametrize("public", ["plans.example", "ftp://plans.example", "https://plans.example/?a", ""])
def test_what_is_no_public_address(public: str) -> None:
    with pytest.raises(ValueError, match=re.escape("accepted is scheme and host")):
        Access(public_url=public)


def test_pages_of_other_sites_may_not_send(client: TestClient) -> None:
    for origin in (SITE, "null", "http://127.0.0.1:9999", "http://localhost.evil.example"):
        problem(client.post("/v1/walls", json=EXAMPLE_WALL, headers={"origin": origin}), "other-site")
    for origin in (BASE, "http://127.0.0.1:8017"):
        assert client.post("/v1/walls", json=EXAMPLE_WALL, headers={"origin": origin}).status_code == 200


def test_a_page_of_no_listed_site_is_told_nothing(client: TestClient) -> None:
    asked = {"origin": SITE, "access-control-request-method": "POST"}
    problem(client.options("/v1/walls", headers=asked), "method")
    assert "access-control-allow-origin" not in client.get("/health", headers={"origin": SITE}).headers


def test_pages_of_a_listed_site_may_call() -> None:
    client = client_with(Access(origins=frozenset({SITE})))
    asked = {"origin": SITE, "access-control-request-method": "PUT"}
    preflight = client.options("/v1/walls", headers=asked)
    assert (preflight.status_code, preflight.content) == (204, b"")
    assert preflight.headers["access-control-allow-origin"] == SITE
    assert "If-Match" in preflight.headers["access-control-allow-headers"]
    answer = client.post("/v1/walls", json=EXAMPLE_WALL, headers={"origin": SITE})
    assert (answer.status_code, answer.headers["access-control-allow-origin"]) == (200, SITE)
    assert "ETag" in answer.headers["access-control-expose-headers"]
    assert "Origin" in answer.headers["vary"]
    assert "access-control-allow-credentials" not in answer.headers
    problem(
        client.post("/v1/walls", json=EXAMPLE_WALL, headers={"origin": "https://x.example"}), "other-site"
    )


@pytest.mark.parametrize("origin", ["*", "null", "plans.example", "https://plans.example/", "https://A b"])
def test_what_is_no_site_is_refused(origin: str) -> None:
    with pytest.raises(ValueError, match="accepted is scheme and host"):
        Access(origins=frozenset({origin}))


def test_a_token_for_reading() -> None:
    with pytest.raises(ValueError, match="SOLEPLATE_TOKEN"):
        Access(token_for_reading=True)
    client = client_with(Access(token="sesame", token_for_reading=True))
    assert client.get("/health").status_code == 200
    for path in ("/", "/v1/rules", "/openapi.json", "/nope"):
        problem(client.get(path), "no-token")
    problem(client.post("/v1/walls", json=EXAMPLE_WALL), "no-token")
    told = {"authorization": "bearer sesame"}
    assert client.get("/v1/rules", headers=told).status_code == 200
    assert client.post("/v1/walls", json=EXAMPLE_WALL, headers=told).status_code == 200


@pytest.mark.parametrize("method", ["GET", "HEAD"])
@pytest.mark.parametrize("path", ["/", "/health", "/v1/rules", "/openapi.json", "/docs"])
def test_head_has_the_headers_of_get(client: TestClient, method: str, path: str) -> None:
    answer = client.request(method, path, headers={"accept-encoding": "identity"})
    got = client.get(path, headers={"accept-encoding": "identity"})
    assert answer.status_code == 200
    for name in ("content-type", "content-length", "cache-control", "etag"):
        assert answer.headers.get(name) == got.headers.get(name)
    assert bool(answer.content) is (method == "GET")
