"""The least that a server can do with a body: read it, validate it, and send bytes that it has already."""

from __future__ import annotations

from starlette.applications import Starlette
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from soleplate.api.http.outcomes import Done
from soleplate.api.work.jobs import Job, Jobs
from soleplate.engine.building_file import read_document, read_json
from tests.benchmarks.bodies import HOUSE, WALL
from tests.buildings import registry


def app() -> Starlette:
    """`POST /v1/walls` and `POST /v1/layouts`, each with one answer for every valid body."""
    installed = registry()
    jobs = Jobs(installed)
    wall, house = (
        jobs.perform(Job("wall", WALL), quick=False),
        jobs.perform(Job("layout", HOUSE), quick=False),
    )
    assert isinstance(wall, Done)
    assert isinstance(house, Done)

    async def walls(request: Request) -> Response:
        read_document(installed.wall_model, read_json(await request.body()))
        return Response(wall.body, media_type=wall.media_type)

    async def layouts(request: Request) -> Response:
        read_document(installed.building_model, read_json(await request.body()))
        return Response(house.body, media_type=house.media_type)

    return Starlette(
        routes=[
            Route("/v1/walls", walls, methods=["POST"]),
            Route("/v1/layouts", layouts, methods=["POST"]),
        ]
    )
