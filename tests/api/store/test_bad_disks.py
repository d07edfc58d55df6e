"""Disks that are full or not to be written: a named problem, nothing half written, and on it goes."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import httpx2
import pytest

from soleplate.api.store.place import VARIABLE
from tests.api.test_bad_requests import problem
from tests.api.test_command_line import refused
from tests.buildings import building
from tests.serving import run, serving

POWERS = "-dac_override,-dac_read_search"
AS_ANYBODY = ["setpriv", f"--bounding-set={POWERS}", f"--inh-caps={POWERS}"]
"""Takes from root what lets it write where the permissions say no."""

MOST_BLOCKS = 400
"""Of 512 bytes: how large a file of the server may get."""


def within_permissions() -> list[str]:
    """What starts a command so that permissions hold for it."""
    if os.geteuid() != 0:
        return []
    if shutil.which("setpriv") is None:
        pytest.skip("permissions do not hold for root, and setpriv is not installed")
    return AS_ANYBODY


@pytest.fixture
def closed(tmp_path: Path) -> Iterator[Path]:
    """A folder that is not to be written in."""
    folder = tmp_path / "closed"
    folder.mkdir()
    yield folder
    folder.chmod(0o700)


@contextmanager
def calling(*arguments: str | Path, **how: Any) -> Iterator[httpx2.Client]:
    """A client of a server of its own."""
    with serving(*arguments, **how) as server, httpx2.Client(base_url=server.address, timeout=60) as client:
        yield client


def filled_up(client: httpx2.Client) -> tuple[int, Any]:
    """How many designs are kept before one is refused, and the refusal."""
    for count in range(1000):
        answer = client.post("/v1/designs", json=building(name=f"D{count}", walls={}))
        if answer.status_code != 201:
            return count, answer
    raise AssertionError("the disk was never full")


def kept(client: httpx2.Client) -> int:
    """How many designs there are, by their pages."""
    count, after = 0, ""
    while True:
        page = client.get(f"/v1/designs?limit=100{after}").json()
        count += len(page["designs"])
        if "next" not in page:
            return count
        after = f"&after={page['next']}"


def is_sound(file: Path) -> bool:
    connection = sqlite3.connect(file)
    try:
        return bool(connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)])
    finally:
        connection.close()


def test_a_disk_that_is_full(tmp_path: Path) -> None:
    disk = tmp_path / "disk"
    disk.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=512k", "tmpfs", disk], capture_output=True, check=False
    )
    if mounted.returncode != 0:
        pytest.skip("a small disk cannot be mounted here (that takes root, and a container that may)")
    try:
        ballast = disk / "ballast"
        ballast.write_bytes(b"x" * 100_000)
        with calling("--designs", disk / "designs.sqlite") as client:
            count, refusal = filled_up(client)
            held = problem(refusal, "no-room")
            assert str(tmp_path) not in refusal.text
            assert "nothing was written" in held["detail"]
            assert count > 5
            assert kept(client) == count
            ballast.unlink()
            assert client.post("/v1/designs", json=building()).status_code == 201
            assert kept(client) == count + 1
        assert is_sound(disk / "designs.sqlite")
    finally:
        subprocess.run(["umount", disk], check=True)


def test_a_file_that_may_not_grow(tmp_path: Path) -> None:
    file = tmp_path / "designs.sqlite"
    limited = ["sh", "-c", f'ulimit -f {MOST_BLOCKS}; exec "$@"', "sh"]
    with calling("--designs", file, within=limited) as client:
        count, refusal = filled_up(client)
        held = problem(refusal, "designs-unavailable")
        assert str(tmp_path) not in refusal.text
        assert "nothing was written" in held["detail"]
        assert count > 5
        assert kept(client) == count
        address = client.get("/v1/designs?limit=1").json()["designs"][0]["id"]
        assert client.get(f"/v1/designs/{address}/layout").status_code == 200
    with serving("--designs", file) as server, httpx2.Client(base_url=server.address, timeout=60) as client:
        assert kept(client) == count
        assert client.post("/v1/designs", json=building()).status_code == 201
    assert is_sound(file)


def test_a_folder_that_is_read_only(closed: Path) -> None:
    within = within_permissions()
    closed.chmod(0o500)
    done = run("serve", "--designs", closed / "designs.sqlite", "--port", "0", within=within)
    refused(done, "designs.sqlite", "cannot be opened")
    assert list(closed.iterdir()) == []


def test_a_default_place_that_cannot_be_made(closed: Path) -> None:
    within = within_permissions()
    closed.chmod(0o500)
    variables = {name: value for name, value in os.environ.items() if name != VARIABLE}
    variables["XDG_DATA_HOME"] = str(closed)
    with calling(within=within, variables=variables) as client:
        # Nobody asked for designs, so the server starts; and says so to who wants one kept.
        assert client.get("/health").status_code == 200
        for answer in (client.get("/v1/designs"), client.post("/v1/designs", json=building())):
            assert str(closed) not in answer.text
            problem(answer, "designs-unavailable")
        closed.chmod(0o700)
        assert client.post("/v1/designs", json=building()).status_code == 201
    assert (closed / "soleplate" / "designs.sqlite").exists()


def test_a_store_that_turns_read_only(closed: Path) -> None:
    within = within_permissions()
    file = closed / "designs.sqlite"
    with calling("--designs", file, within=within) as client:
        made = client.post("/v1/designs", json=building())
        assert made.status_code == 201
    assert [entry.name for entry in closed.iterdir()] == ["designs.sqlite"], (
        "all of it is in one file at rest"
    )
    file.chmod(0o400)
    closed.chmod(0o500)
    done = run("designs", "list", "--designs", file, within=within)
    refused(done, "designs.sqlite")
    file.chmod(0o600)
    closed.chmod(0o700)
    assert made.json()["id"] in run("designs", "list", "--designs", file).stdout
