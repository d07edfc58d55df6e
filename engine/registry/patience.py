"""How long one call into a plugin may take, and how one that takes longer is stopped.

Time is that of the processor: what only waits for its turn on a busy machine goes on. What uses none, because
it sleeps or waits for something, is stopped after a while of that.

A timer's signal looks at the clocks, one timer for all calls of a layout. It can break into the main thread
alone, on a system with interval timers. From another thread, on another system, or while a program of one's
own has such a timer running, nothing is stopped, and whoever calls plugins there bounds them by a process.
Nor is compiled code that never comes back to the interpreter.
"""

from __future__ import annotations

import math
import signal
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from contextvars import ContextVar
from dataclasses import dataclass
from types import FrameType
from typing import Final

from soleplate.engine.registry.errors import PluginError

TICK_S: Final = 1.0
"""Seconds between two looks, and less for limits of less than four of them."""

IDLE_SHARE: Final = 0.002
"""Of the time between two looks: who uses less of the processor is idle. One that has to wait for it gets
more, even on a machine with hundreds of others; what wakes up ten times a second to look for something
takes less."""

IDLE_S: Final = 0.0005
"""Seconds of processor time between two looks that are idle too: the look itself takes a tenth."""

AGAIN_S: Final = 0.1
"""Seconds of processor time after which a plugin that caught the stop and went on is stopped again."""

AGAIN_LOOKS: Final = 4
"""Idle looks after which one that went on waiting is."""

MOST_STOPS: Final = 10
"""After which nothing but the end of the process will do."""

UNTOUCHED: Final = ("soleplate.engine.registry.", "importlib.", "contextlib")
"""Modules that are never broken into: they keep in order what has to be, and go on to the plugin, or are done
with it."""


@dataclass(frozen=True, slots=True)
class Patience:
    """How long one call into a plugin may take."""

    processor_s: float = 10.0
    """Seconds of processor time, of the thread that asks; the slowest that ship take some hundredths with one
    wall."""
    idle_s: float = 60.0
    """Seconds at a stretch in which the process uses no processor."""
    at_last: Callable[[PluginError], object] | None = None
    """Ends the process where a plugin catches every stop and goes on. Without it, it is stopped again and
    again."""

    @property
    def tick_s(self) -> float:
        """Seconds between two looks."""
        return min(TICK_S, self.processor_s / 4, self.idle_s / 4)


PATIENCE: Final = Patience()
"""How long a call may take unless it is told."""


class OutOfTime(BaseException):
    """Raised in a plugin that takes too long; no `Exception`, so that `except Exception` lets it pass."""


class Meter:
    """What a call has used, from one look at the clocks to the next.

    Args:
        allowed: what it may use.
        thread_s: processor time of the thread when the call begins.
        process_s: the same of the whole process.
    """

    def __init__(self, allowed: Patience, thread_s: float, process_s: float) -> None:
        self.stops = 0
        self._allowed: Final = allowed
        self._idle_s: Final = max(IDLE_SHARE * allowed.tick_s, IDLE_S)
        self._process_s = process_s
        self._idle = 0
        self._until_s = thread_s + allowed.processor_s
        self._most_idle = math.ceil(allowed.idle_s / allowed.tick_s)

    def look(self, thread_s: float, process_s: float) -> str | None:
        """What is used up by now, in words; `None` where it may go on."""
        self._idle = self._idle + 1 if process_s - self._process_s < self._idle_s else 0
        self._process_s = process_s
        if thread_s >= self._until_s:
            return f"after {self._allowed.processor_s:g} s of processor time"
        if self._idle >= self._most_idle:
            return f"for {self._allowed.idle_s:g} s in which it used no processor time"
        return None

    def stopped(self, thread_s: float) -> None:
        """A call was stopped; where it goes on, it has little time left."""
        self.stops += 1
        self._until_s = thread_s + AGAIN_S if thread_s >= self._until_s else self._until_s
        self._idle, self._most_idle = 0, AGAIN_LOOKS


