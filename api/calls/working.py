"""The calls that are worked on: those that send something, and the page where a query asks for another."""

from __future__ import annotations

import json
import logging
from collections.abc import Awaitable, Callable, Mapping
from functools import partial
from typing import Any, Final

from starlette.requests import Request
from starlette.responses import Response

from soleplate.api.calls.telling import Calls
from soleplate.api.http import (
    SVG,
    BadParameter,
    Done,
    Failed,
    LayoutQuery,
    NotThere,
    answer_with,
    fresh,
    id_of,
    prefers,
    read_body,
    read_query,
    require_accepted,
)
from soleplate.api.work import DRAWN, PAGE_QUERY, Job, Workshop

LOG: Final = logging.getLogger("soleplate.api")


class WorkCalls:
    """The calls whose answer is made from what they send alone; `own` is the server's own building file."""

    def __init__(self, calls: Calls, workshop: Workshop, own: Mapping[str, Any] | None = None) -> None:
        self._calls = calls
        self._workshop = workshop
        self._own = own
        self._exports = {exporter.name: exporter.options for _, exporter in calls.registry.exporters}

    async def page(self, request: Request) -> Response:
        """The page: of the server's own building, an example, what the start's answers give, or the start."""
        asked = dict(request.query_params)
        if not asked:
            return self._calls.first_page(request)
        for name in asked:
            if name not in PAGE_QUERY:
                known = ", ".join(sorted(PAGE_QUERY))
                raise BadParameter(f"no parameter is called {name[:60]!r}; accepted are {known}")
        body = json.dumps({"asked": asked, "own": self._own}).encode()
        return await response(await self._workshop.do(Job("page", body), request), request)

    async def lay_out(self, request: Request) -> Response:
        """A building's layout."""
        return await self._answer(request, "layout", options=layout_options(request))

    async def lay_out_wall(self, request: Request) -> Response:
        """The layout of one wall on its own."""
        return await self._answer(request, "wall", options=layout_options(request))

    async def draw_board(self, request: Request) -> Response:
        """The parts of the page that follow from a building."""
        return await self._answer(request, "board")

    async def draw_elevation(self, request: Request) -> Response:
        """A wall of a building, drawn."""
        require_accepted(request.headers, SVG)
        return await self._answer(request, "elevation")

    async def show(self, request: Request) -> Response:
        """A building as a whole, in a picture."""
        return await self._answer(request, "view")

    async def plan_sawing(self, request: Request) -> Response:
        """A saw plan of any parts and stock."""
        return await self._answer(request, "saw-plan")

    async def order_work(self, request: Request) -> Response:
        """In which order a building is put up, or what is in the way; drawn, for a page."""
        drawn = prefers(request.headers, "text/html", "application/json")
        return await self._answer(request, "order-of-work", DRAWN if drawn else "")

    async def what_if(self, request: Request) -> Response:
        """A building at other stud rules and sizes."""
        return await self._answer(request, "what-if")

    async def export(self, request: Request) -> Response:
        """A file made from a building, by the exporter that the path names."""
        return await self._export(request, request.path_params["name"])

    def exports(self, name: str) -> Callable[[Request], Awaitable[Response]]:
        """The call for the files of one exporter."""
        return partial(self._export, name=name)

    async def _export(self, request: Request, name: str) -> Response:
        if name not in self._exports:
            known = ", ".join(sorted(self._exports))
            raise NotThere(f"no export is called {name[:60]!r}; accepted are {known}")
        read_query(self._exports[name], request)
        return await self._answer(request, "export", name, tuple(sorted(request.query_params.items())))

    async def _answer(
        self, request: Request, name: str, argument: str = "", options: tuple[tuple[str, str], ...] = ()
    ) -> Response:
        job = Job(name, await read_body(request), argument, options)
        return await response(await self._workshop.do(job, request), request)


def layout_options(request: Request) -> tuple[tuple[str, str], ...]:
    """How much of a layout a call asks for.

    Raises:
        BadParameter: a parameter is not accepted.
    """
    read_query(LayoutQuery, request)
    return tuple(sorted(request.query_params.items()))


async def response(outcome: Done | Failed, request: Request) -> Response:
    """An outcome as the answer to a call; what is no fault of the caller's is logged with its trace."""
    if isinstance(outcome, Done):
        return await fresh(request, outcome.body, outcome.media_type, outcome.headers)
    if outcome.trace is not None:
        LOG.error("%s: %s\n%s", id_of(request.scope), outcome.problem.title, outcome.trace)
    return answer_with(outcome.problem, {}, request.scope)
