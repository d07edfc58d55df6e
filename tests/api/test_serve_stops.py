"""How a real server ends: calls under way are answered, and no process of it is left."""

from __future__ import annotations

import signal
import subprocess
import time
from collections.abc import Iterable
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path

import httpx2

from tests.api import plugin_files
from tests.buildings import building
from tests.serving import serving

WAITING = """import pathlib, time
        folder = pathlib.Path(FOLDER)
        (folder / "begun").touch()
        while not (folder / "go").exists(): time.sleep(0.01)
        return []"""


def waiting_plugin(folder: Path) -> Path:
    """A stud rule that begins, and goes on once there is a file `go`."""
    file = folder / "barn.py"
    file.write_text(plugin_files.STUDS.replace("BODY", WAITING.replace("FOLDER", repr(str(folder)))))
    return file


def lay_out(address: str) -> httpx2.Response:
    lonely = building(defaults={"studs": {"rule": "lonely"}})
    return httpx2.post(f"{address}v1/layouts", json=lonely, timeout=60)


def begun(folder: Path) -> None:
    """Returns once the rule is at work."""
    while not (folder / "begun").exists():
        time.sleep(0.02)


def processes() -> dict[int, tuple[int, str]]:
    """(parent, state) of every process, by its id."""
    told = subprocess.run(["ps", "-A", "-o", "pid=,ppid=,stat="], capture_output=True, text=True, check=True)
    rows = [line.split() for line in told.stdout.splitlines()]
    return {int(pid): (int(parent), state) for pid, parent, state in rows}


def children(pid: int) -> list[int]:
    return [child for child, (parent, _) in processes().items() if parent == pid]


def ended(pids: Iterable[int]) -> bool:
    """Whether they end, if not at once then soon; one that nobody has reaped yet has ended."""
    for _ in range(600):
        alive = [pid for pid in pids if not processes().get(pid, (0, "Z"))[1].startswith("Z")]
        if not alive:
            return True
        time.sleep(0.05)
    return False


def test_a_call_under_way_is_answered_and_every_process_ends(tmp_path: Path) -> None:
    with (
        ThreadPoolExecutor() as threads,
        serving("--plugin", waiting_plugin(tmp_path), "--workers", "1") as server,
    ):
        call: Future[httpx2.Response] = threads.submit(lay_out, server.address)
        begun(tmp_path)
        workers = children(server.process.pid)
        server.process.send_signal(signal.SIGTERM)
        (tmp_path / "go").touch()
        assert call.result().status_code == 200
        assert server.process.wait(60) in (0, -signal.SIGTERM)
        assert workers
        assert ended(workers)


def test_a_call_that_never_ends_is_given_up_after_the_grace(tmp_path: Path) -> None:
    options = ("--plugin", waiting_plugin(tmp_path), "--workers", "1", "--grace", "0")
    with ThreadPoolExecutor() as threads, serving(*options) as server:
        call = threads.submit(lay_out, server.address)
        begun(tmp_path)
        workers = children(server.process.pid)
        server.process.send_signal(signal.SIGTERM)
        assert server.process.wait(60) in (0, -signal.SIGTERM)
        answer = call.result()
        assert answer.status_code == 503
        assert answer.json()["type"].endswith("/problems/stopping")
        assert answer.headers["retry-after"] == "10"
        assert workers
        assert ended(workers)
        assert server.process.stderr is not None
        assert "Traceback" not in server.process.stderr.read()


def test_its_workers_end_with_a_server_that_is_killed(tmp_path: Path) -> None:
    with (
        ThreadPoolExecutor() as threads,
        serving("--plugin", waiting_plugin(tmp_path), "--workers", "1") as server,
    ):
        call = threads.submit(lay_out, server.address)
        begun(tmp_path)
        workers = children(server.process.pid)
        server.process.kill()
        assert isinstance(call.exception(), httpx2.TransportError)
        assert workers
        assert ended(workers)
