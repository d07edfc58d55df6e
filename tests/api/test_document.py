"""The OpenAPI document: valid, whole, and in agreement with the server."""

from __future__ import annotations

import json
from collections.abc import Iterator
from typing import Any

import pytest
from openapi_spec_validator import OpenAPIV31SpecValidator
from starlette.testclient import TestClient

from soleplate.api.app import create_app
from soleplate.api.problem_types import PROBLEMS
from soleplate.api.problems import MEDIA_TYPE
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
    assert sorted(document["paths"]) == sorted(route.path for route in app.routes)
    for path, methods in document["paths"].items():
        (route,) = [route for route in app.routes if route.path == path]
        assert {method.upper() for method in methods} == route.methods - {"HEAD"}


def test_every_example_is_accepted(client: TestClient, document: dict[str, Any]) -> None:
    sent = 0
    for path, method, operation in operations(document):
        if "requestBody" in operation:
            for example in operation["requestBody"]["content"]["application/json"]["examples"].values():
                assert client.request(method, path, json=example["value"]).status_code == 200, path
                sent += 1
    assert sent >= 3


def test_every_rule_is_in_it(document: dict[str, Any]) -> None:
    schemas = document["components"]["schemas"]
    for rule in registry().rules:
        schema = schemas[rule.model.__name__]
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
