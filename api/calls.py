"""What the API does: one method for each call. Work on buildings runs in threads, a few at a time."""

from __future__ import annotations

import importlib.resources
import inspect
import mimetypes
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib.metadata import version
from typing import Any, Final

import anyio
import anyio.to_thread
from pydantic import BaseModel
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from soleplate.api.bodies import read_body
from soleplate.api.drawing import draw
from soleplate.api.messages import (
    HealthOut,
    PluginOut,
    PluginsOut,
    RuleOut,
    RulesOut,
    elevation_model,
    what_if_model,
)
from soleplate.api.plain_pages import problem_page, start_page
from soleplate.api.problems import PROBLEMS, OverCapacity
from soleplate.engine.building import Building
from soleplate.engine.errors import BuildingError, Fault
from soleplate.engine.lay_out import lay_out
from soleplate.engine.layout import Layout
from soleplate.engine.reading import read_json
from soleplate.engine.registry import Registry
from soleplate.engine.request import read_document
from soleplate.engine.saw_planning import with_saw_plan
from soleplate.engine.sawing import plan_sawing, read_request
from soleplate.engine.single_wall import pointer_in_request
from soleplate.engine.what_if import what_if
from soleplate.viewer.page import page_html

AT_ONCE: Final = 2
"""Buildings worked on at a time: Python's threads share one processor, so more only wait on each other."""

MOST_WAITING: Final = 64
"""Calls that may wait for their turn before the next is turned away."""


MOST_PIECES: Final = 10_000
"""In one building; at a millisecond each, all that a call should take."""

MOST_PLANNING_S: Final = 10.0
"""Seconds that one saw plan may take, whatever was asked for."""

MOST_VARIANT_S: Final = 0.5
"""Seconds that the plan of one variant may take; there are dozens of them."""


def _within(building: Building, most: float) -> Building:
    """The building with its planning time bounded."""
    stock = building.stock
    if stock.time_budget_s <= most:
        return building
    return building.model_copy(update={"stock": stock.model_copy(update={"time_budget_s": most})})


def _saw_plan(value: Any) -> Response:
    asked = read_request(value)
    bounded = asked.model_copy(update={"time_budget_s": min(asked.time_budget_s, MOST_PLANNING_S)})
    return json_answer(plan_sawing(bounded))


def static_files() -> dict[str, bytes]:
    """The page's own files, by name."""
    folder = importlib.resources.files("soleplate.viewer") / "static"
    names = [entry.name for entry in folder.iterdir() if entry.is_file() and not entry.name.endswith(".py")]
    return {name: (folder / name).read_bytes() for name in sorted(names)}


def json_answer(answer: BaseModel) -> Response:
    """A model as JSON, without the members that say nothing."""
    return Response(answer.model_dump_json(exclude_none=True), media_type="application/json")


@contextmanager
def _faults_at(place: Callable[[str], str]) -> Iterator[None]:
    """Tell of a building's faults by their places in the body that held it."""
    try:
        yield
    except BuildingError as error:
        raise type(error)(Fault(place(fault.pointer), fault.message) for fault in error.faults) from None


