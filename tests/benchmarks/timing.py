"""Timing that holds on a shared machine: processor time, by turns in one run, the best of many."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from typing import Final

Work = Callable[[], object]

STEPS: Final = 20_000


def by_turns(works: Sequence[Work], rounds: int) -> list[float]:
    """The least processor time of each, ms; they take turns, so that all meet the same machine."""
    best = [float("inf")] * len(works)
    for work in works:
        work()
    for _ in range(rounds):
        for index, work in enumerate(works):
            start = time.process_time()
            work()
            best[index] = min(best[index], (time.process_time() - start) * 1000)
    return best


def yardstick() -> int:
    """The same work whatever becomes of the project: what is measured beside it compares between machines."""
    found: dict[int, tuple[int, str]] = {}
    for step in range(STEPS):
        key = step * 7919 % 10_007
        found[key] = (step, str(key))
    return sum(len(text) for _, text in sorted(found.values()))
