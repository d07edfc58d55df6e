"""The OpenAPI 3.1 document, made from the table of operations and the models of the installed rules."""

from __future__ import annotations

from collections.abc import Sequence
from importlib.metadata import version
from itertools import groupby
from typing import Any, Final

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaMode, models_json_schema

from soleplate.api.operations import Operation
from soleplate.api.problems import MEDIA_TYPE, Problem, ProblemType
from soleplate.api.security import SAFE_METHODS

TEXT: Final = {"type": "string"}


class _Schema(GenerateJsonSchema):
    """Without the titles that only repeat a member's name."""

    def field_title_should_be_set(self, schema: Any) -> bool:
        return False


def openapi_document(operations: Sequence[Operation]) -> dict[str, Any]:
    """The document; the same for the same installed plugins."""
    wanted: list[tuple[type[BaseModel], JsonSchemaMode]] = [(Problem, "serialization")]
    wanted += [(operation.body.model, "validation") for operation in operations if operation.body]
    wanted += [
        (operation.answer.model, "serialization") for operation in operations if operation.answer.model
    ]
    references, top = models_json_schema(
        list(dict.fromkeys(wanted)),
        ref_template="#/components/schemas/{model}",
        schema_generator=_Schema,
    )
    paths: dict[str, dict[str, Any]] = {}
    for operation in operations:
        paths.setdefault(operation.path, {})[operation.method.lower()] = _described(operation, references)
    return {
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
        "paths": paths,
        "components": {
            "schemas": top["$defs"],
            "securitySchemes": {
                "token": {
                    "type": "http",
                    "scheme": "bearer",
                    "description": "Needed where the server can be reached from other machines.",
                }
            },
        },
    }


def _described(operation: Operation, references: Any) -> dict[str, Any]:
    answer = operation.answer
    schema = references[(answer.model, "serialization")] if answer.model else TEXT
    described: dict[str, Any] = {
        "operationId": operation.id,
        "summary": operation.summary,
        "responses": {
            "200": {"description": answer.description, "content": {answer.media_type: {"schema": schema}}},
            **_problems(operation.problems, references),
        },
    }
    if operation.parameters:
        described["parameters"] = [
            {
                "name": name,
                "in": "path",
                "required": True,
                "description": parameter.description,
                "schema": {"type": "string", "enum": list(parameter.values)},
            }
            for name, parameter in operation.parameters.items()
        ]
    if operation.body:
        body = {
            "schema": references[(operation.body.model, "validation")],
            "examples": {"small": {"value": dict(operation.body.example)}},
        }
        described["requestBody"] = {"required": True, "content": {"application/json": body}}
    if operation.method not in SAFE_METHODS:
        described["security"] = [{}, {"token": []}]
    return described


def _problems(problems: Sequence[ProblemType], references: Any) -> dict[str, Any]:
    """By status; several types may share one."""
    schema = references[(Problem, "serialization")]
    by_status = sorted(problems, key=lambda problem: (problem.status, problem.name))
    return {
        str(status): {
            "description": "; ".join(f"{problem.title} (`{problem.uri}`)" for problem in group),
            "content": {MEDIA_TYPE: {"schema": schema}},
        }
        for status, group in groupby(by_status, key=lambda problem: problem.status)
    }
