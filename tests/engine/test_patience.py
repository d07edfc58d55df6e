"""How long a call into a plugin may take, told from what the clocks say and never from how long it took."""

from __future__ import annotations

import signal
import subprocess
import sys
import time
from dataclasses import replace
from types import FrameType, SimpleNamespace
from typing import Any, cast

import pytest

from soleplate.engine.laying_out import lay_out
from soleplate.engine.registry import Patience, RuleError
from soleplate.engine.registry.patience import (
    AGAIN_LOOKS,
    AGAIN_S,
    MOST_STOPS,
    Meter,
    OutOfTime,
    keeping_time,
    limited,
)
from tests.buildings import building, registry

ALLOWED = Patience(processor_s=10.0, idle_s=60.0)


def fault(used: str) -> RuleError:
    return RuleError("barn", "lonely", f"has not answered {used}")


def test_what_waits_for_a_busy_processor_goes_on_until_it_has_had_its_time() -> None:
    """4 ms of every second, with hundreds of others: it takes 40 minutes, and nobody is blamed."""
    meter = Meter(ALLOWED, 5.0, 7.0)
    said = [meter.look(5.0 + 0.004 * tick, 7.0 + 0.004 * tick) for tick in range(1, 2_501)]
    assert said[:-1] == [None] * 2_499
    assert said[-1] == "after 10 s of processor time"


def test_what_uses_no_processor_is_stopped_after_a_while() -> None:
    meter = Meter(ALLOWED, 5.0, 7.0)
    said = [meter.look(5.0, 7.0 + 0.0001 * tick) for tick in range(1, 61)]
    assert said[:-1] == [None] * 59
    assert said[-1] == "for 60 s in which it used no processor time"


def test_what_works_now_and_then_or_in_another_thread_is_not_idle() -> None:
    meter = Meter(ALLOWED, 5.0, 7.0)
    assert {meter.look(5.0, 7.0 + tick // 50) for tick in range(1, 1_000)} == {None}


def test_what_goes_on_after_a_stop_is_stopped_again_soon() -> None:
    meter = Meter(ALLOWED, 0.0, 0.0)
    assert meter.look(10.0, 10.0)
    meter.stopped(10.0)
    assert meter.look(10.0 + AGAIN_S / 2, 10.0 + AGAIN_S / 2) is None
    assert meter.look(10.0 + AGAIN_S, 10.0 + AGAIN_S)
    meter.stopped(10.0 + AGAIN_S)
    waiting = [meter.look(10.15, 10.15) for _ in range(AGAIN_LOOKS + 1)]
    assert [said is not None for said in waiting] == [False] * AGAIN_LOOKS + [True]


def looked_at(module: str, allowed: Patience, times: int) -> list[str]:
    """What comes of looks while a module's code runs, its time over."""
    said: list[str] = []
    with limited(allowed, fault):
        end = time.thread_time() + allowed.processor_s
        signal.setitimer(signal.ITIMER_REAL, 3600.0)
        while time.thread_time() < end:
            pass
        look = cast("Any", signal.getsignal(signal.SIGALRM))
        for _ in range(times):
            try:
                look(signal.SIGALRM, cast("FrameType", SimpleNamespace(f_globals={"__name__": module})))
                said.append("")
            except OutOfTime as error:
                said.append(str(error))
            again = time.thread_time() + AGAIN_S
            while time.thread_time() < again:
                pass
    return said


def test_a_plugin_is_broken_into_and_what_calls_it_is_not() -> None:
    """A call that has just come back is not blamed, and what it left is put in order."""
    short = Patience(processor_s=0.01)
    assert looked_at("barn", short, 2) == ["after 0.01 s of processor time"] * 2
    for module in ("soleplate.engine.registry.blame", "contextlib", "importlib._bootstrap"):
        assert looked_at(module, short, 1) == [""]


def test_one_that_catches_every_stop_comes_to_an_end_at_last() -> None:
    ended: list[str] = []
    allowed = Patience(processor_s=0.01, at_last=lambda error: ended.append(str(error)))
    said = looked_at("barn", allowed, MOST_STOPS + 1)
    assert all(said)
    assert len(ended) == 1
    assert "rule lonely: has not answered after 0.01 s of processor time" in ended[0]


def test_one_timer_serves_all_calls_of_a_layout(monkeypatch: pytest.MonkeyPatch) -> None:
    """A building has thousands of calls."""
    installed = replace(registry(), patience=ALLOWED)
    set_to: list[float] = []
    real = signal.setitimer
    monkeypatch.setattr(signal, "setitimer", lambda which, *s: set_to.append(s[0]) or real(which, *s))
    lay_out(installed.read_building(building()), installed)
    assert set_to == [ALLOWED.tick_s, 0.0]
    assert signal.getsignal(signal.SIGALRM) == signal.SIG_DFL


def test_each_call_of_one_layout_has_time_of_its_own() -> None:
    """Many that take long together are not stopped, nor is what is done between them."""
    short = Patience(processor_s=0.1)
    with keeping_time(short):
        for _ in range(4):
            with limited(short, fault):
                burn(0.06)
            burn(0.06)
        with pytest.raises(RuleError, match=r"after 0\.1 s of processor time"), limited(short, fault):
            burn(60.0)
        with limited(short, fault):
            burn(0.06)


def test_a_call_within_a_call_is_a_part_of_it() -> None:
    short = Patience(processor_s=0.1)
    with keeping_time(short), pytest.raises(RuleError, match=r"after 0\.1 s"):
        call_and_call(short)


def call_and_call(allowed: Patience) -> None:
    """One call that goes on making others."""
    with limited(allowed, fault):
        while True:
            with limited(allowed, fault):
                burn(0.01)


def burn(seconds: float) -> None:
    """Use the processor for so long."""
    end = time.thread_time() + seconds
    while time.thread_time() < end:
        pass


BLOCKED = """
import signal, time
from soleplate.engine.registry import Patience
from soleplate.engine.registry.patience import limited
with limited(Patience(processor_s=0.04), ValueError):
    signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGALRM})
    while signal.SIGALRM not in signal.sigpending():
        pass
signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGALRM})
print("alive")
"""


def test_a_signal_that_comes_too_late_ends_nothing() -> None:
    """In a process of its own, for it would end that."""
    done = subprocess.run([sys.executable, "-c", BLOCKED], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (0, "alive\n"), done.stderr


LAST = """
from soleplate.api.terminal import at_last
from soleplate.engine.registry import RuleError
try:
    at_last(RuleError("barn", "lonely", "has not answered"))
except BaseException:
    print("still there")
"""


def test_the_command_line_ends_with_a_sentence_even_so() -> None:
    done = subprocess.run([sys.executable, "-c", LAST], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (
        "plugin barn: rule lonely: has not answered; mend it, or leave it out (--without barn)\n"
    )


def test_another_timer_of_the_program_is_left_alone() -> None:
    signal.setitimer(signal.ITIMER_REAL, 3600.0)
    try:
        with limited(Patience(processor_s=0.01), fault):
            assert signal.getsignal(signal.SIGALRM) == signal.SIG_DFL
        assert signal.getitimer(signal.ITIMER_REAL)[0] > 3000.0
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0.0)


def test_what_is_done_in_time_gives_what_it_gives() -> None:
    with pytest.raises(KeyError), limited(ALLOWED, fault):
        raise KeyError