class Timekeeper:
    """Looks at the clocks while calls into plugins are made, and breaks into one that has used up its time.

    Args:
        allowed: what each call may use.
    """

    def __init__(self, allowed: Patience) -> None:
        self._allowed: Final = allowed
        self._thread: Final = threading.get_ident()
        self._fault: Callable[[str], PluginError] | None = None
        self._began_s = (0.0, 0.0)
        self._meter: Meter | None = None

    def is_here(self) -> bool:
        """Whether it can break into what runs here: into the thread alone in which it began."""
        return threading.get_ident() == self._thread

    @contextmanager
    def over(self, fault: Callable[[str], PluginError]) -> Iterator[None]:
        """One call, made within; what it calls itself is a part of it."""
        if self._fault is not None:
            yield
            return
        self._began_s = time.thread_time(), time.process_time()
        self._fault = fault
        try:
            yield
        except OutOfTime as error:
            raise fault(str(error)) from None
        finally:
            self._fault = self._meter = None

    def look(self, _: int, frame: FrameType | None) -> None:
        """What the timer's signal does.

        Raises:
            OutOfTime: in a call that has used up its time.
        """
        if self._fault is None:
            return
        # Most calls are done before the first look, and need no meter.
        self._meter = self._meter or Meter(self._allowed, *self._began_s)
        thread_s = time.thread_time()
        used = self._meter.look(thread_s, time.process_time())
        if used is None or frame is None or str(frame.f_globals.get("__name__")).startswith(UNTOUCHED):
            return
        self._meter.stopped(thread_s)
        if self._allowed.at_last is not None and self._meter.stops > MOST_STOPS:
            self._allowed.at_last(self._fault(used))
        raise OutOfTime(used)


_KEEPER: Final[ContextVar[Timekeeper | None]] = ContextVar("_KEEPER", default=None)
"""Whoever keeps time of all the calls that are made now."""


@contextmanager
def keeping_time(allowed: Patience | None) -> Iterator[Timekeeper | None]:
    """Have one timer for all the calls that are made within, where that can be: one for each takes longer.

    A plugin that sets the timer itself is not stopped, nor are those that are called after it.
    """
    if allowed is None or not can_stop() or signal.getitimer(signal.ITIMER_REAL)[0] > 0.0:
        yield None
        return
    keeper = Timekeeper(allowed)
    before_it = _KEEPER.set(keeper)
    before = signal.signal(signal.SIGALRM, keeper.look)
    try:
        signal.setitimer(signal.ITIMER_REAL, allowed.tick_s, allowed.tick_s)
        yield keeper
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0.0)
        if signal.SIGALRM in signal.sigpending():
            # A plugin may have blocked it; if it came once it is nobody's, it would end the program.
            signal.sigwait({signal.SIGALRM})
        signal.signal(signal.SIGALRM, signal.SIG_DFL if before is None else before)
        _KEEPER.reset(before_it)


def limited(allowed: Patience | None, fault: Callable[[str], PluginError]) -> AbstractContextManager[None]:
    """Let what is done within take as long as is allowed, or as long as it likes where that is `None`.

    Within `keeping_time` it is as long as that allows.

    Raises:
        PluginError: `fault` of what was used up, once it is.
    """
    if allowed is None:
        return nullcontext()
    keeper = _KEEPER.get()
    if keeper is not None and keeper.is_here():
        return keeper.over(fault)
    return _alone(allowed, fault)


@contextmanager
def _alone(allowed: Patience, fault: Callable[[str], PluginError]) -> Iterator[None]:
    """One call with a timer of its own."""
    with keeping_time(allowed) as keeper, keeper.over(fault) if keeper is not None else nullcontext():
        yield


def can_stop() -> bool:
    """Whether a plugin that never returns can be stopped from here."""
    return hasattr(signal, "setitimer") and threading.current_thread() is threading.main_thread()
