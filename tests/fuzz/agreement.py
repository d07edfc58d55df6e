"""The API as the fuzzer meets it, and what it is asked beside the fuzzer's own checks."""

from __future__ import annotations

import re
import tempfile
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final

import schemathesis
from jsonschema import Draft202012Validator
from schemathesis.checks import CheckContext
from schemathesis.config import SchemathesisConfig
from schemathesis.core.failures import AcceptedNegativeData
from schemathesis.core.parameters import ParameterLocation
from schemathesis.generation.drivers import CoverageGenerator
from schemathesis.generation.feedback import FeedbackSources
from schemathesis.generation.overrides import with_config_headers
from schemathesis.openapi.checks import RejectedPositiveData
from schemathesis.python.asgi import ASGIClient
from schemathesis.schemas import APIOperation, BaseSchema
from schemathesis.specs.openapi.checks import negative_data_rejection

from soleplate.api.app import create_app
from soleplate.api.http.problem_types import SCHEMA
from soleplate.api.store.place import Place
from soleplate.engine.building_file import pointer_to
from soleplate.engine.registry import load_registry
from tests.api import plugin_files
from tests.buildings import registry
from tests.example_package import AS_ONE_FILE

HERE: Final = {"host": "localhost"}
DOCUMENT: Final = "/openapi.json"

ALIKE: Final = (
    "POST /v1/orders-of-work",
    "POST /v1/views",
    "POST /v1/elevations",
    "POST /v1/what-if",
    "POST /v1/exports/{name}",
    "POST /v1/exports/job-book",
    "POST /v1/exports/sheets",
    "POST /v1/boards",
    "POST /v1/designs",
    "PUT /v1/designs/{id}",
)
"""All of these take a building, as `POST /v1/layouts` does, on which its schema is tried at length."""

CONFIG: Final = {
    # The server bounds by itself how long a call may take; on a busy machine one takes over 10 s.
    "request-timeout": 600,
    "checks": {
        # A building that the schema lets through and nobody can build is refused. `agreement` looks closer.
        "positive_data_acceptance": {"enabled": False},
        # What is deleted can be brought back, which this check does not know; the sequences look closer.
        "use_after_free": {"enabled": False},
        # Of a deleted design nothing else is looked at.
        "negative_data_rejection": {
            "enabled": False,  # `refusal` is asked instead.
            "expected-statuses": [400, 401, 403, 404, 405, 406, 409, 410, 415, 422, 428],
        },
        # RFC 6585: 428 is the answer to an update that does not say of which revision.
        "missing_required_header": {"expected-statuses": [400, 401, 403, 415, 422, 428]},
    },
    # Corners are tried one by one, by `corners`: the fuzzer would hold all of them, 20,000 of a building.
    "phases": {"coverage": {"enabled": False}},
}


@schemathesis.serializer("application/jsonl")
def json_lines(ctx: schemathesis.SerializationContext, value: object) -> bytes:
    """A text as it is."""
    return value if isinstance(value, bytes) else str(value).encode("utf-8", "replace")


def labels() -> list[str]:
    """All operations as `GET /v1/rules`, but for the document's own, which the fuzzer leaves out.

    From the routes, since each process of a run asks for them and the document takes longer to make.
    """
    routes: Any = create_app(registry()).routes
    paths = {re.sub(r":\w+}", "}", route.path): route.methods - {"HEAD"} for route in routes}
    return sorted(f"{method} {path}" for path in paths.keys() - {DOCUMENT} for method in paths[path])


def described_app(designs: Path | None = None) -> BaseSchema:
    """The application by its document, with plugins; its designs are kept in a file of their own."""
    folder = Path(tempfile.mkdtemp(prefix="soleplate-fuzz-"))
    plugins = {"barn.py": plugin_files.SOUND, "boards.py": AS_ONE_FILE}
    for name, source in plugins.items():
        (folder / name).write_text(source)
    place = Place(str(designs or folder / "designs.sqlite"))
    app = create_app(load_registry(files=[folder / name for name in plugins]), designs=place)
    config = SchemathesisConfig.from_dict(CONFIG)
    return schemathesis.openapi.from_asgi(DOCUMENT, app, config=config, headers=HERE)


def client_of(schema: BaseSchema) -> ASGIClient:
    """What calls the application; one for all calls, since making it takes as long as many of them."""
    client = ASGIClient(schema.app)
    client.trust_env = False
    return client.__enter__()


def corners(operation: APIOperation, literals: FeedbackSources) -> Iterator[schemathesis.Case]:
    """A case for every corner of an operation's schemas, one after the other."""
    config = operation.schema.config
    generation = config.generation_for(operation=operation, phase="coverage")
    yield from CoverageGenerator(
        operation=operation,
        generation_modes=generation.modes,
        generation_config=generation,
        auth_storage=None,
        override=with_config_headers(config, operation=operation),
        feedback=literals,
    )


@contextmanager
def told_as_text() -> Iterator[None]:
    """What the fuzzer raises within is told as a text: not all of it can be sent to another process.

    Raises:
        AssertionError: with what it found.
    """
    try:
        yield
    except (Exception, BaseExceptionGroup) as found:
        raise AssertionError("".join(traceback.format_exception(found))) from None


def only(schema: BaseSchema, wanted: Callable[[str], bool]) -> BaseSchema:
    """The operations whose labels are wanted."""
    return schema.include(lambda context: wanted(context.operation.label))


def refusal(ctx: CheckContext, response: Any, case: schemathesis.Case) -> None:
    """What the document does not allow is refused.

    The fuzzer's own check, but for bodies of which it spoilt one branch of an `anyOf` that another allows.
    """
    try:
        negative_data_rejection(ctx, response, case)
    except AcceptedNegativeData:
        if not _only_body_is_spoilt(case) or not _is_allowed(case):
            raise


def _only_body_is_spoilt(case: schemathesis.Case) -> bool:
    meta = case.meta
    assert meta is not None
    spoilt = {place for place, info in meta.components.items() if info.mode.is_negative}
    return spoilt == {ParameterLocation.BODY}


def _is_allowed(case: schemathesis.Case) -> bool:
    """Whether the document's schema lets a body through after all."""
    document = case.operation.schema.raw_schema
    place = pointer_to("paths", case.operation.path, case.operation.method.lower(), "requestBody", "content")
    body = f"#{place}{pointer_to(case.media_type or '')}/schema"
    return Draft202012Validator({**document, "$ref": body}).is_valid(case.body)


def agreement(ctx: CheckContext, response: Any, case: schemathesis.Case) -> None:
    """What the schema lets through may be refused for what it says, and never for how it is written."""
    meta = case.meta
    if meta is None or not meta.generation.mode.is_positive or response.status_code < 400:
        return
    problem = response.json()
    if response.status_code not in (400, 413, 415) and problem["type"] != SCHEMA.uri:
        return
    raise RejectedPositiveData(
        operation=case.operation.label,
        message=f"{response.status_code} {problem['type']}: {problem['detail'][:400]}",
        status_code=response.status_code,
        allowed_statuses=["2xx", "404", "409", "412", "422 of another type than schema"],
    )


CHECKS: Final = [agreement, refusal]
"""To be asked of every answer beside the fuzzer's own."""
