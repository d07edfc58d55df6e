"""Where the fuzzer runs."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

import pytest


@pytest.fixture(scope="module")
def beside() -> Iterator[ProcessPoolExecutor]:
    """A process of its own: the fuzzer keeps 300 MB of what it worked out, which end with it."""
    with ProcessPoolExecutor(1, get_context("spawn"), warnings.simplefilter, ("error",)) as process:
        yield process
