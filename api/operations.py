"""The table of the API's operations. Routes and the OpenAPI document are both made from it."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import Response

from soleplate.api.calls import Calls
from soleplate.api.messages import (
    EXAMPLE_BUILDING,
    EXAMPLE_ELEVATION,
    EXAMPLE_SAW_PLAN,
    EXAMPLE_WALL,
    EXAMPLE_WHAT_IF,
    HealthOut,
    PluginsOut,
    RulesOut,
    elevation_model,
    what_if_model,
)
from soleplate.api.problems import (
    INTERNAL,
    MEDIA,
    NO_TOKEN,
    NOT_FOUND,
    OVER_CAPACITY,
    PLUGIN,
    PROBLEMS,
    SCHEMA,
    TOO_LARGE,
    UNBUILDABLE,
    UNREADABLE,
    WRONG_HOST,
    ProblemType,
)
from soleplate.engine.layout import Layout
from soleplate.engine.sawing import SawPlan, SawPlanRequest
from soleplate.engine.what_if import WhatIf

Handler = Callable[[Request], Awaitable[Response]]

ALWAYS = (WRONG_HOST, INTERNAL)
"""Problems that any call can have."""

WORK = (
    UNREADABLE, NO_TOKEN, TOO_LARGE, MEDIA, WRONG_HOST, SCHEMA, UNBUILDABLE, PLUGIN, INTERNAL, OVER_CAPACITY,
)  # fmt: skip
"""Problems of a call that sends something to be worked on."""


@dataclass(frozen=True, slots=True)
class Body:
    """The JSON that a call takes."""

    model: type[BaseModel]
    example: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Answer:
    """What a call that succeeds gives; without a model it is text of the media type."""

    description: str
    model: type[BaseModel] | None = None
    media_type: str = "application/json"


@dataclass(frozen=True, slots=True)
class Parameter:
    """A part of a path, and the values that it can have."""

    description: str
    values: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Operation:
    """One call: what it takes, what it gives, how it can fail, and what does it."""

    method: str
    path: str
    id: str
    summary: str
    answer: Answer
    handler: Handler
    body: Body | None = None
    parameters: Mapping[str, Parameter] = field(default_factory=dict)
    problems: tuple[ProblemType, ...] = ALWAYS


def operations(calls: Calls) -> tuple[Operation, ...]:
    """Every call but `/openapi.json`, which tells of them."""
    registry = calls.registry
    page = Answer("A page", media_type="text/html")
    layout = Answer("The layout; its findings say what to look at again", Layout)
    return (
        Operation(
            "GET", "/", "showPage", "The page of the building that the server was started with",
            page, calls.page,
        ),
        Operation(
            "GET", "/static/{file}", "getPageFile", "A file of the page",
            Answer("The file", media_type="*/*"), calls.static_file,
            parameters={"file": Parameter("The file's name", tuple(calls.files))},
            problems=(NOT_FOUND, *ALWAYS),
        ),
        Operation(
            "GET", "/problems/{name}", "explainProblem", "What a type of problem means", page, calls.problem,
            parameters={"name": Parameter("The last part of the problem's `type`", tuple(PROBLEMS))},
            problems=(NOT_FOUND, *ALWAYS),
        ),
        Operation(
            "GET", "/health", "getHealth", "That the server is up, its version and plugins",
            Answer("It is up", HealthOut), calls.health,
        ),
        Operation(
            "GET", "/v1/rules", "listRules", "Every installed rule, with its JSON Schema",
            Answer("The rules", RulesOut), calls.rules,
        ),
        Operation(
            "GET", "/v1/plugins", "listPlugins", "Every plugin that was found",
            Answer("The plugins", PluginsOut), calls.plugins,
        ),
        Operation(
            "POST", "/v1/layouts", "layOutBuilding", "Lay out a building", layout, calls.lay_out,
            body=Body(registry.building_model, EXAMPLE_BUILDING), problems=WORK,
        ),
        Operation(
            "POST", "/v1/walls", "layOutWall", "Lay out one wall on its own", layout, calls.lay_out_wall,
            body=Body(registry.wall_model, EXAMPLE_WALL), problems=WORK,
        ),
        Operation(
            "POST", "/v1/elevations", "drawElevation", "Draw a wall of a building",
            Answer("The drawing; 1 unit is 1 mm", media_type="image/svg+xml"), calls.draw_elevation,
            body=Body(elevation_model(registry, registry.building_model), EXAMPLE_ELEVATION), problems=WORK,
        ),
        Operation(
            "POST", "/v1/saw-plans", "planSawing", "Plan the sawing of any parts from any stock",
            Answer("The best plan found in the time, with a bound on what any plan can reach", SawPlan),
            calls.plan_sawing, body=Body(SawPlanRequest, EXAMPLE_SAW_PLAN), problems=WORK,
        ),
        Operation(
            "POST", "/v1/what-if", "tryVariants", "Compare a building at other stud rules and sizes",
            Answer("The building as it is, and its variants", WhatIf), calls.what_if,
            body=Body(what_if_model(registry.building_model), EXAMPLE_WHAT_IF), problems=WORK,
        ),
    )  # fmt: skip
