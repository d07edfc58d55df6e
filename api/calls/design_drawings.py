"""The calls that give what is made of a kept design: its layout, its walls drawn, what changed in it."""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import partial
from typing import Final

import anyio.to_thread
from starlette.requests import Request
from starlette.responses import Response

from soleplate.api.calls.designs import DesignCalls
from soleplate.api.calls.working import layout_options, response
from soleplate.api.http import (
    MISSING_RULES,
    NOT_FOUND,
    ONCE,
    SCHEMA,
    SVG,
    UNBUILDABLE,
    UNBUILDABLE_DESIGN,
    ChangesQuery,
    Done,
    Failed,
    Fixed,
    Problem,
    ProblemType,
    elevation_query,
    read_query,
    require_accepted,
)
from soleplate.api.work import Job, Workshop
from soleplate.engine.registry import Registry

OF_DESIGN: Final = {SCHEMA.uri: MISSING_RULES, UNBUILDABLE.uri: UNBUILDABLE_DESIGN}
"""What is wrong with a body that was just sent is another type than what is wrong with a kept one.

A design was held to the schema when it was kept, so that only the rules can have changed since.
"""


def _of_design(problem: Problem) -> Problem:
    """What is wrong with the body of a job, as what is wrong with the design; places are in its file."""
    if problem.type not in OF_DESIGN:
        return problem
    if [fault.pointer for fault in problem.errors] == ["/wall"]:
        told = {"detail": problem.errors[0].detail, "errors": ()}
        return _retyped(problem, NOT_FOUND).model_copy(update=told)
    errors = tuple(
        fault.model_copy(update={"pointer": fault.pointer.removeprefix("/building")})
        for fault in problem.errors
    )
    return _retyped(problem, OF_DESIGN[problem.type]).model_copy(update={"errors": errors})


def _retyped(problem: Problem, kind: ProblemType) -> Problem:
    return problem.model_copy(update={"type": kind.uri, "title": kind.title, "status": kind.status})


def _of_revision(revisions: tuple[int, int], problem: Problem) -> Problem:
    """The same of a job on two revisions, whose places begin with which of them it is."""
    if not problem.errors or not problem.errors[0].pointer:
        return problem
    number = revisions[int(problem.errors[0].pointer[1])]
    errors = tuple(fault.model_copy(update={"pointer": fault.pointer[2:]}) for fault in problem.errors)
    told = {"detail": f"revision {number}: {errors[0].detail}", "errors": errors}
    known = problem.type in OF_DESIGN
    return (_retyped(problem, OF_DESIGN[problem.type]) if known else problem).model_copy(update=told)


class DesignDrawings:
    """What is made of kept designs."""

    def __init__(self, registry: Registry, designs: DesignCalls, workshop: Workshop) -> None:
        self._designs = designs
        self._workshop = workshop
        self._elevation: Final = elevation_query(registry)

    async def layout(self, request: Request) -> Response:
        """The layout of a design."""
        options = layout_options(request)
        text = await self._designs.text(request)
        return await self._answer(request, Job("layout", text.body.encode(), options=options))

    async def changes(self, request: Request) -> Response:
        """What changed between two revisions of a design."""
        query = read_query(ChangesQuery, request)
        new = await self._designs.text(request, query.until)
        until = new.revision.number
        since = query.since or max(until - 1, 1)
        old = await self._designs.text(request, since)
        job = Job("changes", f"[[{since}, {old.body}], [{until}, {new.body}]]".encode())
        return await self._answer(request, job, partial(_of_revision, (since, until)))

    async def elevation(self, request: Request) -> Response:
        """A wall of a design, drawn."""
        require_accepted(request.headers, SVG)
        query = read_query(self._elevation, request)
        text = await self._designs.text(request)
        asked = json.dumps({"wall": request.path_params["wall"], "side": query.side, "layers": query.layers})
        return await self._answer(
            request, Job("elevation", f'{asked[:-1]}, "building": {text.body}}}'.encode())
        )

    async def _answer(
        self, request: Request, job: Job, told: Callable[[Problem], Problem] = _of_design
    ) -> Response:
        outcome = await self._workshop.do(job, request)
        if isinstance(outcome, Done):
            # In a thread, for it is hashed and compressed.
            made = Fixed(outcome.body, outcome.media_type, level=ONCE)
            return await anyio.to_thread.run_sync(made.answer, request)
        return await response(Failed(told(outcome.problem), outcome.trace), request)
