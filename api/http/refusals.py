"""Calls that are turned away, each kind a class of its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from soleplate.api.http.problem_types import (
    BAD_HEAD,
    HEAD_TOO_LARGE,
    MEDIA,
    NO_IF_MATCH,
    NO_TOKEN,
    NOT_ACCEPTABLE,
    NOT_FOUND,
    OTHER_SITE,
    OVER_CAPACITY,
    PARAMETER,
    STOPPING,
    TOO_BUSY,
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


class BadHead(Refusal):
    """What came in is not HTTP."""

    kind = BAD_HEAD


class HeadTooLarge(Refusal):
    """The request's line and headers have more bytes, or more headers, than are read."""

    kind = HEAD_TOO_LARGE


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
    """The request does not come in."""

    kind = TOO_SLOW


class WorkerLost(Refusal):
    """The process that did the work ended."""

    kind = WORKER_LOST


class TooBusy(Refusal):
    """The work was not done in time, for want of a processor or waiting for something."""

    kind = TOO_BUSY

    def __init__(self) -> None:
        super().__init__("the machine is too busy to do this in time; send it again", {"Retry-After": "30"})


class Stopping(Refusal):
    """The server itself ended the work, or does not begin it, because it stops."""

    kind = STOPPING

    def __init__(self) -> None:
        super().__init__("the server is stopping; send it again once it is up", {"Retry-After": "10"})


class NotThere(Refusal):
    """What the address names is not there."""

    kind = NOT_FOUND


class BadParameter(Refusal):
    """A parameter of the address, or a header, that cannot be so."""

    kind = PARAMETER


class NotAcceptable(Refusal):
    """The caller takes none of the forms that there are."""

    kind = NOT_ACCEPTABLE


class NoIfMatch(Refusal):
    """A change that does not say which revision it is of."""

    kind = NO_IF_MATCH
