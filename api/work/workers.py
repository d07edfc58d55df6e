"""Workers: a thread for a server within a program, and a process that can be ended, whatever goes on in it.

A process loads the same plugins as the server. It ends with the server, whatever ends that.
"""

from __future__ import annotations

import gc
import math
import multiprocessing
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Final

from soleplate.api.http import LATER, Outcome, Stopping, TooBusy, WorkerLost, failed
from soleplate.api.work.jobs import Job, Jobs
from soleplate.engine.registry import PATIENCE, Patience, PluginError, Registry, load_registry, quietly

SPAWN: Final = multiprocessing.get_context("spawn")
"""Works everywhere, and a fork of a process with threads works nowhere."""

STARTING_S: Final = 60.0
"""Time to load the plugins in."""

MOST_MEMORY: Final = 4 << 30
"""Bytes that a worker process may ask for, where the system can hold it to that."""

ENDED: Final = (
    "the process that did the work ended before it was done, for want of memory or by a crash;"
    " another takes its place"
)


OUT_OF_PROCESSOR_TIME: Final = getattr(signal, "SIGXCPU", 0)
"""The signal by which a system ends a process that used what it may."""


@dataclass(frozen=True, slots=True)
class PluginChoice:
    """Which plugins to load; as `load_registry` takes it."""

    files: tuple[Path, ...] = ()
    blocked: tuple[str, ...] = ()
    keep_going: bool = False
    patience: Patience | None = PATIENCE
    """How long one call into a plugin may take, where it can be stopped."""

    def load(self) -> Registry:
        """Load them.

        Raises:
            PluginError: a plugin is broken or clashes with another.
        """
        with quietly():
            return load_registry(
                files=self.files, blocked=self.blocked, keep_going=self.keep_going, patience=self.patience
            )


class InThread:
    """A worker in the server's own process. Nothing ends a job there but the job itself."""

    def __init__(self, jobs: Jobs, *, quick: bool) -> None:
        self._jobs = jobs
        self._quick = quick

    def run(self, job: Job) -> Outcome:
        """Do a job."""
        return self._jobs.perform(job, quick=self._quick)

    def start(self) -> None:
        """It is ready."""

    def end(self) -> None:
        """It has nothing of its own to stop."""


class InProcess:
    """A worker in a process of its own, started for its first job and again whenever it was lost.

    A job that takes longer than `limit_s` is ended: if it was to be quick it is to be done later, else the
    machine is too busy, or it waits for something. One that takes `processor_s` of processor time, where the
    system holds it to that, is more than a call may have. `nice` lowers the process's priority, where the
    system knows of such a thing.
    """

    def __init__(
        self,
        plugins: PluginChoice,
        *,
        quick: bool,
        limit_s: float,
        processor_s: float | None = None,
        nice: int,
    ) -> None:
        self._task = _Task(plugins, quick, limit_s, processor_s, nice)
        self._process: multiprocessing.process.BaseProcess | None = None
        self._connection: Connection | None = None
        self._is_ended = False
        self._is_ready = False

    @property
    def pid(self) -> int | None:
        """Of the process; none before it is started."""
        return self._process.pid if self._process else None

    def start(self) -> None:
        """Start the process, also after an end; it loads its plugins while this returns."""
        self._is_ended = False
        self._started()

    def _started(self) -> Connection:
        if self._is_ended:
            raise Stopping
        if self._connection is not None and self._process is not None and self._process.is_alive():
            return self._connection
        self._drop()
        ours, theirs = SPAWN.Pipe()
        process = SPAWN.Process(target=_work, args=(theirs, self._task), daemon=True)
        with _no_interrupts():
            process.start()
        theirs.close()
        self._process, self._connection = process, ours
        return ours

    def run(self, job: Job) -> Outcome:
        """Have a job done.

        Raises:
            WorkerLost: the process ended in the middle of it.
            TooBusy: it took too long, without using much of the processor.
            Stopping: it was ended here.
        """
        connection = self._started()
        patience = self._task.limit_s + (0.0 if self._is_ready else STARTING_S)
        try:
            connection.send(job)
            while connection.poll(patience):
                answer: Outcome | _Ready | _Last = connection.recv()
                if isinstance(answer, _Last):
                    self._drop()
                    return answer.outcome
                if not isinstance(answer, _Ready):
                    return answer
                self._is_ready, patience = True, self._task.limit_s
        except (EOFError, OSError):
            return self._lost()
        self._drop()
        if self._task.quick:
            return LATER
        raise TooBusy

    def _lost(self) -> Outcome:
        """What a process comes to that ended in the middle of a job."""
        process = self._process
        self._drop()
        if self._is_ended:
            raise Stopping
        if process is not None and process.exitcode == -OUT_OF_PROCESSOR_TIME:
            return failed(TimeoutError())
        raise WorkerLost(ENDED)

    def end(self) -> None:
        """End the process; a job in it is lost."""
        self._is_ended = True
        if self._process is not None:
            self._process.kill()
            self._process.join()

    def _drop(self) -> None:
        if self._process is not None:
            self._process.kill()
            self._process.join()
        if self._connection is not None:
            self._connection.close()
        self._process = self._connection = None
        self._is_ready = False


