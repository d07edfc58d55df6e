"""Work in processes: the same answers, and nothing that a plugin does stops the server."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread

import pytest

from soleplate.api.http.outcomes import LATER, Done, Failed
from soleplate.api.http.refusals import Stopping, TooBusy, WorkerLost
from soleplate.api.work.jobs import Job, Jobs
from soleplate.api.work.messages import EXAMPLE_BUILDING, EXAMPLE_SAW_PLAN, EXAMPLE_STOCK, EXAMPLE_WALL
from soleplate.api.work.workers import InProcess, InThread, PluginChoice
from soleplate.engine.registry import PATIENCE, Patience
from tests.api import plugin_files
from tests.buildings import building, registry

WALL = Job("wall", json.dumps(EXAMPLE_WALL).encode())
LONELY = Job("layout", json.dumps(building(defaults={"studs": {"rule": "lonely"}})).encode())


@contextmanager
def process(
    *files: Path,
    quick: bool = False,
    limit_s: float = 600.0,
    processor_s: float | None = None,
    patience: Patience = PATIENCE,
) -> Iterator[InProcess]:
    """A worker in a process, ended at the end."""
    chosen = PluginChoice(files, patience=patience)
    worker = InProcess(chosen, quick=quick, limit_s=limit_s, processor_s=processor_s, nice=1)
    try:
        yield worker
    finally:
        worker.end()


def plugin(folder: Path, body: str) -> Path:
    """A stud rule that does what `body` says."""
    file = folder / "barn.py"
    file.write_text(plugin_files.STUDS.replace("BODY", body))
    return file


def test_a_process_gives_the_same_bytes_as_a_thread() -> None:
    with process(quick=True) as worker:
        there = worker.run(WALL)
        assert isinstance(there, Done)
        assert there == InThread(Jobs(registry()), quick=True).run(WALL)
        assert worker.run(Job("wall", b"{")) == InThread(Jobs(registry()), quick=True).run(Job("wall", b"{"))


@pytest.mark.parametrize(
    "job",
    [
        Job("layout", json.dumps(EXAMPLE_BUILDING | {"stock": EXAMPLE_STOCK}).encode()),
        Job("saw-plan", json.dumps(EXAMPLE_SAW_PLAN).encode()),
        Job(
            "layout",
            json.dumps(
                building(
                    outline={"walls": [{"name": f"wall {n}", "length": 4500} for n in range(60)]},
                    roof={"form": "level", "height": 2400},
                )
            ).encode(),
        ),
    ],
    ids=["with stock", "saw plan", "large"],
)
def test_what_is_not_quick_is_done_later(job: Job) -> None:
    jobs = Jobs(registry())
    assert InThread(jobs, quick=True).run(job) is LATER
    assert isinstance(InThread(jobs, quick=False).run(job), Done)


def test_a_fault_is_told_at_once_where_the_work_would_take_long() -> None:
    faulty = json.dumps(EXAMPLE_SAW_PLAN | {"kerf": -1}).encode()
    assert isinstance(InThread(Jobs(registry()), quick=True).run(Job("saw-plan", faulty)), Failed)


def test_a_process_that_is_killed_loses_its_job_and_no_other(tmp_path: Path) -> None:
    file = plugin(tmp_path, "import os, signal; os.kill(os.getpid(), signal.SIGKILL)")
    with process(file) as worker:
        with pytest.raises(WorkerLost, match="ended before it was done"):
            worker.run(LONELY)
        assert isinstance(worker.run(WALL), Done)


def test_a_rule_that_never_returns_is_named(tmp_path: Path) -> None:
    with process(plugin(tmp_path, "while True: pass"), patience=Patience(3.0)) as worker:
        failed = worker.run(LONELY)
        assert isinstance(failed, Failed)
        assert (failed.problem.status, failed.problem.plugin, failed.problem.rule) == (500, "barn", "lonely")
        assert "has not answered after 3 s of processor time" in failed.problem.detail


CATCHING = """while True:
            try:
                while True: pass
            except: pass"""


def test_one_that_catches_every_stop_is_named_and_ends_with_its_process(tmp_path: Path) -> None:
    with process(plugin(tmp_path, CATCHING), patience=Patience(3.0)) as worker:
        failed = worker.run(LONELY)
        assert isinstance(failed, Failed)
        assert (failed.problem.status, failed.problem.plugin, failed.problem.rule) == (500, "barn", "lonely")
        assert isinstance(worker.run(WALL), Done)


STUBBORN = """import signal
        signal.signal(signal.SIGALRM, signal.SIG_IGN)
        while True: pass"""


@pytest.mark.parametrize("body", [STUBBORN, "import itertools; return [sum(itertools.repeat(0))]"])
def test_one_that_cannot_be_stopped_ends_with_its_process(tmp_path: Path, body: str) -> None:
    with process(plugin(tmp_path, body), processor_s=2.0) as worker:
        failed = worker.run(LONELY)
        assert isinstance(failed, Failed)
        assert (failed.problem.status, failed.problem.type) == (422, "/problems/too-much-work")
        assert isinstance(worker.run(WALL), Done)


def test_what_used_little_of_the_processor_is_nobodys_fault(tmp_path: Path) -> None:
    """It waits for something, or for a busy machine: nothing tells them apart from outside."""
    with process(plugin(tmp_path, "import time; time.sleep(1e6)"), limit_s=0.5) as worker:
        with pytest.raises(TooBusy, match="too busy to do this in time") as raised:
            worker.run(LONELY)
        assert (raised.value.kind.status, list(raised.value.headers)) == (503, ["Retry-After"])


def test_while_others_wait_it_is_put_off(tmp_path: Path) -> None:
    with process(plugin(tmp_path, "while True: pass"), quick=True, limit_s=6.0) as worker:
        assert worker.run(LONELY) is LATER
        assert isinstance(worker.run(WALL), Done)


def test_a_plugin_that_broke_since_the_start_is_named(tmp_path: Path) -> None:
    file = plugin(tmp_path, "return []")
    file.write_text("1 / 0")
    with process(file) as worker:
        failed = worker.run(WALL)
        assert isinstance(failed, Failed)
        assert (failed.problem.status, failed.problem.plugin) == (500, "barn")


def test_a_worker_that_is_ended_takes_its_job_along(tmp_path: Path) -> None:
    begun = tmp_path / "begun"
    file = plugin(tmp_path, f"open({str(begun)!r}, 'w').close()\n        while True: pass")
    said: list[str] = []

    def work() -> None:
        with pytest.raises(Stopping) as raised:
            worker.run(LONELY)
        said.append(raised.value.detail)

    with process(file) as worker:
        thread = Thread(target=work)
        thread.start()
        while not begun.exists():
            thread.join(0.05)
        worker.end()
        thread.join()
        assert said == ["the server is stopping; send it again once it is up"]
        with pytest.raises(Stopping):
            worker.run(WALL)
        worker.start()
        assert isinstance(worker.run(WALL), Done)
