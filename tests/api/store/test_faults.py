"""Servers that are killed in the middle of writing, and many that write at once: nothing is lost."""

from __future__ import annotations

import json
import random
import signal
import sqlite3
import threading
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import httpx2
import pytest

from soleplate.api.store.designs import DesignStore
from soleplate.api.store.place import Place
from tests.buildings import building
from tests.keeping import KeepingServer, keeping

KILLS = 25
KILLS_OVER_A_SERVER = 6
"""Of our process; the database server has its own tests."""

WRITES_BEFORE_A_KILL = 40
WRITERS = 4

CLIENTS = 50
TRIES = 8


@dataclass
class Acknowledged:
    """What clients were told is kept: by design and revision, the name that they sent."""

    names: dict[tuple[str, int], str] = field(default_factory=dict)
    guard: threading.Lock = field(default_factory=threading.Lock)

    def add(self, answer: dict[str, Any]) -> int:
        with self.guard:
            self.names[answer["id"], answer["revision"]] = answer["name"]
            return len(self.names)


def client_of(address: str) -> httpx2.Client:
    """Without certificates: reading them takes longer than most clients' calls."""
    return httpx2.Client(base_url=address, timeout=60, verify=False)


def write_and_kill(server: KeepingServer, told: Acknowledged) -> None:
    """Write from several clients at once, and kill the server in the middle of it."""
    until = len(told.names) + WRITES_BEFORE_A_KILL
    in_threads(WRITERS, lambda writer: write_until_killed(server, told, writer, until))
    server.process.join()
    assert server.process.exitcode == -signal.SIGKILL


def write_until_killed(server: KeepingServer, told: Acknowledged, writer: int, until: int) -> None:
    """Keep designs and revisions of them, and kill the server once `until` are acknowledged."""
    chance = random.Random(writer * 1000 + until)
    with client_of(server.address) as client:
        sent = 0
        design: dict[str, Any] | None = None
        try:
            while True:
                sent += 1
                body = building(name=f"{until}/{writer}/{sent}")
                if design is None or chance.random() < 0.2:
                    answer = client.post("/v1/designs", json=body)
                else:
                    headers = {"if-match": f'"{design["revision"]}"'}
                    answer = client.put(f"/v1/designs/{design['id']}", json=body, headers=headers)
                assert answer.status_code in (200, 201), answer.text
                design = answer.json()
                if told.add(design) >= until:
                    server.kill()
        except httpx2.TransportError:
            return


def in_threads(count: int, work: Any) -> None:
    """Do something in threads at once; what one of them raises is raised here."""
    raised: list[BaseException] = []

    def run(number: int) -> None:
        try:
            work(number)
        except BaseException as error:
            raised.append(error)

    threads = [threading.Thread(target=run, args=(number,)) for number in range(count)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if raised:
        raise raised[0]


def check_all(place: Place, told: Acknowledged) -> int:
    """That the store is sound and holds all that was acknowledged; how many revisions it has."""
    store = DesignStore.open(place, create=False)
    kept: dict[tuple[str, int], str] = {}
    heads: dict[str, int] = {}
    for text in store.everything():
        kept[text.design.id, text.revision.number] = json.loads(text.body)["name"]
        heads[text.design.id] = text.design.head
    store.close()
    assert told.names.items() <= kept.items()
    assert set(kept) == {(key, number) for key, head in heads.items() for number in range(1, head + 1)}
    return len(kept)


def test_what_was_acknowledged_outlives_every_kill(place: Place) -> None:
    told = Acknowledged()
    kills = KILLS if place.is_file else KILLS_OVER_A_SERVER
    for done in range(kills):
        with keeping(place) as server:
            write_and_kill(server, told)
        kept = check_all(place, told)
        # Beside what was acknowledged there is at the most what each writer had under way, each time.
        assert kept - len(told.names) <= WRITERS * (done + 1)
    assert len(told.names) >= kills * WRITES_BEFORE_A_KILL
    if place.is_file:
        connection = sqlite3.connect(place.path)
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("PRAGMA foreign_key_check").fetchall() == []
        connection.close()


@pytest.mark.parametrize("servers", [1, 2])
def test_no_update_is_lost_among_fifty_clients(place: Place, servers: int) -> None:
    outcomes: Counter[int] = Counter()
    guard = threading.Lock()
    with keeping(place) as first, keeping(place) as second:
        addresses = [first.address, second.address][:servers]
        made = httpx2.post(f"{addresses[0]}v1/designs", json=building(name="0"), timeout=60)
        path = made.headers["location"]

        def count_up(number: int) -> None:
            address = addresses[number % servers]
            with client_of(address) as client:
                for _ in range(TRIES):
                    seen = client.get(path)
                    body = building(name=str(int(seen.json()["name"]) + 1))
                    answer = client.put(path, json=body, headers={"if-match": seen.headers["etag"]})
                    with guard:
                        outcomes[answer.status_code] += 1

        in_threads(CLIENTS, count_up)
        last = httpx2.get(addresses[-1] + path[1:], timeout=60).json()
    assert set(outcomes) == {200, 412}
    assert outcomes.total() == CLIENTS * TRIES
    # Each update read the name before it and added one, so any that was lost would be missing here.
    assert last["revision"] - 1 == int(last["name"]) == outcomes[200]


def test_readers_see_whole_revisions_while_others_write(tmp_path: Path) -> None:
    place = Place(str(tmp_path / "designs.sqlite"))
    with keeping(place) as server:
        made = httpx2.post(f"{server.address}v1/designs", json=building(name="1"), timeout=60)
        path = made.headers["location"]

        def work(number: int) -> None:
            with client_of(server.address) as client:
                for step in range(30):
                    if number == 0:
                        headers = {"if-match": f'"{step + 1}"'}
                        client.put(path, json=building(name=str(step + 2)), headers=headers)
                        continue
                    seen = client.get(path)
                    held = seen.json()
                    assert held["name"] == held["building"]["name"] == str(held["revision"])
                    assert seen.headers["etag"] == f'"{held["revision"]}"'

        in_threads(4, work)
        assert httpx2.get(server.address + path[1:], timeout=60).json()["revision"] == 31
