"""What the workshop does about workers that are lost."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import anyio
import pytest
from starlette.requests import Request

from soleplate.api.http import LATER, Done, Outcome, WorkerLost
from soleplate.api.work.jobs import Job
from soleplate.api.work.workshop import Workshop

MADE = Done(b"made", "text/plain")


class Losing:
    """A worker that is lost with its first jobs, and then does one."""

    def __init__(self, lost: int, outcome: Outcome = MADE) -> None:
        self._lost = lost
        self._outcome = outcome
        self.begun = 0

    def run(self, job: Job) -> Outcome:
        self.begun += 1
        if self.begun <= self._lost:
            raise WorkerLost("ended")
        return self._outcome

    def start(self) -> None: ...

    def end(self) -> None: ...


def done(quick: Losing, slow: Losing) -> Outcome:
    """What comes of a call, in a thread of its own: a browser of other tests keeps a loop in this one."""
    request = Request({"type": "http", "client": None, "headers": []})
    with ThreadPoolExecutor(1) as thread:
        return thread.submit(anyio.run, Workshop([quick], [slow]).do, Job("wall", b"{}"), request).result()


@pytest.mark.parametrize("lost", [0, 1])
def test_a_job_whose_worker_was_lost_is_done_again(lost: int) -> None:
    quick, slow = Losing(lost), Losing(0)
    assert done(quick, slow) == MADE
    assert (quick.begun, slow.begun) == (lost + 1, 0)


def test_so_is_one_that_takes_its_time() -> None:
    quick, slow = Losing(1, LATER), Losing(1)
    assert done(quick, slow) == MADE
    assert (quick.begun, slow.begun) == (2, 2)


def test_one_that_is_lost_twice_is_told() -> None:
    quick = Losing(2)
    with pytest.raises(WorkerLost):
        done(quick, Losing(0))
    assert quick.begun == 2
