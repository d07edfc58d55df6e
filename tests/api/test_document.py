"""The OpenAPI document: valid, whole, and in agreement with the server."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from openapi_spec_validator import OpenAPIV31SpecValidator
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.api.document.names import as_member
from soleplate.api.http.problem_types import PROBLEMS
from soleplate.api.http.problems import MEDIA_TYPE
from soleplate.api.work.messages import EXAMPLE_BUILDING
from tests.buildings import registry
from tests.serving import BASE


@pytest.fixture(scope="module")
def document() -> dict[str, Any]:
    app = create_app(registry())
    held: dict[str, Any] = TestClient(app, base_url=BASE).get("/openapi.json").json()
    return held


def operations(document: dict[str, Any]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for path, methods in document["paths"].items():
        for method, operation in methods.items():
            yield path, method, operation


def test_it_is_valid(document: dict[str, Any]) -> None:
    assert list(OpenAPIV31SpecValidator(document).iter_errors()) == []


def test_it_is_the_same_every_time(client: TestClient, document: dict[str, Any]) -> None:
    again = TestClient(create_app(registry()), base_url=BASE).get("/openapi.json").content
    assert client.get("/openapi.json").content == again
    assert json.loads(again) == document


def test_ids_are_unique(document: dict[str, Any]) -> None:
    ids = [operation["operationId"] for _, _, operation in operations(document)]
    assert len(set(ids)) == len(ids)


def test_every_path_is_routed_and_every_route_is_in_it(client: TestClient, document: dict[str, Any]) -> None:
    app: Any = client.app
    # What a route says of the kind of a parameter is no part of the path.
    routes = {re.sub(r":\w+}", "}", route.path): route.methods - {"HEAD"} for route in app.routes}
    assert len(routes) == len(app.routes)
    assert routes == {
        path: {method.upper() for method in methods} for path, methods in document["paths"].items()
    }


def test_every_example_is_accepted(client: TestClient, document: dict[str, Any]) -> None:
    design = client.post("/v1/designs", json=EXAMPLE_BUILDING).json()["id"]
    sent = 0
    for path, method, operation in operations(document):
        for kind, content in operation.get("requestBody", {"content": {}})["content"].items():
            (status,) = [int(status) for status in operation["responses"] if status.startswith("20")]
            for example in content["examples"].values():
                value = example["value"]
                answer = client.request(
                    method,
                    path.replace("{id}", design).replace("{name}", "cutting-list"),
                    content=value if isinstance(value, str) else json.dumps(value),
                    headers={"content-type": kind, "if-match": "*"},
                )
                assert answer.status_code == status, (path, answer.text)
                sent += 1
    assert sent >= 9


def test_what_is_left_out_where_it_says_nothing_is_not_required(document: dict[str, Any]) -> None:
    schemas = document["components"]["schemas"]
    members = [(schema, name) for schema in schemas.values() for name in schema.get("required", ())]
    assert members
    for schema, name in members:
        assert {"type": "null"} not in schema.get("properties", {}).get(name, {}).get("anyOf", []), name


def test_no_member_is_null_alone_and_none_has_a_default(document: dict[str, Any]) -> None:
    """Of a family without rules nothing can be picked; generators take a default for what must be sent."""
    for name, schema in document["components"]["schemas"].items():
        for member, told in schema.get("properties", {}).items():
            assert told.get("type") != "null", (name, member)
            assert "default" not in told, (name, member)
    assert document["components"]["schemas"]["EqualBays"]["properties"]["rule"]["x-default"] == "equal-bays"


def test_no_schema_is_called_as_a_member_of_it(document: dict[str, Any]) -> None:
    """Nor are two called alike in the names of files or variables that are made of them."""
    schemas = document["components"]["schemas"]
    for name, schema in schemas.items():
        assert as_member(name) not in schema.get("properties", {})
    assert len({as_member(name) for name in schemas}) == len(schemas)
    assert "StockModel" in schemas
    assert "#/components/schemas/StockModel" in str(schemas["Building"])


def test_answers_that_are_no_text_have_no_type(document: dict[str, Any]) -> None:
    answers = {
        kind: content["schema"]
        for _, _, operation in operations(document)
        for kind, content in operation["responses"].get("200", {"content": {}})["content"].items()
    }
    assert answers["application/pdf"] == answers["application/zip"] == {}
    assert answers["image/svg+xml"] == answers["application/jsonl"] == {"type": "string"}
    assert "*/*" not in answers


def test_links_lead_to_calls_and_their_parameters(document: dict[str, Any]) -> None:
    by_id = {operation["operationId"]: operation for _, _, operation in operations(document)}
    seen = 0
    for operation in by_id.values():
        for response in operation["responses"].values():
            for link in response.get("links", {}).values():
                parameters = {
                    f"{held['in']}.{held['name']}" for held in by_id[link["operationId"]]["parameters"]
                }
                assert set(link["parameters"]) <= parameters
                seen += 1
    assert seen >= 20


def test_every_rule_is_in_it(document: dict[str, Any]) -> None:
    schemas = document["components"]["schemas"]
    for rule in registry().rules:
        name = rule.model.__name__
        schema = schemas.get(name) or schemas[f"{name}Model"]
        assert schema["properties"]["rule"]["const"] == rule.name
        assert schema["description"]


def test_no_model_takes_unknown_members(document: dict[str, Any]) -> None:
    for name, schema in document["components"]["schemas"].items():
        if schema.get("type") == "object":
            assert schema["additionalProperties"] is False, name


def test_problems_are_described_where_they_happen(document: dict[str, Any]) -> None:
    described = ""
    for _, _, operation in operations(document):
        for status, response in operation["responses"].items():
            if status[0] in "45":
                assert list(response["content"]) == [MEDIA_TYPE]
                described += response["description"]
    for problem in PROBLEMS.values():
        # A wrong method is of no operation.
        assert (problem.uri in described) is (problem.name != "method"), problem.name


def validator(document: dict[str, Any], schema: Any) -> Draft202012Validator:
    return Draft202012Validator({**schema, "components": document["components"]})


def test_every_example_keeps_to_its_schema(document: dict[str, Any]) -> None:
    checked = 0
    for path, method, operation in operations(document):
        bodies = [operation["requestBody"]] if "requestBody" in operation else []
        for held in (*bodies, *operation["responses"].values()):
            for content in held.get("content", {}).values():
                for example in content.get("examples", {}).values():
                    faults = validator(document, content["schema"]).iter_errors(example["value"])
                    assert [fault.message for fault in faults] == [], (method, path)
                    checked += 1
    for name, schema in document["components"]["schemas"].items():
        for example in schema.get("examples", ()):
            faults = validator(document, schema).iter_errors(example)
            assert [fault.message for fault in faults] == [], name
            checked += 1
    assert checked > len(registry().rules)


def test_answers_keep_to_their_schemas(client: TestClient, document: dict[str, Any]) -> None:
    for path, method, operation in operations(document):
        if "requestBody" not in operation or "{" in path:
            continue
        ((kind, content),) = operation["requestBody"]["content"].items()
        for example in content["examples"].values():
            answer = client.request(method, path, json=example["value"], headers={"content-type": kind})
            told = operation["responses"][str(answer.status_code)]["content"]
            media_type = answer.headers["content-type"].split(";")[0]
            assert media_type in told, path
            if media_type == "application/json":
                faults = validator(document, told[media_type]["schema"]).iter_errors(answer.json())
                assert [fault.message for fault in faults] == [], path


def undescribed(document: dict[str, Any]) -> Iterator[str]:
    """All of the document that has no description."""
    for path, method, operation in operations(document):
        responses = operation["responses"].values()
        headers = [header for response in responses for header in response.get("headers", {}).values()]
        told = [operation, *operation.get("parameters", ()), *responses, *headers]
        if not all(part.get("description") or "$ref" in part for part in told) or not operation["summary"]:
            yield f"{method} {path}"
    for name, part in (
        *document["components"]["headers"].items(),
        *document["components"]["schemas"].items(),
    ):
        if not part.get("description"):
            yield name
        for member, kind in part.get("properties", {}).items():
            if not kind.get("description") and "const" not in kind and "$ref" not in kind:
                yield f"{name}.{member}"


def test_all_of_it_is_described(document: dict[str, Any]) -> None:
    assert list(undescribed(document)) == []


def test_its_schemas_use_the_vocabulary_of_json_schema(document: dict[str, Any]) -> None:
    known = {
        "$ref", "additionalProperties", "anyOf", "const", "default", "description", "discriminator", "enum",
        "examples", "exclusiveMaximum", "exclusiveMinimum", "format", "items", "maxItems", "maxLength",
        "maxProperties", "maximum", "minItems", "minLength", "minProperties", "minimum", "oneOf", "pattern",
        "prefixItems", "properties", "propertyNames", "required", "title", "type", "uniqueItems",
    }  # fmt: skip

    def strange(schema: Any) -> Iterator[str]:
        for key, value in schema.items():
            if key == "properties":
                for each in value.values():
                    yield from strange(each)
            elif key not in known and not key.startswith("x-"):
                yield key
            elif key in ("anyOf", "oneOf", "prefixItems"):
                for each in value:
                    yield from strange(each)
            elif key in ("items", "additionalProperties", "propertyNames") and isinstance(value, dict):
                yield from strange(value)

    for name, schema in document["components"]["schemas"].items():
        assert list(strange(schema)) == [], name
