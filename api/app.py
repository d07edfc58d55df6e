"""The web application: one route for each path of the table of operations, behind the guard."""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Mapping
from contextlib import asynccontextmanager
from itertools import groupby

import anyio.to_thread
from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from soleplate.api.calls import (
    WORKING_OUT,
    ArchiveCalls,
    Calls,
    DesignCalls,
    DesignDrawings,
    Keeping,
    Operation,
    WorkCalls,
    design_operations,
    export_operations,
    operations,
)
from soleplate.api.document import with_own_description
from soleplate.api.guard import Access, Guard, LoggedCall
from soleplate.api.http import answer_with, headers_of, problem_of
from soleplate.api.store import Place
from soleplate.api.work import Jobs, Workshop, begin, file_of
from soleplate.engine.building_file import Building
from soleplate.engine.registry import Registry


def create_app(
    registry: Registry,
    *,
    building: Building | None = None,
    access: Access | None = None,
    workshop: Workshop | None = None,
    log: Callable[[LoggedCall], None] | None = None,
    designs: Place | None = None,
) -> Starlette:
    """The application for a set of installed rules.

    Args:
        registry: what is installed.
        building: what the page shows.
        access: where it listens and who may call; for this machine alone unless said otherwise.
        workshop: where work is done, with the same plugins; in threads of this process unless given.
        log: is told of every call once it is over.
        designs: where designs are kept; nowhere unless given.

    Raises:
        UnbuildableError: the building cannot be set out.
        RuleError: a plugin failed on it.
    """
    place = workshop or Workshop.in_threads(registry)
    own = None if building is None else file_of(building)
    jobs = Jobs(registry)
    calls = Calls(registry, jobs.page(begin({}, registry, own, jobs.planned), {}))
    work, keeping = WorkCalls(calls, place, own), Keeping(designs)
    kept = DesignCalls(registry, keeping, place)
    table = with_own_description(
        (
            *operations(calls, work),
            *export_operations(registry, work),
            *design_operations(registry, kept, DesignDrawings(registry, kept, place), ArchiveCalls(keeping)),
        ),
        registry,
    )
    by_path = sorted(table, key=_order)
    routes = [
        _route(path, {operation.method: operation for operation in group})
        for path, group in groupby(by_path, key=lambda operation: operation.path)
    ]

    @asynccontextmanager
    async def lifespan(_: Starlette) -> AsyncIterator[None]:
        place.start()
        try:
            yield
        finally:
            await anyio.to_thread.run_sync(place.end)
            await anyio.to_thread.run_sync(keeping.close)

    app = Starlette(
        routes=routes,
        exception_handlers={HTTPException: _answer},
        middleware=[Middleware(Guard, access=access or Access(), log=log)],
        lifespan=lifespan,
    )
    # A redirect would be the one answer that is neither of the table nor a problem.
    app.router.redirect_slashes = False
    return app


def _order(operation: Operation) -> tuple[bool, bool, str]:
    """Those that programs call most come first, since the router tries one route after the other."""
    return (operation.group != WORKING_OUT, "{" in operation.path, operation.path)


def _route(path: str, operations: Mapping[str, Operation]) -> Route:
    """One route for all methods of a path, so that a wrong method is told of all that are right."""

    async def answer(request: Request) -> Response:
        operation = operations["GET" if request.method == "HEAD" else request.method]
        operation.require_query(request)
        return await operation.handler(request)

    return Route(path, answer, methods=list(operations))


async def _answer(request: Request, error: Exception) -> Response:
    return answer_with(problem_of(error), headers_of(error), request.scope)