@dataclass(frozen=True, slots=True)
class _Task:
    """What a process is told when it starts."""

    plugins: PluginChoice
    quick: bool
    limit_s: float
    processor_s: float | None
    nice: int


@dataclass(frozen=True, slots=True)
class _Ready:
    """The plugins are loaded."""


@dataclass(frozen=True, slots=True)
class _Last:
    """The process ends with this outcome, for nothing else stops what a plugin does in it."""

    outcome: Outcome


def _work(connection: Connection, task: _Task) -> None:
    """The life of a worker process: jobs in, outcomes out, until the server closes its end."""
    # What a plugin prints is no part of what the server prints.
    sys.stdout = sys.stderr
    _end_with_the_server()
    _bound_memory()

    def at_last(error: PluginError) -> None:
        connection.send(_Last(failed(error)))
        os._exit(1)

    perform: Callable[[Job], Outcome]
    try:
        # In the quick lane no rule is timed: what takes long is done again in the other, and named there.
        timed = None if task.quick or task.plugins.patience is None else task.plugins.patience
        patience = timed and replace(timed, at_last=at_last)
        jobs = Jobs(replace(task.plugins, patience=patience).load())
    except PluginError as error:
        broken = failed(error)
        perform = lambda _: broken  # noqa: E731 - the one thing it can say
    else:
        perform = lambda job: jobs.perform(job, quick=task.quick)  # noqa: E731
    gc.freeze()
    # Not before: the first job waits for the plugins.
    _lower_priority(task.nice)
    with suppress(EOFError, OSError):
        connection.send(_Ready())
        while True:
            job = connection.recv()
            _bound_processor(task.processor_s)
            connection.send(perform(job))


def _end_with_the_server() -> None:
    """End at once when the server has ended, even in the middle of a job."""
    server = multiprocessing.parent_process()

    def follow() -> None:
        if server is not None:
            server.join()
        os._exit(1)

    threading.Thread(target=follow, daemon=True).start()


def _lower_priority(nice: int) -> None:
    if hasattr(os, "nice"):
        os.nice(nice)


def _bound_memory() -> None:
    try:
        import resource
    except ImportError:  # not a Unix
        return
    # Not every Unix holds a process to it, and a limit that is lower already stays.
    with suppress(ValueError, OSError):
        _, hard = resource.getrlimit(resource.RLIMIT_AS)
        most = MOST_MEMORY if hard == resource.RLIM_INFINITY else min(MOST_MEMORY, hard)
        resource.setrlimit(resource.RLIMIT_AS, (most, hard))


def _bound_processor(seconds: float | None) -> None:
    """Have the system end this process once it has used so much more processor time, in whole seconds."""
    try:
        import resource
    except ImportError:  # not a Unix
        return
    if seconds is None:
        return
    with suppress(ValueError, OSError):
        _, hard = resource.getrlimit(resource.RLIMIT_CPU)
        most = math.ceil(time.process_time() + seconds)
        resource.setrlimit(
            resource.RLIMIT_CPU, (most if hard == resource.RLIM_INFINITY else min(most, hard), hard)
        )


@contextmanager
def _no_interrupts() -> Iterator[None]:
    """A process started within this is left alone by Ctrl+C, which reaches it as it does the server."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)
