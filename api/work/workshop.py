"""Where the work of the API is done: a lane for what is quick, one for what takes its time.

The event loop only hands out and takes back, so that it always has time for the next call. What turns out
not to be quick is done again in the other lane, and keeps nobody waiting who sent one wall.
"""

from __future__ import annotations

import os
from collections.abc import Iterable
from typing import Final, Self

from starlette.requests import Request

from soleplate.api.http import LATER, Done, Failed, Outcome, WorkerLost
from soleplate.api.limits import QUICK_S, SLOW_S, WAITING_S
from soleplate.api.work.jobs import Job, Jobs
from soleplate.api.work.kept_answers import KeptAnswers
from soleplate.api.work.lanes import Lane, Worker
from soleplate.api.work.workers import InProcess, InThread, PluginChoice
from soleplate.engine.registry import Registry

IN_THREADS: Final = 2
"""Python's threads share one processor, so that more only wait on each other."""

QUICK_NICE: Final = 3
SLOW_NICE: Final = 10
"""How far the processes stand back for the server itself, which answers in no time."""


class Workshop:
    """Does jobs in workers of two lanes, and keeps the answers that last."""

    def __init__(self, quick: Iterable[Worker], slow: Iterable[Worker]) -> None:
        self._quick: Final = Lane(tuple(quick), retry_after_s=1)
        self._slow: Final = Lane(tuple(slow), retry_after_s=10)
        self._kept: Final = KeptAnswers()

    @classmethod
    def in_threads(cls, registry: Registry) -> Self:
        """Of this process alone; nothing bounds the time that a rule takes."""
        jobs = Jobs(registry)
        return cls(
            [InThread(jobs, quick=True) for _ in range(IN_THREADS)],
            [InThread(jobs, quick=False) for _ in range(IN_THREADS)],
        )

    @classmethod
    def in_processes(
        cls,
        plugins: PluginChoice,
        count: int | None = None,
    ) -> Self:
        """Of `count` processes for each lane, one for each processor unless given."""
        number = count or os.cpu_count() or 1
        return cls(
            [InProcess(plugins, quick=True, limit_s=QUICK_S, nice=QUICK_NICE) for _ in range(number)],
            [
                InProcess(plugins, quick=False, limit_s=WAITING_S, processor_s=SLOW_S, nice=SLOW_NICE)
                for _ in range(number)
            ],
        )

    def start(self) -> None:
        """Get ready for quick jobs; the workers for others start when there is one."""
        for worker in self._quick.workers:
            worker.start()

    def end(self) -> None:
        """Stop all workers."""
        for worker in (*self._quick.workers, *self._slow.workers):
            worker.end()

    async def do(self, job: Job, request: Request) -> Done | Failed:
        """Have a job done for a call whose body was read.

        Raises:
            OverCapacity: too many calls wait.
            WorkerLost: the process that did it ended, and so did the next one's.
            TooBusy: it had to wait for too long.
            Stopping: the workshop ended.
            ClientDisconnect: the client left before its turn came.
        """
        if (kept := self._kept.get(job)) is not None:
            return kept

        async def gone() -> None:
            while (await request.receive())["type"] != "http.disconnect":
                pass

        client = request.client.host if request.client else ""

        async def done_in(lane: Lane) -> Outcome:
            try:
                return await lane.run(job, client, gone)
            except WorkerLost:
                # Jobs change nothing, so that one may be done again: what ended its worker may be over.
                return await lane.run(job, client, gone)

        outcome = await done_in(self._quick)
        if outcome is LATER:
            outcome = await done_in(self._slow)
        if outcome is LATER:
            raise TimeoutError
        if isinstance(outcome, Done):
            self._kept.keep(job, outcome)
        return outcome
