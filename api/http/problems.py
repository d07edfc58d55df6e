"""From an exception to problem details (RFC 9457), and to the answer that carries them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Final

from pydantic import Field
from starlette.exceptions import HTTPException
from starlette.responses import Response
from starlette.types import Scope

from soleplate.api.http.bases import base_of
from soleplate.api.http.entity_tags import tag_of
from soleplate.api.http.problem_types import (
    ARCHIVE,
    ARCHIVE_CLASH,
    DELETED,
    DESIGNS_BUSY,
    DESIGNS_UNAVAILABLE,
    INTERNAL,
    KEY_REUSED,
    METHOD,
    MOVED_ON,
    NO_ROOM,
    NOT_FOUND,
    PLUGIN,
    SCHEMA,
    TOO_MUCH_WORK,
    UNBUILDABLE,
    UNREADABLE,
    ProblemType,
)
from soleplate.api.http.refusals import Refusal
from soleplate.api.http.request_ids import id_of
from soleplate.api.store import (
    ArchiveClashError,
    ArchiveError,
    BusyError,
    DeletedError,
    FullError,
    KeyReusedError,
    MovedOnError,
    NoDesignError,
    StoreError,
)
from soleplate.engine.building_file import BuildingError, SchemaError, UnbuildableError, UnreadableError
from soleplate.engine.layout import Result
from soleplate.engine.registry import PluginError, RuleError

RETRY_S: Final = 10
"""Seconds after which to send a call again, where nothing says it better."""

MOST_FAULTS: Final = 100
"""That one answer lists; how many more there are is counted."""

MEDIA_TYPE: Final = "application/problem+json"

OF_EXCEPTION: Final[Mapping[type[Exception], ProblemType]] = {
    UnreadableError: UNREADABLE,
    SchemaError: SCHEMA,
    UnbuildableError: UNBUILDABLE,
    PluginError: PLUGIN,
    TimeoutError: TOO_MUCH_WORK,
    MemoryError: TOO_MUCH_WORK,
    StoreError: DESIGNS_UNAVAILABLE,
    BusyError: DESIGNS_BUSY,
    FullError: NO_ROOM,
    NoDesignError: NOT_FOUND,
    DeletedError: DELETED,
    MovedOnError: MOVED_ON,
    KeyReusedError: KEY_REUSED,
    ArchiveError: ARCHIVE,
    ArchiveClashError: ARCHIVE_CLASH,
}
"""Of what is no refusal, which brings its own type."""

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
    """The address of a page that explains it. Its path, `/problems/NAME`, is stable, for programs."""
    title: str
    """The same for all problems of a type."""
    status: int
    """The HTTP status."""
    detail: str
    """What happened this time."""
    errors: tuple[ProblemFault, ...] = Field(default=())
    """The first faults of the body, a hundred at the most, each with its place."""
    more_errors: int = 0
    """How many faults there are besides."""
    plugin: str | None = None
    """The plugin that is at fault."""
    rule: str | None = None
    """Its rule that is at fault."""
    request_id: str | None = None
    """The call, as the server's log names it; also in the header `X-Request-ID`."""


def problem_type(error: Exception) -> ProblemType:
    """The type of an exception's problem; what nobody foresaw is `internal`."""
    if isinstance(error, Refusal):
        return error.kind
    if isinstance(error, HTTPException):
        return OF_STATUS.get(error.status_code, INTERNAL)
    return next((OF_EXCEPTION[kind] for kind in type(error).__mro__ if kind in OF_EXCEPTION), INTERNAL)


def problem_of(error: Exception) -> Problem:
    """An exception as problem details; of our own faults no particulars are given away."""
    kind = problem_type(error)
    detail = kind.meaning
    faults: tuple[ProblemFault, ...] = ()
    more = 0
    plugin = rule = None
    if isinstance(error, BuildingError | ArchiveError):
        faults, more = _faults_of(error)
        detail = "; ".join(str(fault).replace("(the whole file)", "the body") for fault in error.faults[:3])
        detail += f"; and {len(error.faults) - 3} more" if len(error.faults) > 3 else ""
    elif isinstance(error, PluginError):
        detail, plugin = str(error), error.plugin
        rule = error.rule if isinstance(error, RuleError) else None
    elif isinstance(error, Refusal):
        detail = error.detail
    elif isinstance(error, StoreError):
        detail = str(error)
    return Problem(
        type=kind.uri,
        title=kind.title,
        status=kind.status,
        detail=detail,
        errors=faults,
        more_errors=more,
        plugin=plugin,
        rule=rule,
    )


def _faults_of(error: BuildingError | ArchiveError) -> tuple[tuple[ProblemFault, ...], int]:
    """Those that an answer lists, and how many there are besides."""
    listed = error.faults[:MOST_FAULTS]
    told = tuple(ProblemFault(pointer=fault.pointer, detail=fault.message) for fault in listed)
    return told, len(error.faults) - len(told)


def faults_json(error: BuildingError) -> bytes:
    """The faults alone, as the members `errors` and `more_errors` that problem details have."""
    faults, more = _faults_of(error)
    counted = {"more_errors": more} if more else {}
    return _ascii_json({"errors": [fault.model_dump() for fault in faults], **counted})


def headers_of(error: Exception) -> dict[str, str]:
    """The headers that go with an exception's answer, a list of methods in a fixed order."""
    headers = dict(getattr(error, "headers", None) or {})
    if isinstance(error, MovedOnError):
        headers["ETag"] = tag_of(error.head)
    if isinstance(error, BusyError):
        headers["Retry-After"] = "1"
    if "Allow" in headers:
        headers["Allow"] = ", ".join(sorted(headers["Allow"].split(", ")))
    return headers


def answer_with(problem: Problem, headers: Mapping[str, str], scope: Scope) -> Response:
    """The answer to a call that carries problem details; its type is the address of the page of it."""
    told = problem.model_copy(update={"request_id": id_of(scope), "type": f"{base_of(scope)}{problem.type}"})
    wait = {"Retry-After": f"{RETRY_S}"} if problem.status == 503 else {}
    return Response(problem_json(told), problem.status, {**wait, **headers}, MEDIA_TYPE)


def problem_json(problem: Problem) -> bytes:
    """Problem details as JSON."""
    return _ascii_json(problem.model_dump(exclude_none=True, exclude_defaults=True))


def _ascii_json(value: object) -> bytes:
    """In ASCII: a fault may quote text that UTF-8 cannot carry."""
    return json.dumps(value, ensure_ascii=True).encode("ascii")
