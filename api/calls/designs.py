"""The calls on kept designs."""

from __future__ import annotations

import asyncio
import logging
import re
from contextlib import suppress
from typing import Any, Final

from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import Response

from soleplate.api.calls.design_messages import (
    DesignsOut,
    RevisionsOut,
    design_json,
    revision_row,
    row_of,
    saved,
)
from soleplate.api.calls.keeping import Keeping
from soleplate.api.http import (
    UNBUILDABLE,
    DesignsQuery,
    Done,
    Failed,
    NotThere,
    ProblemFault,
    RevisionsQuery,
    fresh,
    idempotency_key,
    is_known,
    read_body,
    read_query,
    revisions_seen,
    tag_of,
)
from soleplate.api.store import Text
from soleplate.api.work import Job, Workshop
from soleplate.engine.building_file import UnbuildableError, read_json
from soleplate.engine.registry import Registry

JSON: Final = "application/json"

LOG: Final = logging.getLogger("soleplate.api")

LOOKING_S: Final = 1.0
"""Seconds to find out what is wrong with a building before it is kept."""

Faults = tuple[ProblemFault, ...] | None

_ID: Final = re.compile(r"[0-9a-f]{32}")
_NUMBER: Final = re.compile(r"[1-9][0-9]{0,8}")


class DesignCalls:
    """Keeping, reading, changing and deleting designs."""

    def __init__(self, registry: Registry, keeping: Keeping, workshop: Workshop) -> None:
        self._registry = registry
        self._keeping = keeping
        self._workshop = workshop
        self._looking: Final[set[asyncio.Task[Done | Failed]]] = set()

    async def designs(self, request: Request) -> Response:
        """A page of designs."""
        query = read_query(DesignsQuery, request)
        found = await self._keeping.do(
            # One more than asked for tells whether there is another page.
            lambda store: store.designs(limit=query.limit + 1, after=query.after, show=query.show)
        )
        page = found[: query.limit]
        following = page[-1].id if len(found) > len(page) else None
        return await _list(request, DesignsOut(designs=tuple(map(row_of, page)), next=following))

    async def add(self, request: Request) -> Response:
        """Keep a new design; one that is sent again with its key is kept once."""
        key = idempotency_key(request.headers)
        name, text, faults = await self._sent(request)
        design = await self._keeping.do(lambda store: store.add(name, text, key=key))
        headers = {"Location": f"/v1/designs/{design.id}", "ETag": tag_of(design.head)}
        return _json(saved(design, faults), status=201, headers=headers)

    async def design(self, request: Request) -> Response:
        """A design with its building file."""
        return _text(request, await self.text(request))

    async def save(self, request: Request) -> Response:
        """Keep the next revision of a design."""
        key, seen = id_in(request), revisions_seen(request.headers)
        name, text, faults = await self._sent(request)
        design = await self._keeping.do(lambda store: store.save(key, name, text, seen=seen))
        return _json(saved(design, faults), headers={"ETag": tag_of(design.head)})

    async def delete(self, request: Request) -> Response:
        """Take a design away, until it is brought back."""
        key, seen = id_in(request), revisions_seen(request.headers)
        return _json(row_of(await self._keeping.do(lambda store: store.delete(key, seen=seen))))

    async def restore(self, request: Request) -> Response:
        """Bring a deleted design back."""
        key = id_in(request)
        design = await self._keeping.do(lambda store: store.restore(key))
        return _json(row_of(design), headers={"ETag": tag_of(design.head)})

    async def revisions(self, request: Request) -> Response:
        """A page of a design's revisions."""
        key, query = id_in(request), read_query(RevisionsQuery, request)
        found = await self._keeping.do(
            lambda store: store.revisions(key, limit=query.limit + 1, below=query.after)
        )
        page = found[: query.limit]
        following = page[-1].number if len(found) > len(page) else None
        return await _list(request, RevisionsOut(revisions=tuple(map(revision_row, page)), next=following))

    async def revision(self, request: Request) -> Response:
        """A design as it was at one of its revisions."""
        number = request.path_params["revision"]
        if not _NUMBER.fullmatch(number):
            raise NotThere("revisions are numbers from 1 on")
        return _text(request, await self.text(request, int(number)))

    async def text(self, request: Request, number: int | None = None) -> Text:
        """The design that a call names; its newest revision unless one is named.

        Raises:
            StoreError: it is not there, or cannot be read.
        """
        key = id_in(request)
        return await self._keeping.do(lambda store: store.text(key, number))

    async def _sent(self, request: Request) -> tuple[str, str, Faults]:
        """The name and the text of the building file that a call sends, with what is wrong with the building.

        Raises:
            UnreadableError: it is no JSON.
            SchemaError: the published JSON Schema says no.
        """
        body = await read_body(request)
        name = await self._keeping.in_thread(lambda: self._read(body))
        return name, body.decode("utf-8-sig"), await self._faults(body, request)

    def _read(self, body: bytes) -> str:
        value: Any = read_json(body)
        # What cannot be built is kept all the same: it is work in progress.
        with suppress(UnbuildableError):
            self._registry.read_building(value)
        name: str = value["name"]
        return name

    async def _faults(self, body: bytes, request: Request) -> Faults:
        """What keeps a building from being set out; None where that is not known soon enough.

        Never a reason not to keep it.
        """
        # A job that a worker has begun cannot be cancelled, so what is late is left to end by itself.
        looking = asyncio.create_task(self._workshop.do(Job("check", body), request))
        self._looking.add(looking)
        looking.add_done_callback(self._over)
        await asyncio.wait((looking,), timeout=LOOKING_S)
        if not looking.done() or looking.exception() is not None:
            return None
        outcome = looking.result()
        if isinstance(outcome, Done):
            return () if outcome.body == b"[]" else None
        return outcome.problem.errors if outcome.problem.type == UNBUILDABLE.uri else None

    def _over(self, looking: asyncio.Task[Done | Failed]) -> None:
        self._looking.discard(looking)
        if not looking.cancelled() and (error := looking.exception()) is not None:
            LOG.info("nobody looked whether a design can be built: %r", error)


def id_in(request: Request) -> str:
    """The id in the address of a call.

    Raises:
        NotThere: no design has such an id.
    """
    key: str = request.path_params["id"]
    if not _ID.fullmatch(key):
        raise NotThere("no design is kept under this id")
    return key


def _text(request: Request, text: Text) -> Response:
    """A revision; never compressed, for `If-Match` takes no weak tag."""
    headers = {"ETag": tag_of(text.revision.number)}
    if is_known(request.headers, headers["ETag"]):
        return Response(status_code=304, headers=headers)
    return Response(design_json(text), headers=headers, media_type=JSON)


async def _list(request: Request, answer: DesignsOut | RevisionsOut) -> Response:
    return await fresh(request, answer.model_dump_json(exclude_none=True).encode(), JSON)


def _json(answer: BaseModel, *, status: int = 200, headers: dict[str, str] | None = None) -> Response:
    return Response(answer.model_dump_json(exclude_none=True), status, headers, JSON)
