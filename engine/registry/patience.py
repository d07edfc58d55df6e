"""How long one call into a plugin may take, where it can be stopped.

A rule that never returns cannot be asked to stop. In the main thread of a program, on a system with
interval timers, a signal can break into it; anywhere else `patience` waits without a limit, and whoever
calls plugins there has to bound them by a process of their own.
"""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Final, Never

AGAIN: Final = 0.1
"""Seconds after which the signal comes again, to a plugin that caught the first and went on."""


class OutOfTime(BaseException):
    """Raised in a plugin that takes too long; no `Exception`, so that `except Exception` lets it pass."""


@contextmanager
def patience(seconds: float | None) -> Iterator[None]:
    """Let what is done within take `seconds`, or as long as it likes where that is `None`.

    Where another timer runs already, that one is left alone.

    Raises:
        OutOfTime: in what is done within, once the time is over.
    """
    if seconds is None or not can_stop() or signal.getitimer(signal.ITIMER_REAL)[0] > 0.0:
        yield
        return
    before = signal.signal(signal.SIGALRM, _stop)
    try:
        signal.setitimer(signal.ITIMER_REAL, seconds, AGAIN)
        yield
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0.0)
        signal.signal(signal.SIGALRM, signal.SIG_DFL if before is None else before)


def can_stop() -> bool:
    """Whether a plugin that never returns can be stopped from here."""
    return hasattr(signal, "setitimer") and threading.current_thread() is threading.main_thread()


def _stop(*_: object) -> Never:
    raise OutOfTime
