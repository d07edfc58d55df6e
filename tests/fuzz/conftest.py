"""Where the fuzzer runs."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import pytest

TESTS_OF_ONE = 6


@pytest.fixture(scope="module")
def beside() -> Iterator[ProcessPoolExecutor]:
    """A process of its own: the fuzzer keeps 300 MB of what it worked out, which end with it.

    After some tests another takes its place, so that none grows over 600 MB.
    """
    with ProcessPoolExecutor(
        1, get_context("spawn"), warnings.simplefilter, ("error",), max_tasks_per_child=TESTS_OF_ONE
    ) as process:
        yield process
