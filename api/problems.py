"""What can go wrong in a call, as RFC 9457 problem details: the types, and which exception is of which.

`type` is a relative URI, `/problems/NAME`, under which the server explains it. Titles and sentences are
ours, so that no library's wording reaches a client.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from pydantic import Field
from starlette.exceptions import HTTPException
from starlette.responses import Response

from soleplate.engine.errors import (
    BuildingError,
    PluginError,
    RuleError,
    SchemaError,
    UnbuildableError,
    UnreadableError,
)
from soleplate.engine.layout import Result

MEDIA_TYPE: Final = "application/problem+json"
LOG: Final = logging.getLogger("soleplate.api")


@dataclass(frozen=True, slots=True)
class ProblemType:
    """A kind of problem: `meaning` says what happened and what to do about it."""

    name: str
    status: int
    title: str
    meaning: str

    @property
    def uri(self) -> str:
        """The `type` of its problems."""
        return f"/problems/{self.name}"


class Refusal(Exception):  # noqa: N818 - it is an answer, not a fault of ours
    """A call that is turned away before the engine sees it; each kind is a class of its own."""

    def __init__(self, detail: str, headers: Mapping[str, str] | None = None) -> None:
        self.detail = detail
        self.headers = dict(headers or {})
        super().__init__(detail)


class TooLarge(Refusal):
    """The body has more bytes than are read."""


class WrongMediaType(Refusal):
    """The body is not declared to be JSON."""


class NoToken(Refusal):
    """The call needs a bearer token, and did not bring the right one."""


class WrongHost(Refusal):
    """The call was meant for a server of another name."""


class OverCapacity(Refusal):
    """Too many calls wait for their turn."""


UNREADABLE: Final = ProblemType(
    "unreadable",
    400,
    "The body cannot be read as JSON",
    "The body is not JSON in UTF-8, or two readers could read it differently: a key given twice in one"
    " object, NaN or an infinity, a number too large to be held, or a nesting too deep. Mend the text.",
)
NO_TOKEN: Final = ProblemType(
    "no-token",
    401,
    "A token is needed",
    "This server can be reached from other machines, so a call that sends something needs the header"
    " `Authorization: Bearer TOKEN` with the token it was started with.",
)
NOT_FOUND: Final = ProblemType(
    "not-found",
    404,
    "There is nothing at this address",
    "No call has this path, or what it names is not there. `/openapi.json` lists all calls.",
)
METHOD: Final = ProblemType(
    "method",
    405,
    "This address has no such method",
    "The path is right and the method is not. The answer's `Allow` header lists those that are.",
)
TOO_LARGE: Final = ProblemType(
    "too-large",
    413,
    "The body is too large",
    "The body has more bytes than the server reads. A building of a thousand walls takes less.",
)
MEDIA: Final = ProblemType(
    "media-type",
    415,
    "The body is not declared as JSON",
    "Send JSON in UTF-8, not compressed, with the header `Content-Type: application/json`.",
)
WRONG_HOST: Final = ProblemType(
    "wrong-host",
    421,
    "This server has another name",
    "The `Host` header names a server that this one is not. That protects it from pages of other sites that"
    " point a name of theirs at it. Use the address that `soleplate serve` printed.",
)
SCHEMA: Final = ProblemType(
    "schema",
    422,
    "The body breaks the published schema",
    "A member is unknown, missing or of another kind than the JSON Schema in `/openapi.json` asks for."
    " Each fault has its place and what would be accepted.",
)
UNBUILDABLE: Final = ProblemType(
    "unbuildable",
    422,
    "This cannot be set out",
    "The body keeps to the schema and describes something that cannot be built: an opening wider than its"
    " wall, heights that contradict each other. Each fault has its place and what would be accepted.",
)
PLUGIN: Final = ProblemType(
    "plugin",
    500,
    "A plugin failed",
    "The plugin that `plugin` names, in its rule `rule` where that is known, failed or returned something"
    " that cannot be. Tell its author, or start the server without it.",
)
INTERNAL: Final = ProblemType(
    "internal",
    500,
    "Soleplate failed",
    "A fault of Soleplate itself, not of the request. The server's log has the particulars: please report"
    " it with the request that brought it about.",
)
OVER_CAPACITY: Final = ProblemType(
    "over-capacity",
    503,
    "Too much to do at once",
    "So many calls wait that this one was not begun. Send it again after `Retry-After` seconds.",
)

PROBLEMS: Final = {
    problem.name: problem
    for problem in (
        UNREADABLE, NO_TOKEN, NOT_FOUND, METHOD, TOO_LARGE, MEDIA, WRONG_HOST, SCHEMA, UNBUILDABLE, PLUGIN,
        INTERNAL, OVER_CAPACITY,
    )
}  # fmt: skip

OF_EXCEPTION: Final[Mapping[type[Exception], ProblemType]] = {
    UnreadableError: UNREADABLE,
    SchemaError: SCHEMA,
    UnbuildableError: UNBUILDABLE,
    PluginError: PLUGIN,
    TooLarge: TOO_LARGE,
    WrongMediaType: MEDIA,
    NoToken: NO_TOKEN,
    WrongHost: WRONG_HOST,
    OverCapacity: OVER_CAPACITY,
}
OF_STATUS: Final[Mapping[int, ProblemType]] = {404: NOT_FOUND, 405: METHOD}
"""Of the exceptions by which the routing says that it found nothing."""


class ProblemFault(Result):
    """One fault of a request's body."""

    pointer: str
    """A JSON pointer (RFC 6901) into the body; empty for the whole."""
    detail: str
    """What is wrong there, and what would be accepted."""


