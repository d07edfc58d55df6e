"""Calls that are turned away, each kind a class of its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from soleplate.api.problem_types import (
    MEDIA,
    NO_TOKEN,
    OTHER_SITE,
    OVER_CAPACITY,
    TOO_LARGE,
    TOO_SLOW,
    WORKER_LOST,
    WRONG_HOST,
    ProblemType,
)


class Refusal(Exception):  # noqa: N818 - it is an answer, not a fault of ours
    """A call that is turned away, and not by the engine."""

    kind: ClassVar[ProblemType]

    def __init__(self, detail: str, headers: Mapping[str, str] | None = None) -> None:
        self.detail = detail
        self.headers = dict(headers or {})
        super().__init__(detail)


class TooLarge(Refusal):
    """The body has more bytes than are read."""

    kind = TOO_LARGE


class WrongMediaType(Refusal):
    """The body is not declared to be JSON."""

    kind = MEDIA


class NoToken(Refusal):
    """The call needs a bearer token, and did not bring the right one."""

    kind = NO_TOKEN


class WrongHost(Refusal):
    """The call was meant for a server of another name."""

    kind = WRONG_HOST


class OverCapacity(Refusal):
    """Too many calls wait for their turn."""

    kind = OVER_CAPACITY


class OtherSite(Refusal):
    """A page of another site calls."""

    kind = OTHER_SITE


class TooSlow(Refusal):
    """The body does not come in."""

    kind = TOO_SLOW


class WorkerLost(Refusal):
    """The process that did the work ended."""

    kind = WORKER_LOST
