"""Every operation of the document, called with whatever its schemas allow, and with what they don't."""

from __future__ import annotations

import os

import schemathesis
from hypothesis import HealthCheck, Phase, settings
from starlette.applications import Starlette

from soleplate.api.app import create_app
from soleplate.engine.plugin_loading import load_registry
from tests.fuzz.agreement import agreement, config

HERE = {"host": "localhost"}

EXAMPLES = int(os.environ.get("SOLEPLATE_FUZZ_EXAMPLES", "200"))


def ours() -> Starlette:
    return create_app(load_registry())


schema = schemathesis.openapi.from_asgi("/openapi.json", ours(), config=config(), headers=HERE)


@schema.parametrize()
@settings(
    max_examples=EXAMPLES,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    derandomize=True,
    database=None,
    suppress_health_check=list(HealthCheck),
)
def test_an_operation(case: schemathesis.Case) -> None:
    case.call_and_validate(additional_checks=[agreement], headers=HERE)