class Problem(Result):
    """Why a call failed (RFC 9457)."""

    type: str
    """Stable, for programs; a relative URI that explains it."""
    title: str
    """The same for all problems of a type."""
    status: int
    """The HTTP status."""
    detail: str
    """What happened this time."""
    errors: tuple[ProblemFault, ...] = Field(default=())
    """The faults of the body, each with its place."""
    plugin: str | None = None
    """The plugin that is at fault."""
    rule: str | None = None
    """Its rule that is at fault."""


def problem_type(error: Exception) -> ProblemType:
    """The type of an exception's problem; what nobody foresaw is `internal`."""
    if isinstance(error, HTTPException):
        return OF_STATUS.get(error.status_code, INTERNAL)
    return next((OF_EXCEPTION[kind] for kind in type(error).__mro__ if kind in OF_EXCEPTION), INTERNAL)


def problem_of(error: Exception) -> Problem:
    """An exception as problem details; of our own faults no particulars are given away."""
    kind = problem_type(error)
    detail = kind.meaning
    faults: tuple[ProblemFault, ...] = ()
    plugin = rule = None
    if isinstance(error, BuildingError):
        faults = tuple(ProblemFault(pointer=fault.pointer, detail=fault.message) for fault in error.faults)
        detail = "; ".join(str(fault).replace("(the whole file)", "the body") for fault in error.faults[:3])
        detail += f"; and {len(faults) - 3} more" if len(faults) > 3 else ""
    elif isinstance(error, PluginError):
        detail, plugin = str(error), error.plugin
        rule = error.rule if isinstance(error, RuleError) else None
    elif isinstance(error, Refusal):
        detail = error.detail
    return Problem(
        type=kind.uri,
        title=kind.title,
        status=kind.status,
        detail=detail,
        errors=faults,
        plugin=plugin,
        rule=rule,
    )


def answer_to(error: Exception) -> Response:
    """The answer to a call that raised; what is no fault of the caller's is logged with its trace."""
    problem = problem_of(error)
    if problem.status == 500:
        LOG.error("%s", problem.title, exc_info=error)
    headers = dict(getattr(error, "headers", None) or {})
    if "Allow" in headers:
        headers["Allow"] = ", ".join(sorted(headers["Allow"].split(", ")))
    return Response(problem_json(problem), problem.status, headers, MEDIA_TYPE)


def problem_json(problem: Problem) -> bytes:
    """Problem details as JSON, in ASCII: a fault may quote text that UTF-8 cannot carry."""
    members = problem.model_dump(exclude_none=True, exclude_defaults=True)
    return json.dumps(members, ensure_ascii=True).encode("ascii")
