"""What stands behind `?` in an address: read strictly, and described from the same models."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Final, Literal, TypeVar

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationError, create_model
from pydantic_core import PydanticCustomError
from starlette.requests import Request

from soleplate.api.http.refusals import BadParameter
from soleplate.api.store import ID_PATTERN, Show
from soleplate.engine.building_file import accepted
from soleplate.engine.layout import Layout
from soleplate.engine.registry import Registry
from soleplate.viewer.drawings import LAYERS, WHOLE

AnyQuery = TypeVar("AnyQuery", bound=BaseModel)

MOST: Final = 100
"""Rows on a page."""

WHOLE_ALWAYS: Final = ("format", "name", "units", "findings", "cautions", "weight_kg")
MEMBERS: Final = tuple(name for name in Layout.model_fields if name not in WHOLE_ALWAYS)
"""Of a layout, those that can be left out."""

LAST: Final = 999_999_999
"""No design has more revisions."""


def _whole(value: object) -> int:
    if isinstance(value, str) and value.isascii() and value.isdecimal() and len(value) <= len(str(LAST)):
        return int(value)
    raise PydanticCustomError("whole", "accepted is a whole number")


def _listed(value: object) -> object:
    return tuple(value.split(",")) if isinstance(value, str) and value else ()


Limit = Annotated[int, Field(ge=1, le=MOST), BeforeValidator(_whole)]
Revision = Annotated[int, Field(ge=1, le=LAST), BeforeValidator(_whole)]


class Query(BaseModel):
    """Base of the parameters of a call."""

    model_config = ConfigDict(frozen=True, extra="forbid", use_attribute_docstrings=True)


class DesignsQuery(Query):
    """Which designs to list."""

    limit: Limit = 50
    """How many at the most."""
    after: Annotated[str, Field(pattern=ID_PATTERN)] | None = None
    """The `next` of the page before."""
    show: Show = "kept"
    """Those that are kept, those that are deleted, or all."""


class RevisionsQuery(Query):
    """Which revisions to list."""

    limit: Limit = 50
    """How many at the most."""
    after: Revision | None = None
    """The `next` of the page before."""


class ChangesQuery(Query):
    """Which two revisions to compare."""

    since: Revision | None = None
    """The earlier revision; the one before the later, unless said otherwise."""
    until: Revision | None = None
    """The later revision; the newest, unless said otherwise."""


_member: Any = Literal[MEMBERS]
_members: Any = Annotated[tuple[_member, ...], Field(max_length=len(MEMBERS)), BeforeValidator(_listed)]

LayoutQuery: type[Query] = create_model(
    "LayoutQuery",
    __base__=Query,
    part=(
        Annotated[str, Field(min_length=1, max_length=60)] | None,
        Field(
            None, description="The name of the wall, floor or slope of which alone there is to be anything."
        ),
    ),
    members=(
        _members | None,
        Field(
            None,
            description="What is wanted of it, with commas between; all unless told. What is not asked for"
            " is empty; findings, cautions and weight are there always, of the whole.",
        ),
    ),
)
"""How much of a layout is wanted."""


class ElevationQuery(Query):
    """How to draw a wall."""

    layers: tuple[str, ...] = WHOLE
    """What to draw, with commas between; all but the fixings unless said otherwise."""
    side: Literal["outside", "inside"] = "outside"
    """From where it is seen."""


def elevation_query(registry: Registry) -> type[ElevationQuery]:
    """The parameters of a drawing, its layers narrowed to those that are there."""
    plugins = tuple(layer.name for _, layer in registry.drawing_layers)
    names = (*LAYERS, *plugins)
    layer: Any = Literal[names]
    model: Any = create_model(
        "ElevationQuery",
        __base__=ElevationQuery,
        layers=(
            Annotated[tuple[layer, ...], Field(max_length=len(names)), BeforeValidator(_listed)],
            Field((*WHOLE, *plugins), description=ElevationQuery.model_fields["layers"].description),
        ),
    )
    narrowed: type[ElevationQuery] = model
    return narrowed


def read_query(model: type[AnyQuery], request: Request) -> AnyQuery:
    """The parameters of a call.

    Raises:
        BadParameter: one is unknown, given twice, or has a value that is not accepted.
    """
    given = request.query_params.multi_items()
    values = dict(given)
    if len(values) < len(given):
        names = [name for name, _ in given]
        twice = next(name for name in names if names.count(name) > 1)
        raise BadParameter(f"{twice[:60]!r} is given twice; accepted is each parameter once")
    for name in values:
        if name not in model.model_fields:
            known = ", ".join(model.model_fields) or "none"
            raise BadParameter(f"no parameter is called {name[:60]!r}; accepted are {known}")
    try:
        return model.model_validate_strings(values)
    except ValidationError as error:
        first = error.errors(include_url=False, include_input=False)[0]
        schema = described(model)[str(first["loc"][0])]
        raise BadParameter(f"{first['loc'][0]}: {_accepted(schema) or accepted(first).told('mm')}") from None


def _accepted(schema: Mapping[str, Any]) -> str | None:
    """What a parameter takes, in words, where it is a page's, a number, or one of some names."""
    if schema.get("pattern") == ID_PATTERN:
        return "accepted is the `next` of the page before"
    if "minimum" in schema and "maximum" in schema:
        return f"accepted is a whole number from {schema['minimum']} to {schema['maximum']}"
    names = schema.get("enum") or schema.get("items", {}).get("enum")
    between = "" if "enum" in schema else ", with commas between"
    return names and f"accepted are {', '.join(map(str, names))}{between}"


def described(model: type[BaseModel]) -> dict[str, dict[str, Any]]:
    """For each parameter, the JSON Schema of its value; descriptions included."""
    schema: Mapping[str, Any] = model.model_json_schema()
    return {name: _without_null(member) for name, member in schema["properties"].items()}


def _without_null(schema: Mapping[str, Any]) -> dict[str, Any]:
    """A parameter that may be left out has no null: leaving it out says so."""
    told = {key: value for key, value in schema.items() if key not in ("anyOf", "title")}
    kinds = [kind for kind in schema.get("anyOf", ()) if kind != {"type": "null"}]
    if kinds:
        (kind,) = kinds
        told |= kind
        told.pop("default")
    return told
