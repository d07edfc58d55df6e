"""`soleplate designs`, and the place that `soleplate serve` is given."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from pathlib import Path

import httpx2
import pytest

from soleplate.api.store.designs import DesignStore
from soleplate.api.store.place import VARIABLE, Place
from tests.api.test_command_line import refused
from tests.buildings import PLAIN, building
from tests.serving import run, serving


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """Where a deleted design and one of two revisions are kept."""
    file = tmp_path / "designs.sqlite"
    store = DesignStore.open(Place(str(file)))
    first = store.add("First", json.dumps(building(name="First")))
    store.save(first.id, "Second\x1b[2J", json.dumps(building(name="Second")), seen=[1])
    store.delete(store.add("Gone", json.dumps(building(name="Gone"))).id, seen=[1])
    store.close()
    return file


def without_variable(**set_: str) -> Mapping[str, str]:
    return {name: value for name, value in os.environ.items() if name != VARIABLE} | set_


def test_list(file: Path) -> None:
    (line,) = run("designs", "list", "--designs", file).stdout.splitlines()
    assert line.split()[1] == "2"
    assert line.endswith("Second\N{REPLACEMENT CHARACTER}[2J"), "nothing that a terminal obeys"
    gone = run("designs", "list", "--show", "deleted", variables=without_variable(**{VARIABLE: str(file)}))
    assert "Gone (deleted 2" in gone.stdout
    assert len(run("designs", "list", "--designs", file, "--show", "all").stdout.splitlines()) == 2


def test_export_and_import(file: Path, tmp_path: Path) -> None:
    archive, other = tmp_path / "all.jsonl", tmp_path / "other.sqlite"
    assert run("designs", "export", archive, "--designs", file).returncode == 0
    assert run("designs", "export", "-", "--designs", file).stdout == archive.read_text()
    refused(run("designs", "export", archive, "--designs", file), "all.jsonl", "accepted is a new file")
    done = run("designs", "import", archive, "--designs", other)
    assert (done.returncode, done.stdout) == (0, "2 added, 0 here already\n")
    assert run("designs", "import", archive, "--designs", other).stdout == "0 added, 2 here already\n"
    assert run("designs", "export", "-", "--designs", other).stdout == archive.read_text()
    assert sorted(entry.name for entry in tmp_path.iterdir()) == [
        "all.jsonl",
        "designs.sqlite",
        "other.sqlite",
    ]


def test_a_faulty_archive(file: Path, tmp_path: Path) -> None:
    archive = tmp_path / "all.jsonl"
    run("designs", "export", archive, "--designs", file)
    archive.write_text("".join(archive.read_text().splitlines(keepends=True)[:-1]))
    other = tmp_path / "other.sqlite"
    refused(
        run("designs", "import", archive, "--designs", other),
        "all.jsonl: /6",
        "cut off",
        "nothing was imported",
    )
    assert run("designs", "list", "--designs", other, "--show", "all").stdout == ""


def test_no_such_place(tmp_path: Path) -> None:
    refused(run("designs", "list", "--designs", tmp_path / "none.sqlite"), "none.sqlite", "no such file")
    refused(run("designs", "import", tmp_path / "none.jsonl"), "none.jsonl")
    refused(run("designs", "list", "--designs", "mysql://host/x"), "--designs", "accepted is")
    assert list(tmp_path.iterdir()) == []


def test_a_server_does_not_start_on_what_is_no_place(tmp_path: Path) -> None:
    notes = tmp_path / "notes.txt"
    notes.write_text("Buy screws. " * 200)
    refused(run("serve", "--port", "0", "--designs", notes), "notes.txt", "left as it is")
    nowhere = f"postgresql://me:sesame@/designs?host={tmp_path}"
    done = run("serve", "--port", "0", "--designs", nowhere)
    refused(done, "me:***@", "cannot be reached")
    assert "sesame" not in done.stderr


def test_a_server_keeps_designs_with_the_users_own_data(tmp_path: Path) -> None:
    with (
        serving(variables=without_variable(XDG_DATA_HOME=str(tmp_path))) as server,
        httpx2.Client(base_url=server.address, timeout=60) as client,
    ):
        assert client.get("/health").status_code == 200
        assert list(tmp_path.iterdir()) == [], "nothing is made before somebody keeps or looks for a design"
        assert client.post("/v1/designs", json=PLAIN).status_code == 201
    assert (tmp_path / "soleplate" / "designs.sqlite").exists()
