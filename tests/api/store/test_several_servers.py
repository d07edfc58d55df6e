"""Two API servers and one database behind a proxy that sends calls to each in turn."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass

import httpx2
import pytest

from soleplate.api.store.designs import DesignStore
from soleplate.api.store.place import Place
from tests.api.conftest import new_database
from tests.api.store.test_faults import Acknowledged, check_all, client_of, in_threads
from tests.balancing import Balancer, balancing
from tests.buildings import building
from tests.keeping import KeepingServer, keeping

WRITERS = 4
WRITES = 15
"""Of each writer."""


@dataclass(frozen=True)
class Site:
    place: Place
    servers: tuple[KeepingServer, KeepingServer]
    proxy: Balancer


@pytest.fixture
def site(database_urls: str) -> Iterator[Site]:
    place = new_database(database_urls)
    with (
        keeping(place) as first,
        keeping(place) as second,
        balancing(first.address, second.address) as proxy,
    ):
        yield Site(place, (first, second), proxy)


def test_each_gives_the_same(site: Site) -> None:
    """Whatever is asked twice is asked of both."""
    with client_of(site.proxy.address) as client:
        design = client.post("/v1/designs", json=building(name="kept")).json()["id"]
        assert client.get("/health").status_code == 200
        kept = [
            f"/v1/designs/{design}{of}"
            for of in ("", "/layout", "/elevations/front.svg", "/revisions", "/revisions/1")
        ]
        for path in (*kept, "/v1/rules", "/v1/schema", "/openapi.json", "/"):
            one, other = client.get(path), client.get(path)
            assert one.status_code == other.status_code == 200, path
            assert one.content == other.content, path
            assert one.headers.get("etag") == other.headers.get("etag"), path
        one, other = (client.post("/v1/layouts", json=building(name="sent")) for _ in range(2))
        assert one.status_code == 200
        assert one.content == other.content
    assert set(site.proxy.answered) == {server.address for server in site.servers}
    first, second = site.proxy.answered.values()
    assert first == second


def test_designs_race_safely_across_them(site: Site) -> None:
    """No update is lost: each that was taken is a revision, and of two on one revision one is turned away."""
    with client_of(site.proxy.address) as client:
        design = client.post("/v1/designs", json=building(name="begun")).json()["id"]

    def write(writer: int) -> None:
        with client_of(site.proxy.address) as client:
            for number in range(WRITES):
                status = 412
                while status == 412:
                    seen = client.get(f"/v1/designs/{design}").headers["etag"]
                    body = building(name=f"{writer}/{number}")
                    answer = client.put(f"/v1/designs/{design}", json=body, headers={"if-match": seen})
                    status = answer.status_code
                assert status == 200, answer.text

    in_threads(WRITERS, write)
    store = DesignStore.open(site.place, create=False)
    names = [json.loads(text.body)["name"] for text in store.everything()]
    store.close()
    assert sorted(names) == sorted(["begun", *(f"{w}/{n}" for w in range(WRITERS) for n in range(WRITES))])
    assert len(site.proxy.answered) == 2


def test_one_dies_under_load_and_nothing_that_was_acknowledged_is_lost(site: Site) -> None:
    """What was under way is sent again with its key, and is kept once."""
    told = Acknowledged()

    def write(writer: int) -> None:
        with client_of(site.proxy.address) as client:
            for number in range(WRITES):
                name = f"{writer}/{number}"
                answer = sent(client, name)
                while answer.status_code == 502:
                    answer = sent(client, name)
                assert answer.status_code == 201, answer.text
                if told.add(answer.json()) == WRITERS * WRITES // 2:
                    site.servers[0].kill()

    in_threads(WRITERS, write)
    assert check_all(site.place, told) == len(told.names) == WRITERS * WRITES
    dead, alive = (site.proxy.answered[server.address] for server in site.servers)
    assert 0 < dead < alive


def sent(client: httpx2.Client, name: str) -> httpx2.Response:
    """The answer to a new design, under a key of its own."""
    return client.post("/v1/designs", json=building(name=name), headers={"idempotency-key": f'"{name}"'})
