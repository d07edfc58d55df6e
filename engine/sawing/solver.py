"""The solver HiGHS, silent and repeatable."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import highspy


@contextmanager
def _stdout_silenced() -> Iterator[None]:
    """Send standard output nowhere: HiGHS prints a banner when made, before an option can stop it."""
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

    It is `Any`, since its type stubs lack some of its methods.
    """
    with _stdout_silenced():
        solver = highspy.Highs()  # type: ignore[no-untyped-call]
    for option, value in (("output_flag", False), ("threads", 1), ("random_seed", 0), ("presolve", "off")):
        solver.setOptionValue(option, value)
    return solver
