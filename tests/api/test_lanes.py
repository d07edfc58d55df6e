"""Turns at workers: bounded, in order, and shared evenly."""

from __future__ import annotations

import threading
from collections.abc import Awaitable, Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from typing import TypeVar

import anyio
import pytest
from anyio.abc import TaskGroup
from starlette.requests import ClientDisconnect

from soleplate.api.http.outcomes import Done, Outcome
from soleplate.api.http.refusals import OverCapacity
from soleplate.api.work.jobs import Job
from soleplate.api.work.lanes import Lane

Answer = TypeVar("Answer")


class Gated:
    """A worker that begins a job at once, and ends one each time its gate is opened."""

    def __init__(self) -> None:
        self.begun: list[str] = []
        self.gate = threading.Semaphore(0)

    def run(self, job: Job) -> Outcome:
        self.begun.append(job.name)
        assert self.gate.acquire(timeout=60)
        return Done(job.name.encode(), "text/plain")

    def start(self) -> None: ...

    def end(self) -> None: ...


def in_a_loop(work: Callable[[], Awaitable[Answer]]) -> Answer:
    """What it answers; in a thread of its own, since a browser of other tests keeps a loop in this one."""
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(anyio.run, work).result()


async def stays() -> None:
    await anyio.sleep_forever()


class Callers:
    """Calls to one lane, each in a task of its own, in the order in which they are made."""

    def __init__(self, lane: Lane, tasks: TaskGroup) -> None:
        self._lane = lane
        self._tasks = tasks
        self.answers: dict[str, Outcome | Exception] = {}

    async def call(
        self, client: str, name: str, gone: Callable[[], Awaitable[None]] = stays
    ) -> anyio.CancelScope:
        scope = anyio.CancelScope()

        async def one() -> None:
            with scope:
                try:
                    self.answers[name] = await self._lane.run(Job(name, b""), client, gone)
                except (OverCapacity, ClientDisconnect) as error:
                    self.answers[name] = error

        self._tasks.start_soon(one)
        await anyio.wait_all_tasks_blocked()
        return scope


def played(play: Callable[[Callers, Gated], Awaitable[None]], **bounds: int) -> tuple[Callers, Gated]:
    """What came of a play with one worker, once its gate is wide open."""
    worker = Gated()

    async def run() -> Callers:
        lane = Lane([worker], retry_after_s=7, **bounds)
        async with anyio.create_task_group() as tasks:
            callers = Callers(lane, tasks)
            await play(callers, worker)
            worker.gate.release(100)
        return callers

    return in_a_loop(run), worker


def test_clients_take_turns() -> None:
    async def play(callers: Callers, _: Gated) -> None:
        for client, name in (("a", "a1"), ("a", "a2"), ("a", "a3"), ("b", "b1"), ("c", "c1"), ("b", "b2")):
            await callers.call(client, name)

    callers, worker = played(play)
    assert worker.begun == ["a1", "a2", "b1", "c1", "a3", "b2"]
    assert {name: done.body for name, done in callers.answers.items() if isinstance(done, Done)} == {
        name: name.encode() for name in worker.begun
    }


@pytest.mark.parametrize(
    ("bounds", "refused", "words"),
    [
        ({"most_waiting": 2}, ["a4", "b1"], "too many calls wait"),
        ({"most_of_one": 2}, ["a4"], "too many calls of yours wait"),
    ],
)
def test_more_than_may_wait_are_turned_away(bounds: dict[str, int], refused: list[str], words: str) -> None:
    async def play(callers: Callers, _: Gated) -> None:
        for name in ("a1", "a2", "a3", "a4", "b1"):
            await callers.call(name[0], name)

    callers, worker = played(play, **bounds)
    errors = {name: error for name, error in callers.answers.items() if isinstance(error, OverCapacity)}
    assert sorted(errors) == refused
    for error in errors.values():
        assert words in error.detail
        assert error.headers == {"Retry-After": "7"}
    assert not set(refused) & set(worker.begun)


def test_what_nobody_waits_for_is_not_begun() -> None:
    async def play(callers: Callers, _: Gated) -> None:
        left = anyio.Event()
        await callers.call("a", "a1")
        await callers.call("a", "a2", left.wait)
        await callers.call("a", "a3")
        left.set()
        await anyio.wait_all_tasks_blocked()

    callers, worker = played(play)
    assert worker.begun == ["a1", "a3"]
    assert isinstance(callers.answers["a2"], ClientDisconnect)


def test_a_call_that_is_given_up_passes_its_turn_on() -> None:
    async def play(callers: Callers, _: Gated) -> None:
        await callers.call("a", "a1")
        waiting = await callers.call("a", "a2")
        await callers.call("b", "b1")
        waiting.cancel()
        await anyio.wait_all_tasks_blocked()

    callers, worker = played(play)
    assert worker.begun == ["a1", "b1"]
    assert "a2" not in callers.answers


def test_a_worker_that_fails_is_free_again() -> None:
    class Failing(Gated):
        def run(self, job: Job) -> Outcome:
            if job.name == "bad":
                raise RuntimeError(job.name)
            return Done(b"", "text/plain")

    async def run() -> Outcome:
        lane = Lane([Failing()], retry_after_s=1)
        with suppress(RuntimeError):
            await lane.run(Job("bad", b""), "a", stays)
        return await lane.run(Job("good", b""), "a", stays)

    assert isinstance(in_a_loop(run), Done)
