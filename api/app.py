"""The web application: one route for each path of the table of operations, behind the guard."""

from __future__ import annotations

import json
from collections.abc import Mapping
from itertools import groupby

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from soleplate.api.calls import Calls
from soleplate.api.openapi import openapi_document
from soleplate.api.operations import ALWAYS, Answer, Handler, Operation, operations
from soleplate.api.problems import answer_to
from soleplate.api.security import Access, Guard
from soleplate.engine.building import Building
from soleplate.engine.registry import Registry


def create_app(
    registry: Registry, *, building: Building | None = None, access: Access | None = None
) -> Starlette:
    """The application for a set of installed rules.

    Args:
        registry: what is installed.
        building: what the page shows.
        access: where it listens and who may send; for this machine alone unless said otherwise.

    Raises:
        UnbuildableError: the building cannot be set out.
        RuleError: a plugin failed on it.
    """
    calls = Calls(registry, building)
    table = operations(calls)
    table = (*table, _document_operation(table))
    by_path = sorted(table, key=lambda operation: operation.path)
    routes = [
        _route(path, {operation.method: operation.handler for operation in group})
        for path, group in groupby(by_path, key=lambda operation: operation.path)
    ]
    app = Starlette(
        routes=routes,
        exception_handlers={HTTPException: _answer},
        middleware=[Middleware(Guard, access=access or Access())],
    )
    # A redirect would be the one answer that is neither of the table nor a problem.
    app.router.redirect_slashes = False
    return app


def _document_operation(table: tuple[Operation, ...]) -> Operation:
    """The call that gives the document, itself included."""

    async def openapi(request: Request) -> Response:
        return Response(document, media_type="application/json")

    itself = Operation(
        "GET",
        "/openapi.json",
        "getDocument",
        "This document",
        Answer("The OpenAPI document"),
        openapi,
        problems=ALWAYS,
    )
    document = json.dumps(openapi_document((*table, itself)), sort_keys=True)
    return itself


def _route(path: str, handlers: Mapping[str, Handler]) -> Route:
    """One route for all methods of a path, so that a wrong method is told of all that are right."""

    async def answer(request: Request) -> Response:
        return await handlers["GET" if request.method == "HEAD" else request.method](request)

    return Route(path, answer, methods=list(handlers))


async def _answer(request: Request, error: Exception) -> Response:
    return answer_to(error)
