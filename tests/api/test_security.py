"""Who may call, and what keeps a browser to it."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.api.guard.guard import HEADERS
from soleplate.api.guard.security import Access
from soleplate.api.work.messages import EXAMPLE_WALL
from tests.api.test_bad_requests import problem
from tests.buildings import registry


@pytest.mark.parametrize(
    ("method", "path", "host"),
    [("GET", "/", None), ("GET", "/nope", None), ("POST", "/v1/layouts", None), ("GET", "/", "evil.example")],
)
def test_every_answer_has_the_headers(client: TestClient, method: str, path: str, host: str | None) -> None:
    answer = client.request(method, path, headers={"host": host} if host else {})
    assert {name: answer.headers[name] for name in HEADERS} == HEADERS
    assert "access-control-allow-origin" not in answer.headers


@pytest.mark.parametrize(
    "host", ["localhost", "localhost:8017", "127.0.0.1:1", "127.0.0.5", "[::1]:8017", "LOCALHOST"]
)
def test_names_of_this_machine_are_ours(client: TestClient, host: str) -> None:
    assert client.get("/health", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host",
    ["evil.example", "evil.example:8017", "127.0.0.1.evil.example", "192.0.2.7", "localhost@x", "", "[::1"],
)
def test_other_names_are_not(client: TestClient, host: str) -> None:
    problem(client.get("/health", headers={"host": host}), "wrong-host")


@pytest.mark.parametrize("host", ["0.0.0.0", "::", "192.0.2.7", "store.example"])
def test_off_loopback_a_token_is_needed_to_start(host: str) -> None:
    with pytest.raises(ValueError, match="SOLEPLATE_TOKEN"):
        Access(host)
    with pytest.raises(ValueError, match="SOLEPLATE_TOKEN"):
        Access(host, "")


@pytest.mark.parametrize("host", ["127.0.0.1", "127.8.9.1", "::1", "localhost"])
def test_loopback_needs_none(host: str) -> None:
    assert Access(host).is_loopback


@pytest.fixture(scope="module")
def far_client() -> TestClient:
    """Of a server that other machines can reach."""
    access = Access("store.example", "sesame")
    return TestClient(create_app(registry(), access=access), base_url="http://store.example")


@pytest.mark.parametrize("header", [None, "Bearer", "Bearer wrong", "Basic sesame", "sesame", "Bearer séame"])
def test_off_loopback_nothing_is_taken_without_the_token(far_client: TestClient, header: str | None) -> None:
    headers = {"authorization": header.encode()} if header else {}
    answer = far_client.post("/v1/walls", json=EXAMPLE_WALL, headers=headers)
    problem(answer, "no-token")
    assert answer.headers["www-authenticate"].startswith("Bearer")


def test_off_loopback_with_the_token(far_client: TestClient) -> None:
    headers = {"authorization": "Bearer sesame"}
    assert far_client.post("/v1/walls", json=EXAMPLE_WALL, headers=headers).status_code == 200


def test_off_loopback_reading_is_free(far_client: TestClient) -> None:
    assert far_client.get("/health").status_code == 200
    assert far_client.get("/health", headers={"host": "192.0.2.7:80"}).status_code == 200
    problem(far_client.get("/health", headers={"host": "evil.example"}), "wrong-host")
