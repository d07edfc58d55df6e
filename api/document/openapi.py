"""The OpenAPI 3.1 document, made from the table of operations and the models of the installed rules."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from importlib.metadata import version
from itertools import groupby
from typing import Any, Final

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaMode, models_json_schema

from soleplate.api.calls import GROUPS, Answer, Body, Operation
from soleplate.api.document.names import with_names_of_their_own
from soleplate.api.document.schema_words import DEFAULT
from soleplate.api.guard import HEALTH
from soleplate.api.http import MEDIA_TYPE, Problem, ProblemType
from soleplate.engine.registry import Registry

TEXT: Final = {"type": "string"}

BYTES: Final = {"type": "string", "format": "binary"}
"""A body that is sent as it is, which generators take for a file."""

TEXTS: Final = ("image/svg+xml", "application/jsonl")
"""Media types of texts, beside those that say so."""

SCHEMA: Final = "#/components/schemas/{model}"
"""Where the schema of a model is in the document."""

HEADERS: Final[Mapping[str, str]] = {
    "X-Request-ID": "The call, as the server's log names it: the caller's own id where it sent a sane one.",
    "ETag": "Which state of it this is; send it as `If-None-Match` to be told only whether it has changed.",
    "Retry-After": "After how many seconds to send it again.",
    "WWW-Authenticate": "That a bearer token is asked for.",
}
"""Headers that more than one answer has, each with what it says."""

OF_STATUS: Final[Mapping[int, tuple[str, ...]]] = {401: ("WWW-Authenticate",), 503: ("Retry-After",)}
"""The headers that go with a status, beside `X-Request-ID`, which every answer has."""

REQUEST_ID: Final = {
    "name": "X-Request-ID",
    "in": "header",
    "required": False,
    "description": "A name for the call, which comes back with the answer and stands in the server's log: up"
    " to 64 letters, digits, dots, hyphens and low lines. Any other is left aside, and one is made.",
    "schema": TEXT,
    "example": "store-17",
}
KNOWN: Final = {
    "name": "If-None-Match",
    "in": "header",
    "required": False,
    "description": "The `ETag` of an answer that the caller has already.",
    "schema": TEXT,
}


class _Schema(GenerateJsonSchema):
    """Without the titles that only repeat a member's name, and with `x-default` for `default`.

    Generators of clients take a member that has a `default` for one that has to be sent, or refuse an object
    as one.
    """

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False

    def default_schema(self, schema: Any) -> dict[str, Any]:
        described = super().default_schema(schema)
        default = described.pop("default", None)
        return described if default is None else described | {DEFAULT: default}


def openapi_document(operations: Sequence[Operation], registry: Registry) -> dict[str, Any]:
    """The document; the same for the same installed plugins."""
    wanted: list[tuple[type[BaseModel], JsonSchemaMode]] = [(Problem, "serialization")]
    wanted += [
        (operation.body.model, "validation")
        for operation in operations
        if operation.body and operation.body.model
    ]
    wanted += [
        (operation.answer.model, "serialization") for operation in operations if operation.answer.model
    ]
    # They are there already as members of documents; asked for by themselves, each tells its name there.
    wanted += [(registry.narrowed(rule.model), "validation") for rule in registry.rules]
    references, top = models_json_schema(
        list(dict.fromkeys(wanted)),
        ref_template=SCHEMA,
        schema_generator=_Schema,
    )
    paths: dict[str, dict[str, Any]] = {}
    for operation in operations:
        paths.setdefault(path_of(operation), {})[operation.method.lower()] = _described(operation, references)
    used = {operation.group for operation in operations}
    document = {
        "openapi": "3.1.1",
        "info": {
            "title": "Soleplate",
            "version": version("soleplate"),
            "summary": "Setting out small timber-framed buildings",
            "description": "Lengths in answers are mm, angles degrees, weights kg. Every error is"
            f" {MEDIA_TYPE} (RFC 9457). What comes out is advisory: local codes, and a licensed"
            " professional where one is needed, decide.",
            "license": {"name": "Apache-2.0", "identifier": "Apache-2.0"},
        },
        "servers": [{"url": "/", "description": "The server that gave this document"}],
        "tags": [{"name": name, "description": told} for name, told in GROUPS.items() if name in used],
        "paths": paths,
        "components": {
            "schemas": _with_rules(top["$defs"], registry, references),
            "headers": {name: {"description": told, "schema": TEXT} for name, told in HEADERS.items()},
            "securitySchemes": {
                "token": {
                    "type": "http",
                    "scheme": "bearer",
                    "description": "Needed for sending where the server can be reached from other machines,"
                    " and for reading where it was started so.",
                }
            },
        },
    }
    renamed: dict[str, Any] = with_names_of_their_own(document)
    return renamed


def _with_rules(schemas: dict[str, Any], registry: Registry, references: Any) -> dict[str, Any]:
    """The schemas, those of rules with the family, the plugin and the examples."""
    rules = {
        references[(registry.narrowed(rule.model), "validation")]["$ref"]: {
            "x-family": rule.family,
            "x-plugin": rule.plugin,
            "examples": [dict(example) for example in rule.model.examples],
        }
        for rule in registry.rules
    }
    return {name: schema | rules.get(SCHEMA.format(model=name), {}) for name, schema in schemas.items()}


def _described(operation: Operation, references: Any) -> dict[str, Any]:
    described: dict[str, Any] = {
        "operationId": operation.id,
        "summary": operation.summary,
        "description": operation.description or f"{operation.summary}.",
        "tags": [operation.group],
        "parameters": [*_parameters(operation), REQUEST_ID],
        "responses": {
            str(operation.answer.status): _answer(operation.answer, references),
            **_problems(operation.problems, references),
        },
    }
    if operation.answer.is_fixed:
        described["parameters"].append(KNOWN)
        described["responses"]["304"] = {
            "description": "The caller has it already",
            "headers": _headers("X-Request-ID", "ETag"),
        }
    if operation.body:
        described["requestBody"] = _body(operation.body, references)
    if operation.path != HEALTH:
        described["security"] = [{}, {"token": []}]
    return described


def path_of(operation: Operation) -> str:
    """The path of an operation as the document has it: without the kinds of its parameters."""
    return re.sub(r"\{(\w+):\w+\}", r"{\1}", operation.path)


def _body(body: Body, references: Any) -> dict[str, Any]:
    text = "JSON" if body.model else "Text"
    return {
        "description": f"{text} in UTF-8, not compressed.",
        "required": True,
        "content": {
            body.media_type: {
                "schema": references[(body.model, "validation")] if body.model else BYTES,
                "examples": {
                    name.replace(" ", "-"): {
                        "summary": name,
                        "value": example if isinstance(example, str) else dict(example),
                    }
                    for name, example in body.examples.items()
                },
            }
        },
    }


def _parameters(operation: Operation) -> list[dict[str, Any]]:
    described = []
    for name, parameter in operation.parameters.items():
        schema = parameter.schema or {"type": "string", "enum": list(parameter.values)}
        described.append(
            {
                "name": name,
                "in": parameter.place,
                "required": parameter.is_required,
                "description": parameter.description,
                "schema": dict(schema),
                # Values of a list stand behind one another, with commas between.
                **({"style": "form", "explode": False} if schema.get("type") == "array" else {}),
            }
        )
    return described


def _answer(answer: Answer, references: Any) -> dict[str, Any]:
    schema = references[(answer.model, "serialization")] if answer.model else _unmodelled(answer.media_type)
    own = {name: {"description": told, "schema": TEXT} for name, told in answer.headers.items()}
    shared = ("X-Request-ID", "ETag") if answer.is_fixed or answer.has_tag else ("X-Request-ID",)
    described: dict[str, Any] = {
        "description": answer.description,
        "headers": {**_headers(*shared), **own},
        "content": {
            answer.media_type: {"schema": schema},
            **{kind: {"schema": _unmodelled(kind)} for kind in answer.other_types},
        },
    }
    if answer.links:
        described["links"] = {
            link.operation: {"operationId": link.operation, "parameters": dict(link.parameters)}
            for link in answer.links
        }
    return described


def _unmodelled(media_type: str) -> dict[str, str]:
    """What there is to be said of it: bytes that are no text have no type (OpenAPI 3.1, 4.8.14.3)."""
    if media_type.endswith("json"):
        return {"type": "object"}
    return dict(TEXT) if media_type.startswith("text/") or media_type in TEXTS else {}


def _headers(*names: str) -> dict[str, Any]:
    return {name: {"$ref": f"#/components/headers/{name}"} for name in names}


def _problems(problems: Sequence[ProblemType], references: Any) -> dict[str, Any]:
    """By status; several types may share one."""
    by_status = sorted(problems, key=lambda problem: (problem.status, problem.name))
    return {
        str(status): _problem(status, list(group), references[(Problem, "serialization")])
        for status, group in groupby(by_status, key=lambda problem: problem.status)
    }


def _problem(status: int, problems: list[ProblemType], schema: Any) -> dict[str, Any]:
    return {
        "description": "; ".join(f"{problem.title} (`{problem.uri}`)" for problem in problems),
        "headers": _headers("X-Request-ID", *OF_STATUS.get(status, ())),
        "content": {
            MEDIA_TYPE: {
                "schema": schema,
                "examples": {
                    problem.name: {
                        "summary": problem.title,
                        "value": {
                            "type": problem.uri,
                            "title": problem.title,
                            "status": problem.status,
                            "detail": problem.meaning,
                        },
                    }
                    for problem in problems
                },
            }
        },
    }
