"""Calls on kept designs in sequences, along the document's links: what one answers, the next is given.

A walk follows every link once, and chance plays sequences of many.
"""

from __future__ import annotations

import os
import sqlite3
import tempfile
from collections import Counter, defaultdict
from collections.abc import Mapping
from concurrent.futures import ProcessPoolExecutor
from contextlib import closing
from pathlib import Path
from typing import Any, ClassVar

import schemathesis
from hypothesis import HealthCheck, Phase, settings
from schemathesis.core import NOT_SET

from soleplate.api.work.messages import EXAMPLE_BUILDING
from tests.fuzz.agreement import CHECKS, HERE, client_of, described_app, only, told_as_text

SEQUENCES = max(40, int(os.environ.get("SOLEPLATE_FUZZ_EXAMPLES", "20")) // 5)
"""How many chance plays."""

FOLLOWED = (
    "DELETE /v1/designs/{id}",
    "GET /v1/designs/{id}",
    "GET /v1/designs/{id}/elevations/{wall}.svg",
    "GET /v1/designs/{id}/layout",
    "GET /v1/designs/{id}/revisions",
    "GET /v1/designs/{id}/revisions/{revision}",
    "POST /v1/designs/{id}/restore",
    "PUT /v1/designs/{id}",
)
"""Calls on a design that is there; chance comes to them by links alone."""

LONGEST = 30
"""Calls in one."""

MEMBER = "$response.body#/"
HEADER = "$response.header."
"""How a link says where in an answer a parameter is: OpenAPI's runtime expressions."""

DESIGNS = Path(tempfile.mkdtemp(prefix="soleplate-sequences-")) / "designs.sqlite"


def sequences() -> Any:
    """What plays a sequence; made when it is asked for, since each process of a run reads this file."""
    on_designs = only(described_app(DESIGNS), lambda label: " /v1/designs" in label)
    client = client_of(on_designs)
    machine: Any = on_designs.as_state_machine()

    class Sequence(machine):  # type: ignore[misc, valid-type]
        """Every answer is held to the document; `answered` counts them."""

        answered: ClassVar[Counter[tuple[str, int]]] = Counter()

        def setup(self) -> None:
            """Each begins with no designs, so that it goes the same way again."""
            if DESIGNS.exists():
                with closing(sqlite3.connect(DESIGNS)) as kept, kept:
                    kept.execute("DELETE FROM revisions")
                    kept.execute("DELETE FROM designs")
                    kept.execute("DELETE FROM first_sent")
            self.deleted: set[str] = set()

        def get_call_kwargs(self, case: schemathesis.Case) -> dict[str, Any]:
            return {"headers": HERE, "session": client}

        def validate_response(self, response: Any, case: schemathesis.Case, **given: Any) -> None:
            self.answered[case.operation.label, response.status_code] += 1
            self._follow(response, case)
            super().validate_response(response, case, additional_checks=CHECKS, **given)

        def _follow(self, response: Any, case: schemathesis.Case) -> None:
            """A deleted design is gone until it is brought back."""
            design = case.path_parameters.get("id")
            if response.status_code < 300:
                if case.operation.label == "DELETE /v1/designs/{id}":
                    self.deleted.add(design)
                elif case.operation.label == "POST /v1/designs/{id}/restore":
                    self.deleted.discard(design)
                else:
                    assert design not in self.deleted, f"{case.operation.label} answers of a deleted design"

    return Sequence


def play() -> Counter[str]:
    """How often each call on designs was answered well, in all sequences."""
    sequence = sequences()
    with told_as_text():
        sequence.run(
            settings=settings(
                max_examples=SEQUENCES,
                stateful_step_count=LONGEST,
                deadline=None,
                phases=[Phase.generate],
                derandomize=True,
                database=None,
                suppress_health_check=list(HealthCheck),
            )
        )
    return Counter({label: count for (label, status), count in sequence.answered.items() if status == 200})


def walk() -> list[str]:
    """The call that each link of the document leads to, followed from a design that was just kept.

    Every answer is held to the document and must be a good one.
    """
    schema: Any = described_app()
    client = client_of(schema)

    def answer(operation: str, **given: Any) -> Any:
        """Of a call that is given parameters by their places, and what else it needs."""
        target = schema.find_operation_by_id(operation)
        takes_body = bool(target.body)
        case = target.Case(
            path_parameters={"wall": "front", **given.get("path", {})},
            headers={**HERE, **given.get("header", {})},
            body=EXAMPLE_BUILDING if takes_body else NOT_SET,
            media_type="application/json" if takes_body else None,
        )
        response = case.call_and_validate(session=client, headers=case.headers)
        assert response.status_code < 300, f"{operation}: {response.status_code} {response.text}"
        return response

    followed = []
    with told_as_text():
        operations = [found.ok() for found in schema.get_all_operations()]
        for source in (each.definition.raw for each in operations):
            links = [link for told in source["responses"].values() for link in told.get("links", {}).values()]
            for link in links:
                came = answer("addDesign")
                if source["operationId"] != "addDesign":
                    known = {"path.id": "$response.body#/id", "header.If-Match": "$response.header.ETag"}
                    came = answer(source["operationId"], **_given(known, came))
                answer(link["operationId"], **_given(link["parameters"], came))
                followed.append(schema.find_operation_by_id(link["operationId"]).label)
    return followed


def _given(parameters: Mapping[str, str], response: Any) -> dict[str, dict[str, Any]]:
    """Values of a link's parameters by their places, from the answer that it belongs to."""
    given: dict[str, dict[str, Any]] = defaultdict(dict)
    for parameter, expression in parameters.items():
        place, name = parameter.split(".")
        if expression.startswith(MEMBER):
            given[place][name] = response.json()[expression.removeprefix(MEMBER)]
        else:
            given[place][name] = response.headers[expression.removeprefix(HEADER).lower()][0]
    return given


def test_every_link_is_followed(beside: ProcessPoolExecutor) -> None:
    followed = beside.submit(walk).result()
    assert set(FOLLOWED) <= set(followed)


def test_calls_on_designs(beside: ProcessPoolExecutor) -> None:
    done = beside.submit(play).result()
    assert sum(done[label] for label in FOLLOWED) >= 20