class Calls:
    """The calls on one set of installed rules; `building` is what the page shows."""

    def __init__(
        self, registry: Registry, building: Building | None = None, *, most_waiting: int = MOST_WAITING
    ) -> None:
        self.registry = registry
        self.files: Final = static_files()
        self._page: Final = start_page() if building is None else page_html(self._planned(building))
        self._elevation: Final = elevation_model(registry)
        self._what_if: Final = what_if_model()
        self._turns: Final = anyio.CapacityLimiter(AT_ONCE)
        self._most_waiting: Final = most_waiting

    async def page(self, request: Request) -> Response:
        """The page of the building that the server was started with."""
        return HTMLResponse(self._page)

    async def static_file(self, request: Request) -> Response:
        """A file of the page."""
        name = request.path_params["file"]
        if name not in self.files:
            raise HTTPException(404)
        return Response(self.files[name], media_type=mimetypes.guess_type(name)[0])

    async def problem(self, request: Request) -> Response:
        """What a type of problem means."""
        problem = PROBLEMS.get(request.path_params["name"])
        if problem is None:
            raise HTTPException(404)
        return HTMLResponse(problem_page(problem))

    async def health(self, request: Request) -> Response:
        """That the server is up."""
        used = tuple(plugin.name for plugin in self.registry.plugins if plugin.problem is None)
        broken = tuple(plugin.name for plugin in self.registry.plugins if plugin.problem is not None)
        return json_answer(
            HealthOut(status="up", version=version("soleplate"), plugins=used, left_out=broken)
        )

    async def rules(self, request: Request) -> Response:
        """The installed rules."""
        return json_answer(
            RulesOut(
                rules=tuple(
                    RuleOut(
                        family=rule.family,
                        rule=rule.name,
                        plugin=rule.plugin,
                        description=inspect.cleandoc(rule.model.__doc__ or ""),
                        schema_=rule.model.model_json_schema(),
                        examples=tuple(dict(example) for example in rule.model.examples),
                    )
                    for rule in self.registry.rules
                )
            )
        )

    async def plugins(self, request: Request) -> Response:
        """The plugins that were found."""
        return json_answer(
            PluginsOut(
                plugins=tuple(
                    PluginOut(
                        name=plugin.name,
                        distribution=plugin.distribution,
                        version=plugin.version,
                        hooks=plugin.hooks,
                        rules=tuple(rule.name for rule in self.registry.rules if rule.plugin == plugin.name),
                        problem=plugin.problem,
                    )
                    for plugin in self.registry.plugins
                )
            )
        )

    async def lay_out(self, request: Request) -> Response:
        """A building's layout."""
        return await self._work(request, lambda value: self._layout(self.registry.read_building(value)))

    async def lay_out_wall(self, request: Request) -> Response:
        """The layout of one wall on its own."""
        return await self._work(request, self._wall_layout)

    async def draw_elevation(self, request: Request) -> Response:
        """A wall of a building, drawn."""
        return await self._work(request, self._drawing)

    async def plan_sawing(self, request: Request) -> Response:
        """A saw plan of any parts and stock."""
        return await self._work(request, _saw_plan)

    async def what_if(self, request: Request) -> Response:
        """A building at other stud rules and sizes."""
        return await self._work(request, self._variants)

    def _variants(self, value: Any) -> Response:
        asked = read_document(self._what_if, value)
        with _faults_at(lambda pointer: f"/building{pointer}"):
            building = _within(self.registry.read_building(asked.building), MOST_VARIANT_S)
            return json_answer(what_if(building, self.registry, asked.ranges))

    def _layout(self, building: Building) -> Response:
        return json_answer(self._planned(building))

    def _laid_out(self, building: Building) -> Layout:
        return lay_out(building, self.registry, most_pieces=MOST_PIECES)

    def _planned(self, building: Building) -> Layout:
        return with_saw_plan(self._laid_out(building), _within(building, MOST_PLANNING_S))

    def _wall_layout(self, value: Any) -> Response:
        building = self.registry.read_wall(value)
        with _faults_at(lambda pointer: pointer_in_request(pointer, building.name)):
            return self._layout(building)

    def _drawing(self, value: Any) -> Response:
        asked = read_document(self._elevation, value)
        with _faults_at(lambda pointer: f"/building{pointer}"):
            layout = self._laid_out(self.registry.read_building(asked.building))
        drawing = draw(layout, asked.wall, self.registry, layers=asked.layers, side=asked.side)
        return Response(drawing, media_type="image/svg+xml")

    async def _work(self, request: Request, work: Callable[[Any], Response]) -> Response:
        """Do `work` on the value of the body, off the event loop, when it is its turn.

        Raises:
            OverCapacity: too many calls wait.
        """
        body = await read_body(request)
        if self._turns.statistics().tasks_waiting >= self._most_waiting:
            raise OverCapacity("too many calls wait; send it again in a moment", {"Retry-After": "1"})
        return await anyio.to_thread.run_sync(lambda: work(read_json(body)), limiter=self._turns)
