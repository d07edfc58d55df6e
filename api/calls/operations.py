"""The table of the API's operations. Routes and the OpenAPI document are both made from it."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final, Literal

from pydantic import BaseModel
from starlette.requests import Request
from starlette.responses import Response

from soleplate.api.calls.telling import Calls
from soleplate.api.calls.working import WorkCalls
from soleplate.api.http import (
    BAD_HEAD,
    HEAD_TOO_LARGE,
    INTERNAL,
    MEDIA,
    NO_TOKEN,
    NOT_ACCEPTABLE,
    NOT_FOUND,
    OTHER_SITE,
    OVER_CAPACITY,
    PARAMETER,
    PLUGIN,
    PROBLEMS,
    SCHEMA,
    STOPPING,
    TOO_BUSY,
    TOO_LARGE,
    TOO_MUCH_WORK,
    TOO_SLOW,
    UNBUILDABLE,
    UNREADABLE,
    WORKER_LOST,
    WRONG_HOST,
    BadParameter,
    LayoutQuery,
    ProblemType,
    described,
)
from soleplate.api.limits import MOST_PIECES_VARIED, MOST_PLANNING_S
from soleplate.api.work import (
    EXAMPLE_BOARD,
    EXAMPLE_BUILDING,
    EXAMPLE_CUT,
    EXAMPLE_ELEVATION,
    EXAMPLE_SAW_PLAN,
    EXAMPLE_SITE,
    EXAMPLE_STOCK,
    EXAMPLE_VIEW,
    EXAMPLE_WALL,
    EXAMPLE_WHAT_IF,
    HealthOut,
    OrderAnswer,
    PluginsOut,
    RulesOut,
    board_model,
    elevation_model,
    view_model,
    what_if_model,
)
from soleplate.engine.layout import Layout
from soleplate.engine.registry import Registry
from soleplate.engine.sawing import SawPlan, SawPlanRequest
from soleplate.engine.what_if import WhatIf
from soleplate.viewer.pictures import MOST_PICTURED

Handler = Callable[[Request], Awaitable[Response]]

ALWAYS: Final = (BAD_HEAD, HEAD_TOO_LARGE, PARAMETER, NO_TOKEN, WRONG_HOST, INTERNAL)
"""Problems that any call can have."""

WORK: Final = (
    *ALWAYS, UNREADABLE, OTHER_SITE, TOO_SLOW, TOO_LARGE, MEDIA, SCHEMA, UNBUILDABLE, PLUGIN, WORKER_LOST,
    OVER_CAPACITY, TOO_BUSY, STOPPING, TOO_MUCH_WORK,
)  # fmt: skip
"""Problems of a call that sends something to be worked on."""

PAGES: Final = "Pages"
KEEPING: Final = "Kept designs"
INSTALLED: Final = "What is installed"
WORKING_OUT: Final = "Setting out and planning"

GROUPS: Final[Mapping[str, str]] = {
    WORKING_OUT: "Something is sent, and what is made of it comes back. Nothing is kept.",
    KEEPING: "Building files that the server keeps, every revision of them. `ETag` and `If-Match` see to it"
    " that nobody overwrites another's work unseen.",
    INSTALLED: "What this server is, and which rules it has.",
    PAGES: "For a browser.",
}
"""Groups of calls in the order in which a reader wants them, each with what it holds."""


@dataclass(frozen=True, slots=True)
class Body:
    """What a call takes, and examples of it by what they show; without a model it is text."""

    model: type[BaseModel] | None
    examples: Mapping[str, Mapping[str, Any] | str]
    media_type: str = "application/json"


@dataclass(frozen=True, slots=True)
class Link:
    """A call that can come next, and where in an answer its parameters are, as runtime expressions."""

    operation: str
    parameters: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Answer:
    """What a call that succeeds gives; without a model it is text of the media type."""

    description: str
    model: type[BaseModel] | None = None
    media_type: str = "application/json"
    other_types: tuple[str, ...] = ()
    """Media types that it may be of instead."""
    headers: Mapping[str, str] = field(default_factory=dict)
    """Headers of its own, each with what it says."""
    status: int = 200
    is_fixed: bool = False
    """Whether it comes with an `ETag`, and is not sent again to who has it."""
    has_tag: bool = False
    """Whether it comes with an `ETag` for what can be done next."""
    links: tuple[Link, ...] = ()


@dataclass(frozen=True, slots=True)
class Parameter:
    """A parameter, and the values that it can have: those listed, or what the JSON Schema says."""

    description: str
    values: tuple[str, ...] = ()
    schema: Mapping[str, Any] | None = None
    place: Literal["path", "query", "header"] = "path"
    is_required: bool = True


def query_parameters(schemas: Mapping[str, Mapping[str, object]]) -> dict[str, Parameter]:
    """Parameters of a query, none of which has to be given, by the JSON Schemas of their values."""
    return {
        name: Parameter(
            str(schema["description"]),
            schema={key: value for key, value in schema.items() if key != "description"},
            place="query",
            is_required=False,
        )
        for name, schema in schemas.items()
    }


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
    description: str = ""
    """What its summary leaves open."""
    group: str = PAGES
    reads_query: bool = False
    """Whether what does it reads the query by itself, and refuses what it doesn't know; so all do that have
    parameters there."""

    def require_query(self, request: Request) -> None:
        """Refuse a query where none is read.

        Raises:
            BadParameter: there is one.
        """
        is_read = self.reads_query or any(each.place == "query" for each in self.parameters.values())
        if request.query_params and not is_read:
            (name, *_) = request.query_params
            raise BadParameter(f"no parameter is called {name[:60]!r}; this call takes none")


def building_body(registry: Registry) -> Body:
    """A building file as it is sent to be worked on."""
    return Body(
        registry.building_model,
        {"small": EXAMPLE_BUILDING, "with stock to plan from": EXAMPLE_BUILDING | {"stock": EXAMPLE_STOCK}},
    )


def operations(calls: Calls, work: WorkCalls) -> tuple[Operation, ...]:
    """The calls that work something out, and those that tell what there is."""
    registry = calls.registry
    building = building_body(registry)
    page = Answer("A page", media_type="text/html", is_fixed=True)
    first, *others = sorted({file.media_type for file in calls.files.values()}, reverse=True)
    layout = Answer("The layout; its findings say what to look at again", Layout)
    less = query_parameters(described(LayoutQuery))
    told = (
        Operation(
            "GET", "/", "showPage", "The page: of the server's building, an example, or the start's answers",
            page, work.page, reads_query=True,
            problems=(
                NOT_FOUND, SCHEMA, UNBUILDABLE, PLUGIN, WORKER_LOST, OVER_CAPACITY, TOO_BUSY, STOPPING,
                TOO_MUCH_WORK, *ALWAYS,
            ),
        ),
        Operation(
            "GET", "/static/{file}", "getPageFile", "A file of the page",
            Answer("The file", media_type=first, other_types=tuple(others), is_fixed=True), calls.static_file,
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
            Answer("It is up", HealthOut), calls.health, group=INSTALLED,
            description="Needs no token, and answers however much there is to do.",
        ),
        Operation(
            "GET", "/v1/rules", "listRules", "Every installed rule, with its JSON Schema",
            Answer("The rules", RulesOut, is_fixed=True), calls.rules, group=INSTALLED,
        ),
        Operation(
            "GET", "/v1/schema", "getSchema", "The building file's JSON Schema, with the installed rules",
            Answer("The JSON Schema (2020-12)", media_type="application/schema+json", is_fixed=True),
            calls.schema, group=INSTALLED,
        ),
        Operation(
            "GET", "/v1/plugins", "listPlugins", "Every plugin that was found",
            Answer("The plugins", PluginsOut, is_fixed=True), calls.plugins, group=INSTALLED,
            description="One that is broken is listed with its `problem`, where the server was started"
            " without it.",
        ),
    )  # fmt: skip
    worked = (
        Operation(
            "POST", "/v1/layouts", "layOutBuilding", "Lay out a building", layout, work.lay_out,
            body=building, parameters=less, problems=(NOT_FOUND, *WORK), group=WORKING_OUT,
            description="A building that lists stock has a saw plan in its layout. The same body gives the"
            " same bytes, unless the time to plan ran out before the plan was proven best.",
        ),
        Operation(
            "POST", "/v1/walls", "layOutWall", "Lay out one wall on its own", layout, work.lay_out_wall,
            body=Body(registry.wall_model, {"a partition with a door": EXAMPLE_WALL}), parameters=less,
            problems=(NOT_FOUND, *WORK), group=WORKING_OUT,
            description="For a program that has a wall and no building. The same body gives the same bytes.",
        ),
        Operation(
            "POST", "/v1/boards", "drawBoard", "Draw the parts of the page that follow from a building",
            Answer(
                "The parts, each an element with an id; or the building's faults, where those are asked for",
                media_type="text/html", other_types=("application/json",),
            ),
            work.draw_board,
            body=Body(board_model(registry.building_model), {"small": EXAMPLE_BOARD}), problems=WORK,
            group=PAGES,
            description="What the page in a browser keeps in step with: all that is drawn and listed of a"
            " building, as the page itself has it.",
        ),
        Operation(
            "POST", "/v1/elevations", "drawElevation", "Draw a wall of a building",
            Answer("The drawing; 1 unit is 1 mm", media_type="image/svg+xml"), work.draw_elevation,
            body=Body(elevation_model(registry, registry.building_model), {"small": EXAMPLE_ELEVATION}),
            problems=(NOT_ACCEPTABLE, *WORK), group=WORKING_OUT,
            description="Plugins may add layers of their own, which are drawn where they are asked for.",
        ),
        Operation(
            "POST", "/v1/views", "viewBuilding", "Show the whole building in a picture",
            Answer(
                "The picture, axonometric, hidden faces removed; 1 unit is 1 mm. Or what a script turns",
                media_type="image/svg+xml", other_types=("application/json",),
            ),
            work.show,
            body=Body(
                view_model(registry.building_model),
                {"small": EXAMPLE_VIEW, "cut from left to right": EXAMPLE_CUT},
            ),
            problems=WORK, group=WORKING_OUT,
            description="From any direction, of all layers or some, of one part, drawn apart or cut by a"
            " plane. Each piece is a group with its `data-mark`; faces where the plane cuts have the class"
            " `cut`. A plane that cuts nothing leaves the whole or nothing, which its `desc` says."
            f" A picture has {MOST_PICTURED} pieces at the most.",
        ),
        Operation(
            "POST", "/v1/saw-plans", "planSawing", "Plan the sawing of any parts from any stock",
            Answer("The best plan found in the time, with a bound on what any plan can reach", SawPlan),
            work.plan_sawing, body=Body(SawPlanRequest, {"two kinds of part": EXAMPLE_SAW_PLAN}),
            problems=WORK, group=WORKING_OUT,
            description="All lengths are mm. However long was asked for, the server plans for "
            f"{MOST_PLANNING_S:g} s at the most.",
        ),
        Operation(
            "POST", "/v1/orders-of-work", "orderWork", "Find the order in which a building is put up",
            Answer(
                "The steps of the best order, or what is in the way of every one; for who asks for HTML, the"
                " same drawn step by step as the page shows it",
                OrderAnswer, other_types=("text/html",),
            ),
            work.order_work,
            body=Body(
                registry.building_model,
                {"small": EXAMPLE_BUILDING, "between obstacles": EXAMPLE_BUILDING | {"site": EXAMPLE_SITE}},
            ),
            problems=WORK, group=WORKING_OUT,
            description="What stands round the building is in its `site`. The order is exact: by the"
            " movements of the walls no other is better, but for ways of carrying, of which one with little"
            " to spare may be missed. Advice, never an approval.",
        ),
        Operation(
            "POST", "/v1/what-if", "tryVariants", "Compare a building at other stud rules and sizes",
            Answer("The building as it is, and its variants", WhatIf), work.what_if,
            body=Body(what_if_model(registry.building_model), {"small": EXAMPLE_WHAT_IF}), problems=WORK,
            group=WORKING_OUT,
            description="Each variant is laid out and planned, so the building may have "
            f"{MOST_PIECES_VARIED} pieces at the most.",
        ),
    )  # fmt: skip
    return (*told, *worked)
