"""Answers kept for whoever sends the same again, the oldest unused given up first."""

from __future__ import annotations

from collections import OrderedDict
from typing import Final

from soleplate.api.http import Done
from soleplate.api.work.jobs import Job

MOST_BYTES: Final = 32_000_000
"""Of bodies and answers together."""


class KeptAnswers:
    """The same job with the same plugins gives the same bytes, so a lasting answer need not be made twice."""

    def __init__(self, most_bytes: int = MOST_BYTES) -> None:
        self._most = most_bytes
        self._bytes = 0
        self._kept: OrderedDict[Job, Done] = OrderedDict()

    def get(self, job: Job) -> Done | None:
        """The answer to a job, if it is kept."""
        done = self._kept.get(job)
        if done is not None:
            self._kept.move_to_end(job)
        return done

    def keep(self, job: Job, done: Done) -> None:
        """Keep an answer, unless it is large or will not be the same again."""
        if not done.lasting or _size(job, done) > self._most // 16 or job in self._kept:
            return
        self._kept[job] = done
        self._bytes += _size(job, done)
        while self._bytes > self._most:
            self._bytes -= _size(*self._kept.popitem(last=False))


def _size(job: Job, done: Done) -> int:
    return len(job.body) + len(done.body)
