"""Turns at a few workers: bounded, and shared evenly among those who wait."""

from __future__ import annotations

import asyncio
from collections import deque
from collections.abc import Callable, Coroutine, Sequence
from typing import Any, Final, Protocol

import anyio
import anyio.to_thread
from starlette.requests import ClientDisconnect

from soleplate.api.http import Outcome, OverCapacity
from soleplate.api.work.jobs import Job

MOST_WAITING: Final = 64
"""Calls that may wait for their turn before the next is turned away."""

MOST_OF_ONE: Final = 16
"""Of those, how many may be of one client."""


class Worker(Protocol):
    """Does one job at a time."""

    def run(self, job: Job) -> Outcome:
        """Do a job to its end, in the calling thread."""

    def start(self) -> None:
        """Get ready for the first job; without this, that job waits for it."""

    def end(self) -> None:
        """Stop, with the job in hand."""


_Turn = asyncio.Future[Worker | None]
"""A place in the queue: the worker once it has come, or none where nobody waits for it any more."""


class Lane:
    """Workers that take jobs of one kind.

    Who waits is served client after client, each in the order of its calls, so that one who sends a
    hundred does not keep another from a first. All of it runs in one event loop, hence without locks.
    """

    def __init__(
        self,
        workers: Sequence[Worker],
        *,
        retry_after_s: int,
        most_waiting: int = MOST_WAITING,
        most_of_one: int = MOST_OF_ONE,
    ) -> None:
        self.workers: Final = tuple(workers)
        self._idle: Final = list(workers)
        self._waiting: Final[dict[str, deque[_Turn]]] = {}
        self._retry: Final = {"Retry-After": str(retry_after_s)}
        self._most_waiting: Final = most_waiting
        self._most_of_one: Final = most_of_one
        self._threads: anyio.CapacityLimiter | None = None

    async def run(self, job: Job, client: str, gone: Callable[[], Coroutine[Any, Any, None]]) -> Outcome:
        """Have a job done when it is its turn.

        Args:
            job: what to do.
            client: who asks.
            gone: returns when nobody waits for the answer any more.

        Raises:
            OverCapacity: too many wait.
            ClientDisconnect: the client left before the job was begun.
        """
        worker = self._idle.pop() if self._idle else await self._turn(client, gone)
        try:
            self._threads = self._threads or anyio.CapacityLimiter(len(self.workers))
            return await anyio.to_thread.run_sync(worker.run, job, limiter=self._threads)
        finally:
            self._hand_on(worker)

    async def _turn(self, client: str, gone: Callable[[], Coroutine[Any, Any, None]]) -> Worker:
        own = self._waiting.get(client, ())
        if len(own) >= self._most_of_one or sum(map(len, self._waiting.values())) >= self._most_waiting:
            whose = "of yours " if len(own) >= self._most_of_one else ""
            raise OverCapacity(f"too many calls {whose}wait; send it again in a moment", self._retry)
        turn: _Turn = asyncio.get_running_loop().create_future()
        self._waiting.setdefault(client, deque()).append(turn)

        def leave(_: asyncio.Future[None]) -> None:
            if not turn.done():
                self._leave(client, turn)
                turn.set_result(None)

        watch = asyncio.ensure_future(gone())
        watch.add_done_callback(leave)
        try:
            worker = await turn
        except asyncio.CancelledError:
            if turn.cancelled():
                self._leave(client, turn)
            elif (worker := turn.result()) is not None:
                self._hand_on(worker)
            raise
        finally:
            watch.remove_done_callback(leave)
            watch.cancel()
        if worker is None:
            raise ClientDisconnect
        return worker

    def _hand_on(self, worker: Worker) -> None:
        """Give a free worker to whoever is next."""
        if not self._waiting:
            self._idle.append(worker)
            return
        client = next(iter(self._waiting))
        turns = self._waiting.pop(client)
        turn = turns.popleft()
        if turns:
            self._waiting[client] = turns
        if turn.cancelled():
            self._hand_on(worker)
        else:
            turn.set_result(worker)

    def _leave(self, client: str, turn: _Turn) -> None:
        """Give up a place in the queue, if it is still there."""
        turns = self._waiting.get(client, deque())
        if turn not in turns:
            return
        turns.remove(turn)
        if not turns:
            del self._waiting[client]
