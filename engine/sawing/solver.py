"""HiGHS, started quietly and set to be repeatable."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import highspy


@contextmanager
def _stdout_closed() -> Iterator[None]:
    """File descriptor 1 led away: HiGHS greets there when first made, before it can be told not to."""
    sys.stdout.flush()
    kept = os.dup(1)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)


def new_solver() -> Any:
    """A silent HiGHS on one thread with a fixed seed.

    Untyped, for its type stubs lack some of its methods.
    """
    with _stdout_closed():
        solver = highspy.Highs()  # type: ignore[no-untyped-call]
    for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 0), ("presolve", "off")):
        solver.setOptionValue(option, value)
    return solver
